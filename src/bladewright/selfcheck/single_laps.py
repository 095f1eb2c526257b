"""The bent single lap: both published moment factors and the first one's peak of shear."""

from functools import partial

from bladewright.engine.strength.adherends import Film, Sheet
from bladewright.engine.strength.lap_joint import Bending, moment_factor, single_lap
from bladewright.selfcheck.case import Case

GOLAND_REISSNER = "M. Goland, E. Reissner, J. Appl. Mech. 11, 1944 (from memory); closed form recomputed"
HART_SMITH = "L. J. Hart-Smith, NASA CR-112236, 1973 (from memory); closed form recomputed"
FILM = Film(shear_modulus=7.5e8, modulus=2.0e9, thickness=0.00015)
SHEET = Sheet(7.2e10, 0.0016, 0.33)
OVERLAP = 0.025
ROWS = (
    (20e6, 0.70293841, 0.68681176, 5.9474475),
    (60e6, 0.58098506, 0.54700631, 5.3652085),
    (120e6, 0.50046858, 0.44958850, 4.9808006),
    (200e6, 0.44381483, 0.37755577, 4.7103199),
)


def _factor(stress: float, bending: Bending) -> float:
    return moment_factor(stress * SHEET.thickness, OVERLAP, SHEET, bending)


def _peak(stress: float) -> float:
    lap = single_lap(stress * SHEET.thickness, OVERLAP, SHEET, FILM)
    return lap.peak_shear / lap.mean_shear


CASES: tuple[Case, ...] = tuple(
    case
    for stress, first, second, peak in ROWS
    for case in (
        Case(
            GOLAND_REISSNER, f"moment factor at {stress / 1e6:g} MPa [1]", partial(_factor, stress, "goland-reissner"),
            first, 1e-8, "eight digits",
        ),
        Case(GOLAND_REISSNER, f"peak over mean shear at {stress / 1e6:g} MPa [1]", partial(_peak, stress), peak, 1e-7),
        Case(
            HART_SMITH, f"moment factor at {stress / 1e6:g} MPa [1]", partial(_factor, stress, "hart-smith"), second,
            1e-8, "eight digits",
        ),
    )
)  # fmt: skip
