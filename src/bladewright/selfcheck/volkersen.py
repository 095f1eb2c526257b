"""A lap of a thin sheet on a thick one, stretching only."""

from functools import partial

from bladewright.engine.strength.adherends import Film, Sheet
from bladewright.engine.strength.lap_joint import lap_shear
from bladewright.selfcheck.case import Case

SOURCE = "O. Volkersen, Luftfahrtforschung 15, 1938 (from memory); closed form recomputed"
FILM = Film(shear_modulus=7.5e8, modulus=2.0e9, thickness=0.00015)
THIN, THICK = (Sheet(7.2e10, thickness, 0.33) for thickness in (0.0008, 0.003))
OVERLAP, LOAD = 0.025, 40000.0


def _ratio(first: Sheet, name: str) -> float:
    shear = lap_shear(LOAD, OVERLAP, first, THICK, FILM)
    return float(getattr(shear, name)) / (1.0 if name == "length_ratio" else shear.mean)


CASES: tuple[Case, ...] = (
    *(
        Case(SOURCE, f"{said} [1]", partial(_ratio, THIN, name), published, 3e-6 * published, "the digits given")
        for said, name, published in (
            ("overlap over decay length", "length_ratio", 8.2898169),
            ("peak over mean where the thin sheet comes in", "first_end", 6.5454695),
            ("peak over mean at the other end", "second_end", 1.748511),
            ("least over mean", "least", 0.107153),
        )
    ),
    Case(SOURCE, "peak over mean of like sheets [1]", partial(_ratio, THICK, "first_end"), 2.7144941, 3e-6),
)
