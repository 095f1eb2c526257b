"""How a roll stands: what ends it first, worked by hand; and what cannot be counted may not be used."""

import datetime
import zoneinfo
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladewright.drawing.counting_rule import CountingRule
from bladewright.evidence.freezer_log import FreezerEntry, Roll, Unlogged
from bladewright.proof.freezer_watch import FreezerWatch
from bladewright.proof.kitting import NOT_USED
from bladewright.proof.out_time import HOUR
from bladewright.proof.roll_standing import (
    BY_DATE,
    BY_HOURS,
    NOT_FOR_LONG,
    USABLE,
    USED_UP,
    in_order_of_use,
    roll_standing,
)

ZONE = zoneinfo.ZoneInfo("Europe/London")
RULE = CountingRule.model_validate(
    {"maker_limit": "100 h", "maker_warmest": "75 degF", "warm_up_least": "4 h", "source": "sheet 7"}
)
NONE = FreezerWatch((), ())


def at(text: str) -> datetime.datetime:
    return datetime.datetime.fromisoformat(f"2026-{text}").replace(tzinfo=ZONE)


ROLL = Roll("F-70", "L-900", at("03-01 08:00"), before_receipt=10.0 * HOUR, expires=datetime.date(2026, 9, 1))
OUT = replace(ROLL, entries=(FreezerEntry("out", at("05-01 08:00"), "R. Vane"),))
NOW = at("05-02 08:00")  # out for 24 h


def test_a_roll_in_the_freezer_is_ended_by_its_date() -> None:
    found = roll_standing(ROLL, RULE, NONE, NOW)
    assert (found.state, found.ended_by, found.ends) == (USABLE, BY_DATE, at("09-02 00:00"))
    assert found.left is not None
    assert (found.left.value, found.out_since) == (90.0, None)


def test_a_roll_that_is_out_is_ended_by_its_hours() -> None:
    found = roll_standing(OUT, RULE, NONE, NOW)
    assert found.left is not None
    assert found.left.value == 66.0  # 100 less 10 less 24
    assert (found.state, found.ended_by, found.ends) == (NOT_FOR_LONG, BY_HOURS, NOW + datetime.timedelta(hours=66))


def test_hours_the_freezer_was_warm_count_once() -> None:
    warm = FreezerWatch((), (Unlogged(at("04-10 08:00"), at("04-10 20:00"), "warm"),))
    found = roll_standing(OUT, RULE, warm, NOW)
    assert found.counted is not None
    assert found.counted.value == 10.0 + 24.0 + 12.0


@pytest.mark.parametrize(
    ("roll", "rule", "state", "words"),
    [
        (replace(ROLL, used_up=datetime.date(2026, 5, 2)), RULE, USED_UP, "Used up on 2026-05-02"),
        (ROLL, None, NOT_USED, "No counting rule"),
        (replace(ROLL, received=at("05-03 08:00")), RULE, NOT_USED, "cannot be counted"),
        (replace(ROLL, before_receipt=None), RULE, NOT_USED, "Nobody knows"),
        (replace(ROLL, expires=datetime.date(2026, 5, 1)), RULE, NOT_USED, "1 day ago"),
        (replace(ROLL, expires=None), RULE, NOT_USED, "not entered"),
    ],
)
def test_what_is_missing_or_over_may_not_be_used(roll: Roll, rule: CountingRule | None, state: str, words: str) -> None:
    found = roll_standing(roll, rule, NONE, NOW)
    assert (found.state, found.usable, found.ends) == (state, False, None)
    assert words in found.why


def test_a_freezer_nobody_watched_takes_the_yes_back() -> None:
    asked = RULE.model_copy(
        update={"storage_warmest": 255.0, "storage_interval": HOUR, "storage_read_every": 168.0 * HOUR}
    )
    found = roll_standing(ROLL, asked, NONE, NOW)
    assert found.state == NOT_USED
    assert found.answer is not None
    assert found.answer.told.startswith("Not while this is missing.")
    assert found.answer.missing[-1].name == "adhesive: freezer watched"


def test_the_roll_that_ends_first_is_used_first_and_those_that_may_not_come_last() -> None:
    late = replace(ROLL, number="F-71", expires=datetime.date(2026, 12, 1))
    gone = replace(ROLL, number="F-69", used_up=datetime.date(2026, 4, 1))
    bad = replace(ROLL, number="F-68", before_receipt=None)
    found = in_order_of_use([roll_standing(one, RULE, NONE, NOW) for one in (gone, bad, late, ROLL, OUT)])
    assert [one.roll for one in found] == ["F-70", "F-70", "F-71", "F-68", "F-69"]
    assert found[0].out_since is not None


@given(st.floats(0.0, 200.0), st.floats(0.0, 2000.0))
def test_time_never_gives_hours_back(hours: float, later: float) -> None:
    roll = replace(OUT, before_receipt=hours * HOUR)
    now, then = (roll_standing(roll, RULE, NONE, NOW + datetime.timedelta(hours=h)) for h in (0.0, later))
    assert now.left is not None
    assert then.left is not None
    assert then.left.value <= now.left.value
    assert now.usable or not then.usable
