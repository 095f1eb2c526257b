"""Level flight: balances of force, energy and flapping, its limits, and moments that do not depend on how one looks.

H. Glauert, ARC R&M 1111, 1926; J. B. Wheatley, NACA Report 487, 1934 (from memory); closed forms in tests/validation.
"""

import dataclasses
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.rotor.control_loads import free_coning, mass_offset_moment, weight_moment
from bladewright.engine.rotor.feathering import Counterweights, feathering_moment
from bladewright.engine.rotor.hover import hover_with_thrust
from bladewright.engine.rotor.inflow import (
    InflowModel,
    descent_induced_velocity,
    glauert_inflow,
    inflow_slopes,
)
from bladewright.engine.rotor.level_flight import hover_at_collective, level_flight, level_flights
from bladewright.engine.rotor.momentum import climb_induced_velocity
from bladewright.engine.rotor.propeller_moment import propeller_moment
from bladewright.engine.rotor.rotor import Flight, Modelled, Rotor
from bladewright.errors import BadInput, NotConverged, OutsideValidity
from tests.engine_rotor.training_rotor import AIR, RADIUS, SPEED, WEIGHT, blade, flight, mass, teetering

UNIFORM = Modelled(InflowModel("uniform", 1.0, lossy_tip=False))


@settings(max_examples=15, deadline=None)
@given(st.floats(0.0, 50.0), st.floats(3500.0, 5200.0), st.sampled_from(["teetering", "hinged"]))
def test_forces_balance_and_no_energy_is_lost(speed: float, weight: float, hub: str) -> None:
    rotor = teetering(hub=hub)
    found = level_flight(rotor, flight(speed, weight), SPEED)
    loads, tilt = found.loads, found.setting.tilt
    drag = 0.5 * AIR.density * speed**2 * 0.6
    assert loads.thrust * math.cos(tilt) + loads.aft_force * math.sin(tilt) == pytest.approx(weight, rel=1e-8)
    assert loads.thrust * math.sin(tilt) - loads.aft_force * math.cos(tilt) == pytest.approx(drag, abs=1e-8 * weight)
    assert found.power == pytest.approx(
        found.induced_power + found.profile_power + found.parasite_power + found.climb_power, rel=1e-8
    )
    assert found.parasite_power == pytest.approx(drag * speed, abs=1e-4 * weight)
    # no moment reaches the hub: the first harmonic of flapping and of the air's flap moment vanish together
    once = loads.flap_moment @ np.exp(1j * found.disc.azimuth) / found.disc.azimuth.size
    assert abs(once) < 1e-7 * rotor.flap_inertia * SPEED**2
    assert np.abs(loads.flap - loads.flap.mean()).max() < 0.01


def test_standing_still_it_is_the_hover_of_momentum_theory() -> None:
    found = level_flight(teetering(), flight(0.0), SPEED, model=UNIFORM)
    ideal = math.sqrt(WEIGHT / (2.0 * AIR.density * math.pi * RADIUS**2))
    assert found.setting.induced == pytest.approx(ideal, rel=1e-8)
    assert found.induced_power == pytest.approx(WEIGHT * ideal, rel=1e-8)
    assert (found.setting.cosine_pitch, found.setting.sine_pitch) == pytest.approx((0.0, 0.0), abs=1e-9)
    barely = level_flight(teetering(), flight(0.01), SPEED, model=UNIFORM)
    assert barely.power == pytest.approx(found.power, rel=1e-4)


def test_standing_still_it_is_near_the_hover_by_rings_once_unevenness_is_paid_for() -> None:
    rings = hover_with_thrust(blade(), 2, SPEED, AIR, WEIGHT)
    ideal = WEIGHT * math.sqrt(WEIGHT / (2.0 * AIR.density * math.pi * RADIUS**2))
    assert rings.induced_factor == pytest.approx(rings.induced_power / ideal, rel=1e-8)
    paid = Modelled(InflowModel("linear", rings.induced_factor))
    found = level_flight(teetering(), flight(0.0), SPEED, model=paid)
    assert found.power == pytest.approx(rings.power, rel=0.02)
    assert math.degrees(found.setting.collective - rings.collective) == pytest.approx(0.0, abs=0.5)


@settings(max_examples=10, deadline=None)
@given(st.floats(0.03, 0.22))
def test_the_lever_held_in_hover_gives_a_thrust_that_needs_that_lever(collective: float) -> None:
    held = hover_at_collective(teetering(), flight(0.0), SPEED, collective)
    again = level_flight(teetering(), flight(0.0, float(held.loads.thrust)), SPEED)
    assert again.setting.collective == pytest.approx(collective, abs=1e-6)
    assert again.power == pytest.approx(held.power, rel=1e-5)


