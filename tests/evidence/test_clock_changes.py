"""The hour a clock repeats and the hour it skips. Zone rules: IANA time zone data, America/New_York, 2024."""

from collections.abc import Callable

import numpy as np
import pytest

from bladewright.errors import BladewrightError
from bladewright.evidence.clock import changes
from bladewright.evidence.cure_log import read_cure_log
from bladewright.evidence.description import LoggerDescription
from bladewright.evidence.records import CureLog
from bladewright.evidence.stamps import EPOCH

Describe = Callable[..., LoggerDescription]
Refused = Callable[[bytes, LoggerDescription], tuple[BladewrightError, ...]]
Stamps = Callable[[CureLog], list[str]]


def _log(*local: str) -> bytes:
    return ("time,Z1,Z2\n" + "".join(f"{stamp},{20 + i},21\n" for i, stamp in enumerate(local))).encode()


#: local stamps in the order they were logged, and their UTC worked out by hand: 02:00 EDT became 01:00 EST at 06:00Z
FALL_BACK = {
    "2024-11-03 00:50": "04:50", "2024-11-03 01:00": "05:00", "2024-11-03 01:30": "05:30", "2024-11-03 01:50": "05:50",
}  # fmt: skip
SECOND_PASS = {"2024-11-03 01:00": "06:00", "2024-11-03 01:30": "06:30", "2024-11-03 02:10": "07:10"}


def test_a_repeated_hour_is_settled_by_the_order_of_the_file(describe: Describe, stamps_of: Stamps) -> None:
    log = read_cure_log(_log(*FALL_BACK, *SECOND_PASS), describe())
    expected = [*FALL_BACK.values(), *SECOND_PASS.values()]
    assert stamps_of(log) == [f"2024-11-03T{utc}:00Z" for utc in expected]
    assert log.order_certain
    (remark,) = log.remarks
    assert (remark.row, remark.column) == (6, "time")
    assert "rows 3 to 7" in remark.what


def test_without_a_declared_order_it_is_read_the_same_and_marked_uncertain(
    describe: Describe, stamps_of: Stamps
) -> None:
    sure = read_cure_log(_log(*FALL_BACK, *SECOND_PASS), describe())
    unsure = read_cure_log(_log(*FALL_BACK, *SECOND_PASS), describe(**{"time.file_order_is_time_order": False}))
    assert stamps_of(unsure) == stamps_of(sure)
    assert not unsure.order_certain


def test_one_pass_through_the_repeated_hour_stays_uncertain(describe: Describe, stamps_of: Stamps) -> None:
    # 01:30 once: 05:30Z or 06:30Z, and nothing in the file says which
    log = read_cure_log(_log("2024-11-03 00:30", "2024-11-03 01:30", "2024-11-03 02:30"), describe())
    assert stamps_of(log)[1] == "2024-11-03T05:30:00Z"
    assert not log.order_certain
    assert log.remarks[0].row == 3


def test_a_row_written_twice_inside_the_repeated_hour_is_not_taken_for_certain(describe: Describe) -> None:
    log = read_cure_log(_log("2024-11-03 01:10", "2024-11-03 01:10", "2024-11-03 01:20"), describe())
    assert not log.order_certain


def test_three_passes_cannot_be(describe: Describe, refused: Refused) -> None:
    (error,) = refused(_log("2024-11-03 01:10", "2024-11-03 01:00", "2024-11-03 00:50"), describe())
    assert (error.row, error.column) == (4, "time")
    errors = refused(_log("2024-11-03 01:10", "2024-11-03 01:00", "2024-11-03 01:00"), describe())
    assert errors[0].row == 4


@pytest.mark.parametrize("skipped", ["2024-03-10 02:00", "2024-03-10 02:30", "2024-03-10 02:59"])
def test_a_time_the_clock_skipped_is_an_error(describe: Describe, refused: Refused, skipped: str) -> None:
    (error,) = refused(_log("2024-03-10 01:59", skipped, "2024-03-10 03:00"), describe())
    assert (error.row, error.column, error.value) == (3, "time", skipped)


def test_the_edges_of_both_changes(describe: Describe, stamps_of: Stamps) -> None:
    assert stamps_of(read_cure_log(_log("2024-03-10 01:59", "2024-03-10 03:00"), describe())) == [
        "2024-03-10T06:59:00Z",
        "2024-03-10T07:00:00Z",
    ]
    log = read_cure_log(_log("2024-11-03 00:59", "2024-11-03 02:00"), describe())
    assert stamps_of(log) == ["2024-11-03T04:59:00Z", "2024-11-03T07:00:00Z"]
    assert log.order_certain
    assert log.remarks == ()


def test_a_zone_that_changes_by_half_an_hour(describe: Describe, stamps_of: Stamps) -> None:
    # Lord Howe, 2024-04-07: 02:00 at +11:00 became 01:30 at +10:30, at 15:00Z the day before
    how = describe(**{"time.zone": "Australia/Lord_Howe"})
    log = read_cure_log(_log("2024-04-07 01:45", "2024-04-07 01:40", "2024-04-07 02:00"), how)
    assert stamps_of(log) == ["2024-04-06T14:45:00Z", "2024-04-06T15:10:00Z", "2024-04-06T15:30:00Z"]


def test_changes_are_found_to_the_second() -> None:
    first, last = (int((EPOCH.replace(year=year) - EPOCH).total_seconds()) * 1_000_000 for year in (2024, 2025))
    offset, found = changes("America/New_York", first, last)
    hour = 3_600_000_000
    assert offset == -5 * hour
    # 2024-03-10T07:00Z and 2024-11-03T06:00Z
    assert [(change.at // 1_000_000, change.before // hour, change.after // hour) for change in found] == [
        (1_710_054_000, -5, -4),
        (1_730_613_600, -4, -5),
    ]


def test_a_zone_without_changes(describe: Describe) -> None:
    log = read_cure_log(_log("2024-11-03 00:30", "2024-11-03 02:30"), describe(**{"time.zone": "UTC"}))
    assert np.diff(log.seconds).tolist() == [7200.0]
