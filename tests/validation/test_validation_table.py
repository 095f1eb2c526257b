"""The page of comparisons: every case on it, nothing hidden that does not hold, and rounding told from difference."""

from bladewright.selfcheck.running import Checked
from bladewright.selfcheck.table import validation_table


def checked(ours: float, published: float, band: float) -> Checked:
    difference = ours - published
    return Checked("a source", "thing [m]", ours, published, difference, band, abs(difference) <= band)


def row(ours: float, published: float, band: float) -> str:
    return validation_table([checked(ours, published, band)]).splitlines()[-1]


def test_a_difference_is_shown_with_its_share_of_the_band() -> None:
    assert row(1.03, 1.0, 0.1) == "| thing [m] | 1.03 | 1 | +0.03 | 30 % |"


def test_rounding_is_called_rounding_so_that_any_machine_makes_the_same_page() -> None:
    assert row(1.0 + 1e-13, 1.0, 1e-6) == row(1.0 - 1e-13, 1.0, 1e-6) == "| thing [m] | 1 | 1 | rounding | 0 % |"


def test_what_does_not_hold_says_so() -> None:
    assert "**does not hold**" in row(1.5, 1.0, 0.1)
    assert "**does not hold**" in row(1.5, 1.0, 0.0)


def test_cases_stand_under_their_source() -> None:
    assert validation_table([checked(1.0, 1.0, 0.1)]).startswith("## a source\n")
