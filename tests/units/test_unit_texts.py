"""Unit texts nobody meant: refused at once, never a traceback and never minutes of arithmetic."""

import pytest

from bladewright import units
from bladewright.errors import BadInput

ODD = ("(m", "m(", "m)", "m^9^9^9^9", "m**99", "9", "m/0", "e*6-03", "__import__", "lambda", "m'", "m}", "**", "")


@pytest.mark.parametrize("unit", ODD)
def test_odd_units_are_refused(unit: str) -> None:
    with pytest.raises(BadInput) as caught:
        units.scale_and_zero(unit, "length")
    assert caught.value.value == unit


@pytest.mark.parametrize(
    ("unit", "kind", "scale"),
    [
        ("1/K", "expansion", 1.0),
        ("kg/m^3", "density", 1.0),
        ("N m/rad", "turning stiffness", 1.0),
        ("mm²", "area", 1e-6),
        ("µm", "length", 1e-6),
        ("kg m^-3", "density", 1.0),
        ("N/(m)", "line stiffness", 1.0),
    ],
)
def test_usual_units_still_are(unit: str, kind: str, scale: float) -> None:
    assert units.scale_and_zero(unit, kind) == (pytest.approx(scale), 0.0)
