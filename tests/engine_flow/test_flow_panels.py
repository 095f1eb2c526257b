"""Potential flow by panels: balances and symmetries that hold whatever the shape. Figures from outside: selfcheck."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.arrays import Floats
from bladewright.engine.flow.panelling import panel_nodes
from bladewright.engine.flow.panels import panel_flow
from bladewright.engine.geometry.designated import designated_outline
from bladewright.engine.geometry.mean_lines import FourDigitLine, designated_mean_line
from bladewright.engine.geometry.outline import Outline
from bladewright.engine.geometry.reflex import reflexed
from bladewright.errors import BadInput
from bladewright.selfcheck.karman_trefftz import FINITE, mapped_nodes

PANELS = 120
AXIS = np.array([0.25, 0.0])
FM31 = designated_outline(designated_mean_line("23012"), 0.12, "open")

cambers = st.tuples(st.floats(0.0, 0.05), st.floats(0.25, 0.6), st.floats(0.06, 0.18))
degrees = st.floats(-8.0, 10.0)


def nodes_of(shape: tuple[float, float, float], ending: str = "closed", panels: int = PANELS) -> Floats:
    camber, place, thickness = shape
    return panel_nodes(designated_outline(FourDigitLine(camber, place), thickness, ending), panels)


def turned(nodes: Floats, angle: float) -> Floats:
    """About the quarter chord, nose up."""
    cosine, sine = math.cos(angle), math.sin(angle)
    return AXIS + (nodes - AXIS) @ np.array([[cosine, -sine], [sine, cosine]])


@settings(max_examples=20, deadline=None)
@given(cambers, degrees)
def test_no_drag_and_the_same_lift_from_circulation_and_from_pressure(
    shape: tuple[float, float, float], angle: float
) -> None:
    coarse, fine = (panel_flow(nodes_of(shape, panels=n), np.radians([angle])) for n in (PANELS, 2 * PANELS))
    for error in (
        lambda found: abs(float(found.drag_from_pressure[0])),
        lambda found: abs(float(found.lift[0] - found.lift_from_pressure[0])),
        lambda found: abs(float(found.leak[0])),
    ):
        assert error(coarse) < 5e-3
        assert error(fine) < 0.4 * error(coarse) + 1e-4


@settings(max_examples=15, deadline=None)
@given(cambers, degrees, st.sampled_from(["closed", "open"]))
def test_turning_the_section_is_turning_the_stream(
    shape: tuple[float, float, float], angle: float, ending: str
) -> None:
    nodes = nodes_of(shape, ending)
    still, moved = panel_flow(nodes, np.radians([angle])), panel_flow(turned(nodes, math.radians(angle)), np.zeros(1))
    assert moved.speed == pytest.approx(still.speed, abs=1e-9)
    assert moved.lift == pytest.approx(still.lift, abs=1e-9)
    assert moved.moment == pytest.approx(still.moment, abs=1e-9)


@settings(max_examples=15, deadline=None)
@given(cambers, degrees, st.floats(1e-3, 1e3))
def test_size_does_not_matter(shape: tuple[float, float, float], angle: float, chord: float) -> None:
    nodes = nodes_of(shape)
    one, other = panel_flow(nodes, np.radians([angle])), panel_flow(chord * nodes, np.radians([angle]), chord)
    for name in ("speed", "lift", "moment", "lift_from_pressure"):
        assert getattr(other, name) == pytest.approx(getattr(one, name), abs=1e-9)
    assert other.stagnation == pytest.approx(chord * one.stagnation, rel=1e-9)


@settings(max_examples=15, deadline=None)
@given(cambers, degrees, st.sampled_from(["closed", "open"]))
def test_upside_down_at_the_opposite_angle_is_the_mirror_image(
    shape: tuple[float, float, float], angle: float, ending: str
) -> None:
    nodes = nodes_of(shape, ending)
    one, other = (
        panel_flow(ring, np.radians([at])) for ring, at in ((nodes, angle), (nodes[::-1] * [1.0, -1.0], -angle))
    )
    assert other.speed[0] == pytest.approx(-one.speed[0, ::-1], abs=1e-9)
    assert other.lift == pytest.approx(-one.lift, abs=1e-9)
    assert other.moment == pytest.approx(-one.moment, abs=1e-9)


def test_many_angles_and_many_shapes_at_once_are_the_same_as_one_by_one() -> None:
    shapes = np.stack([nodes_of((0.02, 0.4, 0.12), ending) for ending in ("closed", "open", "rescaled")])
    angles = np.radians([-3.0, 0.0, 7.0])
    together = panel_flow(shapes, angles)
    assert together.speed.shape == (3, 3, PANELS + 1)
    for number, shape in enumerate(shapes):
        for at, angle in enumerate(angles):
            alone = panel_flow(shape, np.array([angle]))
            for name in ("speed", "lift", "moment", "drag_from_pressure", "stagnation", "leak"):
                assert getattr(together, name)[number, at] == pytest.approx(getattr(alone, name)[0], abs=1e-12)


def test_the_stagnation_point_is_where_the_exact_flow_has_it() -> None:
    """On the circle it lies opposite the trailing edge, turned by twice angle and camber. Closed form."""
    angle = math.radians(4.0)
    camber = math.asin(FINITE.centre.imag / abs(1.0 - FINITE.centre))
    round_the_circle = math.pi + 2.0 * angle + 2.0 * camber
    found = panel_flow(mapped_nodes(FINITE, 400), np.array([angle]))
    at = np.interp(round_the_circle, np.linspace(0.0, 2.0 * math.pi, 401), found.arc)
    assert found.stagnation[0] == pytest.approx(at, abs=2e-4)


def test_a_blunt_edge_tends_to_the_closed_one_as_its_base_shrinks() -> None:
    closed = nodes_of((0.02, 0.4, 0.12))
    lifts = []
    for gap in (4e-3, 2e-3, 1e-3, 1e-5):
        shape = closed.copy()
        shape[:, 1] += 0.5 * gap * shape[:, 0] * np.where(np.arange(len(shape)) <= PANELS // 2, 1.0, -1.0)
        lifts.append(float(panel_flow(shape, np.radians([4.0])).lift[0]))
    exact = float(panel_flow(closed, np.radians([4.0])).lift[0])
    off = np.abs(np.array(lifts) - exact)
    assert np.all(np.diff(off) < 0.0)
    assert off[-1] < 2e-4


def test_a_blunt_body_has_the_speeds_of_the_endless_one_it_is_the_front_of() -> None:
    """A source in a stream makes a half-body; cut off far behind, its front is the same. Rankine; closed form."""
    polar = np.linspace(0.06 * math.pi, 1.94 * math.pi, 401)
    above = np.maximum(np.abs(math.pi - polar), 1e-12)
    radius = above / np.maximum(np.abs(np.sin(polar)), 1e-12) / math.pi
    place = radius * np.exp(1j * polar)
    found = panel_flow(np.stack((place.real, place.imag), axis=1), np.zeros(1))
    exact = np.abs(1.0 + 1.0 / (math.pi * place))
    front = place.real < 0.5
    assert np.abs(found.speed[0])[front] == pytest.approx(exact[front], abs=0.02)


def test_smooth_convergence_with_reflex_kink_and_with_a_step_at_a_skin_edge() -> None:
    at = int(np.argmin(np.abs(FM31.top[:, 0] - 0.3)))
    lowered = FM31.top.copy()
    lowered[at + 1 :, 1] -= 0.0025 * (1.0 - lowered[at + 1 :, 0]) / (1.0 - lowered[at, 0])
    stepped = Outline(
        np.insert(lowered, at + 1, FM31.top[at] - [0.0, 0.0025], axis=0),
        np.insert(FM31.bottom, at + 1, FM31.bottom[at], axis=0),
        (*(b if b <= at else b + 1 for b in FM31.breaks), at, at + 1),
    )
    for shape, least in ((reflexed(FM31, "top", 0.9, math.radians(2.0), False), 1.5), (stepped, 0.0)):
        found = [panel_flow(panel_nodes(shape, panels), np.radians([4.0])) for panels in (100, 200, 400)]
        for name in ("lift", "moment"):
            first, second = np.abs(np.diff([float(getattr(flow, name)[0]) for flow in found]))
            assert second < first or second < 2e-5
            assert second < 1e-4
            assert math.log2(first / second) > least or second < 2e-5


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (lambda nodes: nodes[::-1], "clockwise"),
        (lambda nodes: np.insert(nodes, 5, nodes[5], axis=0), "repeated"),
        (lambda nodes: nodes[:6], "too few"),
        (lambda nodes: np.where(np.arange(len(nodes))[:, None] == 3, np.nan, nodes), "finite"),
    ],
)
def test_a_ring_that_cannot_be_is_refused(spoil: object, said: str) -> None:
    with pytest.raises(BadInput, match=said) as refused:
        panel_flow(spoil(nodes_of((0.02, 0.4, 0.12))), np.zeros(1))  # type: ignore[operator]
    assert refused.value.field == "nodes"


@pytest.mark.parametrize(
    ("angle", "chord", "field"), [(math.nan, 1.0, "angles"), (0.0, 0.0, "chord"), (0.0, -1.0, "chord")]
)
def test_angles_and_chords_that_cannot_be_are_refused(angle: float, chord: float, field: str) -> None:
    with pytest.raises(BadInput) as refused:
        panel_flow(nodes_of((0.02, 0.4, 0.12)), np.array([angle]), chord)
    assert refused.value.field == field
