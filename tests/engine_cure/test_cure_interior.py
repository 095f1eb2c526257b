"""The bondline from logged mould temperatures: against the whole oven, steady ramps and limits."""

from dataclasses import replace

import numpy as np
import pytest

from benchmarks.cure_reference import CONTROL, MINUTE, SCHEDULE, USUAL
from benchmarks.cure_runs import drawn
from bladewright.engine.cure.faults import ZoneDead
from bladewright.engine.cure.interior import bondline_course, film_temperature
from bladewright.engine.cure.simulate import simulate
from bladewright.errors import BadInput, OutsideValidity, StationOrder


def test_a_logged_run_gives_back_the_bondline_of_the_whole_oven() -> None:
    ovens, dies = drawn(4, np.random.default_rng(8))
    runs = simulate(ovens, SCHEDULE, CONTROL, (ZoneDead(4, dies),), step=10.0, every=6)
    found = bondline_course(ovens, runs.seconds, np.swapaxes(runs.mould, 1, 2))
    # the mould bends between rows a minute apart; a fault and the start of a ramp are where it bends most
    np.testing.assert_allclose(np.swapaxes(found, 1, 2), runs.bondline, atol=0.05)


def test_on_a_steady_ramp_it_lags_by_what_it_takes_up() -> None:
    seconds, rate = np.arange(0.0, 3600.0, 60.0), 2.0 / 60.0
    mould = np.repeat((294.0 + rate * seconds)[:, None], 6, axis=1)
    even = replace(USUAL, bondline_capacity=np.array([1300.0]))
    lag = mould[-1, :3] - bondline_course(even, seconds, mould)[-1]
    np.testing.assert_allclose(lag, rate * 1300.0 / (2.0 * 12.0), rtol=1e-6)


def test_it_stays_between_the_coldest_and_the_hottest_mould() -> None:
    generator = np.random.default_rng(2)
    mould = 350.0 + 20.0 * generator.standard_normal((5, 40, 6))
    course = bondline_course(USUAL, 30.0 * np.arange(40), mould)
    assert course.min() >= mould.min()
    assert course.max() <= mould.max()
    begun = bondline_course(USUAL, 30.0 * np.arange(40), mould, 300.0)
    np.testing.assert_allclose(begun[:, 0], 300.0, rtol=1e-14)
    assert (begun[:, 1:] <= course[:, 1:]).all()


def test_a_silent_sensor_is_not_guessed() -> None:
    seconds, mould = MINUTE * np.arange(3), np.full((3, 6), 350.0)
    with pytest.raises(OutsideValidity) as silent:
        bondline_course(USUAL, seconds, np.where(np.eye(3, 6) > 0, np.nan, mould))
    assert silent.value.field == "mould"
    with pytest.raises(BadInput) as shape:
        bondline_course(USUAL, seconds, mould[:, :5])
    assert shape.value.field == "mould"
    with pytest.raises(StationOrder) as order:
        bondline_course(USUAL, seconds[::-1], mould)
    assert order.value.field == "seconds"


def test_under_a_dead_zone_the_film_of_that_half_is_the_colder() -> None:
    runs = simulate(USUAL, SCHEDULE, CONTROL, (ZoneDead(4, 70.0 * MINUTE),))
    worst, near, far = (film_temperature(runs.mould, runs.bondline, share) for share in (None, 0.0, 1.0))
    np.testing.assert_array_equal(near, runs.mould)
    np.testing.assert_array_equal(far[:, :3], far[:, 3:])
    np.testing.assert_array_equal(worst, np.minimum(near, far))
    dwell = runs.seconds == 100.0 * MINUTE
    assert (worst[0, 3, dwell] < far[0, 3, dwell] - 1.0).all()
    between = film_temperature(runs.mould, runs.bondline, 0.4)
    assert (worst <= between).all()
    with pytest.raises(BadInput) as wrong:
        film_temperature(runs.mould, runs.bondline, 1.1)
    assert (wrong.value.field, wrong.value.value) == ("share", 1.1)
