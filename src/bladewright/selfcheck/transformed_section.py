"""An aluminium bar with a brass strip on top, by the transformed-section method."""

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.structure.bending import Bending, bending
from bladewright.engine.structure.moments import centre, region_moments
from bladewright.engine.structure.section_stress import SectionLoads, axial_strain
from bladewright.selfcheck.case import Case

SOURCE = "transformed-section method, any text on strength of materials; worked out for this section, closed form"


ALUMINIUM, BRASS = 71.0e9, 103e9  # [Pa]
BENT = SectionLoads(flap_moment=-300.0)  # the top is pressed together
PULLED = SectionLoads(pull=40000.0)


def _moments(aluminium: float, brass: float) -> Floats:
    def slab(low: float, high: float) -> Floats:
        return region_moments(np.array([(-0.03, low), (0.03, low), (0.03, high), (-0.03, high)]))

    return aluminium * slab(0.0, 0.012) + brass * slab(0.012, 0.016)


def _bar() -> Bending:
    return bending(_moments(ALUMINIUM, BRASS))


def _mass() -> Floats:
    return _moments(2780.0, 8500.0)


def _stress(young: float, z: float, loads: SectionLoads) -> float:
    return float(young * axial_strain(_moments(ALUMINIUM, BRASS), loads, np.array(0.0), np.array(z)))


CASES: tuple[Case, ...] = (
    Case(SOURCE, "axial stiffness [N]", lambda: float(_bar().axial), 75840000.0, 1.0),
    Case(SOURCE, "elastic centre from the bottom [m]", lambda: float(_bar().centre_z), 0.00860759494, 1e-10),
    Case(SOURCE, "bending stiffness [N m^2]", lambda: float(_bar().flapwise), 1712.80203, 1e-4),
    Case(SOURCE, "mass per length [kg/m]", lambda: float(_mass()[0]), 4.0416, 1e-9),
    Case(SOURCE, "stress at the bottom under 300 N m [Pa]", lambda: _stress(ALUMINIUM, 0.0, BENT), 1.0704201e8, 10.0),
    Case(SOURCE, "stress at the top under 300 N m [Pa]", lambda: _stress(BRASS, 0.016, BENT), -1.3336353e8, 10.0),
    Case(SOURCE, "stress in aluminium under 40 kN [Pa]", lambda: _stress(ALUMINIUM, 0.0, PULLED), 37447257.0, 1.0),
    Case(SOURCE, "stress in brass under 40 kN [Pa]", lambda: _stress(BRASS, 0.016, PULLED), 54324895.0, 1.0),
    Case(SOURCE, "centre of mass from the bottom [m]", lambda: float(centre(_mass())[1]), 0.0100380048, 1e-10),
)
