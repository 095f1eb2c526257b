"""Rules of transition in closed form, and natural transition of a plate."""

from functools import partial

import numpy as np
from scipy.optimize import brentq

from bladewright.engine.flow.layer import Course, march
from bladewright.engine.flow.transition import critical_amplification, michel_re_theta
from bladewright.selfcheck.case import Case

MICHEL = "R. Michel, ONERA 1/1578A, 1951, in the form of Cebeci and Smith (from memory); closed form"
MACK = "L. M. Mack, JPL Publication 77-15, 1977 (from memory); closed form"
PLATE = "G. B. Schubauer, H. K. Skramstad, NACA Report 909, 1948: 2.8e6 at the quietest (from memory)"
LEVELS = ((0.0007, 9.004633), (0.001, 8.148613), (0.002, 6.485059), (0.005, 4.285962))
QUIETEST = 0.0007
POINTS = 300
REYNOLDS = 6e6


def _michel_plate() -> float:
    def over(re_x: float) -> float:
        return float(michel_re_theta(np.array(re_x)) - 0.664115 * np.sqrt(re_x))

    return float(brentq(over, 1e6, 1e7, xtol=1e-3))


def _marched_plate() -> float:
    place = np.linspace(0.01, 1.0, POINTS) ** 2
    one = np.ones(1)
    layer = march(
        Course(
            distance=place[:, None],
            external=np.ones((POINTS, 1)),
            response=np.zeros((POINTS, 1)),
            start=np.zeros(1, dtype=np.intp),
            exponent=0.0 * one,
            reynolds=REYNOLDS * one,
            mach=0.0 * one,
            critical=critical_amplification(QUIETEST) * one,
            trip=np.inf * one,
            roughness=0.0 * one,
        )
    )
    return REYNOLDS * float(layer.transition[0])


CASES: tuple[Case, ...] = (
    Case(MICHEL, "plate: Re_x at transition [1]", _michel_plate, 2020017.0, 202.0),
    *(
        Case(
            MACK,
            f"critical amplification at {level:.2%} [1]",
            partial(critical_amplification, level),
            n,
            1e-6,
        )
        for level, n in LEVELS
    ),
    Case(PLATE, "plate: Re_x at natural transition, marched [1]", _marched_plate, 2.8e6, 2.8e5, "10 %: one tunnel"),
)
