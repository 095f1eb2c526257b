"""Bodies that were not read, between those that were: closed forms, and the bondline of a whole log."""

import numpy as np
import pytest

from benchmarks.cure_reference import ROOM, USUAL
from bladewright.engine.arrays import Floats
from bladewright.engine.cure.driven import driven_course
from bladewright.engine.cure.interior import bondline_course
from bladewright.engine.cure.network import HeatNetwork
from bladewright.engine.cure.oven import BODIES, BONDLINE, MOULD, oven_network
from bladewright.errors import BadInput, StationOrder

NAN = np.nan
#: three in a row: given, free, given
ROW = HeatNetwork(
    np.array([1.0, 900.0, 1.0]),
    np.array([[0.0, 4.0, 0.0], [4.0, 0.0, 2.0], [0.0, 2.0, 0.0]]),
    np.array([0.0, 1.0, 0.0]),
)


def between(seconds: Floats, left: Floats, right: Floats, start: float, ambient: float) -> Floats:
    known = np.stack([left, np.full(len(seconds), NAN), right], axis=-1)
    return driven_course(ROW, seconds, known, np.full(3, start), ambient)[:, 1]


def test_a_free_body_nears_its_surroundings_by_one_exponential() -> None:
    seconds = np.array([0.0, 10.0, 60.0, 61.0, 900.0])
    ends = (4.0 * 400.0 + 2.0 * 340.0 + 1.0 * 300.0) / 7.0
    found = between(seconds, np.full(5, 400.0), np.full(5, 340.0), 295.0, 300.0)
    np.testing.assert_allclose(found, ends + (295.0 - ends) * np.exp(-seconds * 7.0 / 900.0), rtol=1e-12)


def test_on_a_steady_ramp_it_stays_behind_by_capacity_over_conductance() -> None:
    seconds = np.linspace(0.0, 7200.0, 121)
    rise = 0.02  # [K/s]
    net = HeatNetwork(ROW.capacity, ROW.between, np.zeros(3))
    known = np.stack([300.0 + rise * seconds, np.full(121, NAN), 300.0 + rise * seconds], axis=-1)
    found = driven_course(net, seconds, known, np.full(3, 300.0), 300.0)[:, 1]
    np.testing.assert_allclose(known[-1, 0] - found[-1], rise * 900.0 / 6.0, rtol=1e-9)


def test_where_the_whole_mould_was_read_the_bondline_is_that_of_the_log() -> None:
    seconds = np.cumsum(np.array([0.0, *[60.0] * 40, *[37.0] * 40]))
    generator = np.random.default_rng(5)
    mould = 294.0 + np.cumsum(generator.uniform(0.0, 2.0, (81, 6)), axis=0)
    known = np.full((81, BODIES), NAN)
    known[:, MOULD] = mould
    known[:, :6] = mould
    begun = np.full(BODIES, 294.0)
    ours = driven_course(oven_network(USUAL), seconds, known, begun, ROOM)
    np.testing.assert_allclose(ours[:, BONDLINE], bondline_course(USUAL, seconds, mould, 294.0), rtol=1e-12)
    np.testing.assert_array_equal(ours[:, MOULD], mould)


def test_readings_that_come_back_are_believed_again() -> None:
    seconds = 60.0 * np.arange(5)
    known = np.stack([np.full(5, 400.0), np.array([350.0, NAN, NAN, 380.0, 381.0]), np.full(5, 340.0)], axis=-1)
    found = driven_course(ROW, seconds, known, np.full(3, 350.0), 300.0)[:, 1]
    assert found[[0, 3, 4]].tolist() == [350.0, 380.0, 381.0]
    ends = (4.0 * 400.0 + 2.0 * 340.0 + 300.0) / 7.0
    np.testing.assert_allclose(found[1], ends + (350.0 - ends) * np.exp(-60.0 * 7.0 / 900.0), rtol=1e-12)


def test_many_ovens_at_once_are_each_as_alone() -> None:
    seconds = 60.0 * np.arange(30)
    known = np.full((30, BODIES), NAN)
    known[:, MOULD] = 294.0 + seconds[:, None] * np.linspace(0.01, 0.03, 6)
    known[10:, MOULD.start + 3] = NAN  # zone 4
    begun = np.full(BODIES, 294.0)
    network = oven_network(USUAL)
    scale = np.array([0.8, 1.0, 1.3])
    between, loss = (np.stack([part] * 3) for part in (network.between, network.to_ambient))
    many = HeatNetwork(scale[:, None] * network.capacity, between, loss)
    together = driven_course(many, seconds, np.stack([known] * 3), begun, ROOM)
    for at, factor in enumerate(scale):
        alone = HeatNetwork(factor * network.capacity, network.between, network.to_ambient)
        np.testing.assert_allclose(together[at], driven_course(alone, seconds, known, begun, ROOM), rtol=1e-12)


def test_what_cannot_be_is_refused() -> None:
    known = np.full((2, 2, 3), 300.0)
    known[0, 1, 1] = NAN
    with pytest.raises(BadInput) as unlike:
        driven_course(ROW, np.array([0.0, 1.0]), known, np.full(3, 300.0), 300.0)
    assert unlike.value.field == "known"
    with pytest.raises(StationOrder) as back:
        driven_course(ROW, np.array([1.0, 0.0]), known[1], np.full(3, 300.0), 300.0)
    assert back.value.field == "seconds"
