"""Shares of failure modes on a torn face, of the bonded area and of the whole."""

from bladewright.evidence.records import FailureMode, TornFace
from bladewright.proof.peel import shares
from bladewright.selfcheck.case import Case

SOURCE = (
    "ISO 10365, Adhesives: designation of main failure patterns, 1992 (code letters from memory); "
    "shares worked by hand from invented areas"
)
FACE = TornFace("top", (("CF", 1840e-6), ("SCF", 310e-6), ("AF", 95e-6), ("void", 80e-6)))


def _percent(mode: FailureMode) -> float:
    return 100.0 * shares(FACE)[0][mode]


CASES: tuple[Case, ...] = (
    Case(SOURCE, "cohesive, of the bonded area [%]", lambda: _percent("CF"), 81.960, 1e-3, "printed to a thousandth"),
    Case(SOURCE, "special cohesive, of the bonded area [%]", lambda: _percent("SCF"), 13.808, 1e-3),
    Case(SOURCE, "adhesion, of the bonded area [%]", lambda: _percent("AF"), 4.232, 1e-3),
    Case(SOURCE, "void, of the whole face [%]", lambda: 100.0 * shares(FACE)[1], 3.441, 1e-3),
)
