"""Laminar closure and march against the similar flows of Falkner and Skan, and the plate of Blasius."""

from functools import cache, partial

import numpy as np

from bladewright.engine.flow.closure import laminar_closure
from bladewright.engine.flow.laminar import similar_state
from bladewright.engine.flow.layer import Course, Layer, march
from bladewright.selfcheck.case import Case

BLASIUS = "H. Blasius, Z. Math. Phys. 56, 1908; recomputed to nine places"
SIMILAR = "D. R. Hartree, Proc. Camb. Phil. Soc. 33, 1937; A. M. O. Smith, J. Aero. Sci. 21, 1954; recomputed"
FIT = "the closure is a two-branch fit to these flows, good to some per cent; never judged tighter"
STEPS = "a hundred steps along the plate"
REYNOLDS = 1e6
#: beta, m, theta in units of eta, H, theta f''(0)
FLOWS = (
    (-0.18, -0.0825688, 0.567707, 3.29673, 0.073028),
    (-0.1, -0.0476190, 0.515044, 2.80111, 0.164438),
    (0.0, 0.0, 0.469600, 2.59110, 0.220524),
    (0.5, 1.0 / 3.0, 0.350270, 2.29694, 0.324939),
    (1.0, 1.0, 0.292344, 2.21623, 0.360339),
)


def course(distance: np.ndarray, speed: np.ndarray, exponent: float, reynolds: float = REYNOLDS) -> Course:
    """One laminar lane under a given edge speed."""
    one = np.ones(1)
    return Course(
        distance=distance[:, None],
        external=speed[:, None],
        response=np.zeros((distance.size, 1)),
        start=np.zeros(1, dtype=np.intp),
        exponent=exponent * one,
        reynolds=reynolds * one,
        mach=0.0 * one,
        critical=np.inf * one,
        trip=np.inf * one,
        roughness=0.0 * one,
    )


@cache
def _plate() -> Layer:
    place = np.linspace(0.01, 1.0, 100) ** 2
    return march(course(place, np.ones(100), 0.0))


def _at_end(name: str) -> float:
    return float(getattr(_plate(), name)[-1, 0] * np.sqrt(REYNOLDS))


def _shape(exponent: float) -> float:
    return float(similar_state(np.array([exponent]))[0][0])


def _shear(shape: float) -> float:
    return float(laminar_closure(np.array([shape]), np.ones(1)).friction[0])


CASES: tuple[Case, ...] = (
    Case(
        BLASIUS, "plate: displacement thickness, root Re/x [1]", partial(_at_end, "displacement"), 1.7207877, 0.01, FIT
    ),
    Case(BLASIUS, "plate: momentum thickness, root Re/x [1]", partial(_at_end, "momentum"), 0.664114672, 0.004, STEPS),
    Case(BLASIUS, "plate: friction, root Re cf/2 [1]", lambda: 0.5 * _at_end("friction"), 0.332057336, 0.002, FIT),
    Case(BLASIUS, "plate: H [1]", lambda: float(_plate().shape[-1, 0]), 2.5911, 0.01, FIT),
    *(
        Case(SIMILAR, f"beta = {beta:g}: H at which the layer stays similar [1]", partial(_shape, m), h, 0.04 * h, FIT)
        for beta, m, _, h, _ in FLOWS
        if beta > -0.15
    ),
    *(
        Case(SIMILAR, f"beta = {beta:g}: shear, Re_theta cf/2 [1]", partial(_shear, h), shear, 0.02, FIT)
        for beta, _, _, h, shear in FLOWS
    ),
)
