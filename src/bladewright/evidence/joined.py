"""One run that was logged in parts, because the logger stopped and was started again. The pause stays a hole."""

import itertools
from collections.abc import Sequence

import numpy as np

from bladewright.errors import BadInput
from bladewright.evidence.records import CureLog, Remark, Source
from bladewright.figures import digest


def joined(parts: Sequence[CureLog]) -> CureLog:
    """The parts as one log in the order of time; ``BadInput`` where they cannot be parts of one run.

    Rows keep the numbers of their own files, and a remark says where each file begins.
    """
    if not parts:
        raise BadInput("no log was given", field="parts", allowed="at least one log of the run")
    for part in parts:
        if part.start is None:
            raise BadInput(
                "counts seconds only, so nobody can say how long the pause was",
                file=part.source.file,
                field="start",
                allowed="logs whose times have a day",
                fix="judge each part by itself",
            )
    ordered = sorted(parts, key=lambda part: part.start)  # type: ignore[arg-type, return-value]
    for earlier, later in itertools.pairwise(ordered):
        _follows(earlier, later)
    first = ordered[0]
    assert first.start is not None
    shifts = [(part.start - first.start).total_seconds() for part in ordered if part.start is not None]
    return CureLog(
        source=Source(
            " + ".join(part.source.file for part in ordered),
            digest("".join(part.source.sha256 for part in ordered).encode()),
        ),
        description=first.description,
        start=first.start,
        seconds=np.concatenate([part.seconds + shift for part, shift in zip(ordered, shifts, strict=True)]),
        channels=first.channels,
        values=np.concatenate([part.values for part in ordered]),
        rows=np.concatenate([part.rows for part in ordered]),
        remarks=tuple(remark for part in ordered for remark in (*_begins(part, first), *part.remarks)),
        zone=first.zone,
        order_certain=all(part.order_certain for part in ordered),
    )


def _begins(part: CureLog, first: CureLog) -> tuple[Remark, ...]:
    if part is first:
        return ()
    return (Remark(f"the run goes on in {part.source.file}, at {part.clock_of(0)}", int(part.rows[0])),)


def _follows(earlier: CureLog, later: CureLog) -> None:
    """Same channels in the same order, same zone, and nothing recorded twice."""
    if earlier.channels != later.channels or earlier.zone != later.zone:
        raise BadInput(
            f"does not have the channels and the zone of {earlier.source.file}",
            file=later.source.file,
            field="channels",
            value=", ".join(channel.name for channel in later.channels),
            allowed=", ".join(channel.name for channel in earlier.channels),
            fix="read both parts through one logger description",
        )
    assert earlier.start is not None
    assert later.start is not None
    if (later.start - earlier.start).total_seconds() <= float(earlier.seconds[-1]):
        raise BadInput(
            f"begins before {earlier.source.file} ends",
            file=later.source.file,
            field="start",
            value=later.time_of(0),
            allowed=f"after {earlier.time_of(len(earlier.seconds) - 1)}",
            fix="these are two recorders of one run, not two parts of it: judge them side by side",
        )
