"""What the invented shop took in, and which lot went into which blade. Makers, numbers and papers are invented."""

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class Lot:
    """One lot as received."""

    lot: str  # the shop's own number for it
    material: str  # the drawing's name for it, or what it is
    what: str
    maker: str
    maker_lot: str
    received_on: date
    expires_on: date | None = None

    def certificate(self) -> str:
        """What its maker wrote with it."""
        return f"{self.maker}\nCertificate for lot {self.maker_lot}\n{self.what}\nMade and tested as ordered.\n"


@dataclass(frozen=True, slots=True)
class Use:
    """A lot that went into a blade."""

    serial: str
    part: str
    lot: str


SHEETS, BARS = "Aldrowick Sheet (invented)", "Vellentarn Extruders (invented)"
FILMS, TURNED = "Brellinscote Films (invented)", "Hobbindale Turned Parts (invented)"

SKIN_SHEETS = tuple(
    Lot(f"S-04{n}", "skin-sheet", "sheet 0.025 in, 36 in by 144 in", SHEETS, f"AS-7716-{n}", date(2026, 1, 19))
    for n in range(1, 7)
)
DOUBLER_SHEETS = tuple(
    Lot(f"S-05{n}", "skin-sheet", "sheet 0.063 in, 36 in by 48 in", SHEETS, f"AS-7731-{n}", date(2026, 1, 19))
    for n in range(1, 3)
)
ROLLS = (
    Lot("R-118", "film-epoxy", "FA-120 film, one roll", FILMS, "BF-20931", date(2026, 2, 3), date(2026, 8, 1)),
    Lot("R-121", "film-epoxy", "FA-120 film, one roll", FILMS, "BF-20977", date(2026, 3, 12), date(2026, 9, 10)),
    Lot("R-124", "film-epoxy", "FA-120 film, one roll", FILMS, "BF-21003", date(2026, 4, 2), date(2026, 10, 8)),
)
EXTRUSIONS = (
    Lot("E-071", "spar-extrusion", "nose spar, 6 bars of 3.45 m", BARS, "VE-5502", date(2025, 12, 8)),
    Lot("E-074", "spar-extrusion", "nose spar, 6 bars of 3.45 m", BARS, "VE-5588", date(2026, 2, 16)),
)
BRASS = Lot("B-019", "brass", "free-cutting brass rod, 12 tip weights", TURNED, "HT-310", date(2025, 11, 24))
BOLTS = Lot("K-233", "grip bolts", "grip bolts 3/8 in, box of 50", TURNED, "HT-344", date(2026, 1, 12))

LOTS: tuple[Lot, ...] = (*SKIN_SHEETS, *DOUBLER_SHEETS, *ROLLS, *EXTRUSIONS, BRASS, BOLTS)

BLANKS_PER_SHEET = 4  # skin blanks of about 8.5 in from a sheet of 36 in, saw cuts and edges taken off
BLADES_PER_ROLL = 5
BARS_PER_LOT = 6


def lots_of(serial: str, count: int) -> tuple[Use, ...]:
    """What went into the blade that was built as number ``count``, from 0."""
    skins = [SKIN_SHEETS[blank // BLANKS_PER_SHEET].lot for blank in (2 * count, 2 * count + 1)]
    roll = count // BLADES_PER_ROLL
    return (
        Use(serial, "top skin", skins[0]),
        Use(serial, "bottom skin", skins[1]),
        Use(serial, "spar", EXTRUSIONS[count // BARS_PER_LOT].lot),
        Use(serial, "doubler", DOUBLER_SHEETS[roll].lot),
        Use(serial, "adhesive", ROLLS[roll].lot),
        Use(serial, "tip weight", BRASS.lot),
        Use(serial, "grip bolts", BOLTS.lot),
    )
