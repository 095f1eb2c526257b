"""Readings told in a person's units. Conversions exact by definition; no outside source needed."""

import pytest

from bladewright.figures import Figure
from bladewright.proof.spoken import spoken


@pytest.mark.parametrize(
    ("value", "unit", "known", "kind", "inch", "metric"),
    [
        (250.0, "degF", 1.8, "temperature", "250.0 ± 1.8 °F", "121.1 ± 1.0 °C"),
        (9.0, "degF", None, "temperature difference", "9.0 °F", "5.0 K"),
        (3.6, "degF/min", None, "temperature rate", "3.6 °F/min", "2.0 K/min"),
        (40.0, "psi", None, "pressure", "40.0 psi", "275.8 kPa"),
        (1.0, "psi/min", None, "pressure", "1.0 psi/min", "6.9 kPa/min"),
        (12.0, "min", None, "time", "12.0 min", "12.0 min"),
    ],
)
def test_the_same_reading_in_both_systems(
    value: float, unit: str, known: float | None, kind: str, inch: str, metric: str
) -> None:
    figure = Figure("x", value, unit, known)
    assert (spoken(figure, kind, "inch"), spoken(figure, kind, "metric")) == (inch, metric)


def test_what_cannot_be_believed_has_no_number() -> None:
    assert spoken(None, "temperature", "inch") == "-"
