"""Rotor speeds in a wrong unit are seen by each other and by the speed of sound; ISO 2533:1975 (from memory)."""

from pathlib import Path

import pytest

from bladewright.drawing.file import parse_drawing
from bladewright.errors import SeveralBadInputs

FM31 = (Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("written", "instead", "field", "allowed"),
    [
        ('normal = "500 rpm"', 'normal = "50 rad/s"', "rotor.speeds.normal", "485 rpm to 510 rpm"),
        ('normal = "500 rpm"', 'normal = "520 rpm"', "rotor.speeds.normal", "485 rpm to 510 rpm"),
        ('power_off_greatest = "540 rpm"', 'power_off_greatest = "540 rad/s"', "rotor.speeds.power_off_greatest",
         "less than 915.4 rpm"),
        ('never_exceed_speed = "95 kt"', 'never_exceed_speed = "950 kt"', "rotor.never_exceed_speed",
         "less than 340.3 m/s"),
    ],
)  # fmt: skip
def test_a_speed_that_cannot_be_is_refused(written: str, instead: str, field: str, allowed: str) -> None:
    assert FM31.count(written) == 1
    with pytest.raises(SeveralBadInputs) as caught:
        parse_drawing(FM31.replace(written, instead).encode(), "fm31.toml")
    (error,) = caught.value.errors
    assert (error.file, error.field, error.allowed) == ("fm31.toml", field, allowed)
