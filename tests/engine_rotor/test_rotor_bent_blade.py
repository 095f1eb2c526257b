"""What coning does by way of the air: closed forms, and level flight that goes over into hover."""

import math

import numpy as np
import pytest

from bladewright.engine.flow.polar import straight_polar
from bladewright.engine.rotor.atmosphere import standard_air
from bladewright.engine.rotor.bent_blade import coned_turning_moment, raised_drag_moment
from bladewright.engine.rotor.feathering import feathering_moment
from bladewright.engine.rotor.level_flight import level_flight
from bladewright.engine.rotor.rotor import Flight, Rotor
from bladewright.engine.rotor.rotor_blade import elements, plain_blade
from bladewright.engine.rotor.span_mass import SpanMass

SPEED, CHORD, RADIUS = 50.0, 0.2, 3.5


def test_turning_of_a_constant_chord_is_its_integral() -> None:
    # -(pi rho/16) c^3 W^2 (R^2 - r^2)/2, worked by hand
    parts = elements(
        plain_blade(np.array([0.5, RADIUS]), np.full(2, CHORD), np.zeros(2), straight_polar(5.7, 0.0, 0.01, 0.0))
    )
    found = coned_turning_moment(parts.y, parts.length, parts.chord, SPEED, 1.2)
    assert found == pytest.approx(-math.pi * 1.2 / 16.0 * CHORD**3 * SPEED**2 * (RADIUS**2 - 0.25) / 2.0, rel=1e-12)


def test_drag_above_the_axis_turns_the_nose_up() -> None:
    assert raised_drag_moment(400.0, 0.01) == pytest.approx(4.0)


def test_almost_at_rest_the_disc_says_what_hover_says() -> None:
    y = np.linspace(0.25, RADIUS, 40)
    one = np.ones_like(y)
    mass = SpanMass(y, 2.5 * one, 0.0 * one, 0.0 * one, 6e-3 * one, 1e-4 * one, 0.0 * one)
    blade = plain_blade(np.array([0.5, RADIUS]), np.full(2, CHORD), np.zeros(2), straight_polar(5.7, 0.0, 0.01, 0.0))
    air = standard_air()
    state = level_flight(Rotor(blade, mass, 2, "teetering"), Flight(0.5, 4500.0, 0.0, air), SPEED)
    coning, torque = state.setting.coning, state.power / SPEED / 2
    found = feathering_moment(state, precone=0.02)
    assert float(found.bent_drag.mean()) == pytest.approx(raised_drag_moment(torque, coning - 0.02), rel=0.01)
    parts = state.disc.parts
    turning = coned_turning_moment(parts.y, parts.length, parts.chord, SPEED, air.density) * coning
    assert float(found.pitch_rate.mean()) == pytest.approx(turning, rel=0.01)
