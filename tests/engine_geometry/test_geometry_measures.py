"""Polygon measures against closed forms: an ellipse, its polygons, a polygon worked by hand. No source needed."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.special import ellipe

from bladewright.engine.geometry.measures import arc_length, area_properties
from bladewright.errors import BadInput

A, B = 0.09, 0.0108


def ellipse(n: int) -> np.ndarray:
    t = 2.0 * math.pi * np.arange(n) / n
    return np.column_stack((A * np.cos(t), B * np.sin(t)))


@pytest.mark.parametrize("n", [50, 100, 200])
def test_inscribed_polygon_has_its_exact_area(n: int) -> None:
    exact = math.pi * A * B * (n / (2.0 * math.pi)) * math.sin(2.0 * math.pi / n)
    assert area_properties(ellipse(n)).area == pytest.approx(exact, rel=1e-12)


def test_area_and_perimeter_errors_fall_by_four_when_the_points_double() -> None:
    area, around = math.pi * A * B, 4.0 * A * ellipe(1.0 - (B / A) ** 2)
    found = [area_properties(ellipse(n)) for n in (100, 200, 400)]
    for exact, errors in (
        (area, [abs(p.area - area) for p in found]),
        (around, [abs(p.perimeter - around) for p in found]),
    ):
        assert errors[0] / errors[1] == pytest.approx(4.0, abs=0.02), exact
        assert errors[1] / errors[2] == pytest.approx(4.0, abs=0.02), exact


def test_half_ellipse_centroid_lies_four_thirds_of_a_over_pi_ahead() -> None:
    t = np.linspace(-0.5 * math.pi, 0.5 * math.pi, 4001)
    half = area_properties(np.column_stack((A * np.cos(t), B * np.sin(t))))
    assert half.centroid_x == pytest.approx(4.0 * A / (3.0 * math.pi), rel=1e-6)


def test_hand_polygon() -> None:
    # six corners in millimetres, worked by hand from the corner formulas
    hand = area_properties(np.array([(0, 0), (60, -8), (180, -1), (180, 1), (60, 12), (20, 10)], dtype=float))
    assert hand.area == pytest.approx(2100.0, rel=1e-12)
    assert (hand.centroid_x, hand.centroid_z) == pytest.approx((78.85714286, 1.80952381), rel=1e-9)
    assert hand.moment_x == pytest.approx(39943.80952, rel=1e-9)
    assert hand.moment_z == pytest.approx(3585257.143, rel=1e-9)
    assert hand.product == pytest.approx(-69857.14286, rel=1e-9)
    assert hand.largest_moment == pytest.approx(3586633.08, rel=1e-9)
    assert hand.smallest_moment == pytest.approx(38567.87269, rel=1e-9)
    assert math.degrees(hand.weak_axis) == pytest.approx(-1.1283768, abs=1e-7)


@settings(max_examples=40)
@given(
    st.floats(-50.0, 50.0),
    st.floats(-50.0, 50.0),
    st.floats(-3.0, 3.0),
    st.booleans(),
)
def test_moving_turning_and_reversing_change_no_principal_moment(
    right: float, up: float, turn: float, reverse: bool
) -> None:
    ring = np.array([(0, 0), (6, -0.8), (18, -0.1), (18, 0.1), (6, 1.2), (2, 1)], dtype=float)
    rotation = np.array([[math.cos(turn), math.sin(turn)], [-math.sin(turn), math.cos(turn)]])
    moved = ring @ rotation + (right, up)
    before, after = area_properties(ring), area_properties(moved[::-1] if reverse else moved)
    assert after.area == pytest.approx(before.area, rel=1e-9)
    assert after.largest_moment == pytest.approx(before.largest_moment, rel=1e-9)
    assert after.smallest_moment == pytest.approx(before.smallest_moment, rel=1e-6)
    assert after.perimeter == pytest.approx(before.perimeter, rel=1e-12)


def test_arc_length_of_a_quarter_circle() -> None:
    t = np.linspace(0.0, 0.5 * math.pi, 2001)
    assert arc_length(np.column_stack((np.cos(t), np.sin(t))))[-1] == pytest.approx(0.5 * math.pi, rel=1e-7)


@pytest.mark.parametrize(
    ("ring", "allowed"),
    [
        (np.zeros((2, 2)), "3 or more points"),
        (np.array([[0.0, 0.0], [1.0, 1.0], [2.0, 2.0]]), "an area"),
        (np.array([[0.0, 0.0], [1.0, math.nan], [2.0, 2.0]]), "finite numbers"),
    ],
)
def test_polygons_that_enclose_nothing_are_refused(ring: np.ndarray, allowed: str) -> None:
    with pytest.raises(BadInput) as caught:
        area_properties(ring)
    assert (caught.value.field, caught.value.allowed) == ("ring", allowed)
