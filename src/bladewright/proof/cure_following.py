"""One growing log and the state of its cure, looked at when somebody asks and no oftener than its share allows.

However many ask, and however long the log has become, following it costs at most its share of one processor core;
whoever asks in between is given the state of the last look. It reads, and commands nothing.
"""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from threading import Lock
from typing import Final

from bladewright.drawing.limits import CureLimits
from bladewright.errors import BadInput
from bladewright.evidence.description import LoggerDescription
from bladewright.evidence.growing_log import GrowingLog, Look
from bladewright.evidence.records import CureLog
from bladewright.proof.cure_watch import CureWatch, remembering, rest_after, watch_cure

#: a log that has been silent so long is not being written any more (our own choice) [s]
ENDED: Final = 3600.0


@dataclass(frozen=True, slots=True, eq=False)
class Followed:
    """What the latest look found. ``watch`` is None before the first row, or without a mould sensor."""

    log: CureLog | None
    watch: CureWatch | None
    notes: tuple[str, ...]
    silent: float  # since a row last came, as far as this was watched [s]

    @property
    def rows(self) -> int:
        """How many there are."""
        return 0 if self.log is None else len(self.log.rows)


NOTHING: Final = Followed(None, None, (), 0.0)


class Following:
    """Follows one file for everybody who asks; safe to ask from many threads at once."""

    def __init__(
        self, path: Path, how: LoggerDescription, limits: CureLimits, clock: Callable[[], float], pause: float = 5.0
    ) -> None:
        """``clock`` [s] is the one that files are dated by; ``pause`` is the least between two looks. [s]"""
        self._path, self._growing = path, GrowingLog(path, how)
        self._limits, self._clock, self._pause = limits, clock, pause
        self._one_at_a_time = Lock()
        self._grown = self._next = clock()
        self._found = NOTHING

    def now(self) -> Followed:
        """The state: of a new look where one is due and nobody else is looking, else of the last one."""
        first = self._found is NOTHING
        if (self._clock() >= self._next or first) and self._one_at_a_time.acquire(blocking=first):
            try:
                if self._clock() >= self._next:
                    self._look()
            finally:
                self._one_at_a_time.release()
        return self._found

    def _look(self) -> None:
        begun = self._clock()
        try:
            look = self._growing.look()
        except BadInput as error:  # before the first row: what stands there is not what the description says
            look = Look(None, 0, waiting=f"what stands there is not as described: {_told(error)}")
        if self._found is NOTHING:
            self._grown = min(begun, _written(self._path, begun))
        elif look.added:
            self._grown = begun
        silent = begun - self._grown
        before = self._found.watch
        watch = None if look.log is None else remembering(before, watch_cure(look.log, self._limits, silent))
        self._found = Followed(look.log, watch, look.notes, silent)
        self._next = begun + rest_after(self._clock() - begun, self._pause)


def _written(path: Path, unknown: float) -> float:
    """When a file was last written [s], so that one found silent is not taken for one that speaks."""
    try:
        return path.stat().st_mtime
    except OSError:
        return unknown


def _told(error: BadInput) -> str:
    """Where and what, in one line."""
    return " ".join(str(error).split())