def test_power_falls_to_a_bucket_and_rises_again() -> None:
    power = [one.power for one in level_flights(teetering(), flight(0.0), SPEED, [0.0, 10.0, 20.0, 30.0, 40.0, 50.0])]
    lowest = int(np.argmin(power))
    assert 0 < lowest < 4
    assert power[-1] > 1.5 * power[lowest]


def test_one_after_another_is_the_same_as_alone() -> None:
    *_, last = level_flights(teetering(), flight(0.0), SPEED, [20.0, 40.0])
    alone = level_flight(teetering(), flight(40.0), SPEED)
    assert last.setting.row() == pytest.approx(alone.setting.row(), abs=1e-6)
    assert alone.advancing_tip_mach == pytest.approx((SPEED * RADIUS + 40.0) / AIR.sound_speed, rel=5e-3)
    assert alone.advance_ratio == pytest.approx(40.0 / (SPEED * RADIUS), rel=1e-2)


def test_an_entered_tilt_takes_the_place_of_the_drag_area() -> None:
    free = level_flight(teetering(), flight(35.0), SPEED)
    tilted = level_flight(teetering(), flight(35.0, drag_area=0.0), SPEED, tilt=free.setting.tilt)
    assert tilted.power == pytest.approx(free.power, rel=1e-7)


@pytest.mark.parametrize("turned", [(0.04, 0.0), (0.0, -0.03)])
def test_flapping_against_the_shaft_is_the_same_flight_as_feathering(turned: tuple[float, float]) -> None:
    # shaft tilted against the same tip path: same power, and the same load on the control where nothing is bent
    heavy_behind = teetering(mass=mass(chordwise=0.004, above=0.002))
    straight = level_flight(heavy_behind, flight(35.0), SPEED)
    flapped = level_flight(heavy_behind, flight(35.0), SPEED, cosine_flap=turned[0], sine_flap=turned[1])
    assert flapped.power == pytest.approx(straight.power, rel=0.02)
    assert flapped.setting.tilt == pytest.approx(straight.setting.tilt - turned[0], abs=0.003)
    before, after = (feathering_moment(one, precone=straight.setting.coning) for one in (straight, flapped))
    moved = float(np.abs(after.pitch_inertia - before.pitch_inertia).max())  # what one part alone would change it by
    assert moved > 2.0
    assert np.abs(after.total - before.total).max() < 0.1 * moved  # products of two angles are left out


def test_standing_still_every_feathering_moment_is_that_of_a_steady_blade() -> None:
    rotor = teetering(mass=mass(chordwise=0.004, above=0.002))
    found = level_flight(rotor, flight(0.0), SPEED, model=UNIFORM)
    weights = Counterweights(30.0, 0.9 * SPEED)
    moment = feathering_moment(found, precone=math.radians(2.5), counterweights=weights)
    setting, body, loads = found.setting, rotor.mass, found.loads
    pitch = setting.collective + np.interp(body.y, rotor.blade.y, rotor.blade.twist)
    coning = free_coning(
        found.disc.parts.y, loads.lift[0], body, SPEED
    )  # Simpson's rule on Gauss's places: near enough to see a blunder
    assert setting.coning == pytest.approx(coning, rel=0.02)
    expected = {
        "propeller_moment": propeller_moment(
            body.y, body.chordwise_inertia, body.normal_inertia, body.product_of_inertia, pitch, SPEED
        ).total,
        "tilt_offset": mass_offset_moment(body, pitch, math.radians(2.5), SPEED),
        "bent_offset": mass_offset_moment(body, pitch, setting.coning - math.radians(2.5), SPEED),
        "bent_drag": (setting.coning - math.radians(2.5)) * float(loads.torque) / 2.0,
        "weight": weight_moment(body, pitch),
        "pitch_inertia": 0.0,
        "lift_offset": 0.0,
        "counterweights": 30.0 / 0.81 * math.sin(2.0 * setting.collective),
    }
    for name, value in expected.items():
        assert getattr(moment, name) == pytest.approx(np.full(36, value), rel=1e-6, abs=1e-6), name
    # a coned blade turns about its span: -pi rho c^3 W^2 b/16 times the integral of y
    turning = -math.pi * AIR.density * 0.2**3 * SPEED**2 * setting.coning / 16.0 * (RADIUS**2 - 0.45**2) / 2.0
    assert moment.pitch_rate == pytest.approx(np.full(36, turning), rel=1e-6)
    assert moment.total == pytest.approx(moment.section_moment + moment.pitch_rate + sum(expected.values()), rel=1e-9)


