"""What a fault took, by drawn runs: bounds in order, no cost without a fault, and what is refused."""

import numpy as np
import pytest

from benchmarks.cure_reference import CONTROL, MINUTE, SCHEDULE
from benchmarks.cure_runs import drawn
from bladewright.engine.cure.dwell import dwell_to
from bladewright.engine.cure.fault_cost import FaultCost, fault_cost
from bladewright.engine.cure.faults import Fault, SensorOffset, ZoneDead
from bladewright.engine.cure.interior import film_temperature
from bladewright.engine.cure.kinetics import Branch, Kinetics, Term
from bladewright.engine.cure.simulate import simulate
from bladewright.errors import BadInput, MissingInput

#: invented: two hundredths left after 90 minutes at 121 degC
FILM = Kinetics((Branch((Term(2.6e7, 80e3),), 1.0),))
RUNS = 120


def cost(*faults: Fault, runs: int = RUNS) -> FaultCost:
    ovens, _ = drawn(runs, np.random.default_rng(2))
    bad, good = (simulate(ovens, SCHEDULE, CONTROL, each, step=60.0, every=1) for each in (faults, ()))
    bad_film, good_film = (film_temperature(each.mould, each.bondline) for each in (bad, good))
    pace = np.random.default_rng(3).lognormal(0.0, 0.1, (runs, 1))
    return fault_cost(FILM, bad.seconds, bad_film, good_film, 0.0, pace)


def test_a_zone_dead_in_the_dwell_costs_its_own_film_most() -> None:
    dead = cost(ZoneDead(4, 85.0 * MINUTE))
    assert dead.lost.argmax() == 3
    assert dead.lost[3] > 1.5 * dead.lost[0]  # the half above it keeps its own film warmer
    assert (dead.lowest <= dead.middle).all()
    assert (dead.middle <= dead.highest).all()
    assert (dead.lowest <= dead.lowest_without + 1e-6).all()
    assert dead.lost[3] > 3.0 * dead.lost[2]


def test_without_a_fault_nothing_is_lost() -> None:
    none = cost()
    np.testing.assert_array_equal(none.lost, 0.0)
    np.testing.assert_array_equal(none.lowest, none.lowest_without)


def test_earlier_and_larger_faults_cost_more() -> None:
    early, late = (cost(ZoneDead(5, minutes * MINUTE)) for minutes in (60.0, 110.0))
    assert (early.lost >= late.lost).all()
    assert early.lost[4] > 2.0 * late.lost[4]
    small, large = (cost(SensorOffset(2, kelvin)) for kelvin in (2.0, 4.0))
    assert large.lost[1] > small.lost[1] > 0.0


def test_a_further_dwell_brings_it_back() -> None:
    dead = cost(ZoneDead(4, 60.0 * MINUTE))
    needed = dwell_to(FILM, dead.lowest, 394.15, float(dead.lowest_without[0]), 7200.0)
    term = FILM.branches[0].terms[0].constant(np.array(394.15))
    exact = np.maximum(np.log((1.0 - dead.lowest) / (1.0 - dead.lowest_without[0])) / term, 0.0)
    np.testing.assert_allclose(needed, exact, rtol=1e-7)


def test_too_few_runs_or_unlike_ones_give_no_bound() -> None:
    with pytest.raises(MissingInput) as few:
        cost(ZoneDead(4, 60.0 * MINUTE), runs=58)
    assert (few.value.field, few.value.value) == ("values", 58)
    with pytest.raises(BadInput) as unlike:
        fault_cost(FILM, np.array([0.0, 60.0]), np.full((60, 3, 2), 300.0), np.full((60, 2, 2), 300.0), 0.0)
    assert unlike.value.field == "sound"
