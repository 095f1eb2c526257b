"""Out-time of adhesive rolls, counted by hand from small freezer logs; the rule is common practice, no source."""

import dataclasses
import datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.drawing.counting_rule import CountingRule
from bladewright.errors import BadInput
from bladewright.evidence.freezer_log import FreezerEntry, Move, Roll, Unlogged
from bladewright.figures import Answered, Finding, Outcome
from bladewright.proof.adhesive import judge_roll, stock, surface_above_dew_point
from bladewright.proof.adhesive_answer import may_be_used
from bladewright.proof.out_time import HOUR, out_time

PASS, REFER, FAIL, MISSING = Outcome.PASS, Outcome.REFER, Outcome.FAIL, Outcome.MISSING
RULE = CountingRule.model_validate(
    {"maker_limit": "240 h", "maker_warmest": "24 degC", "warm_up_least": "4 h", "source": "film sheet F-12"}
)


def at(text: str) -> datetime.datetime:
    """A moment of 2026 in UTC: ``06-03 08:00``."""
    return datetime.datetime.fromisoformat(f"2026-{text.replace(' ', 'T')}+00:00")


def moves(*texts: str, warmest: float | None = 294.0) -> tuple[FreezerEntry, ...]:
    """Entries as a freezer log has them: ``out 06-03 08:00``."""
    found = []
    for text in texts:
        move, when = text.split(" ", 1)
        found.append(FreezerEntry("out" if move == "out" else "in", at(when), "R. Vane", warmest))
    return tuple(found)


def a_roll(*texts: str, **other: object) -> Roll:
    roll = Roll("F-70", "L-900", at("06-01 08:00"), moves(*texts), expires=datetime.date(2026, 12, 1))
    return dataclasses.replace(roll, **other)  # type: ignore[arg-type]


def finding(roll: Roll, rule: str, now: str, **other: object) -> Finding:
    found = judge_roll(roll, RULE.model_copy(update=other), at(now))  # type: ignore[arg-type]
    return next(one for one in found if one.rule == rule)


LOGGED = (
    "out 06-03 08:00", "in 06-03 19:30", "out 06-05 07:15", "in 06-06 02:45", "out 06-10 09:00", "out 06-12 10:00",
    "in 06-12 16:00",
)  # fmt: skip


def test_a_missing_return_counts_until_the_next_entry() -> None:
    # 11.5 + 19.5 + 49.0 + 6.0
    counted = out_time(a_roll(*LOGGED), RULE, at("06-20 08:00"))
    assert [trip.counted / HOUR for trip in counted.trips] == [11.5, 19.5, 49.0, 6.0]
    assert counted.counted / HOUR == 86.0
    assert (counted.logged / HOUR, counted.unlogged / HOUR) == (37.0, 49.0)
    assert not counted.out_now


def test_a_missing_leaving_counts_from_the_entry_before() -> None:
    counted = out_time(a_roll("in 06-03 08:00"), RULE, at("06-20 08:00"))
    assert (counted.counted / HOUR, counted.unlogged / HOUR) == (48.0, 48.0)  # since receipt, two days before


def test_a_roll_that_is_out_counts_up_to_now() -> None:
    counted = out_time(a_roll("out 06-03 08:00"), RULE, at("06-03 20:00"))
    assert (counted.counted / HOUR, counted.out_now) == (12.0, True)


THREE_UNLOGGED = a_roll(
    "out 06-03 08:00", "in 06-04 15:00", unlogged=(Unlogged(at("06-10 06:00"), at("06-10 09:00"), "freezer was open"),)
)


@pytest.mark.parametrize(("limit", "outcome"), [(34.0, PASS), (33.9, FAIL), (240.0, PASS)])
def test_thirty_one_hours_on_record_and_three_nobody_logged_are_thirty_four(limit: float, outcome: Outcome) -> None:
    found = finding(THREE_UNLOGGED, "adhesive: out-time", "06-20 08:00", maker_limit=limit * HOUR)
    assert found.outcome is outcome
    assert not found.deviable
    assert found.worst is not None
    assert found.worst.value == 34.0
    assert "31.0 h on record and 3.0 h nobody logged" in found.sentence
    assert found.where[0].channel == "freezer was open"
    assert ("Only the hours nobody logged" in found.sentence) == (outcome is FAIL)


def test_what_the_lay_up_still_needs_is_asked_of_the_roll() -> None:
    rule = RULE.model_copy(update={"maker_limit": 40.0 * HOUR})
    judged = judge_roll(THREE_UNLOGGED, rule, at("06-20 08:00"), needed=7.0 * HOUR)
    assert judged[0].outcome is FAIL
    assert "6.0 h left" in judged[0].sentence


