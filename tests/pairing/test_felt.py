"""What hand, hub and cabin feel of a set, and a set tried beside the best. Worked by hand and by trying everything."""

import dataclasses
import itertools
import math

import pytest

from bladewright.engine.rotor.atmosphere import GRAVITY
from bladewright.figures import Figure, Outcome
from bladewright.pairing.beside import beside_the_best, felt_with_trim, shares_at_the_handle
from bladewright.pairing.felt import felt
from bladewright.pairing.judging import judged
from bladewright.pairing.records import Candidate
from bladewright.pairing.terms import Aircraft, Terms
from tests.pairing.invented_blades import BALANCE, TRACK, blade, terms
from tests.pairing.test_best_sets import every_way, scattered

AIRCRAFT = Aircraft(mass=480.0, tip=3.5, blades=2)
SPEED = 50.0  # [rad/s] as the invented terms have it
TERMS = terms(aircraft=AIRCRAFT)


def named(*blades: Candidate, held: Terms = TERMS) -> dict[str, Figure]:
    return {figure.name: figure for figure in felt(blades, held)}


def test_a_span_moment_unlike_shakes_the_hub() -> None:
    # 0.010 kg m at 50 rad/s is 25 N; U of each is 0.002 kg m, so 0.002 sqrt 2 W^2 = 7.07 N
    found = named(blade("A", span_moment=0.010), blade("B"))["force on the hub once a revolution, from span moment"]
    assert (found.value, found.unit) == (pytest.approx(25.0), "N")
    assert found.uncertainty == pytest.approx(0.002 * math.sqrt(2.0) * SPEED**2)


def test_centre_span_and_split_track_add_as_they_point() -> None:
    """By hand: outward ``dS W^2 - T dh / 2R`` and aft ``M dx W^2``, for the worse control run."""
    found = named(blade("A", span_moment=0.010, chordwise_centre=2e-4, effective_pitch=0.001), blade("B"))
    rise = TRACK.per_pitch * 0.001
    outward = 25.0 - 480.0 * GRAVITY * rise / (2.0 * 3.5)
    together = found["force on the hub once a revolution, all together"]
    assert together.value == pytest.approx(math.hypot(outward, BALANCE.mass * 2e-4 * SPEED**2))
    cabin = found["cabin once a revolution, at least"]
    assert cabin.value == pytest.approx(1e3 * together.value / (480.0 * SPEED))


def test_which_blade_is_named_first_changes_nothing() -> None:
    one, other = blade("A", span_moment=0.010, section_moment=0.0004), blade("B", effective_pitch=0.0003)
    assert {name: figure.value for name, figure in named(one, other).items()} == pytest.approx(
        {name: figure.value for name, figure in named(other, one).items()}
    )


def test_what_rests_on_an_unknown_value_is_left_out() -> None:
    found = named(blade("A", handle_force=None, chordwise_centre=None), blade("B"))
    assert "handle force of the set" not in found
    assert not [name for name in found if "chordwise" in name or "together" in name or "cabin" in name]
    assert "force on the hub once a revolution, from span moment" in found


def test_an_uncertainty_nobody_quantified_stays_so() -> None:
    found = named(blade("A", span_moment=0.01, chordwise_uncertainty=None), blade("B"))
    assert found["force on the hub once a revolution, all together"].uncertainty is None
    assert found["force on the hub once a revolution, from chordwise centre"].uncertainty is None


def test_three_blades_are_not_told_of_a_see_saw_hub() -> None:
    found = named(blade("A"), blade("B"), blade("C"))
    assert not [name for name in found if "together" in name]


def test_trim_weight_takes_the_shake_away() -> None:
    heavy, light = blade("A", span_moment=0.030), blade("B")
    one = judged((heavy, light), TERMS)
    name = "force on the hub once a revolution, from span moment"
    (after,) = [f for f in felt_with_trim((heavy, light), one, TERMS) if f.name == name]
    assert named(heavy, light)[name].value == pytest.approx(75.0)
    assert after.value < 2.0


def test_the_bars_add_up_to_the_set() -> None:
    bars = shares_at_the_handle((blade("A", handle_force=4.0), blade("B", handle_force=5.5)))
    assert bars is not None
    assert bars.rows == (("A", 4.0), ("B", 5.5), ("together", 9.5))
    assert shares_at_the_handle((blade("A", handle_force=None), blade("B"))) is None


def test_a_best_set_tried_is_known_as_one() -> None:
    blades = scattered(7, 2)
    best = beside_the_best(blades, [b.serial for b in blades[:2]], TERMS)
    again = beside_the_best(blades, best.best[0].serials, TERMS)
    assert again.is_best
    assert (again.sets_with, again.cost_with) == (again.sets_best, pytest.approx(again.cost_best))


@pytest.mark.parametrize("seed", [1, 4])
def test_what_becomes_of_the_others_is_the_best_of_every_way(seed: int) -> None:
    blades = scattered(7, seed)
    for one, other in itertools.combinations(blades, 2):
        found = beside_the_best(blades, (one.serial, other.serial), TERMS)
        rest = tuple(blade for blade in blades if blade not in (one, other))
        ways = every_way(rest, 2)
        most = max(count for count, _ in ways)
        flies = found.tried.outcome is not Outcome.FAIL
        assert found.sets_with == most + flies
        least = min(cost for count, cost in ways if count == most)
        assert found.rest.total_cost == pytest.approx(least, rel=1e-6)
        assert not set(found.tried.serials) & {s for some in found.rest.sets for s in some.serials}


def test_more_is_the_difference_of_what_is_felt() -> None:
    blades = (blade("A"), blade("B", section_moment=0.0001), blade("C", section_moment=0.0006))
    found = beside_the_best(blades, ("A", "C"), TERMS)
    (best,) = found.best
    assert best.serials == ("A", "B")
    for one in found.felt:
        ((figure, more),) = one.columns
        if one.tried is not None and figure is not None:
            assert more is not None
            assert more.value == pytest.approx(one.tried.value - figure.value)


def test_a_rotor_of_three_blades_says_nothing_of_two() -> None:
    three = dataclasses.replace(TERMS, aircraft=dataclasses.replace(AIRCRAFT, blades=3))
    assert not [name for name in named(blade("A"), blade("B"), held=three) if "together" in name]
