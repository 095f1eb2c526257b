"""Axial flow at a given collective: closed forms of a straight section, power two ways, what cannot be carried."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladewright.engine.flow.polar import Polar, straight_polar
from bladewright.engine.rotor.atmosphere import standard_air
from bladewright.engine.rotor.axial_flow import axial_flow
from bladewright.engine.rotor.engine_power import aspirated_power
from bladewright.engine.rotor.rotor_blade import RotorBlade, plain_blade
from bladewright.errors import BadInput, CannotCarry, OutsideValidity

AIR = standard_air()
SPEED, RADIUS, CUT, CHORD = 50.0, 3.5, 0.5, 0.2


def blade(polar: Polar | None = None, twist: float = 0.0) -> RotorBlade:
    y = np.array([CUT, RADIUS])
    section = straight_polar(5.7, 0.0, 0.01, 0.0) if polar is None else polar
    return plain_blade(y, np.full(2, CHORD), np.array([twist * (RADIUS - CUT), 0.0]), section)


@given(st.floats(-0.02, 0.2), st.floats(1000.0, 8000.0))
def test_inflow_of_an_untwisted_blade_is_the_closed_form(collective: float, thrust: float) -> None:
    # T = N rho/2 W^2 c a [p (R^3 - r^3)/3 - v (R^2 - r^2)/(2 W)]
    found = axial_flow(blade(), 2, SPEED, AIR, thrust, collective)
    scale = 2 * 0.5 * AIR.density * SPEED**2 * CHORD * 5.7
    lifted = collective * (RADIUS**3 - CUT**3) / 3.0
    inflow = (lifted - thrust / scale) * 2.0 * SPEED / (RADIUS**2 - CUT**2)
    assert found.inflow == pytest.approx(inflow, abs=1e-6)
    assert found.thrust == pytest.approx(thrust, rel=1e-9)


@given(st.floats(-0.02, 0.2), st.floats(0.0, 0.05))
def test_power_is_thrust_times_inflow_and_the_drag_s_torque(collective: float, twist: float) -> None:
    found = axial_flow(blade(twist=twist), 2, SPEED, AIR, 4000.0, collective)
    drag = 2 * 0.5 * AIR.density * SPEED**3 * CHORD * 0.01 * (RADIUS**4 - CUT**4) / 4.0
    assert found.power == pytest.approx(4000.0 * found.inflow + drag, rel=1e-8, abs=1e-3)


def test_more_than_the_blades_can_lift_is_refused_with_what_they_can() -> None:
    angle = np.array([-math.pi, -0.2, 0.2, math.pi])
    shape = (4, 1, 1)
    lift = np.array([-1.0, -1.0, 1.0, 1.0]).reshape(shape)  # never more than one
    none = np.zeros(shape)
    stalled = Polar(angle, np.ones(1), np.zeros(1), lift, none, none, np.ones(shape, dtype=np.bool_))
    with pytest.raises(CannotCarry) as caught:
        axial_flow(blade(stalled), 2, SPEED, AIR, 1e5, 0.1)
    most = 2 * 0.5 * AIR.density * SPEED**2 * CHORD * (RADIUS**3 - CUT**3) / 3.0
    assert caught.value.greatest == pytest.approx(most, rel=1e-9)


@pytest.mark.parametrize(("speed", "thrust", "field"), [(0.0, 1.0, "rotor_speed"), (1.0, math.nan, "thrust")])
def test_what_is_not_positive_is_refused_by_name(speed: float, thrust: float, field: str) -> None:
    with pytest.raises(BadInput) as caught:
        axial_flow(blade(), 2, speed, AIR, thrust, 0.1)
    assert caught.value.field == field


def test_an_aspirated_engine_by_hand() -> None:
    assert aspirated_power(100.0, 1.0) == pytest.approx(100.0)
    assert aspirated_power(100.0, 0.5) == pytest.approx(43.4)  # 1.132/2 - 0.132; Gagg, Farrar 1934 (from memory)
    with pytest.raises(OutsideValidity) as caught:
        aspirated_power(100.0, 0.1)
    assert caught.value.field == "density_ratio"
