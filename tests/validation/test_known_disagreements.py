"""Where our answers are known to miss a published figure, they miss it by no more than is told."""

import pytest

from bladewright.selfcheck.nasa_tm_4074 import POINTS, TOO_HIGH, value
from bladewright.selfcheck.running import all_cases, run

#: of the band; further off is something new
FURTHEST = 2.6


@pytest.mark.parametrize("number", TOO_HIGH[1:])  # the first is small: its angle's offset is a tenth of it
def test_lift_of_the_tripped_section_is_no_further_off_than_told(number: int) -> None:
    assert 1.03 < value("lift", number) / POINTS[number][1] < 1.08


def test_none_is_further_off_than_it_was() -> None:
    known = [run(case) for case in all_cases() if case.disagrees]
    assert known
    assert all(abs(checked.difference) < FURTHEST * checked.band for checked in known)
