"""Cure along histories: closed forms, joints of branches, the start from nothing, and properties of any history."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from bladewright.engine.arrays import Floats
from bladewright.engine.cure.conversion import conversion
from bladewright.engine.cure.dwell import dwell_to
from bladewright.engine.cure.equivalent_time import equivalent_time
from bladewright.engine.cure.kinetics import Branch, Diffusion, Kinetics, Term, cure_rate
from bladewright.engine.cure.stepping import pair_step
from bladewright.errors import BadInput, OutsideValidity
from bladewright.selfcheck.isothermal_cures import AUTOCATALYTIC, SUM_OF_TWO
from bladewright.selfcheck.lee_loos_springer import LEVELS, MINUTE, TIMES, TWO_BRANCHES

SECONDS = 60.0 * np.arange(0.0, 181.0)
CURE = np.interp(SECONDS, 60.0 * np.array([0.0, 40.0, 130.0, 180.0]), [294.0, 394.0, 394.0, 330.0])
FIRST_ORDER = Kinetics((Branch((Term(3.0e7, 80e3),), 1.0),))
KINETICS = {"first order": FIRST_ORDER, "two branches": TWO_BRANCHES, "orders adding to two": SUM_OF_TWO}


def test_the_pair_has_the_order_it_claims() -> None:
    def missed(steps: int) -> float:
        state, step = np.array([1.0]), np.array([1.0 / steps])
        for number in range(steps):
            state, _ = pair_step(lambda x, y: y * np.cos(3.0 * x), number * step, state, step)
        return float(np.abs(state - np.exp(np.sin(3.0) / 3.0))[0])

    assert np.log2(missed(16) / missed(32)) == pytest.approx(5.0, abs=0.2)


@pytest.mark.parametrize("celsius", TIMES)
def test_published_times_lead_to_their_degree_of_cure(celsius: int) -> None:
    minutes = np.array(TIMES[celsius])
    cured = conversion(TWO_BRANCHES, MINUTE * np.array([0.0, *minutes]), np.full(6, celsius + 273.15), 0.0)
    np.testing.assert_allclose(cured[1:], LEVELS, atol=2e-6)  # times printed to four decimals


def test_one_step_of_the_logger_is_as_good_as_many_across_the_joint() -> None:
    held = np.full(2, 394.15)
    at_once = conversion(TWO_BRANCHES, np.array([0.0, 7200.0]), held, 0.0, tolerance=1e-9)[-1]
    in_samples = conversion(TWO_BRANCHES, np.linspace(0.0, 7200.0, 121), np.full(121, 394.15), 0.0, tolerance=1e-9)[-1]
    assert at_once == pytest.approx(in_samples, abs=1e-8)


def test_it_begins_anew_at_the_joint() -> None:
    # the exact course on either side of 0.3, by the other's integral: the time left at 0.3 is first order
    seconds = np.linspace(0.0, 4.0 * 3600.0, 61)
    cured = conversion(TWO_BRANCHES, seconds, np.full(61, 394.15), 0.0, tolerance=1e-10)
    joint = float(dwell_to(TWO_BRANCHES, np.array(0.0), 394.15, 0.3, np.inf))
    third = TWO_BRANCHES.branches[1].terms[0].constant(np.array(394.15))
    after = seconds > joint
    np.testing.assert_allclose(cured[after], 1.0 - 0.7 * np.exp(-third * (seconds[after] - joint)), atol=1e-9)


@pytest.mark.parametrize("name", KINETICS)
def test_a_whole_cure_is_what_another_solver_makes_of_it(name: str) -> None:
    kinetics = KINETICS[name]
    start = 1e-4
    ours = conversion(kinetics, SECONDS, CURE, start, tolerance=1e-9)[-1]

    def rate(time: float, state: Floats) -> Floats:
        kelvin = np.interp(time, SECONDS, CURE)
        branch = int(np.searchsorted(kinetics.joints, state[0], side="right"))
        return cure_rate(kinetics, state, kelvin, branch)

    theirs = solve_ivp(rate, (0.0, SECONDS[-1]), [start], rtol=1e-9, atol=1e-11, max_step=10.0).y[0, -1]
    assert ours == pytest.approx(theirs, abs=1e-6)


def test_first_order_is_equivalent_time() -> None:
    term = FIRST_ORDER.branches[0].terms[0]
    counted = equivalent_time(SECONDS, CURE, term.energy, 394.15)
    exact = 1.0 - np.exp(-term.constant(np.array(394.15)) * counted)
    np.testing.assert_allclose(conversion(FIRST_ORDER, SECONDS, CURE, 0.0), exact, atol=1e-6)


def test_error_follows_the_tolerance() -> None:
    exact = conversion(TWO_BRANCHES, SECONDS, CURE, 0.0, tolerance=1e-12)[-1]
    missed = [abs(conversion(TWO_BRANCHES, SECONDS, CURE, 0.0, tolerance=t)[-1] - exact) for t in (1e-4, 1e-6, 1e-8)]
    assert missed[0] < 1e-3
    assert missed[1] < 1e-5
    assert missed[2] < 1e-7


def test_the_quickest_moment_of_an_autocatalytic_cure() -> None:
    # fastest at a = (k2 - k1) / (2 k2); the time there in closed form
    slow, fast = 0.002 / 60.0, 0.15 / 60.0
    peak = (fast - slow) / (2.0 * fast)
    when = np.log((slow + fast * peak) / (slow * (1.0 - peak))) / (slow + fast)
    found = float(dwell_to(AUTOCATALYTIC, np.array(0.0), 394.15, peak, np.inf))
    assert (peak, when / 60.0) == (pytest.approx(0.49333, abs=1e-5), pytest.approx(28.4045, abs=1e-4))
    assert found == pytest.approx(when, rel=1e-8)


def test_nothing_comes_of_nothing_only_where_it_must() -> None:
    held = np.full(2, 450.0)
    assert conversion(SUM_OF_TWO, np.array([0.0, 3600.0]), held, 0.0)[-1] > 0.5
    stuck = Kinetics((Branch((Term(1.0, 0.0, power=1.2),), 1.0),))
    with pytest.raises(BadInput) as wrong:
        conversion(stuck, np.array([0.0, 3600.0]), held, 0.0)
    assert (wrong.value.field, wrong.value.value, wrong.value.allowed) == ("start", 0.0, "above 0")
    assert conversion(stuck, np.array([0.0, 3600.0]), held, 1e-3)[-1] > 0.5


def test_diffusion_stops_a_cold_cure_short() -> None:
    slowed = Kinetics(SUM_OF_TWO.branches, Diffusion(30.0, -1.5148, 5.171e-3))
    held = np.full(2, 394.15)
    week = np.array([0.0, 7 * 86400.0])
    assert conversion(SUM_OF_TWO, week, held, 0.0)[-1] > 0.98
    assert 0.52 < conversion(slowed, week, held, 0.0)[-1] < 0.8
    assert np.isnan(dwell_to(slowed, np.array(0.5), 394.15, 0.95, 7 * 86400.0))


@settings(max_examples=25, deadline=None)
@given(
    name=st.sampled_from(sorted(KINETICS)),
    temperatures=st.lists(st.floats(260.0, 460.0), min_size=3, max_size=6),
    start=st.floats(0.001, 0.6),
    pace=st.floats(0.5, 2.0),
)
def test_any_history_cures_onward_and_never_past_one(
    name: str, temperatures: list[float], start: float, pace: float
) -> None:
    seconds, history = 600.0 * np.arange(len(temperatures)), np.array(temperatures)
    cured = conversion(KINETICS[name], seconds, history, start)
    assert cured[0] == pytest.approx(start)
    assert (np.diff(cured) >= -1e-12).all()
    assert (cured <= 1.0).all()
    # a quicker film is a slower clock
    paced = conversion(KINETICS[name], seconds, history, start, pace)
    slowed = conversion(KINETICS[name], pace * seconds, history, start)
    np.testing.assert_allclose(paced, slowed, atol=1e-5)
    # a warmer or further cured one is never behind
    warmer = conversion(FIRST_ORDER, seconds, history + 5.0, start)
    assert (warmer >= conversion(FIRST_ORDER, seconds, history, start) - 1e-6).all()


def test_many_histories_at_once_are_each_alone() -> None:
    many = np.stack([CURE, CURE - 5.0, CURE + 3.0])[None].repeat(2, axis=0)
    together = conversion(TWO_BRANCHES, SECONDS, many, np.array([[0.0, 0.1, 0.29]] * 2))
    alone = conversion(TWO_BRANCHES, SECONDS, CURE - 5.0, 0.1)
    np.testing.assert_allclose(together[1, 1], alone, atol=1e-12)
    assert together.shape == many.shape


def test_a_dwell_is_the_way_back_of_a_cure() -> None:
    begun = np.array([0.0, 0.2, 0.5, 0.95])
    needed = dwell_to(TWO_BRANCHES, begun, 394.15, 0.9, 1e6)
    assert needed[-1] == 0.0
    for start, seconds in zip(begun[:3], needed[:3], strict=True):
        reached = conversion(TWO_BRANCHES, np.array([0.0, seconds]), np.full(2, 394.15), start)[-1]
        assert reached == pytest.approx(0.9, abs=1e-6)
    assert np.isnan(dwell_to(TWO_BRANCHES, begun, 394.15, 0.9, 60.0)[:3]).all()


def test_a_cure_that_never_ends_does_not_blur_one_that_does() -> None:
    slowed = Kinetics(SUM_OF_TWO.branches, Diffusion(60.0, -1.5148, 5.171e-3))
    alone = float(dwell_to(slowed, np.array(0.1), 394.15, 0.3, 1e9))
    assert dwell_to(slowed, np.array([0.1, 0.0]), 394.15, 0.3, 1e9)[0] == alone
    stopped = Kinetics((Branch((Term(1e-3, 0.0),), 1.0, 0.5, 0.5000001, 1.0), Branch((Term(1e-3, 0.0),), 1.0)))
    assert np.isnan(dwell_to(stopped, np.array(0.0), 394.15, 0.9, 60.0))


@pytest.mark.parametrize(
    ("branches", "field"),
    [
        ((), "upto"),
        ((Branch((Term(1.0, 0.0),), 1.0, upto=0.5),), "upto"),
        ((Branch((Term(1.0, 0.0),), 1.0, upto=0.5), Branch((Term(1.0, 0.0),), 1.0, upto=0.4)), "upto"),
        ((Branch((), 1.0),), "terms"),
        ((Branch((Term(1.0, 0.0, power=-0.5),), 1.0),), "power"),
        ((Branch((Term(1.0, 0.0),), -1.0),), "order, ceiling_order or ceiling"),
        ((Branch((Term(1.0, 0.0),), 1.0, ceiling=0.5, ceiling_order=1.0),), "order, ceiling_order or ceiling"),
        (
            (Branch((Term(1.0, 0.0),), 1.0, 0.5, ceiling=0.5, ceiling_order=1.0), Branch((Term(1.0, 0.0),), 1.0)),
            "order, ceiling_order or ceiling",
        ),
    ],
)
def test_a_form_that_cannot_be_is_refused(branches: tuple[Branch, ...], field: str) -> None:
    with pytest.raises(BadInput) as wrong:
        Kinetics(branches)
    assert wrong.value.field == field


@pytest.mark.parametrize("start", [-0.1, 1.0, np.nan])
def test_a_start_that_cannot_be_is_refused(start: float) -> None:
    with pytest.raises(BadInput) as wrong:
        conversion(FIRST_ORDER, SECONDS, CURE, start)
    assert wrong.value.field == "start"
    with pytest.raises(BadInput) as begun:
        dwell_to(FIRST_ORDER, np.array(start), 394.0, 0.9, 60.0)
    assert begun.value.field == "begun"


def test_a_reading_that_is_missing_is_refused() -> None:
    history = CURE.copy()
    history[4] = np.nan
    with pytest.raises(OutsideValidity) as wrong:
        conversion(FIRST_ORDER, SECONDS, history, 0.0)
    assert (wrong.value.field, wrong.value.row) == ("temperature", 5)


@pytest.mark.parametrize("order", [0.0, 0.5])
def test_a_form_that_ends_ends_at_one(order: float) -> None:
    # (1 - a)**(1 - n) falls straight with time and is gone after 1 / (k (1 - n))
    kinetics = Kinetics((Branch((Term(1e-3, 0.0),), order),))
    seconds = np.linspace(0.0, 3000.0, 31)
    exact = 1.0 - np.maximum(1.0 - 1e-3 * (1.0 - order) * seconds, 0.0) ** (1.0 / (1.0 - order))
    np.testing.assert_allclose(conversion(kinetics, seconds, np.full(31, 394.0), 0.0), exact, atol=1e-5)


def test_a_cold_film_does_not_uncure() -> None:
    # the published form goes below zero there
    cold = conversion(TWO_BRANCHES, np.array([0.0, 30 * 86400.0]), np.full(2, 250.0), 0.29)
    assert cold[-1] == pytest.approx(0.29, abs=1e-9)
