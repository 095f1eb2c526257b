"""Was the freezer watched: worked by hand on logs of a few samples."""

import datetime

import numpy as np
import pytest

from bladewright.drawing.counting_rule import CountingRule
from bladewright.errors import SeveralBadInputs
from bladewright.evidence.freezer_log import Roll
from bladewright.evidence.records import Channel, CureLog, Source
from bladewright.figures import Outcome
from bladewright.proof.freezer_watch import FreezerWatch, freezer_watch, freezer_watched
from bladewright.proof.out_time import HOUR
from bladewright.typed import validated

COLD, WARM = 250.0, 270.0  # [K]
RULE = CountingRule.model_validate(
    {
        "maker_limit": "240 h", "storage_warmest": "255 K", "storage_interval": "1 h", "storage_read_every": "168 h",
        "source": "sheet 7",
    }
)  # fmt: skip


def at(hour: float) -> datetime.datetime:
    return datetime.datetime(2026, 5, 1, tzinfo=datetime.UTC) + datetime.timedelta(hours=hour)


def log(first: float, *readings: float) -> CureLog:
    """One sample an hour from an hour on."""
    count = len(readings)
    return CureLog(
        Source("freezer.csv", "0"), "freezer", at(first), np.arange(count) * HOUR, (Channel("Air", "air"),),
        np.array(readings)[:, None], np.arange(count) + 2,
    )  # fmt: skip


def test_a_warm_hour_runs_from_the_last_good_sample_to_the_first_good_one() -> None:
    watch = freezer_watch([log(0, COLD, COLD, WARM, COLD, COLD)], RULE)
    ((start, end),) = [(one.start, one.end) for one in watch.excursions]
    assert (start, end) == (at(1), at(3))
    assert watch.logged == ((at(0), at(4)),)


def test_two_logs_that_follow_each_other_are_one_and_a_gap_between_them_is_a_hole() -> None:
    close = freezer_watch([log(3, COLD, COLD), log(0, COLD, COLD, COLD)], RULE)
    assert (close.logged, close.excursions) == (((at(0), at(4)),), ())
    apart = freezer_watch([log(0, COLD, COLD), log(9, COLD, COLD)], RULE)
    assert [(one.start, one.end) for one in apart.excursions] == [(at(1), at(9))]
    assert apart.until == at(10)


ROLL = Roll("F-70", "L-900", at(0))


@pytest.mark.parametrize(
    ("logs", "hour", "outcome"),
    [
        ((log(0, COLD, COLD),), 169.0, Outcome.PASS),  # 168 h after the log's last sample
        ((log(0, COLD, COLD),), 169.1, Outcome.MISSING),
        ((), 1.0, Outcome.MISSING),
        ((log(168, COLD, COLD),), 170.0, Outcome.PASS),  # filed as often as asked from the roll's coming on
        ((log(168.1, COLD, COLD),), 170.0, Outcome.MISSING),
    ],
)
def test_the_freezer_is_watched_from_the_rolls_coming_as_often_as_asked(
    logs: tuple[CureLog, ...], hour: float, outcome: Outcome
) -> None:
    found = freezer_watched(ROLL, RULE, freezer_watch(logs, RULE), at(hour))
    assert found is not None
    assert found.outcome is outcome
    assert not found.deviable


def test_nothing_is_asked_where_the_shop_entered_nothing() -> None:
    silent = CountingRule.model_validate({"maker_limit": "240 h"})
    assert freezer_watch([log(0, WARM)], silent) == FreezerWatch((), ())
    assert freezer_watched(ROLL, silent, FreezerWatch((), ()), at(1)) is None


def test_half_of_how_the_freezer_is_watched_is_refused() -> None:
    with pytest.raises(SeveralBadInputs) as caught:
        validated(CountingRule, {"storage_warmest": "0 degF"}, "film.toml", "a counting rule")
    (error,) = caught.value.errors
    assert "storage_read_every" in str(error.allowed)
