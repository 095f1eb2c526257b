"""The freezer's own log: when it was too warm, or nobody can say, its rolls were as good as out."""

import datetime
from collections.abc import Iterator

import numpy as np

from bladewright.errors import BadInput
from bladewright.evidence.freezer_log import Unlogged
from bladewright.evidence.records import CureLog
from bladewright.proof.mould import HOLE, Bools
from bladewright.proof.sensors import stretches_of
from bladewright.proof.wording import fahrenheit


def freezer_excursions(log: CureLog, warmest: float, interval: float) -> tuple[Unlogged, ...]:
    """Stretches above the storage limit [K], silent, or in a hole of the log of a nominal interval [s].

    Each runs from the last good sample before it to the first good one after, because what lies between is not known.
    """
    columns = log.with_role("air")
    if not columns:
        raise BadInput(
            "no channel is the freezer's air", file=log.source.file, field="channels", allowed="a channel of role air",
            fix="give the freezer's sensor the role air in the logger description",
        )  # fmt: skip
    if log.start is None:
        raise BadInput(
            "counts seconds only", file=log.source.file, field="start", allowed="a log whose times have a day",
            fix="an excursion that nobody can date cannot be counted: count the whole time since the log before",
        )  # fmt: skip
    return tuple(_merged(sorted(_excursions(log, columns, warmest, interval), key=lambda one: one.start)))


def _excursions(log: CureLog, columns: tuple[int, ...], warmest: float, interval: float) -> Iterator[Unlogged]:
    readings = log.values[:, columns]
    last = len(log.seconds) - 1
    warm: Bools = np.any(readings > warmest, axis=1)
    silent: Bools = np.any(np.isnan(readings), axis=1)
    for what, bad in (
        (f"the freezer was above {fahrenheit(warmest):.4g} degF", warm),
        ("the freezer's sensor gave no reading", silent),
    ):
        for first, end in stretches_of(bad):
            yield Unlogged(_at(log, max(int(first) - 1, 0)), _at(log, min(int(end) + 1, last)), what)
    for hole in np.flatnonzero(np.diff(log.seconds) > HOLE * interval * (1.0 + 1e-9)):
        yield Unlogged(_at(log, int(hole)), _at(log, int(hole) + 1), "the freezer's log has a hole")


def _merged(stretches: list[Unlogged]) -> Iterator[Unlogged]:
    """Stretches that touch as one, so that each is told once."""
    held: Unlogged | None = None
    for one in stretches:
        if one.start == one.end:  # the only sample of the log: a moment is no stretch
            continue
        if held is None or one.start > held.end:
            if held is not None:
                yield held
            held = one
        else:
            why = held.why if one.why in held.why else f"{held.why}; {one.why}"
            held = Unlogged(held.start, max(held.end, one.end), why)
    if held is not None:
        yield held


def _at(log: CureLog, sample: int) -> datetime.datetime:
    assert log.start is not None
    return log.start + datetime.timedelta(seconds=float(log.seconds[sample]))