def test_once_a_revolution_pitch_needs_no_moment_of_a_flat_blade() -> None:
    # flat, so I_c alone: the propeller spring balances the inertia of feathering once a revolution
    y = mass().y
    flat = dataclasses.replace(mass(), normal_inertia=np.zeros_like(y))
    moment = feathering_moment(level_flight(teetering(mass=flat), flight(40.0), SPEED))
    together = moment.propeller_moment + moment.pitch_inertia
    assert np.ptp(together) < 0.05 * np.ptp(moment.pitch_inertia)


def test_a_hinge_off_the_axis_stiffens_flapping() -> None:
    hinged = Rotor(blade(), mass(), 3, "hinged", 0.1)
    assert hinged.flap_stiffness == pytest.approx(1.0 + 0.1 * hinged.flap_moment / hinged.flap_inertia)
    found = level_flight(hinged, flight(30.0), SPEED)
    assert found.power == pytest.approx(found.induced_power + found.profile_power + found.parasite_power, rel=1e-8)


def test_a_rotor_that_stalls_has_no_such_state() -> None:
    with pytest.raises(NotConverged) as stalled:
        level_flight(teetering(), flight(60.0, 15_000.0), SPEED)
    assert stalled.value.field == "trim"
    assert "collective" in str(stalled.value.value)


@settings(max_examples=30)
@given(st.floats(0.0, 0.4), st.floats(-0.05, 0.3), st.floats(0.001, 0.01))
def test_inflow_meets_momentum(advance: float, tilt: float, thrust: float) -> None:
    inflow = glauert_inflow(advance, tilt, thrust)
    wanted = advance * math.tan(tilt) + thrust / (2.0 * math.hypot(advance, inflow))
    assert inflow == pytest.approx(wanted, rel=1e-9)


def test_the_slope_of_the_inflow_vanishes_in_hover_and_leans_aft() -> None:
    aft, side = inflow_slopes(np.array([0.0, 0.1, 0.3]), np.array([0.05, 0.03, 0.02]))
    assert (aft[0], side[0]) == pytest.approx((0.0, 0.0), abs=1e-12)
    assert (aft[1:] > 0.5).all()
    assert (side[1:] < 0.0).all()


def test_vertical_flight_joins_up() -> None:
    assert descent_induced_velocity(7.0, 2.0) == pytest.approx(climb_induced_velocity(7.0, 2.0), rel=1e-12)
    assert descent_induced_velocity(7.0, -1e-9) == pytest.approx(7.0, rel=1e-6)
    assert descent_induced_velocity(7.0, -20.0) == pytest.approx(10.0 - math.sqrt(51.0))
    # the published fit does not quite meet the windmill branch: 1.0 vh there, by its own rounding 1.2 %
    assert descent_induced_velocity(7.0, -13.9999) == pytest.approx(7.0, rel=0.1)


def test_bad_flights_are_refused() -> None:
    with pytest.raises(BadInput) as speed:
        level_flight(teetering(), flight(20.0), 0.0)
    assert speed.value.field == "rotor_speed"
    with pytest.raises(BadInput) as moving:
        hover_at_collective(teetering(), flight(3.0), SPEED, 0.1)
    assert moving.value.field == "speed"
    for bad, field in (({"speed": -1.0}, "speed"), ({"weight": 0.0}, "weight"), ({"drag_area": -1.0}, "drag_area")):
        with pytest.raises(BadInput) as refused:
            Flight(**{"speed": 1.0, "weight": 1.0, "drag_area": 1.0, "air": AIR} | bad)
        assert refused.value.field == field
    for changed, field in (
        ({"blades": 3}, "hub"), ({"hub": "hinged", "hinge_offset": 0.6}, "hinge_offset"),
        ({"hub": "hinged", "blades": 1}, "blades"),
    ):  # fmt: skip
        with pytest.raises(BadInput) as hub:
            teetering(**changed)
        assert hub.value.field == field
    with pytest.raises(BadInput) as thrust:
        glauert_inflow(0.2, 0.0, -0.1)
    assert thrust.value.field == "thrust_coefficient"
    with pytest.raises(OutsideValidity) as hover:
        descent_induced_velocity(0.0, -1.0)
    assert hover.value.field == "hover_velocity"
