"""What a shop enters about its oven, and what is refused, by field."""

import pytest

from bladewright.errors import BladewrightError, SeveralBadInputs
from bladewright.evidence.oven_file import read_oven

OVEN = b"""
format = 1
oven = "blade oven"
source = "process sheet, invented"

[survey]
target = "250 degF"
within = "5 degF"
soak = "30 min"
uncertainty = "1 degF"
sample_interval = "60 s"

[check]
greatest = "3 degF"
uncertainty = "1 degF"

[[surveys]]
done_on = 2026-01-12
due = 2026-07-12
passed = true
log = "survey-4.csv"
by = "R. Vane"

[[checks]]
channel = "M1"
done_on = 2026-03-02
due = 2026-04-02
working = "249.6 degF"
check = "250.4 degF"
by = "R. Vane"
"""


def test_an_oven_is_read_into_si() -> None:
    oven = read_oven(OVEN, "oven.toml")
    assert oven.survey_limits.within == pytest.approx(5.0 / 1.8)
    assert oven.survey_limits.soak == 1800.0
    assert oven.checks[0].working - oven.checks[0].check == pytest.approx(-0.8 / 1.8)


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ('within = "5 degF"', 'within = "5"', "survey.within"),
        ('within = "5 degF"', 'within = "0 degF"', "survey.within"),
        ('soak = "30 min"', 'soak = "30 degF"', "survey.soak"),
        ("due = 2026-07-12", "due = 2025-07-12", "surveys.1"),
        ("due = 2026-04-02", 'due = "04/02/2026"', "checks.1.due"),
        ('channel = "M1"', 'channel = ""', "checks.1.channel"),
        ('working = "249.6 degF"', 'working = "249.6 K/min"', "checks.1.working"),
        ("passed = true", "", "surveys.1.passed"),
        ('greatest = "3 degF"', 'greatest = "3 degF"\nfewest = 3', "check.fewest"),
    ],
)
def test_what_cannot_be_is_refused_by_field(old: str, new: str, field: str) -> None:
    data = OVEN.decode().replace(old, new, 1).encode()
    with pytest.raises(SeveralBadInputs) as caught:
        read_oven(data, "oven.toml")
    errors: tuple[BladewrightError, ...] = caught.value.errors
    assert [(error.file, error.field) for error in errors] == [("oven.toml", field)]
