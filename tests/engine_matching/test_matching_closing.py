"""Balance weights by hand: two pockets, two equations. Closed form; no source needed."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.matching.closing import BEYOND, Target, closing_weights, closing_weights_of_each, reach
from bladewright.errors import BadInput

FREE = np.full(2, 1e9)


def target(stands: list[float], per_mass: list[float], limit: float, close: bool = True) -> Target:
    bound = np.full(len(stands), 1e9)
    place = np.array(stands) / limit
    return Target(place, place if close else np.zeros(len(stands)), np.array(per_mass) / limit, -bound, bound)


def test_two_pockets_close_span_and_chord_as_two_equations_say() -> None:
    # 3.45 f + 3.40 a = 13.5 g m and 20 f - 35 a = 60 g mm: f = 3.5841 g, a = 0.3338 g, all in the light blade
    span = target([0.0, 0.0135], [3.45, 3.40], 0.010)
    chord = target([0.0, 0.060], [20.0, -35.0], 0.5)
    mass = closing_weights((span, chord), np.array([0.060, 0.040]))
    f, a = np.linalg.solve([[3.45, 3.40], [20.0, -35.0]], [0.0135, 0.060])
    assert mass == pytest.approx(np.array([[f, a], [0.0, 0.0]]), abs=1e-8)
    assert mass[0] * 1e3 == pytest.approx([3.5841, 0.3338], abs=5e-5)


def test_the_outermost_pocket_needs_least() -> None:
    # the same moment at the tip takes 3.9130 g, at 0.310 m 43.55 g
    one = target([0.0, 0.0135], [0.310, 3.450], 0.010)
    assert closing_weights((one,), np.array([0.1, 0.1]))[0] * 1e3 == pytest.approx([0.0, 3.9130], abs=5e-4)
    inner = target([0.0, 0.0135], [0.310], 0.010)
    assert closing_weights((inner,), np.array([0.1]))[0, 0] * 1e3 == pytest.approx(43.55, abs=5e-3)


def test_a_full_pocket_leaves_the_rest_open() -> None:
    one = target([0.0, 0.100], [3.5], 0.010)
    assert closing_weights((one,), np.array([0.010])) == pytest.approx(np.array([[0.010], [0.0]]), abs=1e-9)


def test_a_chordwise_difference_alone_is_closed_from_both_sides_without_touching_span() -> None:
    # forward in one, aft in the other, at one radius: (20 + 35) m = 0.055 gives m = 1 g in each
    span = target([0.0, 0.0], [3.5, 3.5], 0.010, close=False)
    chord = target([0.0, 0.055], [20.0, -35.0], 0.5)
    mass = closing_weights((span, chord), np.array([0.060, 0.040]))
    assert mass * 1e3 == pytest.approx(np.array([[1.0, 0.0], [0.0, 1.0]]), abs=1e-4)


def test_a_finished_blade_stays_within_its_own_limit() -> None:
    # one blade may gain 0.0035 kg m and no more, whatever its mate has
    place = np.array([0.0, 1.35])
    one = Target(place, place, np.array([350.0]), np.full(2, -9.0), np.array([0.35, 9.0]))
    assert closing_weights((one,), np.array([0.060]))[0, 0] == pytest.approx(0.001, abs=1e-9)


@settings(max_examples=30, deadline=None)
@given(
    stands=st.lists(st.floats(-0.05, 0.05), min_size=2, max_size=4),
    chord=st.lists(st.floats(-0.5, 0.5), min_size=4, max_size=4),
    close=st.booleans(),
)
def test_weights_fit_and_never_drive_blades_apart(stands: list[float], chord: list[float], close: bool) -> None:
    n = len(stands)
    targets = (target(stands, [3.5, 3.3], 0.010), target(chord[:n], [-2.0, 3.0], 0.4, close))
    greatest = np.array([0.060, 0.040])
    mass = closing_weights(targets, greatest)
    assert (mass >= 0.0).all()
    assert (mass <= greatest + 1e-12).all()

    def left(after: bool) -> float:
        """Widest differences of what is to be closed, and dearly whatever any quantity is wider than its limit."""
        total = 0.0
        for one in targets:
            change = mass @ one.per_mass if after else np.zeros(n)
            total += float(np.ptp(one.told + change)) if np.ptp(one.told) else 0.0
            total += BEYOND * max(float(np.ptp(one.stands + change)) - 1.0, 0.0)
        return total

    assert left(after=True) <= left(after=False) + 1e-5


def test_a_set_that_some_weight_lets_fly_is_not_lost_to_closing_one_quantity_first() -> None:
    # the heavy blade may gain no span moment. Closing span takes 6 g, and with the one pocket 20 mm forward that drives
    # the centres 0.12 + 0.42 apart, beyond 0.5; 4 g leave span at 0.007 of 0.010 and the centres at 0.5
    held = np.array([0.021, 0.0]) / 0.010
    span = Target(held, held, np.array([350.0]), np.full(2, -9.0), np.array([2.1, 9.0]))
    place = np.array([0.42, 0.0]) / 0.5
    chord = Target(place, np.zeros(2), np.array([-20.0 / 0.5]), np.full(2, -9.0), np.full(2, 9.0))
    mass = closing_weights((span, chord), np.array([0.060]))
    assert mass[1, 0] == pytest.approx(0.004, abs=1e-6)
    assert mass[0, 0] == pytest.approx(0.0, abs=1e-9)


def test_reach_fills_the_pocket_that_moves_most_for_its_span_moment_first() -> None:
    # room for 0.0070 kg m: 1 g in the pocket of 30 mm at 3.0 m uses 0.003, the rest 0.004 at 4.0 m is 1 g of 20 mm
    free = np.full(1, np.inf)
    one = Target(np.zeros(1), np.zeros(1), np.array([30.0, 20.0]), -free, free)
    low, high = reach(one, np.array([3.0, 4.0]), np.array([0.007]), np.array([0.001, 0.002]))
    assert (low[0], high[0]) == pytest.approx((0.0, 0.050))


@settings(max_examples=30, deadline=None)
@given(room=st.floats(0.0, 0.3), arms=st.lists(st.floats(-30.0, 30.0), min_size=2, max_size=2))
def test_nothing_weight_does_is_out_of_reach(room: float, arms: list[float]) -> None:
    radii, greatest, free = np.array([3.5, 3.3]), np.array([0.060, 0.040]), np.full(1, np.inf)
    one = Target(np.zeros(1), np.zeros(1), np.array(arms), -free, free)
    low, high = reach(one, radii, np.array([room]), greatest)
    for mass in np.random.default_rng(1).uniform(0.0, 1.0, (40, 2)) * greatest:
        if mass @ radii <= room:
            assert low[0] - 1e-12 <= mass @ one.per_mass <= high[0] + 1e-12


def test_nothing_to_close_is_refused() -> None:
    with pytest.raises(BadInput) as caught:
        closing_weights((target([0.0, 1.0], [3.5], 0.01),), np.array([-0.001]))
    assert caught.value.field == "greatest"


@settings(max_examples=25, deadline=None)
@given(
    st.lists(st.tuples(st.floats(-0.05, 0.05), st.floats(-0.05, 0.05), st.floats(-1.0, 1.0)), min_size=1, max_size=6)
)
def test_many_sets_at_once_come_out_as_each_alone(sets: list[tuple[float, float, float]]) -> None:
    """They share no blade, so the least of their sum is the sum of their least."""
    held = np.array([0.060, 0.040])
    asked = [
        (target([a, b], [3.45, 3.40], 0.010), target([0.0, c], [20.0, -35.0], 0.5)) for a, b, c in sets
    ]  # arms that differ, so that one least mass is divided in one way only
    for wanted, found in zip(asked, closing_weights_of_each(asked, held), strict=True):
        assert found == pytest.approx(closing_weights(wanted, held), abs=1e-6)


def test_no_set_at_all_asks_for_no_weight() -> None:
    assert closing_weights_of_each((), FREE) == ()
