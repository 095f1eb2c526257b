"""Moments of regions and lines, layers: closed forms and what must not change."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.geometry.measures import area_properties
from bladewright.engine.structure.bending import bending
from bladewright.engine.structure.layers import ahead_of, between, heights, inward_of, place_on, points_at
from bladewright.engine.structure.moments import centre, line_moments, moments_about, region_area, region_moments
from bladewright.errors import BadInput

RECTANGLE = np.array([(1.0, 2.0), (4.0, 2.0), (4.0, 3.0), (1.0, 3.0)])
small = st.floats(-2.0, 2.0, allow_nan=False)


def test_a_rectangle_away_from_the_origin() -> None:
    # width 3, height 1, centre (2.5, 2.5): b h, first moments, b^3 h / 12 + A x^2, ...; elementary
    found = region_moments(RECTANGLE)
    assert found == pytest.approx([3.0, 7.5, 7.5, 27.0 / 12.0 + 18.75, 3.0 / 12.0 + 18.75, 18.75], rel=1e-14)
    assert region_area(RECTANGLE) == region_area(RECTANGLE[::-1]) == pytest.approx(3.0, rel=1e-14)
    assert region_moments(RECTANGLE[::-1]) == pytest.approx(found, rel=1e-14)


def test_moments_are_those_of_the_outline_measures_room() -> None:
    ring = np.array([(0, 0), (60, -8), (180, -1), (180, 1), (60, 12), (20, 10)], dtype=np.float64) * 1e-3
    known, found = area_properties(ring), region_moments(ring)
    x, z = centre(found)
    own = moments_about(found, x, z)
    assert (own[0], x, z) == pytest.approx((known.area, known.centroid_x, known.centroid_z), rel=1e-12)
    assert own[3:] == pytest.approx([known.moment_z, known.moment_x, known.product], rel=1e-10)


@settings(max_examples=30)
@given(small, small)
def test_moving_the_origin_there_and_back_changes_nothing(x: float, z: float) -> None:
    there = moments_about(region_moments(RECTANGLE), np.array(x), np.array(z))
    assert moments_about(there, np.array(-x), np.array(-z)) == pytest.approx(region_moments(RECTANGLE), abs=1e-12)
    assert there == pytest.approx(region_moments(RECTANGLE - np.array([x, z])), abs=1e-12)


def test_a_wire_ring_has_the_moments_of_a_thin_tube() -> None:
    # 2 pi r, and pi r^3 about a diameter; the inscribed polygon's error falls with the square of the side
    for n, band in ((90, 1e-3), (180, 2.5e-4)):
        angle = np.linspace(0.0, 2.0 * np.pi, n + 1)
        found = line_moments(0.02 * np.column_stack((np.cos(angle), np.sin(angle))))
        assert found[0] == pytest.approx(2.0 * np.pi * 0.02, rel=band)
        assert found[3:5] == pytest.approx(np.pi * 0.02**3, rel=2.0 * band)
        assert found[5] == pytest.approx(0.0, abs=1e-18)


def test_two_corners_are_no_polygon() -> None:
    with pytest.raises(BadInput) as caught:
        region_moments(RECTANGLE[:2])
    assert (caught.value.field, caught.value.value) == ("ring", 2)


def test_an_offset_circle_is_a_circle_of_the_smaller_radius() -> None:
    # over the top from the tail: half a turn and on; sides of a regular polygon move by exactly the distance
    angle = np.linspace(0.0, 2.0 * np.pi, 721)
    path = np.column_stack((np.cos(angle), np.sin(angle)))
    inner = path + 0.1 * inward_of(path)
    apothem = np.cos(np.pi / 720.0)
    radius = np.linalg.norm(inner[1:-1], axis=-1) * apothem
    assert radius == pytest.approx(apothem - 0.1, rel=1e-9)
    assert (inner - 0.1 * inward_of(inner))[1:-1] == pytest.approx(path[1:-1], abs=1e-9)


def test_cutting_a_path_and_reading_it() -> None:
    path = np.array([[(2.0, 0.1), (1.0, 0.5), (0.0, 0.0), (1.0, -0.5), (2.0, -0.1)]])
    top, bottom = heights(path, np.array([[0.5, 1.5]]))
    assert (top[0].tolist(), bottom[0].tolist()) == ([0.25, 0.3], [-0.25, -0.3])
    assert region_moments(ahead_of(path, np.array([1.0])))[0, 0] == pytest.approx(0.5, rel=1e-14)
    assert place_on(path, np.array([1.5]), "top").tolist() == [0.5]
    assert place_on(path, np.array([1.5]), "bottom").tolist() == [3.5]
    assert points_at(path, np.array([[0.5, 3.5]]))[0].tolist() == [[1.5, 0.3], [1.5, -0.3]]
    strip = between(np.array([0.0, 2.0]), np.array([0.0, 0.0]), np.array([1.0, 3.0]))
    assert region_moments(strip)[0] == pytest.approx(4.0)


@settings(max_examples=30)
@given(st.floats(-1.5, 1.5))
def test_turning_a_section_turns_its_weak_axis_and_nothing_else(angle: float) -> None:
    flat = np.array([(-3.0, -0.5), (3.0, -0.5), (3.0, 0.5), (-3.0, 0.5)])
    turn = np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]])
    found = bending(region_moments(flat @ turn))
    assert (found.least, found.greatest) == (pytest.approx(0.5, rel=1e-9), pytest.approx(18.0, rel=1e-9))
    assert found.weak_axis == pytest.approx(angle, abs=1e-9)
