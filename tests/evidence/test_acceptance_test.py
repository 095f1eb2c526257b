"""Acceptance tests and their limits as the shop writes them: what is read, and what is refused by field."""

import datetime

import pytest

from bladewright.drawing.counting_rule import parse_counting_rule
from bladewright.errors import SeveralBadInputs
from bladewright.evidence.freezer_log import read_freezer_log

LOG = """
format = 1
roll = "F-70"
lot = "L-900"
received = 2026-06-01T08:00:00-04:00
first_used = 2026-06-12
[[acceptance]]
lot = "L-900"
date = 2026-06-04
signed_by = "R. Vane"
shear = [
  { strength = "30 MPa", modes = { CF = "70 %", SCF = "10 %", AF = "10 %", void = "10 %" } },
  { strength = "4 ksi" },
]
peel = [ { mean = "5 N/mm", modes = { CF = "0 %", SCF = "0 %", AF = "0 %", void = "100 %" } } ]
"""
RULE = """
format = 1
[counting]
[counting.acceptance]
coupons_least = 5
shear_mean_least = "30 MPa"
shear_single_least = "27 MPa"
peel_mean_least = "5 N/mm"
"""


def test_shares_are_of_what_was_bonded_and_a_face_never_bonded_is_all_adhesion() -> None:
    roll = read_freezer_log(LOG.encode())
    (test,) = roll.acceptance
    assert (roll.first_used, test.date) == (datetime.date(2026, 6, 12), datetime.date(2026, 6, 4))
    assert (test.shear[0].value, test.shear[0].void) == (30e6, pytest.approx(0.1))
    assert test.shear[0].adhesion == pytest.approx(0.1 / 0.9)
    assert test.shear[1].value == pytest.approx(4.0 * 6.894757293168361e6)  # 1 psi is 6894.757 Pa
    assert test.shear[1].adhesion is None
    assert (test.peel[0].value, test.peel[0].adhesion) == (pytest.approx(5000.0), 1.0)


def test_a_test_nobody_signed_is_read_as_such() -> None:
    assert read_freezer_log(LOG.replace('signed_by = "R. Vane"', "").encode()).acceptance[0].signed_by == ""


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ('lot = "L-900"\ndate', 'lot = ""\ndate', "acceptance.1.lot"),
        ("date = 2026-06-04", 'date = "06/04/2026"', "acceptance.1.date"),
        ("date = 2026-06-04", "", "acceptance.1.date"),
        ('signed_by = "R. Vane"', 'signed_by = " "', "acceptance.1.signed_by"),
        ('"30 MPa"', '"30"', "acceptance.1.shear.1.strength"),
        ('"30 MPa"', '"30 N/mm"', "acceptance.1.shear.1.strength"),
        ('"30 MPa"', '"-1 MPa"', "acceptance.1.shear.1.strength"),
        ('"30 MPa"', '"30 GPa"', "acceptance.1.shear.1.strength"),
        ('"30 MPa"', "true", "acceptance.1.shear.1.strength"),
        ('"5 N/mm"', '"5 MPa"', "acceptance.1.peel.1.mean"),
        ('AF = "10 %"', 'AF = "0 %"', "acceptance.1.shear.1.modes"),
        ('AF = "10 %"', 'AF = "110 %"', "acceptance.1.shear.1.modes.AF"),
        ('AF = "10 %", ', "", "acceptance.1.shear.1.modes.AF"),
        ("first_used = 2026-06-12", 'first_used = "12.6.2026"', "first_used"),
        ("signed_by", "signed", "acceptance.1.signed"),
    ],
)
def test_a_test_that_cannot_be_is_refused_by_field(old: str, new: str, field: str) -> None:
    with pytest.raises(SeveralBadInputs) as caught:
        read_freezer_log(LOG.replace(old, new, 1).encode(), "f-70.toml")
    assert [(error.file, error.field) for error in caught.value.errors] == [("f-70.toml", field)]


def test_no_limits_are_no_test_asked() -> None:
    assert parse_counting_rule(RULE.encode(), "film.toml").acceptance is not None
    assert parse_counting_rule(RULE.split("[counting.acc")[0].encode(), "film.toml").acceptance is None


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ("coupons_least = 5", "coupons_least = 0", "coupons_least"),
        ("coupons_least = 5", "coupons_least = true", "coupons_least"),
        ("coupons_least = 5", "", "coupons_least"),
        ('"30 MPa"', '"0 MPa"', "shear_mean_least"),
        ('"27 MPa"', '"27 lbf/in"', "shear_single_least"),
        ('shear_single_least = "27 MPa"', "", "shear_single_least"),
        ('"5 N/mm"', '"0 N/mm"', "peel_mean_least"),
        ("peel_mean_least", "peel_single_least", ""),
        ('"27 MPa"', '"31 MPa"', ""),
        ("coupons_least", 'adhesion_greatest = "120 %"\ncoupons_least', "adhesion_greatest"),
    ],
)
def test_limits_that_cannot_be_are_refused_by_field(old: str, new: str, field: str) -> None:
    with pytest.raises(SeveralBadInputs) as caught:
        parse_counting_rule(RULE.replace(old, new, 1).encode(), "film.toml")
    wanted = f"counting.acceptance.{field}".removesuffix(".")
    assert [(error.file, error.field) for error in caught.value.errors] == [("film.toml", wanted)]
