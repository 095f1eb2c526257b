"""The best sets of a batch: exact, conditions kept, nothing that fails formed, leftovers explained."""

import dataclasses
import itertools
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.drawing.rotor import HandleBand
from bladewright.errors import BadInput, OutsideValidity, SeveralBadInputs
from bladewright.figures import Outcome
from bladewright.pairing.judging import fails, judged
from bladewright.pairing.match import best_sets
from bladewright.pairing.records import Candidate, Matching
from tests.pairing.invented_blades import BALANCE, BAND, LIMITS, POCKETS, TRACK, WEIGHING, blade, terms

TERMS = terms()


def matched(*blades: Candidate, size: int = 2) -> Matching:
    return best_sets(
        blades,
        LIMITS,
        size=size,
        pockets=POCKETS,
        balance=BALANCE,
        weighing=WEIGHING,
        handle_band=BAND,
        friction=8.0,
        track=TRACK,
    )


def serials(matching: Matching) -> list[tuple[str, ...]]:
    return [one.serials for one in matching.sets]


def scattered(n: int, seed: int) -> tuple[Candidate, ...]:
    chance = np.random.default_rng(seed)
    return tuple(
        blade(
            f"B{i:02d}",
            span_moment=chance.normal(0.0, 0.02),
            chordwise_centre=chance.normal(0.0, 2.5e-4),
            section_moment=chance.normal(0.0, 4e-4),
            effective_pitch=chance.normal(0.0, 7e-4),
            handle_force=chance.normal(5.0, 1.0),
        )
        for i in range(n)
    )


def every_way(free: tuple[Candidate, ...], size: int) -> list[tuple[int, float]]:
    """Sets formed and their cost, every set judged whole, trim weight counted."""
    if len(free) < size:
        return [(0, 0.0)]
    first, rest = free[0], free[1:]
    ways = every_way(rest, size)
    for mates in itertools.combinations(rest, size - 1):
        one = judged((first, *mates), TERMS)
        if not fails(one):
            left = tuple(other for other in rest if other not in mates)
            ways += [(n + 1, cost + one.cost) for n, cost in every_way(left, size)]
    return ways


@pytest.mark.parametrize(("n", "size", "seed"), [(6, 2, 1), (7, 2, 2), (7, 2, 5), (6, 3, 3), (7, 3, 4), (8, 4, 6)])
def test_best_of_every_possibility_with_trim_weight_counted(n: int, size: int, seed: int) -> None:
    blades = scattered(n, seed)
    found = matched(*blades, size=size)
    ways = every_way(blades, size)
    most = max(count for count, _ in ways)
    assert len(found.sets) == most
    assert found.total_cost == pytest.approx(min(c for count, c in ways if count == most), rel=1e-6)
    assert len(found.sets) * size + len(found.leftovers) == n


def test_nothing_that_fails_is_ever_formed() -> None:
    for one in matched(*scattered(15, 7)).sets:
        assert not fails(one)


def test_order_of_the_batch_changes_nothing() -> None:
    blades = scattered(9, 8)
    assert matched(*reversed(blades)) == matched(*blades)


def test_most_blades_first_even_when_dearer() -> None:
    # in section moment C 0.0005, A 0.00134, B 0.00136, D 0.0022: only C-A, A-B and B-D are within 0.0010.
    # A-B alone costs 0.02; C-A and B-D cost 0.84 each, and leave nobody over
    place = {"C": 0.0005, "A": 0.00134, "B": 0.00136, "D": 0.0022}
    found = matched(*(blade(name, section_moment=moment) for name, moment in place.items()))
    assert serials(found) == [("A", "C"), ("B", "D")]
    assert found.total_cost == pytest.approx(1.68)


def test_conditions_hold_both_ways() -> None:
    bound = blade("A", only_with=("D",))
    free = [blade("B"), blade("C"), blade("D", section_moment=0.0008)]
    assert serials(matched(bound, *free)) == [("A", "D"), ("B", "C")]
    # D itself is bound to another: A has no allowed mate left
    found = matched(bound, *free[:2], dataclasses.replace(free[2], only_with=("C",)))
    assert ("A", "D") not in serials(found)
    (reason,) = [left.reason for left in found.leftovers if left.serial == "A"]
    assert "accepted only with D" in reason


