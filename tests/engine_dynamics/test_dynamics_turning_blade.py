"""A rotor that leans over as a whole must find nothing against it, wherever its blades' mass and stiffness lie."""

from dataclasses import replace

import numpy as np
import pytest

from bladewright.engine.dynamics.blade_beam import BladeBeam, PointMass, Root
from bladewright.engine.dynamics.turning_blade import turning_blade
from tests.engine_dynamics.even_blade import even_blade

FREE = Root("hinged", 0.0)
EVEN = even_blade(aft=0.004)
ALONG = (EVEN.y - EVEN.y[0]) / (EVEN.y[-1] - EVEN.y[0])
CROOKED = replace(
    EVEN,
    twist=0.15 - 0.12 * ALONG,
    mass_x=0.01 - 0.015 * ALONG,
    mass_z=0.003 * ALONG,
    product_of_inertia=2e-4 * ALONG,
    elastic_x=0.006 + 0.004 * ALONG,
    elastic_z=-0.002 * ALONG,
    bending_product=200.0 * ALONG,
)
WEIGHTED = replace(CROOKED, masses=(PointMass(2.9, 0.6, -0.03, 0.004), PointMass(1.4, 0.2, 0.02, 0.0)))


@pytest.mark.parametrize("beam", [EVEN, CROOKED, WEIGHTED], ids=["even", "crooked", "weighted"])
@pytest.mark.parametrize("pitch", [0.0, 0.2])
def test_leaning_over_as_a_whole_costs_nothing(beam: BladeBeam, pitch: float) -> None:
    # z = y cos W t, p = z'/(W y): every blade stays in one leaning plane, so which way is up is all that has changed
    blade = turning_blade(beam, FREE, "cyclic", pitch)
    flap = np.linalg.lstsq(blade.flap.T, blade.y, rcond=None)[0]
    pitched = np.linalg.lstsq(blade.torsion.T, np.ones_like(blade.y), rcond=None)[0]
    leaning = flap + 1j * pitched
    force = -blade.mass @ leaning + 1j * blade.coriolis @ leaning + blade.centrifugal @ leaning
    # the beam leaves out how far a thick section's corners come in when it tilts both ways: 7e-5 where it is pitched
    assert np.abs(force).max() < 1e-4 * np.abs(blade.mass @ flap).max()
    assert np.abs(blade.elastic @ leaning).max() < 1e-9 * np.abs(blade.elastic).max()


def test_coriolis_does_no_work() -> None:
    coriolis = turning_blade(WEIGHTED, FREE, "cyclic", 0.1).coriolis
    assert np.abs(coriolis + coriolis.T).max() < 1e-15
    assert np.abs(coriolis).max() > 0.0


def test_stiffness_stays_symmetric() -> None:
    stiffness = turning_blade(WEIGHTED, FREE, "cyclic", 0.1).stiffness(58.0)
    assert np.abs(stiffness - stiffness.T).max() < 1e-12 * np.abs(stiffness).max()
