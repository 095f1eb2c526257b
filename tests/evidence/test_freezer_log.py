"""Freezer logs and counting rules: what is read, and what is refused by field."""

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
expires = 2026-12-01
[[entries]]
move = "out"
at = "2026-06-03T08:00:00-04:00"
by = "R. Vane"
[[entries]]
move = "in"
at = 2026-06-03T19:30:00-04:00
by = "R. Vane"
warmest = "72 degF"
[[unlogged]]
start = 2026-06-10T06:00:00-04:00
end = 2026-06-10T09:00:00-04:00
why = "freezer stood open"
"""
RULE = """
format = 1
[counting]
maker_limit = "240 h"
shop_limit = "300 h"
maker_warmest = "24 degC"
"""


def test_times_may_be_written_as_toml_times_or_as_text() -> None:
    roll = read_freezer_log(LOG.encode(), "f-70.toml")
    assert roll.entries[0].at == datetime.datetime(2026, 6, 3, 12, 0, tzinfo=datetime.UTC)
    assert roll.entries[1].warmest == pytest.approx(295.372, abs=1e-3)
    assert roll.source is not None
    assert (roll.source.file, len(roll.source.sha256)) == ("f-70.toml", 64)


def test_hours_before_receipt_that_are_not_entered_are_not_known() -> None:
    assert read_freezer_log(LOG.encode()).before_receipt is None


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ("received = 2026-06-01T08:00:00-04:00", "received = 2026-06-01T08:00:00", "received"),
        ("received = 2026-06-01T08:00:00-04:00", 'received = "06/01/2026 8:00"', "received"),
        ('at = "2026-06-03T08:00:00-04:00"', 'at = "2026-06-03T08:00:00"', "entries.1.at"),
        ('move = "in"', 'move = "back"', "entries.2.move"),
        ('"72 degF"', '"72"', "entries.2.warmest"),
        ('by = "R. Vane"\nwarmest', 'by = ""\nwarmest', "entries.2.by"),
        ('why = "freezer stood open"', "", "unlogged.1.why"),
        ("expires = 2026-12-01", 'expires = "12/01/2026"', "expires"),
        ("expires = 2026-12-01", 'before_receipt = "-1 h"', "before_receipt"),
        ("format = 1", "format = 1\nshelf = 3", "shelf"),
    ],
)
def test_what_cannot_be_is_refused_by_field(old: str, new: str, field: str) -> None:
    with pytest.raises(SeveralBadInputs) as caught:
        read_freezer_log(LOG.replace(old, new, 1).encode(), "f-70.toml")
    assert [(error.file, error.field) for error in caught.value.errors] == [("f-70.toml", field)]


def test_the_stricter_limit_counts_and_the_shops_alone_is_none() -> None:
    rule = parse_counting_rule(RULE.encode(), "rule.toml")
    assert rule.limit == 240.0 * 3600.0
    assert parse_counting_rule(RULE.replace('maker_limit = "240 h"', "").encode(), "rule.toml").limit is None


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ('"240 h"', '"240"', "counting.maker_limit"),
        ('"240 h"', '"-1 h"', "counting.maker_limit"),
        ('"24 degC"', '"24 K/min"', "counting.maker_warmest"),
        ("shop_limit", "shoplimit", "counting.shoplimit"),
    ],
)
def test_a_rule_that_cannot_be_is_refused_by_field(old: str, new: str, field: str) -> None:
    with pytest.raises(SeveralBadInputs) as caught:
        parse_counting_rule(RULE.replace(old, new).encode(), "rule.toml")
    assert [(error.file, error.field) for error in caught.value.errors] == [("rule.toml", field)]
