"""Dates of the shop. ISO 8601 calendar, week and ordinal dates; the examples are worked out on a calendar."""

import datetime

import pytest

from bladewright.errors import BadInput
from bladewright.evidence.dates import iso_date


@pytest.mark.parametrize(
    ("written", "day"),
    [
        ("2026-03-04", (2026, 3, 4)),
        ("2021-W01-1", (2021, 1, 4)),
        ("2020-W53-4", (2020, 12, 31)),
        ("2025-W01-1", (2024, 12, 30)),
        ("2024-366", (2024, 12, 31)),
        ("2024-02-29", (2024, 2, 29)),
    ],
)
def test_iso_dates(written: str, day: tuple[int, int, int]) -> None:
    assert iso_date(written) == datetime.date(*day)


@pytest.mark.parametrize("written", ["03/04/2024", "3.4.2024", "03-04-24", "04/03/24"])
def test_day_and_month_are_never_guessed(written: str) -> None:
    with pytest.raises(BadInput) as caught:
        iso_date(written)
    assert caught.value.value == written
    assert "day and month" in str(caught.value.fix)


@pytest.mark.parametrize(
    "written",
    [
        "2023-02-29",
        "2024-13-01",
        "2021-W54-1",
        "2023-366",
        "2021-W53-1",
        "2024-000",
        "today",
        "",
        "20240304",
        "٢٠٢٤-٠٣-٠٤",
    ],
)
def test_no_day_of_the_calendar(written: str) -> None:
    with pytest.raises(BadInput) as caught:
        iso_date(written)
    assert caught.value.allowed