def test_a_set_judged_against_its_conditions_fails() -> None:
    one = judged((blade("A", only_with=("D",)), blade("B")), TERMS)
    assert [finding.rule for finding in fails(one)] == ["mates: conditions"]


def test_the_odd_one_out_is_told_whom_it_could_fly_with() -> None:
    found = matched(blade("A"), blade("B"), blade("C", section_moment=0.0006))
    assert serials(found) == [("A", "B")]
    (left,) = found.leftovers
    assert left.serial == "C"
    assert left.reason.startswith("Odd one out")
    assert "A" in left.reason


def test_a_blade_without_a_mate_is_told_the_nearest_and_what_failed() -> None:
    found = matched(blade("A"), blade("B"), blade("C", section_moment=0.0015, effective_pitch=0.0001))
    (left,) = found.leftovers
    assert "nearest is A" in left.reason
    assert "section moment" in left.reason
    assert "0.0015" in left.reason
    assert "effective pitch" not in left.reason


def test_too_few_blades_is_said() -> None:
    (left,) = matched(blade("A")).leftovers
    assert "a set needs 2" in left.reason
    assert matched() == Matching((), (), 0.0, matched(blade("A")).method)
    assert len(matched(blade("A"), blade("B"), size=3).leftovers) == 2


def test_eleven_blades_give_five_pairs_and_one_left() -> None:
    found = matched(*[blade(f"N{i:02d}") for i in range(11)])
    assert (len(found.sets), len(found.leftovers)) == (5, 1)
    assert found.method.startswith("exact")


@settings(max_examples=15, deadline=None)
@given(seed=st.integers(0, 10_000), hidden=st.integers(0, 5))
def test_hiding_a_value_never_makes_a_pass(seed: int, hidden: int) -> None:
    blades = list(scattered(6, seed))
    blades[hidden] = dataclasses.replace(blades[hidden], section_moment=None)
    for one in matched(*blades).sets:
        if blades[hidden].serial in one.serials:
            outcome = {f.rule: f.outcome for f in one.findings}["mates: section moment"]
            assert outcome is Outcome.MISSING
            assert one.cost >= 1.0


def test_what_is_not_known_costs_as_much_as_the_whole_limit() -> None:
    one = judged((blade("A", effective_pitch=None), blade("B")), TERMS)
    assert one.cost == pytest.approx(1.0)


def test_bad_batches_are_refused_whole() -> None:
    with pytest.raises(BadInput) as twice:
        matched(blade("A"), blade("A"))
    assert (twice.value.field, twice.value.value) == ("serial", "A")
    with pytest.raises(SeveralBadInputs) as several:
        matched(blade("A", span_moment=math.nan), blade("B", chordwise_uncertainty=-1e-5))
    assert [e.fields()["field"] for e in several.value.errors] == ["span_moment", "chordwise_uncertainty"]
    with pytest.raises(OutsideValidity) as size:
        matched(blade("A"), blade("B"), size=5)
    assert (size.value.field, size.value.value) == ("size", 5)
    with pytest.raises(OutsideValidity) as many:
        matched(*scattered(25, 1), size=3)
    assert (many.value.field, many.value.value) == ("candidates", 25)


def test_terms_that_cannot_be_are_refused() -> None:
    with pytest.raises(SeveralBadInputs) as caught:
        best_sets(
            (blade("A"), blade("B")),
            LIMITS.model_copy(update={"span_moment": 0.0, "track": -0.003}),
            pockets=(POCKETS[0].model_copy(update={"greatest": -0.001}), POCKETS[1].model_copy(update={"radius": 0.0})),
            balance=dataclasses.replace(BALANCE, mass=0.0),
            handle_band=HandleBand.model_construct(least=5.0, greatest=-5.0),
            friction=-1.0,
        )
    assert [error.fields()["field"] for error in caught.value.errors] == [
        "limits.match, span moment",
        "limits.match, track",
        "balance.mass",
        "radius of pocket tip aft",
        "what pocket tip forward holds",
        "friction",
        "handle_band.least",
    ]
