"""What a fault took: in order with how bad it was, never a pass, and settled by nobody without the right to."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.drawing.cure_entries import CureBranch, CureKinetics, RateTerm
from bladewright.drawing.editing import with_values
from bladewright.drawing.file import BladeDrawing, parse_drawing, read_drawing
from bladewright.engine.cure.kelvin import GAS_CONSTANT
from bladewright.errors import BadInput, MissingInput, SeveralBadInputs
from bladewright.figures import Finding, Outcome
from bladewright.proof.cure_cost import CureCost
from bladewright.proof.cure_fault import CureFault, cost_of_fault
from bladewright.proof.second_dwell import second_dwell, time_needed

FM31 = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"
MINUTE = 60.0
DEAD = CureFault(zone=4, dead_after=40 * MINUTE)


@pytest.fixture(scope="module")
def fm31() -> BladeDrawing:
    return read_drawing(FM31)


@pytest.fixture(scope="module")
def dead(fm31: BladeDrawing) -> CureCost:
    return cost_of_fault(fm31, DEAD)


def changed(changes: dict[str, Any]) -> BladeDrawing:
    return parse_drawing(with_values(FM31.read_bytes(), changes), FM31.name)


def rule(cost: CureCost, name: str) -> Finding:
    (found,) = (finding for finding in cost.findings if finding.rule == f"cure cost: {name}")
    return found


def lowest(cost: CureCost) -> np.ndarray:
    return np.array([place.lowest.value for place in cost.places])


def test_a_zone_dead_forty_minutes_into_the_dwell_holds_the_blade_and_says_what_would_settle_it(dead: CureCost) -> None:
    assert dead.happened == "Zone 4's heater died 40 min into the dwell."
    assert dead.told.startswith("Not proven: hold the blade.")
    assert int(lowest(dead).argmin()) == 3
    assert [finding.outcome for finding in dead.findings] == [Outcome.REFER, Outcome.REFER]
    assert "retained coupon of the root end" in dead.settles[0]
    assert "design authority who did not make the part" in dead.authority
    asked, may_be = dead.would_speak
    assert asked.value > may_be.value  # degrees of cure in order, so are their glass transitions
    assert not asked.validated


def test_the_bounds_stand_in_order_and_the_dead_zone_lost_most(dead: CureCost) -> None:
    lost = []
    for place in dead.places:
        assert place.lowest.value < place.middle.value < place.highest.value
        assert place.lost is not None
        assert place.lost.value >= 0.0
        assert not place.lowest.validated
        assert place.lowest.inside_validity
        lost.append(place.lost.value)
    assert int(np.argmax(lost)) == 3
    assert int(np.argmin(lost)) in (2, 5)  # the tip is furthest


def test_earlier_is_worse_and_two_faults_are_worse_than_one(fm31: BladeDrawing, dead: CureCost) -> None:
    early = cost_of_fault(fm31, CureFault(zone=4, dead_after=10 * MINUTE))
    assert (lowest(early) <= lowest(dead)).all()
    assert lowest(early)[3] < lowest(dead)[3] - 1.0
    both = cost_of_fault(fm31, CureFault(zone=4, dead_after=10 * MINUTE, power_cut_after=20 * MINUTE))
    assert (lowest(both) < lowest(early)).all()


def test_a_power_cut_that_ended_is_better_than_one_that_did_not(fm31: BladeDrawing) -> None:
    for_good = cost_of_fault(fm31, CureFault(power_cut_after=20 * MINUTE))
    short = cost_of_fault(fm31, CureFault(power_cut_after=20 * MINUTE, power_cut_for=10 * MINUTE))
    assert (lowest(short) > lowest(for_good)).all()


def test_a_zone_three_kelvin_low_costs_its_own_film_most(fm31: BladeDrawing) -> None:
    low = cost_of_fault(fm31, CureFault(zone=2, low=3.0))
    lost = [place.lost.value for place in low.places if place.lost]
    assert int(np.argmax(lost)) == 1
    assert "3 K (5.4 degF)" in low.happened


@settings(max_examples=6, deadline=None)
@given(
    zone=st.integers(1, 6),
    dead_after=st.none() | st.floats(0.0, 80 * MINUTE),
    low=st.floats(0.1, 10.0),
    late=st.none() | st.floats(1.0, 7200.0),
    lost=st.none() | st.floats(0.0, 7200.0),
)
def test_no_fault_is_ever_a_pass(
    zone: int, dead_after: float | None, low: float, late: float | None, lost: float | None
) -> None:
    easy = changed(
        {"limits.cure.degree_of_cure_least": "1 %", "adhesive.kinetics.source": "x", "oven.source": "x"}
    )  # the easiest limit, every source
    told = CureFault(zone=zone, dead_after=dead_after, low=low, pressure_late=late, pressure_lost_after=lost)
    assert all(finding.outcome is not Outcome.PASS for finding in cost_of_fault(easy, told).findings)


def test_late_pressure_is_a_wetting_fault_that_no_cure_settles(fm31: BladeDrawing) -> None:
    late = cost_of_fault(fm31, CureFault(pressure_late=10 * MINUTE))
    wet = rule(late, "wetting")
    assert (wet.outcome, wet.deviable) == (Outcome.FAIL, False)
    again = rule(late, "second dwell")
    assert (again.outcome, again.deviable) == (Outcome.FAIL, False)
    assert late.told.startswith("Not settled by any degree of cure.")
    assert all(place.lost is not None and place.lost.value == 0.0 for place in late.places)  # heat was whole


def test_pressure_lost_after_every_film_gelled_is_referred_and_before_fails(fm31: BladeDrawing) -> None:
    assert rule(cost_of_fault(fm31, CureFault(pressure_lost_after=60 * MINUTE)), "wetting").outcome is Outcome.REFER
    assert rule(cost_of_fault(fm31, CureFault(pressure_lost_after=0.0)), "wetting").outcome is Outcome.FAIL


def test_without_a_gel_point_lost_pressure_counts_as_before_gel() -> None:
    text = FM31.read_text(encoding="utf-8").replace('gel = "45 %"\n', "", 1)
    found = cost_of_fault(parse_drawing(text.encode(), "x"), CureFault(pressure_lost_after=60 * MINUTE))
    assert rule(found, "wetting").outcome is Outcome.FAIL
    assert "not known" in rule(found, "wetting").sentence


def test_a_limit_nobody_entered_is_missing_and_one_out_of_reach_fails() -> None:
    text = FM31.read_text(encoding="utf-8").replace('degree_of_cure_least = "93 %"\n', "", 1)
    bare = cost_of_fault(parse_drawing(text.encode(), "x"), DEAD)
    assert rule(bare, "degree of cure").outcome is Outcome.MISSING
    assert "limits.cure.degree_of_cure_least" in bare.missing[0].needs
    hard = cost_of_fault(changed({"limits.cure.degree_of_cure_least": "99.9 %"}), DEAD)
    assert rule(hard, "degree of cure").outcome is Outcome.FAIL
    assert hard.told.startswith("No: ")


N_ORDER = {"prefactor": 2.6e7, "energy": 80e3}


def first_order(**more: Any) -> CureKinetics:
    """Invented: one first-order term, so that a dwell has a closed form."""
    term = RateTerm.model_construct(power=0.0, **N_ORDER)
    branch = CureBranch.model_construct(terms=(term,), order=1.0, upto=1.0, ceiling=1.0, ceiling_order=0.0)
    permitted: dict[str, Any] = {"second_dwell_longest": 3600.0, "second_dwell_source": "maker"}
    return CureKinetics.model_construct(
        adhesive="x", branches=(branch,), diffusion=None, delivered=0.0, **(permitted | more)
    )


def test_the_second_dwell_takes_the_time_of_the_closed_form(fm31: BladeDrawing) -> None:
    limits = fm31.limits.cure
    assert limits is not None
    ends, pace, sensor = np.full((59, 6), 0.80), np.full((59, 1), 0.5), 0.5
    cold = limits.target - limits.below - sensor
    rate = 0.5 * N_ORDER["prefactor"] * np.exp(-N_ORDER["energy"] / GAS_CONSTANT / cold)
    found = time_needed(first_order(), ends, pace, limits, sensor)
    assert found == pytest.approx(np.log(0.20 / 0.07) / rate, rel=1e-7)
    assert time_needed(first_order(), np.full((59, 6), 0.95), pace, limits, sensor) == 0.0


def test_who_permits_a_second_dwell_is_asked_before_how_long() -> None:
    assert second_dwell(600.0, first_order(second_dwell_longest=None), None, True).outcome is Outcome.MISSING
    assert second_dwell(600.0, first_order(), None, True).outcome is Outcome.REFER
    assert second_dwell(4000.0, first_order(), None, True).outcome is Outcome.FAIL
    assert second_dwell(None, first_order(), None, True).outcome is Outcome.MISSING
    assert second_dwell(0.0, first_order(), None, True).outcome is Outcome.REFER


@pytest.mark.parametrize(
    ("make", "field"),
    [
        (lambda: CureFault(), "fault"),
        (lambda: CureFault(dead_after=1.0), "zone"),
        (lambda: CureFault(zone=3), "zone"),
        (lambda: CureFault(zone=7, dead_after=1.0), "zone"),
        (lambda: CureFault(zone=0, low=1.0), "zone"),
        (lambda: CureFault(zone=1, low=-1.0), "low"),
        (lambda: CureFault(power_cut_for=60.0), "power_cut_after"),
        (lambda: CureFault(pressure_late=60.0, power_cut_for=60.0), "power_cut_after"),
        (lambda: CureFault(power_cut_after=1.0, power_cut_for=0.0), "power_cut_for"),
        (lambda: CureFault(zone=1, dead_after=float("nan")), "dead_after"),
    ],
)
def test_a_fault_that_cannot_be_is_refused_by_field(make: Callable[[], CureFault], field: str) -> None:
    with pytest.raises(BadInput) as refused:
        make()
    assert refused.value.field == field


@pytest.mark.parametrize("gone", ["adhesive", "oven", "schedule"])
def test_what_is_not_entered_is_named(fm31: BladeDrawing, gone: str) -> None:
    with pytest.raises(BadInput) as missing:
        cost_of_fault(fm31.model_copy(update={gone: None}), DEAD)
    errors = missing.value.errors if isinstance(missing.value, SeveralBadInputs) else (missing.value,)
    assert all(isinstance(error, MissingInput) for error in errors)
    assert any((error.field or "").startswith(gone) for error in errors)


def test_a_schedule_that_has_no_dwell_even_without_a_fault_is_refused() -> None:
    with pytest.raises(BadInput) as never:
        cost_of_fault(changed({"schedule.target": "240 degF"}), DEAD)
    assert never.value.field == "schedule.dwell"


@pytest.mark.parametrize("changes", [{"schedule.dwell": "1 s"}, {"schedule.target": "900 degF"}])
def test_forty_minutes_into_a_dwell_that_is_shorter_is_refused(changes: dict[str, str]) -> None:
    with pytest.raises(BadInput) as after:
        cost_of_fault(changed(changes), DEAD)
    assert after.value.field == "dead_after"
    assert after.value.allowed
