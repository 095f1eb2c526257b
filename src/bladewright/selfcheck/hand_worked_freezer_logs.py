"""Out-time of an adhesive roll counted by hand from a small freezer log with a line missing."""

import datetime
from functools import partial

from bladewright.drawing.counting_rule import CountingRule
from bladewright.evidence.freezer_log import FreezerEntry, Move, Roll, Unlogged
from bladewright.proof.out_time import HOUR, OutTime, out_time
from bladewright.selfcheck.case import Case

_SOURCE = "counted by hand from the entries; closed form; the counting rule is common practice, no source"
_RULE = CountingRule.model_validate({"maker_limit": "240 h", "maker_warmest": "24 degC"})
_MOVES: tuple[tuple[Move, int, str], ...] = (
    ("out", 3, "08:00"), ("in", 3, "19:30"), ("out", 5, "07:15"), ("in", 6, "02:45"),
    ("out", 10, "09:00"), ("out", 12, "10:00"), ("in", 12, "16:00"),
)  # fmt: skip


def _at(day: int, clock: str) -> datetime.datetime:
    return datetime.datetime.fromisoformat(f"2026-06-{day:02d}T{clock}+00:00")


def _counted() -> OutTime:
    entries = tuple(FreezerEntry(move, _at(day, clock)) for move, day, clock in _MOVES)
    return out_time(Roll("roll", "lot", _at(1, "08:00"), entries), _RULE, _at(20, "08:00"))


def _question() -> float:
    """31 h on record and 3 h nobody logged. [h]"""
    entries = (FreezerEntry("out", _at(3, "08:00")), FreezerEntry("in", _at(4, "15:00")))
    gap = Unlogged(_at(10, "06:00"), _at(10, "09:00"), "nobody logged")
    return out_time(Roll("roll", "lot", _at(1, "08:00"), entries, (gap,)), _RULE, _at(20, "08:00")).counted / HOUR


def _trip(number: int) -> float:
    return _counted().trips[number].counted / HOUR


CASES: tuple[Case, ...] = (
    *(
        Case(_SOURCE, f"trip {number + 1} [h]", partial(_trip, number), hours, 1e-9, "exact")
        for number, hours in enumerate((11.5, 19.5, 49.0, 6.0))
    ),
    Case(_SOURCE, "all of it [h]", lambda: _counted().counted / HOUR, 86.0, 1e-9, "exact"),
    Case(_SOURCE, "on record at both ends [h]", lambda: _counted().logged / HOUR, 37.0, 1e-9, "exact"),
    Case(_SOURCE, "left of 240 h [h]", lambda: 240.0 - _counted().counted / HOUR, 154.0, 1e-9, "exact"),
    Case(_SOURCE, "31 h on record and 3 h nobody logged [h]", _question, 34.0, 1e-9, "exact"),
)
