"""Every two blades as mates: the table is symmetric, its order means nothing, and each cell is the set judged whole."""

import itertools
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.figures import Outcome
from bladewright.pairing.judging import judged
from bladewright.pairing.pairs import Pair, PairWord, Row, nearest, pairs, square, used
from bladewright.pairing.records import Candidate
from tests.pairing.invented_blades import blade, finding, terms
from tests.pairing.test_best_sets import scattered

TERMS = terms()


def cells(rows: tuple[Row, ...]) -> dict[tuple[str, str], Pair]:
    """Row and column of each cell of a square table."""
    order = [row.serial for row in rows]
    return {(row.serial, other): pair for row in rows for other, pair in zip(order, row.pairs, strict=True) if pair}


def one_pair(one: Candidate, other: Candidate) -> Pair:
    (found,) = pairs([(one, other)], TERMS).values()
    return found


@settings(max_examples=10, deadline=None)
@given(seed=st.integers(0, 10_000))
def test_the_table_is_symmetric_and_only_a_blade_with_itself_is_empty(seed: int) -> None:
    rows = square(scattered(6, seed), TERMS)
    found = cells(rows)
    assert set(found) == set(itertools.permutations([row.serial for row in rows], 2))
    assert all(found[one, other] == found[other, one] for one, other in found)
    assert all(pair.serials == tuple(sorted(at)) for at, pair in found.items())


def test_the_order_the_blades_are_named_in_changes_nothing() -> None:
    blades = list(scattered(7, 3))
    before = square(blades, TERMS)
    random.Random(1).shuffle(blades)
    assert square(blades, TERMS) == before


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_each_cell_says_what_the_set_judged_whole_says(seed: int) -> None:
    """Many sets share one programme for their trim weights; each comes out as it does alone."""
    blades = scattered(8, seed)
    found = cells(square(blades, TERMS))
    words = {
        Outcome.PASS: "passes",
        Outcome.REFER: "refers",
        Outcome.MISSING: "cannot be judged",
        Outcome.FAIL: "fails",
    }
    for one, other in itertools.combinations(blades, 2):
        alone, cell = judged((one, other), TERMS), found[one.serial, other.serial]
        assert cell.word == words[alone.outcome]
        assert cell.cost == alone.cost
        assert sum(weight.mass for weight in cell.trim) == pytest.approx(sum(w.mass for w in alone.trim), abs=2e-4)


def test_the_nearest_mates_are_those_that_cost_least_of_what_may_be_formed() -> None:
    blades = scattered(20, 5)
    every = cells(square(blades, TERMS))
    for row in nearest(blades, TERMS, 4):
        near = [pair.cost for pair in row.pairs if pair and pair.governing.outcome is not Outcome.FAIL]
        assert near == sorted(near)
        formed = [pair.cost for at, pair in every.items() if at[0] == row.serial and pair.word is not PairWord.FAILS]
        assert near[:1] == [min(formed)] if near else True


def test_some_rows_are_the_same_rows() -> None:
    blades = scattered(20, 6)
    whole = nearest(blades, TERMS, 3)
    assert nearest(blades, TERMS, 3, first=5, rows=4) == whole[5:9]
    assert nearest(blades, TERMS, 3, first=18, rows=4) == whole[18:]


def test_what_decides_is_of_the_worst_outcome_and_nearest_its_limit() -> None:
    # 0.0009 +/- 0.00014 of 0.0010 refers; 0.017 +/- 0.016 deg of 0.10, and 2.1 +/- 0.6 mm of 3 in track, pass
    cell = one_pair(blade("A", section_moment=0.0009, effective_pitch=0.0003), blade("B"))
    assert (cell.word, cell.governing.outcome) == (PairWord.REFERS, Outcome.REFER)
    assert cell.quantity == "section moment"
    assert cell.used == pytest.approx(0.9)
    assert "90 %" in cell.told


def test_a_fail_decides_whatever_else_is_near() -> None:
    cell = one_pair(blade("A", section_moment=0.0009, handle_force=8.0), blade("B"))
    assert (cell.word, cell.quantity) == (PairWord.FAILS, "handle force, one blade's share")
    assert cell.used == pytest.approx(2.0)


def test_a_blade_accepted_for_another_mate_says_so() -> None:
    bound = blade("A", only_with=("C",))
    assert one_pair(bound, blade("B")).word is PairWord.BOUND
    assert one_pair(bound, blade("C")).word is not PairWord.BOUND
    (row, *_) = square((bound, blade("B")), TERMS)
    assert row.only_with == ("C",)


def test_what_is_not_known_is_never_a_pass() -> None:
    assert one_pair(blade("A", effective_pitch=None), blade("B")).word is PairWord.UNKNOWN


def test_the_band_is_used_from_its_middle_outward() -> None:
    # -9 to 22 N: the middle is 6.5 N and half of it 15.5 N; two shares of 4 N are 8 N
    one = judged((blade("A"), blade("B")), TERMS)
    assert used(finding(one, "set: handle force"), TERMS) == pytest.approx(1.5 / 15.5)


def test_one_who_is_alike_costs_nothing() -> None:
    cell = one_pair(blade("A"), blade("B"))
    assert (cell.cost, cell.mismatch, cell.alike, cell.trim) == (0.0, "0.00", "near", ())
