"""Thin-section theory against closed forms of Glauert (1926, from memory) and his flap, ARC R&M 1095 (1927)."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.flow.exact_lines import exact_five_digit_line
from bladewright.engine.flow.thin_airfoil import flap_derivatives, sampled_thin_section, thin_section
from bladewright.engine.geometry.designated import designated_outline
from bladewright.engine.geometry.mean_lines import (
    PUBLISHED_FIVE_DIGIT,
    MeanLine,
    designated_mean_line,
    mean_line_height,
    mean_line_slope,
)
from bladewright.engine.geometry.reflex import reflexed
from bladewright.engine.geometry.spacing import cosine_spacing
from bladewright.errors import BadInput, OutsideValidity, StationOrder

# zero-lift angle [deg], moment, ideal lift, ideal angle [deg]: the integrals worked with 40-digit arithmetic
DESIGNATED = {
    "2412": (-2.0772404, -0.05311951, 0.25602454, 0.2574234),
    "4412": (-4.1544808, -0.10623903, 0.51204908, 0.5148469),
    "23012": (-1.0935867, -0.01283566, 0.30004230, 1.6424710),
}


def exactly(line: MeanLine) -> tuple[float, float, float, float]:
    found = thin_section(lambda x: mean_line_slope(line, x), line.breaks)
    return (
        math.degrees(found.zero_lift_angle),
        found.moment,
        found.ideal_lift,
        math.degrees(found.ideal_angle),
    )


@pytest.mark.parametrize("designation", DESIGNATED)
def test_designated_lines(designation: str) -> None:
    assert exactly(designated_mean_line(designation)) == pytest.approx(DESIGNATED[designation], rel=1e-6, abs=5e-9)


@pytest.mark.parametrize("designation", DESIGNATED)
def test_the_mean_line_of_an_outline_gives_the_same(designation: str) -> None:
    outline = designated_outline(designated_mean_line(designation), 0.12, "open")
    found = sampled_thin_section(outline.mean_line, outline.breaks)
    degrees, moment, ideal, _ = DESIGNATED[designation]
    assert math.degrees(found.zero_lift_angle) == pytest.approx(degrees, rel=1e-6)
    assert found.moment == pytest.approx(moment, rel=1e-6)
    assert found.ideal_lift == pytest.approx(ideal, rel=1e-6)


@settings(max_examples=20)
@given(st.floats(0.001, 0.06))
def test_parabola_in_closed_form(height: float) -> None:
    # Glauert (1926, from memory): alpha_L0 = -2 f, cm = -pi f, cl_i = 4 pi f, alpha_i = 0
    found = thin_section(lambda x: 4.0 * height * (1.0 - 2.0 * x))
    assert found.zero_lift_angle == pytest.approx(-2.0 * height, rel=1e-12)
    assert found.moment == pytest.approx(-math.pi * height, rel=1e-12)
    assert found.ideal_lift == pytest.approx(4.0 * math.pi * height, rel=1e-12)
    assert found.ideal_angle == pytest.approx(0.0, abs=1e-14)


def test_published_231_constants_leave_a_nose_up_moment() -> None:
    degrees, moment, ideal, _ = exactly(designated_mean_line("23112"))
    assert (degrees, moment, ideal) == pytest.approx((-0.753948, 0.00113131, 0.301873), rel=1e-5)


def test_exact_231_line_meets_its_design_conditions() -> None:
    line = exact_five_digit_line(0.15, 0.3, reflexed=True)
    assert (line.join, line.k1, line.ratio) == pytest.approx((0.216014503, 15.6909755, 0.00621341377), rel=1e-8)
    degrees, moment, ideal, ideal_degrees = exactly(line)
    assert (degrees, ideal, ideal_degrees) == pytest.approx((-0.7770511, 0.3, 1.958621), rel=1e-6)
    assert moment == pytest.approx(0.0, abs=1e-15)


@pytest.mark.parametrize("name", PUBLISHED_FIVE_DIGIT)
def test_published_constants_are_the_exact_ones_rounded(name: str) -> None:
    # NASA TM 4741 (1996) constants; k1 of the foremost line is the most rounded: 3 % (its join has three figures)
    published = PUBLISHED_FIVE_DIGIT[name]
    exact = exact_five_digit_line(0.05 * int(name[0]), 0.3, reflexed=name[1] == "1")
    assert exact.join == pytest.approx(published.join, abs=1.0e-3)
    assert exact.k1 == pytest.approx(published.k1, rel=0.032)
    assert exact.ratio == pytest.approx(published.ratio, abs=7e-4)


# ARC R&M 1095: share of chord -> dcl/dd, dcm/dd per radian trailing edge up, effectiveness
FLAPS = [
    (0.05, -1.77383341, 0.41409540, 0.2823144),
    (0.08, -2.23219901, 0.49917949, 0.3552655),
    (0.10, -2.48700222, 0.54000000, 0.3958187),
    (0.15, -3.01908335, 0.60702142, 0.4805020),
]


@pytest.mark.parametrize(("share", "lift", "moment", "effectiveness"), FLAPS)
def test_plain_flap(share: float, lift: float, moment: float, effectiveness: float) -> None:
    found = flap_derivatives(share)
    assert (found.lift, found.moment) == pytest.approx((lift, moment), rel=1e-7)
    assert found.zero_lift_angle == pytest.approx(effectiveness, abs=5e-8)


@settings(max_examples=25)
@given(st.floats(0.01, 0.6))
def test_a_kinked_line_is_the_flap_exactly(share: float) -> None:
    found = thin_section(lambda x: np.where(x > 1.0 - share, 1.0, 0.0), (1.0 - share,))
    flap = flap_derivatives(share)
    assert found.moment == pytest.approx(flap.moment, rel=1e-11)
    assert found.zero_lift_angle == pytest.approx(flap.zero_lift_angle, rel=1e-11)


@pytest.mark.parametrize(
    ("share", "degrees", "zero_lift"),
    [(0.05, 7.349813, -0.002283), (0.08, 6.097053, 0.088832), (0.10, 5.636155, 0.153655), (0.15, 5.013866, 0.331932)],
)
def test_reflex_that_takes_the_moment_of_2412_away(share: float, degrees: float, zero_lift: float) -> None:
    # superposition of Glauert's mean line and flap
    line = designated_mean_line("2412")
    kink = math.radians(degrees)
    found = thin_section(lambda x: mean_line_slope(line, x) + kink * (x > 1.0 - share), (*line.breaks, 1.0 - share))
    assert found.moment == pytest.approx(0.0, abs=1e-8)
    assert math.degrees(found.zero_lift_angle) == pytest.approx(zero_lift, abs=1e-6)


@pytest.mark.parametrize(("lift", "place"), [(0.2, 0.51559757), (0.4, 0.38279878), (0.6, 0.33853252)])
def test_centre_of_pressure_of_2412(lift: float, place: float) -> None:
    line = designated_mean_line("2412")
    found = thin_section(lambda x: mean_line_slope(line, x), line.breaks)
    assert found.centre_of_pressure(lift) == pytest.approx(place, rel=1e-7)


@pytest.mark.parametrize(("follows", "share"), [(True, 1.0), (False, 0.5)])
@pytest.mark.parametrize("degrees", [0.05, 0.3])
def test_reflexed_outline_has_the_flap_moment_by_half_if_one_skin_turns(
    follows: bool, share: float, degrees: float
) -> None:
    plain = designated_outline(designated_mean_line("23012"), 0.12, "open")
    before = sampled_thin_section(plain.mean_line, plain.breaks)
    bent = reflexed(plain, "top", 0.9, math.radians(degrees), follows)
    after = sampled_thin_section(bent.mean_line, bent.breaks)
    # the bend stands at 0.9 of the top skin, 0.1 % of the chord off the mean line's 0.9; slopes of 0.14: under 1 %
    flap = flap_derivatives(0.1)
    assert after.moment - before.moment == pytest.approx(share * flap.moment * math.radians(degrees), rel=0.01)
    assert after.zero_lift_angle - before.zero_lift_angle == pytest.approx(
        share * flap.zero_lift_angle * math.radians(degrees), rel=0.01
    )


def test_a_sampled_smooth_line_converges_at_third_order_or_better() -> None:
    exact = thin_section(lambda x: 0.1 * math.pi * np.cos(math.pi * x))
    errors = []
    for count in (11, 21, 41, 81):
        x = cosine_spacing(count)
        found = sampled_thin_section(np.column_stack((x, 0.1 * np.sin(math.pi * x))))
        errors.append(abs(found.zero_lift_angle - exact.zero_lift_angle))
    assert math.log2(errors[0] / errors[-1]) / 3.0 > 2.7  # single doublings scatter
    assert errors[-1] < 1e-6


def test_angle_is_against_the_given_axis_even_when_the_tail_is_off_it() -> None:
    x = cosine_spacing(31)
    tilted = sampled_thin_section(np.column_stack((x, 0.03 * x)))
    assert tilted.zero_lift_angle == pytest.approx(0.03, rel=1e-12)
    assert tilted.moment == pytest.approx(0.0, abs=1e-13)


def test_size_and_place_do_not_matter() -> None:
    x = cosine_spacing(41)
    line = np.column_stack((x, mean_line_height(designated_mean_line("2412"), x)))
    assert sampled_thin_section(0.2 * line + (3.0, -1.0)).moment == pytest.approx(
        sampled_thin_section(line).moment, rel=1e-9
    )


def test_no_centre_of_pressure_without_lift() -> None:
    with pytest.raises(OutsideValidity) as caught:
        thin_section(lambda x: 0.0 * x).centre_of_pressure(0.0)
    assert caught.value.field == "lift"


def test_bad_mean_lines_are_refused() -> None:
    with pytest.raises(StationOrder) as order:
        sampled_thin_section(np.array([[0.0, 0.0], [0.6, 0.0], [0.5, 0.0], [1.0, 0.0]]))
    assert (order.value.field, order.value.row) == ("mean_line", 3)
    with pytest.raises(BadInput) as inner:
        sampled_thin_section(np.array([[0.0, 0.0], [0.5, 0.0], [1.0, 0.0]]), (2,))
    assert (inner.value.field, inner.value.value, inner.value.allowed) == ("breaks", 2, "1 to 1")
    with pytest.raises(OutsideValidity) as steep:
        sampled_thin_section(np.array([[0.0, 0.0], [0.5, 0.25], [1.0, 0.0]]))
    assert steep.value.field == "mean_line"
    with pytest.raises(BadInput) as share:
        flap_derivatives(1.0)
    assert (share.value.field, share.value.allowed) == ("flap_chord", "between 0 and 1 of the chord")
    with pytest.raises(BadInput) as place:
        exact_five_digit_line(0.5, 0.3, reflexed=False)
    assert (place.value.field, place.value.allowed) == ("camber_place", "0.02 to 0.3")