def test_the_shops_rule_never_overrides_the_makers() -> None:
    roll = a_roll("out 06-03 08:00", "in 06-04 08:00")
    kinder = {"maker_limit": 20.0 * HOUR, "shop_limit": 500.0 * HOUR}
    assert finding(roll, "adhesive: out-time", "06-20 08:00", **kinder).outcome is FAIL
    stricter = {"maker_limit": 500.0 * HOUR, "shop_limit": 20.0 * HOUR}
    assert finding(roll, "adhesive: out-time", "06-20 08:00", **stricter).outcome is FAIL
    alone = {"maker_limit": None, "shop_limit": 500.0 * HOUR}
    assert finding(roll, "adhesive: out-time", "06-20 08:00", **alone).outcome is MISSING


def test_a_free_thaw_counts_only_as_far_as_the_maker_allows_it_and_never_where_an_entry_is_missing() -> None:
    roll, now = a_roll(*LOGGED), at("06-20 08:00")
    shop = RULE.model_copy(update={"free_per_trip": 2.0 * HOUR})
    assert out_time(roll, shop, now).counted / HOUR == 86.0
    both = shop.model_copy(update={"maker_free_per_trip": 1.0 * HOUR})
    assert out_time(roll, both, now).counted / HOUR == 83.0  # three trips on record


def test_an_unlogged_stretch_that_is_counted_already_counts_once() -> None:
    gap = Unlogged(at("06-03 12:00"), at("06-03 22:30"), "door ajar")
    roll = a_roll(*LOGGED, unlogged=(gap, gap))
    assert out_time(roll, RULE, at("06-20 08:00")).counted / HOUR == 86.0 + 3.0  # from 19:30 to 22:30


def test_hours_before_receipt_that_nobody_knows_are_missing() -> None:
    assert finding(a_roll(before_receipt=None), "adhesive: out-time", "06-20 08:00").outcome is MISSING
    known = a_roll("out 06-03 08:00", "in 06-03 09:00", before_receipt=30.0 * HOUR)
    assert out_time(known, RULE, at("06-20 08:00")).counted / HOUR == 31.0


@pytest.mark.parametrize(("now", "outcome"), [("06-03 12:00", PASS), ("06-03 11:59", FAIL)])
def test_opened_before_it_is_warmed_through(now: str, outcome: Outcome) -> None:
    assert finding(a_roll("out 06-03 08:00"), "adhesive: warmed through", now).outcome is outcome


def test_a_roll_in_the_freezer_is_not_warmed_through() -> None:
    assert finding(a_roll(), "adhesive: warmed through", "06-20 08:00").outcome is FAIL


@pytest.mark.parametrize(("warmest", "outcome"), [(297.15, PASS), (299.0, REFER), (None, REFER)])
def test_the_makers_hours_hold_for_a_cool_room(warmest: float | None, outcome: Outcome) -> None:
    roll = a_roll(entries=moves("out 06-03 08:00", "in 06-03 12:00", warmest=warmest))
    assert finding(roll, "adhesive: room while out", "06-20 08:00").outcome is outcome


@pytest.mark.parametrize(("now", "outcome"), [("12-01 23:00", PASS), ("12-02 00:00", FAIL)])
def test_the_last_day_of_the_shelf_life_is_in_it(now: str, outcome: Outcome) -> None:
    assert finding(a_roll(), "adhesive: shelf life", now).outcome is outcome


def test_what_is_usable_now_and_what_is_not_for_long() -> None:
    now = at("06-20 08:00")
    rolls = [
        dataclasses.replace(a_roll(), number="fresh"),
        dataclasses.replace(a_roll(), number="old", expires=datetime.date(2026, 6, 30)),
        dataclasses.replace(a_roll(), number="gone", expires=datetime.date(2026, 6, 19)),
        dataclasses.replace(a_roll("out 06-12 08:00"), number="out"),  # 192 h of 240
        dataclasses.replace(a_roll("out 06-03 08:00"), number="spent"),
        dataclasses.replace(a_roll(), number="unknown", expires=None),
    ]
    found = stock(rolls, RULE, now, days=30)
    assert [roll.number for roll, _ in found.usable] == ["old", "out", "fresh"]
    assert {roll.number for roll, _ in found.expiring} == {"old", "out"}
    assert {roll.number for roll, _ in found.unusable} == {"gone", "spent", "unknown"}


