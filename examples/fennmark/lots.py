"""What the invented shop took in, and which lot went into which blade. Makers, numbers, certificates: invented."""

import datetime
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Lot:
    """One lot as received."""

    number: str
    material: str  # a material of the drawing, or what the thing is
    what: str
    maker: str
    certificate: str
    received_on: datetime.date
    expires_on: datetime.date | None = None


@dataclass(frozen=True, slots=True)
class Use:
    """A lot that went into a blade."""

    serial: str
    part: str
    lot: str


def _day(month: int, day: int, year: int = 2026) -> datetime.date:
    return datetime.date(year, month, day)


_SHEET, _BAR, _FILM = "Aldrowick Sheet (invented)", "Tarnbeck Extruders (invented)", "Cressing Films (invented)"
_TURNED = "Hobbindale Turned Parts (invented)"

SKIN_SHEETS = tuple(
    Lot(f"S-04{n}", "skin-sheet", "sheet 0.032 in x 36 in x 144 in", _SHEET, f"AS-7716-{n}", _day(1, 19))
    for n in range(1, 7)
)
DOUBLER_SHEETS = tuple(
    Lot(f"S-05{n}", "skin-sheet", "sheet 0.063 in x 36 in x 48 in", _SHEET, f"AS-7731-{n}", _day(1, 19))
    for n in range(1, 3)
)
ROLLS = (
    Lot("R-118", "film-epoxy", "FA-120 film, one roll", _FILM, "CF-20931", _day(2, 3), _day(8, 1)),
    Lot("R-121", "film-epoxy", "FA-120 film, one roll", _FILM, "CF-20977", _day(3, 12), _day(9, 10)),
)
EXTRUSIONS = (
    Lot("E-071", "spar-extrusion", "nose spar extrusion, 6 bars of 3.45 m", _BAR, "TE-5502", _day(12, 8, 2025)),
    Lot("E-074", "spar-extrusion", "nose spar extrusion, 6 bars of 3.45 m", _BAR, "TE-5588", _day(2, 16)),
)
BRASS = Lot("B-019", "brass", "free-cutting brass rod, 12 tip weights", _TURNED, "HT-310", _day(11, 24, 2025))
BOLTS = Lot("K-233", "grip bolts", "grip bolts 3/8 in, box of 50", _TURNED, "HT-344", _day(1, 12))

LOTS: tuple[Lot, ...] = (*SKIN_SHEETS, *DOUBLER_SHEETS, *ROLLS, *EXTRUSIONS, BRASS, BOLTS)

BLANKS_PER_SHEET = 4  # skin blanks of about 8.5 in from a sheet of 36 in, saw cuts and edges taken off
BLADES_PER_ROLL = 5


def lots_of(serial: str, count: int) -> tuple[Use, ...]:
    """What went into the blade that was built as number ``count``, from 0."""
    skins = [SKIN_SHEETS[blank // BLANKS_PER_SHEET].number for blank in (2 * count, 2 * count + 1)]
    roll = count // BLADES_PER_ROLL
    return (
        Use(serial, "top skin", skins[0]),
        Use(serial, "bottom skin", skins[1]),
        Use(serial, "spar", EXTRUSIONS[0 if count < 6 else 1].number),
        Use(serial, "doubler", DOUBLER_SHEETS[roll].number),
        Use(serial, "adhesive", ROLLS[roll].number),
        Use(serial, "tip weight", BRASS.number),
        Use(serial, "grip bolts", BOLTS.number),
    )
