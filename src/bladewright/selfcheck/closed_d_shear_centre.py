"""Shear centre of a thin-walled D: half a circle ahead of a flat web."""

import numpy as np

from bladewright.engine.structure.cells import Cells, Wall, shear_centre
from bladewright.selfcheck.case import Case

SOURCE = "T. H. G. Megson, Aircraft Structures, shear of closed sections (from memory); this section in closed form"
RADIUS = 0.02  # [m]
SHEAR, YOUNG = 27e9, 71e9  # [Pa] any: one material
BAND = "the half circle is taken in 2,000 straight pieces"


def _ahead(nose_wall: float, web: float) -> float:
    angle = np.linspace(0.5 * np.pi, 1.5 * np.pi, 2001)
    nose = RADIUS * np.column_stack((np.cos(angle), np.sin(angle)))
    flat = np.array([(0.0, -RADIUS), (0.0, RADIUS)])
    walls = (
        Wall(nose, np.full(2000, SHEAR * nose_wall), np.full(2000, YOUNG * nose_wall), 0, 1),
        Wall(flat, np.full(1, SHEAR * web), np.full(1, YOUNG * web), 1, 0),
    )
    return -float(shear_centre(Cells(walls, (((0, 1), (1, 1)),)))[0]) / RADIUS


CASES: tuple[Case, ...] = (
    Case(
        SOURCE, "equal walls: ahead of the web, of the radius [1]", lambda: _ahead(2e-3, 2e-3), 0.529757457, 1e-6, BAND
    ),
    Case(SOURCE, "web twice as thick: the same [1]", lambda: _ahead(2e-3, 4e-3), 0.340413179, 1e-6, BAND),
    Case(SOURCE, "web four times as thick: the same [1]", lambda: _ahead(1e-3, 4e-3), 0.200529598, 1e-6, BAND),
)