@pytest.mark.parametrize(("surface", "outcome"), [(290.2, PASS), (289.9, FAIL)])
def test_a_cold_part_draws_water(surface: float, outcome: Outcome) -> None:
    # air of 25 degC at 50 %: dew point 13.85 degC = 287.00 K, so 290.00 K is asked
    assert surface_above_dew_point(298.15, 0.5, surface).outcome is outcome
    assert surface_above_dew_point(298.15, 0.5, 290.2, uncertainty=1.0).outcome is REFER


@pytest.mark.parametrize(
    ("roll", "field"),
    [
        (a_roll("out 06-03 08:00", "in 06-03 07:00"), "entries.2"),
        (a_roll("out 05-03 08:00"), "entries.1"),
        (a_roll("out 07-03 08:00"), "now"),
        (a_roll(received=datetime.datetime(2026, 6, 1)), "received"),  # noqa: DTZ001
        (a_roll(unlogged=(Unlogged(at("06-10 09:00"), at("06-10 06:00"), "?"),)), "unlogged.1"),
    ],
)
def test_a_log_that_is_not_in_order_is_refused_by_field(roll: Roll, field: str) -> None:
    with pytest.raises(BadInput) as caught:
        out_time(roll, RULE, at("06-20 08:00"))
    assert caught.value.field == field


@settings(max_examples=60, deadline=None)
@given(
    hours=st.lists(st.tuples(st.sampled_from(["out", "in"]), st.floats(0.0, 500.0)), max_size=8),
    lost=st.integers(0, 7),
    start=st.floats(0.0, 400.0),
    length=st.floats(0.1, 100.0),
)
def test_a_line_lost_from_the_log_never_makes_a_roll_younger(
    hours: list[tuple[Move, float]], lost: int, start: float, length: float
) -> None:
    begin = at("06-01 08:00")

    def after(number: float) -> datetime.datetime:
        return begin + datetime.timedelta(hours=number)

    times = sorted(hour for _, hour in hours)
    turns: list[Move] = ["out" if number % 2 == 0 else "in" for number in range(len(times))]
    entries = tuple(FreezerEntry(turn, after(hour)) for turn, hour in zip(turns, times, strict=True))
    roll = Roll("F-1", "L-1", begin, entries, (Unlogged(after(start), after(start + length), "?"),))
    whole = out_time(roll, RULE, after(500.0)).counted
    fewer = dataclasses.replace(roll, entries=entries[:lost] + entries[lost + 1 :])
    assert out_time(fewer, RULE, after(500.0)).counted >= whole - 1e-3 or _the_last_leaving(entries, lost)
    assert 0.0 <= whole <= 500.0 * HOUR + 1e-3
    assert whole >= out_time(dataclasses.replace(roll, unlogged=()), RULE, after(500.0)).counted - 1e-3


def _the_last_leaving(entries: tuple[FreezerEntry, ...], lost: int) -> bool:
    """The one line whose loss nothing shows: the roll still seems to lie in the freezer."""
    return lost == len(entries) - 1 and entries[lost].move == "out"


def answer(roll: Roll, now: str = "06-20 08:00", needed: float = 0.0, **other: object) -> Answered:
    return may_be_used(roll, RULE.model_copy(update=other), at(now), needed)


def test_thirty_one_and_three_in_one_sentence_with_what_would_change_it() -> None:
    told = answer(THREE_UNLOGGED, maker_limit=32.0 * HOUR)
    assert told.told.startswith("No. ")
    assert "31.0 h on record and 3.0 h nobody logged" in told.told
    assert "would change with a record of where the roll was" in told.told
    assert [figure.value for figure in told.figures] == [31.0, 3.0, 0.0, -2.0]
    assert all(figure.validated for figure in told.figures)


def test_a_good_roll_may_be_used_and_is_warmed_through_first() -> None:
    told = answer(THREE_UNLOGGED, needed=6.0 * HOUR)
    assert told.told.startswith("Yes")
    assert "Before it is opened" in told.told
    assert "a person" in told.told


def test_what_is_missing_is_named_as_it_is_entered() -> None:
    told = answer(a_roll(before_receipt=None, expires=None), warm_up_least=None)
    assert told.told.startswith("Not while this is missing")
    assert {name for gap in told.missing for name in gap.needs} == {"before_receipt", "expires", "warm_up_least"}


def test_a_warm_room_is_for_a_person() -> None:
    told = answer(a_roll(entries=moves("out 06-03 08:00", "in 06-03 12:00", warmest=300.0)))
    assert told.told.startswith("Only if a person")
