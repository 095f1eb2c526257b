"""Every peel passes, but they drift down: since when, and what changed then? Runs drawn with a change put in."""

import datetime

import numpy as np
import pytest

from bladewright.figures import Outcome
from bladewright.proof.peel_charts import peel_run_chart
from bladewright.proof.peel_run import UNSAID, PeelResult, run_of_results, spans
from bladewright.units import to_si

POUND_AN_INCH = to_si("1 lbf/in", "force per width")
DAY = datetime.date(2026, 1, 5)
LEAST = 15.0


def results(means: list[float], **ran_with: list[str]) -> list[PeelResult]:
    """A coupon a day, in lbf/in, with what each was made of."""
    return [
        PeelResult(
            f"B-{number:04}", "root", DAY + datetime.timedelta(days=number), f"{number:064}", mean * POUND_AN_INCH,
            0.03 * mean * POUND_AN_INCH, LEAST * POUND_AN_INCH, 0.0,
            tuple((what.replace("_", " "), held[number]) for what, held in ran_with.items() if held[number] != UNSAID),
        )
        for number, mean in enumerate(means)
    ]  # fmt: skip


def drawn(count: int, step: float = 0.0, at: int = 0, slope: float = 0.0, seed: int = 1) -> list[float]:
    places = np.arange(count)
    noise = np.random.default_rng(seed).normal(0.0, 0.4, count)
    return list(23.0 + noise + np.where(places >= at, step, 0.0) + slope * places)


BATCHES = [f"T-{number}" for number in range(16)]
FILM = ["R-1"] * 9 + ["R-2"] * 7
BY = ["Mott Bench"] * 9 + ["Tarn Bench"] * 7


def test_a_step_is_found_where_it_was_put_with_what_changed_there() -> None:
    run = run_of_results(results(drawn(16, -2.0, 9), adhesive=FILM, bath=BATCHES))
    assert run.finding.outcome is Outcome.REFER
    assert run.before == 9
    assert 9 in run.places
    step = run.levels[2]
    assert abs(step.value / POUND_AN_INCH + 2.0) <= (step.uncertainty or 0.0) / POUND_AN_INCH
    assert [(one.what, one.before, one.after, one.since) for one in run.candidates] == [
        ("adhesive", "R-1", "R-2", "B-0009")
    ]
    assert run.always == ("bath",), "what changes with every coupon explains anything"
    assert "Every one passes, and yet since B-0009, torn 2026-01-14" in run.finding.sentence
    assert "lower" in run.finding.sentence


def test_two_things_that_changed_at_once_are_both_named() -> None:
    run = run_of_results(results(drawn(16, -2.0, 9), adhesive=FILM, lay_up_by=BY))
    assert {one.what for one in run.candidates} == {"adhesive", "lay up by"}


def test_what_nobody_wrote_down_cannot_be_ruled_out() -> None:
    gap = [*FILM[:4], UNSAID, *FILM[5:]]
    run = run_of_results(results(drawn(16, -2.0, 9), adhesive=gap))
    assert run.unsaid == ("adhesive",)


def test_a_steady_drift_is_called_one_and_its_limit_foretold() -> None:
    """From 23 falling 0.25 a coupon to 17.25 after 24: the limit of 15 is about nine coupons off."""
    run = run_of_results(results(drawn(24, slope=-0.25)))
    assert run.finding.outcome is Outcome.REFER
    assert "A steady drift of" in run.finding.sentence
    assert "explains it better" in run.finding.sentence
    told = run.finding.sentence.partition("meets the limit after ")[2].split()
    soon, late = int(told[0]), int(told[2])
    assert soon <= 9 <= late


def test_a_rise_is_a_change_too() -> None:
    run = run_of_results(results(drawn(16, 2.0, 9)))
    assert run.finding.outcome is Outcome.REFER
    assert "higher" in run.finding.sentence


def test_chance_alone_is_seldom_called_a_change() -> None:
    found = [run_of_results(results(drawn(12, seed=seed))).finding.outcome is Outcome.REFER for seed in range(200)]
    assert np.mean(found) <= 0.05 + 3.0 * np.sqrt(0.05 * 0.95 / 200)


@pytest.mark.parametrize("count", [10, 16])
def test_a_step_as_small_as_is_said_is_found_in_four_of_five_runs(count: int) -> None:
    step = -4.0 * 0.4 * np.hypot((count // 2) ** -0.5, (count - count // 2) ** -0.5)
    runs = [run_of_results(results(drawn(count, step, count // 2, seed=seed))) for seed in range(200)]
    assert np.mean([run.finding.outcome is Outcome.REFER for run in runs]) >= 0.8 - 3.0 * np.sqrt(0.8 * 0.2 / 200)
    still = run_of_results(results(drawn(count))).smallest
    assert still is not None
    assert still.value / POUND_AN_INCH == pytest.approx(-step, rel=0.6)


@pytest.mark.parametrize("count", [0, 1, 3])
def test_too_few_say_nothing_and_that_is_no_pass(count: int) -> None:
    run = run_of_results(results(drawn(count)))
    assert (run.finding.outcome, run.chance) == (Outcome.MISSING, None)


def test_as_few_as_cannot_show_a_step_are_no_pass_either() -> None:
    """Five above five come to 2 * 2 * 5! 5! / 10! = 1.6 %: that is found."""
    assert run_of_results(results(drawn(9))).finding.outcome is Outcome.MISSING
    assert run_of_results(results(drawn(10))).finding.outcome is Outcome.PASS
    found = run_of_results(results([25.0] * 5 + [20.0] * 5))
    assert found.finding.outcome is Outcome.REFER
    assert found.chance == pytest.approx(0.0159, abs=5e-5)


def test_the_order_is_that_of_tearing_and_what_has_no_curve_stands_aside() -> None:
    run = results(drawn(16, -2.0, 9))
    blank = PeelResult("B-9999", "root", DAY, "f" * 64, None, None, None, 0.0, ())
    found = run_of_results([*reversed(run), blank])
    assert [result.serial for result in found.results] == [result.serial for result in run]
    assert found.left_out == (blank,)


def test_places_side_by_side_are_told_as_one() -> None:
    assert spans((1, 2, 7, 9, 10, 11)) == ((1, 2), (7, 7), (9, 11))
    assert spans(()) == ()


def test_the_chart_names_each_lot_and_marks_the_change() -> None:
    run = run_of_results(results(drawn(16, -2.0, 9), adhesive=FILM))
    chart = peel_run_chart(run, "adhesive", "inch")
    assert [curve.name for curve in chart.curves if curve.points] == ["adhesive R-1", "adhesive R-2"]
    marked = {place for reach in chart.reaches for place in range(int(reach.least), int(reach.greatest))}
    assert marked == set(run.places)
    assert chart.curves[-1].y == pytest.approx((LEAST, LEAST))
    metric = peel_run_chart(run, "adhesive", "metric")
    assert metric.curves[-1].y == pytest.approx((LEAST * POUND_AN_INCH / 1000.0,) * 2)
