"""Two thin-walled cells twisted together: a D-shaped nose and a tail of flat skins."""

import numpy as np

from bladewright.engine.structure.cells import Cells, Torsion, Wall, cell_areas, cell_flexibility, cell_torsion
from bladewright.selfcheck.case import Case

SOURCE = "R. Bredt, 1896; C. Batho, 1915: two-cell formula worked out for this section, closed form"
SHEAR = 2.69e10  # [Pa]
TORQUE = 50.0  # [N m]
PIECES = 2000  # round the nose: the half ellipse is found within 1e-6
BAND = "the half ellipse is taken in 2,000 straight pieces"


def _cells() -> Cells:
    angle = np.linspace(0.5 * np.pi, 1.5 * np.pi, PIECES + 1)
    nose = np.column_stack((0.045 * np.cos(angle), 0.0105 * np.sin(angle)))
    web = np.array([(0.0, -0.0105), (0.0, 0.0105)])
    tail = np.array([(0.0, -0.0105), (0.135, 0.0), (0.0, 0.0105)])
    walls = tuple(
        Wall(points, np.full(len(points) - 1, SHEAR * t), np.ones(len(points) - 1), start, end)
        for points, t, start, end in ((nose, 3e-3, 0, 1), (web, 3e-3, 1, 0), (tail, 0.8e-3, 1, 0))
    )
    return Cells(walls, (((0, 1), (1, 1)), ((2, 1), (1, -1))))


def _torsion() -> Torsion:
    cells = _cells()
    return cell_torsion(cell_areas(cells), cell_flexibility(cells))


def _flow(cell: int) -> float:
    torsion = _torsion()
    return float(torsion.flow_per_twist[cell] * TORQUE / torsion.stiffness)


CASES: tuple[Case, ...] = (
    Case(SOURCE, "torsional stiffness [N m^2]", lambda: float(_torsion().stiffness), 2273.851, 3e-3, BAND),
    Case(SOURCE, "area of the nose cell [m^2]", lambda: float(cell_areas(_cells())[0]), 7.42201264e-4, 1e-9, BAND),
    Case(SOURCE, "area of the tail cell [m^2]", lambda: float(cell_areas(_cells())[1]), 1.4175e-3, 1e-12),
    Case(SOURCE, "shear flow in the nose at 50 N m [N/m]", lambda: _flow(0), 23504.918, 0.02, BAND),
    Case(SOURCE, "shear flow in the tail at 50 N m [N/m]", lambda: _flow(1), 5329.5383, 0.005, BAND),
    Case(
        SOURCE,
        "shear stress in the tail skin at 50 N m [Pa]",
        lambda: _flow(1) / 0.8e-3,
        6661922.8,
        6.0,
        BAND,
    ),
)
