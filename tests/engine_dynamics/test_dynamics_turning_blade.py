"""A rotor that leans over as a whole must find nothing against it, wherever its blades' mass and stiffness lie."""

from dataclasses import replace

import numpy as np
import pytest
from scipy import linalg

from bladewright.engine.dynamics.blade_beam import BladeBeam, PointMass, Root
from bladewright.engine.dynamics.changed_mass import mass_shifted
from bladewright.engine.dynamics.turning_blade import clamped, turning_blade, turning_blades
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
    shear_x=-0.012 + 0.005 * ALONG,
    shear_z=0.002 * ALONG,
)
STRAIGHT = replace(CROOKED, twist=0.0 * ALONG, product_of_inertia=0.0 * ALONG, mass_z=0.0 * ALONG)
WEIGHTED = replace(CROOKED, masses=(PointMass(2.9, 0.6, -0.03, 0.004), PointMass(1.4, 0.2, 0.02, 0.0)))


@pytest.mark.parametrize("beam", [EVEN, STRAIGHT, CROOKED, WEIGHTED], ids=["even", "straight", "crooked", "weighted"])
@pytest.mark.parametrize("pitch", [0.0, 0.2])
@pytest.mark.parametrize("chordwise", [False, True])
def test_leaning_over_as_a_whole_costs_nothing(beam: BladeBeam, pitch: float, chordwise: bool) -> None:
    # z = y cos W t, p = z'/(W y): every blade stays in one leaning plane, so which way is up is all that has changed
    blade = turning_blade(beam, FREE, "cyclic", pitch, chordwise=chordwise)
    still, one = 0.0 * blade.y, np.ones_like(blade.y)
    flap, pitched = (
        np.linalg.lstsq(np.hstack([blade.flap, blade.chordwise, blade.torsion]).T, np.concatenate(wanted), rcond=None)[
            0
        ]
        for wanted in ((blade.y, still, still), (still, still, one))
    )
    leaning = flap + 1j * pitched
    force = -blade.mass @ leaning + 1j * blade.coriolis @ leaning + blade.centrifugal @ leaning
    # the beam leaves out how far a pitched section's corners come in when it tilts both ways, 5e-5
    allowed = 1e-4 if pitch != 0.0 or beam.twist.any() else 1e-5 if beam.elastic_z.any() else 1e-12
    assert np.abs(force).max() < allowed * np.abs(blade.mass @ flap).max()
    assert np.abs(blade.elastic @ leaning).max() < 1e-9 * np.abs(blade.elastic).max()


@pytest.mark.outside
def test_a_blade_that_feathers_freely_swings_nearly_once_a_revolution() -> None:
    # sqrt((k_c^2 - k_t^2)/(k_c^2 + k_t^2)) per revolution; W. Johnson, Helicopter Theory, 1980, ch. 9; J. C. Houbolt,
    # G. W. Brooks, NACA Report 1346, 1958 (both from memory)
    blade = turning_blade(even_blade(spread=np.sqrt(0.0021), thick=0.005), Root("clamped", 0.0), "cyclic")
    still = linalg.eigh(blade.stiffness(58.0), blade.mass, eigvals_only=True)[:4]
    assert np.min(np.abs(np.sqrt(still) / 58.0 - 0.98816526)) < 1e-6


def test_coriolis_does_no_work() -> None:
    coriolis = turning_blade(WEIGHTED, FREE, "cyclic", 0.1).coriolis
    assert np.abs(coriolis + coriolis.T).max() < 1e-15
    assert np.abs(coriolis).max() > 0.0


def test_stiffness_stays_symmetric() -> None:
    stiffness = turning_blade(WEIGHTED, FREE, "cyclic", 0.1).stiffness(58.0)
    assert np.abs(stiffness - stiffness.T).max() < 1e-12 * np.abs(stiffness).max()


def test_a_pitched_blade_that_is_not_to_bend_along_its_chord_still_bends_about_its_weak_axis() -> None:
    # held alike in both planes and not turning, a blade does not know which way it is pitched
    lowest = [
        linalg.eigvalsh(blade.elastic, blade.mass)[0]
        for blade in (turning_blade(EVEN, Root("clamped", 1e5), "cyclic", pitch) for pitch in (0.0, 0.3))
    ]
    wave = 1.87510407  # of a cantilever's first bending
    free = wave**4 * 1100.0 / 2.9 / (EVEN.y[-1] - EVEN.y[0]) ** 4
    assert lowest[1] == pytest.approx(lowest[0], rel=1e-3)
    assert lowest[0] == pytest.approx(free, rel=2e-3)


@pytest.mark.parametrize("beam", [CROOKED, WEIGHTED], ids=["crooked", "weighted"])
@pytest.mark.parametrize("chordwise", [False, True])
def test_a_blade_whose_mass_moves_is_each_blade_found_alone(beam: BladeBeam, chordwise: bool) -> None:
    beams = [beam, mass_shifted(beam, 0.01), mass_shifted(beam, -0.02)]
    together = turning_blades(beams, FREE, "cyclic", 0.1, chordwise=chordwise)
    for one, same in zip(beams, together, strict=True):
        alone = turning_blade(one, FREE, "cyclic", 0.1, chordwise=chordwise)
        for part in ("mass", "elastic", "centrifugal", "coriolis", "torsion"):
            assert np.array_equal(getattr(same, part), getattr(alone, part)), part


def test_a_teetering_blade_held_at_its_hinge_is_the_clamped_one() -> None:
    root = Root("teetering", 0.0)
    held, clamped_at_once = clamped(turning_blade(CROOKED, root, "cyclic")), turning_blade(CROOKED, root, "collective")
    for part in ("mass", "elastic", "centrifugal", "coriolis", "flap", "root_twist"):
        found, wanted = getattr(held, part), getattr(clamped_at_once, part)
        assert found == pytest.approx(wanted, abs=1e-9 * np.abs(wanted).max()), part
