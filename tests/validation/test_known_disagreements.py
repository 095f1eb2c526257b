"""Where the layer's answers are known to miss a published figure: by how much, and the likely cause.

Lift of a tripped section comes out 4 to 7 % high. Left out, and each lowering it by some 2 % in trials: the bend of the
wake, and moving the wall outward instead of blowing through it. The measured lift has besides an offset of 0.07 deg.
"""

import pytest

from bladewright.selfcheck.naca_report_824 import figures
from bladewright.selfcheck.nasa_tm_4074 import POINTS, value

HIGH = (1, 2, 3, 4, 7, 8)


@pytest.mark.outside
@pytest.mark.xfail(strict=True, reason="lift 4 to 7 % high (one point 0.0225, where 0.02 is allowed)")
@pytest.mark.parametrize("number", HIGH)
def test_lift_of_the_tripped_section_by_nasa_tm_4074(number: int) -> None:
    lift = POINTS[number][1]
    assert value("lift", number) == pytest.approx(lift, abs=max(0.02, 0.03 * lift))


def test_that_lift_is_no_further_off_than_told() -> None:
    for number in HIGH[1:]:
        assert 1.03 < value("lift", number) / POINTS[number][1] < 1.08


@pytest.mark.outside
@pytest.mark.xfail(strict=True, reason="-4.25 deg against -3.9; likely too much laminar flow at that angle")
def test_zero_lift_angle_of_4412_by_naca_report_824() -> None:
    assert figures("4412").zero_lift == pytest.approx(-3.9, abs=0.3)


@pytest.mark.outside
@pytest.mark.xfail(strict=True, reason="-0.103 against -0.093; likely the same cause")
def test_moment_of_4412_by_naca_report_824() -> None:
    assert figures("4412").moment == pytest.approx(-0.093, abs=0.006)


@pytest.mark.outside
@pytest.mark.xfail(strict=True, reason="0.0054 against 0.0062; likely too much laminar flow")
def test_least_drag_of_23012_by_naca_report_824() -> None:
    assert figures("23012").least_drag == pytest.approx(0.0062, abs=0.0008)
