"""Turbulent plate, smooth and rough, and what the wake tells of drag, against the laws of Schoenherr and others."""

from functools import partial

import numpy as np

from bladewright.engine.flow.drag import rough_plate_drag, schoenherr_drag, wake_drag
from bladewright.engine.flow.layer import Course, march
from bladewright.selfcheck.case import Case

SCHOENHERR = "K. E. Schoenherr, Trans. SNAME 40, 1932; the law solved: recomputed"
SQUIRE_YOUNG = "H. B. Squire, A. D. Young, ARC R&M 1838, 1937 (from memory); closed form"
ROUGH = "L. Prandtl, H. Schlichting, Werft Reederei Hafen 15, 1934, in Schlichting's interpolation (from memory)"
LAWS = "4 %: the plate laws differ among themselves by up to 6 %"
ROUGH_LAWS = "10 %: the grain's shift of the law of the wall is itself a fit"
POINTS = ((500000.0, 0.00505745), (1e6, 0.00440943), (2e6, 0.00387220), (6e6, 0.00319341))
FIRST = 2e4  # Re_x at which the march is tripped; where it begins no turbulent layer could be
GRAINS = (2e3, 1e4)
ROUGH_REYNOLDS = 1e8


def _marched(reynolds: float, grain: float = 0.0) -> float:
    """Drag of one side of the plate, tripped at Re_x = 20,000."""
    place = np.geomspace(2e3 / reynolds, 1.0, 160)
    one = np.ones(1)
    layer = march(
        Course(
            distance=place[:, None],
            external=np.ones((160, 1)),
            response=np.zeros((160, 1)),
            start=np.zeros(1, dtype=np.intp),
            exponent=0.0 * one,
            reynolds=reynolds * one,
            mach=0.0 * one,
            critical=np.inf * one,
            trip=FIRST / reynolds * one,
            roughness=grain * one,
        )
    )
    return 2.0 * float(layer.momentum[-1, 0])


def _wake(momentum: float, shape: float) -> float:
    return float(wake_drag(np.array(momentum), np.array(shape), np.array(0.9)))


CASES: tuple[Case, ...] = (
    *(
        Case(SCHOENHERR, f"law at Re {reynolds:g} [1]", partial(schoenherr_drag, reynolds), drag, 1e-8)
        for reynolds, drag in POINTS
    ),
    *(
        Case(SCHOENHERR, f"marched plate at Re {reynolds:g} [1]", partial(_marched, reynolds), drag, 0.04 * drag, LAWS)
        for reynolds, drag in POINTS[1:]
    ),
    *(
        Case(
            ROUGH,
            f"marched rough plate, length {ratio:g} grains [1]",
            partial(_marched, ROUGH_REYNOLDS, 1.0 / ratio),
            rough_plate_drag(ratio),
            0.1 * rough_plate_drag(ratio),
            ROUGH_LAWS,
        )
        for ratio in GRAINS
    ),
    Case(SQUIRE_YOUNG, "upper layer of the worked example [1]", partial(_wake, 0.0035, 1.75), 0.0049053106, 1e-9),
    Case(SQUIRE_YOUNG, "lower layer of the worked example [1]", partial(_wake, 0.0018, 1.5), 0.0025561754, 1e-9),
)
