"""Polygon measures against an ellipse and a polygon worked by hand."""

import math

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.geometry.measures import AreaProperties, area_properties
from bladewright.selfcheck.case import Case

GREEN = "Green's theorem on a six-cornered polygon, worked by hand: closed form"
ELLIPSE = "area pi a b (n/2 pi) sin(2 pi/n) of an inscribed polygon; complete elliptic integral: closed form"


def _hand() -> AreaProperties:
    return area_properties(np.array([(0, 0), (60, -8), (180, -1), (180, 1), (60, 12), (20, 10)], dtype=np.float64))


def _ellipse(n: int) -> Floats:
    t = 2.0 * np.pi * np.arange(n) / n
    return np.column_stack((0.09 * np.cos(t), 0.0108 * np.sin(t)))


CASES: tuple[Case, ...] = (
    Case(GREEN, "hand polygon: area [mm^2]", lambda: _hand().area, 2100.0, 1e-8),
    Case(GREEN, "hand polygon: centroid x [mm]", lambda: _hand().centroid_x, 78.85714286, 1e-8),
    Case(GREEN, "hand polygon: centroid z [mm]", lambda: _hand().centroid_z, 1.80952381, 1e-8),
    Case(GREEN, "hand polygon: moment about x [mm^4]", lambda: _hand().moment_x, 39943.80952, 1e-5),
    Case(GREEN, "hand polygon: moment about z [mm^4]", lambda: _hand().moment_z, 3585257.143, 1e-3),
    Case(GREEN, "hand polygon: product [mm^4]", lambda: _hand().product, -69857.14286, 1e-5),
    Case(GREEN, "hand polygon: weak axis [deg]", lambda: math.degrees(_hand().weak_axis), -1.1283768, 1e-7),
    Case(ELLIPSE, "100-gon: area [m^2]", lambda: area_properties(_ellipse(100)).area, 0.003051619249, 1e-12),
    Case(ELLIPSE, "200-gon: perimeter [m]", lambda: area_properties(_ellipse(200)).perimeter, 0.3678120829, 1e-10),
)
