"""Designated sections against NACA Reports 460 and 537 and closed forms of the thickness polynomial."""

import itertools
import math

import numpy as np
import pytest

from bladewright.engine.geometry.designated import designated_outline
from bladewright.engine.geometry.mean_lines import (
    FiveDigitLine,
    FourDigitLine,
    designated_mean_line,
    mean_line_height,
    mean_line_slope,
)
from bladewright.engine.geometry.measures import area_properties
from bladewright.engine.geometry.outline import outline_from_surfaces
from bladewright.engine.geometry.shape import section_shape
from bladewright.engine.geometry.spacing import cosine_spacing
from bladewright.engine.geometry.thickness import half_thickness, nose_radius
from bladewright.errors import BadInput

SYMMETRIC = FourDigitLine(0.0, 0.0)


def closed_form_area(fourth: float) -> float:
    """Twice the integral of the Report 460 polynomial of 12 % thickness, term by term."""
    return 2.0 * 0.6 * (0.2969 * 2.0 / 3.0 - 0.1260 / 2.0 - 0.3516 / 3.0 + 0.2843 / 4.0 - fourth / 5.0)


@pytest.mark.parametrize(("trailing_edge", "fourth"), [("open", 0.1015), ("closed", 0.1036)])
def test_area_converges_with_the_square_of_the_spacing_to_the_polynomial_integral(
    trailing_edge: str, fourth: float
) -> None:
    exact = closed_form_area(fourth)
    errors = [
        abs(area_properties(designated_outline(SYMMETRIC, 0.12, trailing_edge, n).ring).area - exact)
        for n in (81, 161, 321, 641)
    ]
    for coarse, fine in itertools.pairwise(errors):
        assert coarse / fine == pytest.approx(4.0, abs=0.02)
    assert errors[1] < 1.5e-4 * exact  # at the usual number of points


def test_open_section_of_report_460_on_a_chord_of_180_mm() -> None:
    # NACA Report 460 (1933) thickness equation; the values are integrals of it, found by quadrature
    chord = 0.18
    ring = designated_outline(SYMMETRIC, 0.12, "open", 4001).ring * chord
    found = area_properties(ring)
    assert found.area == pytest.approx(0.002663604, rel=4e-7)
    assert found.centroid_x == pytest.approx(0.075678385, rel=4e-7)
    assert found.perimeter == pytest.approx(0.36752249, rel=4e-7)
    assert found.moment_x == pytest.approx(7.1484548e-08, rel=1e-6)
    closed = area_properties(designated_outline(SYMMETRIC, 0.12, "closed", 4001).ring * chord)
    assert closed.area == pytest.approx(0.0026472744, rel=4e-7)
    assert closed.centroid_x == pytest.approx(0.075219935, rel=4e-7)
    assert closed.perimeter == pytest.approx(0.36711881, rel=4e-7)


def test_shape_of_the_three_closings() -> None:
    shapes = {t: section_shape(designated_outline(SYMMETRIC, 0.12, t, 641)) for t in ("open", "closed", "rescaled")}
    assert shapes["open"].greatest_thickness == pytest.approx(0.12003455, abs=2e-8)
    assert shapes["open"].thickness_place == pytest.approx(0.29982788, abs=2e-5)
    assert shapes["open"].base_thickness == pytest.approx(0.0004536 / 0.18, rel=1e-9)
    assert shapes["closed"].base_thickness == pytest.approx(0.0, abs=1e-15)
    assert shapes["rescaled"].base_thickness == pytest.approx(0.0, abs=1e-12)
    assert shapes["rescaled"].greatest_thickness == pytest.approx(0.11897208, abs=2e-8)
    for shape in (shapes["open"], shapes["closed"]):
        assert shape.nose_radius == pytest.approx(0.01586693, rel=1e-4)  # the fit leaves out the fourth power
    assert nose_radius(0.12, "open") == pytest.approx(0.01586693, rel=1e-6)


# NACA Report 460 (1933) mean-line and ordinate equations for 2412, open trailing edge, evaluated to eight decimals
ORDINATES_2412 = [
    (0.0125, 0.00123047, 0.09687500, 0.01067383, 0.02008125, 0.01432617, -0.01762031),
    (0.1, 0.00875000, 0.07500000, 0.09649776, 0.05544655, 0.10350224, -0.03794655),
    (0.3, 0.01875000, 0.02500000, 0.29850004, 0.07874852, 0.30149996, -0.04124852),
    (0.4, 0.02000000, 0.00000000, 0.40000000, 0.07803011, 0.40000000, -0.03803011),
    (0.7, 0.01500000, -0.03333333, 0.70122062, 0.05161873, 0.69877938, -0.02161873),
    (1.0, 0.0, -0.06666667, 1.00008381, 0.00125721, 0.99991619, -0.00125721),
]


