"""Stamps with an offset, leap seconds and wrong dates. RFC 3339 (2002), sections 4.3 and 5.6 to 5.8, from memory."""

import datetime
from collections.abc import Callable
from typing import Any

import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.errors import BadInput, BladewrightError
from bladewright.evidence.cure_log import read_cure_log
from bladewright.evidence.description import LoggerDescription
from bladewright.evidence.stamps import EPOCH, MICROSECOND, check_format, example, one_stamp, whole_column

Describe = Callable[..., LoggerDescription]
Refused = Callable[[bytes, LoggerDescription], tuple[BladewrightError, ...]]

OFFSET: dict[str, Any] = {"time.zone": "offset in file", "time.format": "%Y-%m-%dT%H:%M:%S.%f%z"}


def _log(*stamps: str) -> bytes:
    return ("time,Z1,Z2\n" + "".join(f"{stamp},20,21\n" for stamp in stamps)).encode()


def test_small_letters_are_allowed(describe: Describe) -> None:
    small, large = (
        read_cure_log(_log(text), describe(**OFFSET)) for text in ("1985-04-12t23:20:50.52z", "1985-04-12T23:20:50.52Z")
    )
    assert small.start == large.start == datetime.datetime(1985, 4, 12, 23, 20, 50, 520000, datetime.UTC)


def test_a_leap_second_is_kept_in_order_and_noted(describe: Describe) -> None:
    log = read_cure_log(
        _log("1990-12-31T23:59:59Z", "1990-12-31T23:59:60Z", "1991-01-01T00:00:00Z"), describe(**OFFSET)
    )
    assert log.seconds.tolist() == [0.0, 0.999999, 1.0]
    assert [(remark.row, "leap second" in remark.what) for remark in log.remarks] == [(3, True)]


@pytest.mark.parametrize(
    "stamp",
    [
        "2023-02-29T00:00:00Z",
        "2024-13-01T00:00:00Z",
        "2024-01-01T24:00:00Z",
        "2024-01-01T00:60:00Z",
        "2024-01-01T00:00:61Z",
        "2024-01-01T00:00:60Z",
        "2024-01-01T00:60:60Z",
        "2024-01-01T00:00:00",
        "2024-01-01T00:00:00-00:00",
        "2024-01-01 00:00:00Z",
        "03/04/2024T00:00:00Z",
        "24-01-01T00:00:00Z",
        "02024-01-01T00:00:00Z",
        "0224-01-01T00:00:00Z",
        "",
    ],
)
def test_what_is_no_stamp_is_refused(describe: Describe, refused: Refused, stamp: str) -> None:
    (error,) = refused(_log("2020-01-01T00:00:00Z", stamp), describe(**OFFSET))
    assert (error.row, error.column, error.value) == (3, "time", stamp)
    assert error.allowed
    assert error.fix


@pytest.mark.parametrize(
    ("form", "offset"),
    [
        ("%d/%m/%y %H:%M", False),  # the century would be a guess
        ("%d %H:%M", False),
        ("%Y-%m-%d", False),
        ("%Y-%m-%d %I:%M", False),  # morning or evening?
        ("%Y-%m-%d %H:%M%z", False),
        ("%Y-%m-%d %H:%M", True),
        ("%Y-%m-%d %H:%M %Q", False),
        ("%Y-%m-%d %H:%M:%S %S", False),
        ("%Y-%m-%d %b %H:%M", False),
        ("%Y-%m-%d %H:%M %p", False),
        ("", False),
    ],
)
def test_a_format_that_leaves_something_open_is_refused(form: str, offset: bool) -> None:
    with pytest.raises(BadInput) as caught:
        check_format(form, offset)
    assert caught.value.value == form


@pytest.mark.parametrize(
    "text", ["2025-01-214:18:49", "2025-01-2414:18:49", "2025-01-24  14:18:49", "2025-1-24 14:18:4"]
)
def test_a_lost_character_is_not_read_as_another_time(text: str) -> None:
    # lenient readers take the first for the 21st at 04:18
    with pytest.raises(BadInput):
        one_stamp(text, "%Y-%m-%d %H:%M:%S")
    assert whole_column(pl.Series([text]), "%Y-%m-%d %H:%M:%S")[1].all()


FORMATS = ("%Y-%m-%d %H:%M:%S", "%d.%m.%Y %H:%M:%S.%f", "%m/%d/%Y %I:%M %p", "%d %b %Y %H:%M", "%Y-%m-%dT%H:%M:%S.%f%z")


@settings(max_examples=60, deadline=None)
@given(
    moment=st.datetimes(datetime.datetime(1901, 1, 1), datetime.datetime(2198, 12, 31)),  # noqa: DTZ001
    form=st.sampled_from(FORMATS),
)
def test_quick_and_careful_reading_agree_with_what_was_written(moment: datetime.datetime, form: str) -> None:
    text = moment.replace(tzinfo=datetime.UTC).strftime(form)
    expected = datetime.datetime.strptime(text, form)  # noqa: DTZ007
    micros = (expected.replace(tzinfo=datetime.UTC) - EPOCH) // MICROSECOND
    quick, unsure = whole_column(pl.Series([text]), form)
    assert (int(quick[0]), bool(unsure[0])) == (micros, False)
    assert one_stamp(text, form).micros == micros


@settings(max_examples=150, deadline=None)
@given(text=st.text("0123456789-:T Z+.", min_size=10, max_size=26))
def test_where_the_quick_way_is_sure_the_careful_way_says_the_same(text: str) -> None:
    form = "%Y-%m-%dT%H:%M:%S.%f%z"
    quick, unsure = whole_column(pl.Series([text]), form)
    if not unsure[0]:
        assert one_stamp(text, form).micros == int(quick[0])


def test_the_example_shown_to_a_person_can_be_read_back() -> None:
    for form in FORMATS:
        assert one_stamp(example(form), form).micros > 0


@pytest.mark.parametrize(("text", "micros"), [("", 0), (".5", 500_000), (".000001", 1), (".1234567", 123_456)])
def test_a_fraction_may_be_absent_and_is_cut_to_microseconds(text: str, micros: int) -> None:
    form = "%d.%m.%Y %H:%M:%S.%f"
    stamp = f"01.02.2026 08:00:00{text}"
    whole = one_stamp("01.02.2026 08:00:00", form).micros
    assert one_stamp(stamp, form).micros - whole == micros
    quick, unsure = whole_column(pl.Series([stamp]), form)
    assert (int(quick[0]) - whole, bool(unsure[0])) == (micros, False)
