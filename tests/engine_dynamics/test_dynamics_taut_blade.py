"""Steady bending of a turning blade against closed forms: a cantilever at rest, one under the pull of its tip.

Closed forms; no source needed.
"""

import dataclasses

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.arrays import Floats
from bladewright.engine.dynamics.blade_beam import BladeBeam, PointMass
from bladewright.engine.dynamics.taut_blade import Held, taut_blade
from bladewright.errors import BadInput

CLAMPED = Held(0.0, 0.0)
LENGTH, FLAP, CHORD = 3.0, 3000.0, 90000.0


def uniform(mass: float = 3.0, tip: float = 0.0, twist: float = 0.0) -> BladeBeam:
    y = np.linspace(0.0, LENGTH, 121)
    one = np.ones_like(y)
    return BladeBeam(
        y=y, twist=twist * one, mass_per_length=mass * one, mass_x=0 * one, mass_z=0 * one,
        chordwise_inertia=0.01 * one, normal_inertia=1e-4 * one, product_of_inertia=0 * one, axial=3e7 * one,
        flapwise=FLAP * one, chordwise=CHORD * one, bending_product=0 * one, elastic_x=0 * one,
        elastic_z=0 * one, torsion=2000.0 * one, shear_x=0 * one, shear_z=0 * one, gyration_squared=1e-3 * one,
        masses=(PointMass(LENGTH, tip),) if tip else (),
    )  # fmt: skip


def even(beam: BladeBeam, load: float) -> Floats:
    return np.full_like(beam.y, load)


def test_a_cantilever_at_rest_bears_half_of_load_times_length_squared() -> None:
    beam = uniform()
    bent = taut_blade(beam, CLAMPED, 0.0, even(beam, 40.0), even(beam, 7.0), 0.0)
    arm = 0.5 * (LENGTH - beam.y) ** 2
    np.testing.assert_allclose(bent.flap_moment, 40.0 * arm, atol=1e-3 * 40.0 * arm[0])
    np.testing.assert_allclose(bent.chord_moment, 7.0 * arm, atol=1e-3 * 7.0 * arm[0])
    assert bent.flap_slope[-1] == pytest.approx(40.0 * LENGTH**3 / (6.0 * FLAP), rel=1e-4)
    assert not bent.tension.any()


def test_pull_of_a_tip_mass_straightens_as_hyperbolic_functions_say() -> None:
    # a nearly massless blade: EI f'' = T f - q (L - y), f(0) = 0, f'(L) = 0, T = m W**2 L
    beam, speed, q = uniform(mass=1e-9, tip=1.0), 50.0, 100.0
    bent = taut_blade(beam, CLAMPED, speed, even(beam, q), even(beam, 0.0), 0.0)
    pull = 1.0 * speed**2 * LENGTH
    k = np.sqrt(pull / FLAP)
    end = k * LENGTH
    # f = q (L - y) / T + a cosh k(L - y) + b sinh k(L - y)
    b = -q / (pull * k)
    a = (-q * LENGTH / pull - b * np.sinh(end)) / np.cosh(end)
    away = k * (LENGTH - beam.y)
    slope = q * (LENGTH - beam.y) / pull + a * np.cosh(away) + b * np.sinh(away)
    moment = FLAP * (-q / pull - k * (a * np.sinh(away) + b * np.cosh(away)))
    np.testing.assert_allclose(bent.tension[:-1], pull, rtol=1e-6)
    np.testing.assert_allclose(bent.flap_slope, slope, atol=1e-4 * np.abs(slope).max())
    np.testing.assert_allclose(bent.flap_moment, moment, atol=4e-3 * np.abs(moment).max())


def test_a_blade_coned_as_its_loads_ask_bears_almost_nothing() -> None:
    # lift in proportion to radius is met at every radius by the pull of a straight cone: L' = m W**2 y b
    beam, speed, cone = uniform(), 50.0, 0.05
    lift = 3.0 * speed**2 * beam.y * cone
    bent = taut_blade(beam, Held(cone, 0.0), speed, lift, even(beam, 0.0), 0.0)
    np.testing.assert_allclose(bent.flap_slope, cone, rtol=2e-3)
    assert np.abs(bent.flap_moment).max() < 1e-3 * lift[-1] * LENGTH**2 / 3.0


@given(st.floats(-0.6, 0.6))
@settings(max_examples=15, deadline=None)
def test_turning_the_section_and_the_load_with_it_changes_nothing_at_rest(angle: float) -> None:
    beam, turned = uniform(), uniform(twist=angle)
    flat = taut_blade(beam, CLAMPED, 0.0, even(beam, 30.0), even(beam, 10.0), 0.0)
    up = 30.0 * np.cos(angle) - 10.0 * np.sin(angle)
    aft = 30.0 * np.sin(angle) + 10.0 * np.cos(angle)
    bent = taut_blade(turned, CLAMPED, 0.0, even(beam, up), even(beam, aft), 0.0)
    slope = bent.flap_slope * np.cos(angle) + bent.chord_slope * np.sin(angle)
    np.testing.assert_allclose(slope, flat.flap_slope, atol=1e-7)


def test_a_pull_above_the_elastic_centre_bends_the_tip_down() -> None:
    # the pull keeps its height all along, so the section's moment is nought save where the end straightens it
    beam, speed = uniform(), 50.0
    raised = dataclasses.replace(beam, mass_z=even(beam, 0.002))
    bent = taut_blade(raised, Held(None, 0.0), speed, even(beam, 0.0), even(beam, 0.0), 0.0)
    assert bent.flap_moment.min() > -1.05 * 0.002 * bent.tension[0]
    assert bent.flap_moment[0] < 0.0


def test_nothing_holds_a_blade_on_a_hinge_at_rest() -> None:
    beam = uniform()
    with pytest.raises(BadInput) as caught:
        taut_blade(beam, Held(None, 0.0), 0.0, even(beam, 1.0), even(beam, 1.0), 0.0)
    assert (caught.value.field, caught.value.value) == ("rotor_speed", 0.0)
    assert caught.value.allowed == "more than 0 with a hinge"