@pytest.mark.parametrize("row", ORDINATES_2412)
def test_2412_ordinates(row: tuple[float, ...]) -> None:
    x, height, slope, x_top, z_top, x_bottom, z_bottom = row
    line = designated_mean_line("2412")
    assert mean_line_height(line, np.array([x]))[0] == pytest.approx(height, abs=6e-9)
    assert mean_line_slope(line, np.array([x]))[0] == pytest.approx(slope, abs=6e-9)
    # an outline made through the very station
    half = float(half_thickness(0.12, "open", np.array([x]))[0])
    lean = math.atan(slope)
    assert (x - half * math.sin(lean), height + half * math.cos(lean)) == pytest.approx((x_top, z_top), abs=1.2e-8)
    outline = designated_outline(line, 0.12, "open", 2001)
    along = int(np.argmin(np.abs(outline.mean_line[:, 0] - x)))
    near = outline.mean_line[along, 0] - x
    assert outline.top[along, 0] - near == pytest.approx(x_top, abs=2e-4)  # within a spacing of the station
    if near == 0.0:
        assert outline.top[along] == pytest.approx((x_top, z_top), abs=6e-9)
        assert outline.bottom[along] == pytest.approx((x_bottom, z_bottom), abs=6e-9)


@pytest.mark.parametrize(
    ("digits", "place"), [("21012", 0.05), ("22012", 0.10), ("23012", 0.15), ("24012", 0.20), ("25012", 0.25)]
)
def test_five_digit_camber_stands_where_its_second_digit_says(digits: str, place: float) -> None:
    # Report 537 (1935): second digit, times 0.05; published constants are rounded to three or four figures
    x = np.linspace(0.0, 1.0, 200_001)
    assert x[np.argmax(mean_line_height(designated_mean_line(digits), x))] == pytest.approx(place, abs=4e-4)


@pytest.mark.parametrize("designation", ["2412", "4412", "23012", "23112", "24115", "43012", "0015"])
def test_slope_is_the_derivative_of_height_and_ends_lie_on_the_chord(designation: str) -> None:
    line = designated_mean_line(designation)
    x = np.linspace(0.01, 0.99, 77)
    step = 1e-6
    by_difference = (mean_line_height(line, x + step) - mean_line_height(line, x - step)) / (2.0 * step)
    assert mean_line_slope(line, x) == pytest.approx(by_difference, abs=1e-6)
    assert mean_line_height(line, np.array([0.0, 1.0])) == pytest.approx([0.0, 0.0], abs=1e-12)


@pytest.mark.parametrize("line", [FourDigitLine(0.04, 0.3), FiveDigitLine(0.2025, 15.957)])
def test_pairs_of_points_average_to_the_mean_line_with_its_break_a_point(line: FourDigitLine | FiveDigitLine) -> None:
    outline = designated_outline(line, 0.12, "open")
    middle = outline.mean_line
    assert middle[:, 1] == pytest.approx(mean_line_height(line, middle[:, 0]), abs=1e-15)
    (at,) = outline.breaks
    assert middle[at, 0] == pytest.approx(line.breaks[0], abs=1e-15)


@pytest.mark.parametrize(
    ("designation", "allowed"),
    [
        ("2012", 'a second digit of 1 to 9, like "2412"'),
        ("26012", "a first digit of 1 to 9, then one of 10, 20, 21, 30, 31, 40, 41, 50, 51"),
        ("241", "four or five digits, the last two the thickness in percent"),
        ("2400", "four or five digits, the last two the thickness in percent"),
    ],
)
def test_designations_nobody_published_are_refused(designation: str, allowed: str) -> None:
    with pytest.raises(BadInput) as caught:
        designated_mean_line(designation)
    assert (caught.value.field, caught.value.value, caught.value.allowed) == ("designation", designation, allowed)


def test_coordinates_give_back_the_section_they_were_taken_from() -> None:
    fine = designated_outline(SYMMETRIC, 0.12, "open", 401)
    again = outline_from_surfaces(fine.top, fine.bottom, cosine_spacing(101))
    assert area_properties(again.ring).area == pytest.approx(closed_form_area(0.1015), rel=4e-4)


@pytest.mark.parametrize(
    ("top", "bottom", "field", "row", "allowed"),
    [
        ([(1, 0), (0.5, 0.1), (0, 0)], [(0, 0), (0.5, -0.1), (1, 0)], "top", None, "from the leading edge"),
        ([(0, 0), (0.5, 0.1), (0.4, 0.1), (1, 0)], [(0, 0), (0.5, -0.1), (1, 0)], "top", 3, "x more than 0.5"),
        ([(0, 0), (0.5, 0.1), (1, 0)], [(0, -0.01), (0.5, -0.1), (1, 0)], "bottom", 1, "within 0.0001"),
        ([(0, 0), (0.5, 0.1), (1, 0)], [(0, 0), (1, 0)], "bottom", None, "an (n, 2) list"),
        ([(0, 0), (0.5, 0.1), (1, -0.1)], [(0, 0), (0.5, -0.1), (1, 0.1)], "top", 6, "the top above the bottom"),
    ],
)
def test_bad_coordinate_lists_are_refused_where_they_are_bad(
    top: list[tuple[float, float]], bottom: list[tuple[float, float]], field: str, row: int | None, allowed: str
) -> None:
    with pytest.raises(BadInput) as caught:
        outline_from_surfaces(np.array(top, dtype=float), np.array(bottom, dtype=float), np.linspace(0.0, 1.0, 7))
    assert (caught.value.field, caught.value.row) == (field, row)
    assert (caught.value.allowed or "").startswith(allowed)
