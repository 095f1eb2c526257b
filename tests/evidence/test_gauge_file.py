"""A gauge's file: read back as written, and every wrong entry named."""

import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladewright.errors import SeveralBadInputs
from bladewright.evidence.gauge_file import gauge_bytes, read_gauge

DAYS = st.dates(datetime.date(2000, 1, 1), datetime.date(2100, 1, 1))
WORDS = st.text(st.characters(categories=("L", "N")), min_size=1, max_size=30)


@given(WORDS, WORDS, DAYS, st.integers(0, 2000), WORDS, st.sampled_from(("within its limits", "outside its limits")),
       st.booleans())  # fmt: skip
def test_a_gauge_is_read_back_as_it_was_written(
    name: str, measures: str, done: datetime.date, days: int, by: str, found: str, set_aside: bool
) -> None:
    due = done + datetime.timedelta(days=days)
    data = gauge_bytes(name, measures, done, due, by, found, set_aside=set_aside)  # type: ignore[arg-type]
    gauge = read_gauge(data, "g.toml")
    assert (gauge.name, gauge.measures, gauge.calibrated_on, gauge.due) == (name, measures, done, due)
    assert (gauge.calibrated_by, gauge.found, gauge.set_aside) == (by, found, set_aside)
    assert gauge.holds_on(done)
    assert gauge.holds_on(due)
    assert not gauge.holds_on(due + datetime.timedelta(days=1))


def test_a_gauge_that_was_never_calibrated_holds_on_no_day() -> None:
    gauge = read_gauge(b'format = 1\ngauge = "C-9"\nmeasures = "chord"\n', "g.toml")
    assert (gauge.calibrated_on, gauge.due, gauge.found) == (None, None, None)
    assert not gauge.holds_on(datetime.date(2026, 5, 4))


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ("due = 2026-11-03", "due = 2024-11-03", "calibrated"),
        ("due = 2026-11-03", 'due = "03/11/2026"', "calibrated.due"),
        ("within its limits", "good enough", "calibrated.found"),
        ('gauge = "C-9"', 'gauge = " "', "gauge"),
        ('measures = "chord"', 'measure = "chord"', "measure"),
    ],
)
def test_a_wrong_entry_is_named(old: str, new: str, field: str) -> None:
    whole = gauge_bytes("C-9", "chord", datetime.date(2025, 11, 3), datetime.date(2026, 11, 3), "R. Vane",
                        "within its limits").decode()  # fmt: skip
    assert old in whole
    with pytest.raises(SeveralBadInputs) as caught:
        read_gauge(whole.replace(old, new).encode(), "g.toml")
    assert field in {error.field for error in caught.value.errors}
    assert {error.file for error in caught.value.errors} == {"g.toml"}
