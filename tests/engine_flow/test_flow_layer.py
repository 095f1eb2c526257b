"""March, closures, roughness and coupling: what must hold whatever the section. Properties; no source needed."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.arrays import Floats
from bladewright.engine.flow.closure import lagged_stress, turbulent_closure
from bladewright.engine.flow.drag import rough_plate_drag, schoenherr_drag
from bladewright.engine.flow.laminar import similar_state, thwaites
from bladewright.engine.flow.layer import Course, Layer, march
from bladewright.engine.flow.layer_nodes import layer_nodes
from bladewright.engine.flow.mixing import Mixing
from bladewright.engine.flow.roughness import CRITICAL_STEP, Step, rough_friction
from bladewright.engine.flow.section_polar import Surface, section_flow_field, section_polar, with_tape
from bladewright.engine.flow.transition import critical_amplification, michel_re_theta
from bladewright.engine.flow.wake import outer_flow
from bladewright.engine.geometry.designated import designated_outline
from bladewright.engine.geometry.mean_lines import designated_mean_line
from bladewright.engine.geometry.outline import Outline
from bladewright.engine.geometry.reflex import reflexed
from bladewright.errors import BadInput, OutsideValidity

PANELS = 80


def section(name: str = "0012", reflex: float = 0.0) -> Outline:
    outline = designated_outline(designated_mean_line(name), 0.12, "open")
    return reflexed(outline, "top", 0.9, np.radians(reflex), False) if reflex else outline


def plates(reynolds: Floats, trip: Floats, critical: Floats, mach: float = 0.0) -> Layer:
    place = np.repeat(np.linspace(0.02, 1.0, 60)[:, None] ** 2, reynolds.size, axis=1)
    none = np.zeros(reynolds.size)
    return march(
        Course(
            distance=place,
            external=np.ones_like(place),
            response=np.zeros_like(place),
            start=np.zeros(reynolds.size, dtype=np.intp),
            exponent=none,
            reynolds=reynolds,
            mach=none + mach,
            critical=critical,
            trip=trip,
            roughness=none,
        )
    )


def conditions(*degrees: float, reynolds: float = 2e6, mach: float = 0.2) -> tuple[Floats, Floats, Floats]:
    one = np.ones(len(degrees))
    return np.radians(degrees), reynolds * one, mach * one


def test_lanes_marched_together_are_the_lanes_marched_alone() -> None:
    reynolds, trip = np.array([1e6, 3e6, 6e6]), np.array([np.inf, 0.1, 0.3])
    critical = np.array([9.0, 9.0, 4.0])
    together = plates(reynolds, trip, critical)
    assert together.settled.all()
    for lane in range(3):
        here = slice(lane, lane + 1)
        alone = plates(reynolds[here], trip[here], critical[here])
        np.testing.assert_allclose(together.momentum[:, lane], alone.momentum[:, 0], rtol=1e-9)
        np.testing.assert_allclose(together.transition[lane], alone.transition[0])


@settings(max_examples=10)
@given(st.floats(0.05, 0.8), st.floats(5e5, 1e7))
def test_a_layer_turns_where_it_is_tripped(place: float, reynolds: float) -> None:
    layer = plates(np.array([reynolds]), np.array([place]), np.array([np.inf]))
    assert layer.transition[0] == pytest.approx(place, rel=1e-9)


def test_no_trip_works_on_a_layer_too_thin_to_be_turbulent() -> None:
    layer = plates(np.array([1e5]), np.array([0.001]), np.array([np.inf]))
    at = layer.transition[0]
    assert 0.664 * np.sqrt(1e5 * at) == pytest.approx(100.0, rel=0.05)  # Blasius' momentum thickness


def test_more_turbulence_turns_a_layer_sooner() -> None:
    critical = np.array([critical_amplification(level) for level in (0.0007, 0.002, 0.01)])
    found = plates(np.full(3, 6e6), np.full(3, np.inf), critical).transition
    assert np.all(np.diff(found) < 0.0)


def test_momentum_thickness_is_friction_summed_on_a_plate() -> None:
    # von Karman's equation without a pressure gradient: theta grows by the integral of cf/2
    layer = plates(np.array([2e6]), np.array([0.2]), np.array([np.inf]))
    place = np.linspace(0.02, 1.0, 60) ** 2
    half = 0.5 * layer.friction[:, 0]
    summed = np.sum(0.5 * (half[1:] + half[:-1]) * np.diff(place))
    assert layer.momentum[-1, 0] - layer.momentum[0, 0] == pytest.approx(summed, rel=0.02)


@settings(max_examples=50)
@given(st.floats(0.01, 0.2), st.floats(0.01, 0.2), st.floats(0.0, 10.0))
def test_stress_stays_between_where_it_was_and_equilibrium(before: float, equilibrium: float, length: float) -> None:
    lagged = float(lagged_stress(np.array(before), np.array(equilibrium), np.array(length), np.array(0.1)))
    assert min(before, equilibrium) * (1 - 1e-12) <= lagged <= max(before, equilibrium) * (1 + 1e-12)


@settings(max_examples=50)
@given(st.floats(1.2, 2.2), st.floats(300.0, 1e5), st.floats(0.0, 0.5))
def test_a_rough_wall_never_has_less_friction(shape: float, re_theta: float, grain: float) -> None:
    h, re, still = np.array(shape), np.array(re_theta), np.array(0.0)
    smooth = turbulent_closure(h, h, re, still).friction
    assert rough_friction(smooth, h, re, still, np.array(grain)) >= smooth * (1.0 - 1e-12)


def test_similar_layers_of_plate_and_round_nose() -> None:
    # Blasius 1908: H = 2.591, theta^2 = 0.441 nu x/U; Hiemenz 1911: H = 2.216, theta^2 U'/nu = 0.0855
    shape, thickness = similar_state(np.array([0.0, 1.0]))
    np.testing.assert_allclose(shape, [2.591, 2.216], rtol=0.015)
    np.testing.assert_allclose(thickness, [0.441, 0.0855], rtol=0.02)


def test_mixing_solves_a_linear_iteration_in_as_many_steps_as_it_has_unknowns() -> None:
    turn = np.array([[0.9, -0.4, 0.0], [0.4, 0.9, 0.2], [0.0, 0.1, -0.5]])
    goal = np.linalg.solve(np.eye(3) - turn, np.ones(3))
    mixing, x = Mixing(np.ones(3)), np.zeros((3, 1))
    for _ in range(5):
        x = mixing.following(x, turn @ x + 1.0)
    np.testing.assert_allclose(x[:, 0], goal, rtol=1e-6)


def test_mass_defect_in_the_wake_and_on_the_walls_is_felt_alike_on_both_sides() -> None:
    outer = outer_flow(layer_nodes(section(), PANELS))
    size = outer.arc.size
    mirrored = np.concatenate((np.arange(size)[::-1], np.arange(size, len(outer.response))))
    sign = np.concatenate((-np.ones(size), np.ones(len(outer.response) - size)))
    turned = sign[:, None] * sign * outer.response[np.ix_(mirrored, mirrored)]
    np.testing.assert_allclose(turned, outer.response, atol=1e-6 * np.abs(outer.response).max())


@pytest.mark.parametrize("count", [61, 38])
def test_too_few_or_odd_panels_are_refused(count: int) -> None:
    with pytest.raises(BadInput) as refused:
        layer_nodes(section(), count)
    assert refused.value.field == "panels"
    assert refused.value.value == count


def test_a_break_is_a_node_and_a_closed_edge_is_opened() -> None:
    bent = section("23012", reflex=2.0)
    nodes = layer_nodes(bent, PANELS)
    place = bent.top[bent.breaks[-1]]
    assert np.hypot(*(nodes - place).T).min() < 1e-12
    closed = layer_nodes(designated_outline(designated_mean_line("0012"), 0.12, "closed"), PANELS)
    assert closed[0, 1] - closed[-1, 1] == pytest.approx(2e-4, rel=1e-3)


def test_a_symmetric_section_mirrors_with_its_angle() -> None:
    field = section_flow_field(section(), *conditions(-3.0, 0.0, 3.0), Surface(), PANELS)
    assert field.flow.converged.all()
    assert field.lift[1] == pytest.approx(0.0, abs=2e-4)
    assert field.lift[0] == pytest.approx(-field.lift[2], rel=2e-3)
    assert field.drag[0] == pytest.approx(field.drag[2], rel=2e-3)
    assert field.moment[0] == pytest.approx(-field.moment[2], abs=2e-4)


def test_conditions_together_are_conditions_alone() -> None:
    several = conditions(0.0, 4.0, 8.0)
    together = section_flow_field(section("23012"), *several, Surface(), PANELS)
    alone = section_flow_field(section("23012"), *(values[1:2] for values in several), Surface(), PANELS)
    assert together.lift[1] == pytest.approx(alone.lift[0], rel=1e-6)
    assert together.drag[1] == pytest.approx(alone.drag[0], rel=1e-6)


def test_reflex_up_raises_the_moment_and_lowers_the_lift_by_less_than_without_a_layer() -> None:
    # thin theory with the mean line turned by half: 0.54/2 per radian of skin; Glauert 1927 (from memory)
    tripped = Surface(trip_top=0.05, trip_bottom=0.05)
    plain, bent = (
        section_flow_field(section("23012", reflex), *conditions(2.0), tripped, PANELS) for reflex in (0.0, 2.0)
    )
    per_degree = float(bent.moment[0] - plain.moment[0]) / 2.0
    assert 0.5 * np.radians(0.27) < per_degree < np.radians(0.27)
    assert bent.lift[0] < plain.lift[0]


def test_roughness_tape_and_turbulence_cost_drag() -> None:
    where = conditions(2.0)
    smooth = section_flow_field(section(), *where, Surface(), PANELS)
    rough = section_flow_field(section(), *where, Surface(trip_top=0.05, trip_bottom=0.05, grain=5e-4), PANELS)
    tripped = section_flow_field(section(), *where, Surface(trip_top=0.05, trip_bottom=0.05), PANELS)
    taped = section_flow_field(section(), *where, with_tape(Surface(), 0.0015, 0.1, 0.1), PANELS)
    thin = section_flow_field(section(), *where, with_tape(Surface(), 1e-5, 0.1, 0.1), PANELS)
    assert smooth.drag[0] < taped.drag[0] < tripped.drag[0] < rough.drag[0]
    assert taped.transition[0, 0] == pytest.approx(0.1, abs=0.005)
    assert thin.drag[0] == smooth.drag[0]


def test_heads_trip_sooner_than_steps_down_and_those_than_steps_up() -> None:
    assert CRITICAL_STEP["heads"] < CRITICAL_STEP["down"] < CRITICAL_STEP["up"]
    assert Step("top", 0.1, 0.001, "heads").kind in CRITICAL_STEP


def test_a_polar_says_what_it_computed() -> None:
    angle, mach = np.radians([-2.0, 2.0, 10.0, 40.0]), np.array([0.2, 0.55])
    polar = section_polar(section("23012"), angle, np.array([2e6]), mach, Surface(), PANELS)
    assert polar.computed[1].all()
    assert polar.computed[2, 0, 0]
    assert not polar.computed[2, 0, 1], "sonic over the nose"
    assert not polar.computed[3].any()
    assert np.isnan(polar.lift[3]).all(), "no agreement is no number"
    assert polar.lift[1, 0, 1] > polar.lift[1, 0, 0], "lift grows with Mach number"


@pytest.mark.parametrize("level", [0.0, 0.1])
def test_a_turbulence_level_outside_the_fit_is_refused(level: float) -> None:
    with pytest.raises(OutsideValidity) as refused:
        critical_amplification(level)
    assert refused.value.field == "turbulence"


def test_bad_numbers_are_refused_by_name() -> None:
    with pytest.raises(BadInput, match="Reynolds"):
        michel_re_theta(np.array([1e6, -1.0]))
    with pytest.raises(BadInput) as refused:
        thwaites(np.linspace(0.0, 1.0, 5), np.array([1.0, 0.5, 0.0, -1.0, 1.0]), np.zeros(5), 1.0)
    assert refused.value.field == "speed"
    for law in (schoenherr_drag, rough_plate_drag):
        with pytest.raises(BadInput):
            law(1.0)
