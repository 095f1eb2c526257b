"""A mould of six zones under an assumed controller: against scipy's solver, and by balance, symmetry and faults."""

from dataclasses import replace

import numpy as np
import pytest

from benchmarks.cure_reference import CONTROL, HOLD, MINUTE, ROOM, SCHEDULE, USUAL, one_run
from benchmarks.cure_runs import alone, drawn
from bladewright.engine.arrays import Floats
from bladewright.engine.cure.control import AssumedControl, Schedule
from bladewright.engine.cure.faults import Fault, PowerCut, SensorOffset, ZoneDead, disturbed
from bladewright.engine.cure.network import steady_temperature
from bladewright.engine.cure.oven import BODIES, HEATERS, Oven, oven_network
from bladewright.engine.cure.simulate import OvenState, Simulated, simulate
from bladewright.errors import BadInput, OutsideValidity, StationOrder

LONG = Schedule(MINUTE * np.array([0.0, 45.0, 600.0]), np.array([ROOM, HOLD, HOLD]), ROOM)


def whole(runs: Simulated) -> Floats:
    return np.concatenate((runs.heater, runs.mould, runs.bondline), axis=1)


def missed(step: float, dead: tuple[int, float] | None = None) -> float:
    """Largest difference of mould and bondline to a far more exact solution."""
    faults = () if dead is None else (ZoneDead(*dead),)
    ours = simulate(USUAL, SCHEDULE, CONTROL, faults, step=step, every=round(60.0 / step))
    exact = one_run(USUAL, dead, ours.seconds, 1e-10)
    return float(np.abs(whole(ours)[0] - exact)[6:].max())


@pytest.mark.parametrize("dead", [None, (4, 70.37 * MINUTE), (1, 20.02 * MINUTE)])
def test_it_is_near_the_exact_course_and_nearer_with_smaller_steps(dead: tuple[int, float] | None) -> None:
    assert missed(60.0, dead) < 0.05  # K, a twentieth of what a calibrated sensor is good for
    assert missed(20.0, dead) < 0.005
    assert missed(5.0, dead) < missed(20.0, dead) / 4.0


def test_error_falls_with_the_square_of_the_step_while_nothing_saturates() -> None:
    gentle = Schedule(MINUTE * np.array([0.0, 400.0]), np.array([ROOM, HOLD]), ROOM)

    def at_end(step: float) -> Floats:
        return whole(simulate(USUAL, gentle, CONTROL, step=step, every=1))[0, :, -1]

    coarse, middle, fine = (at_end(step) for step in (60.0, 30.0, 15.0))
    early = [
        whole(simulate(USUAL, gentle, CONTROL, step=s, every=1))[0, :, round(600.0 / s)] for s in (60.0, 30.0, 15.0)
    ]
    order = np.log2(np.abs(early[0] - early[1]).max() / np.abs(early[1] - early[2]).max())
    assert order > 1.7
    assert np.abs(coarse - fine).max() < 1e-3
    assert np.abs(middle - fine).max() < 1e-3


def test_drawn_ovens_run_together_as_each_alone() -> None:
    ovens, dies = drawn(5, np.random.default_rng(3))
    together = simulate(ovens, SCHEDULE, CONTROL, (ZoneDead(2, dies),))
    for number in range(5):
        one = simulate(alone(ovens, number), SCHEDULE, CONTROL, (ZoneDead(2, float(dies[number])),))
        np.testing.assert_allclose(whole(one)[0], whole(together)[number], atol=1e-9)
    shared = simulate(USUAL, SCHEDULE, CONTROL, (ZoneDead(2, dies),))
    assert shared.mould.shape[0] == 5


def test_held_long_enough_it_settles_where_heat_given_is_heat_lost() -> None:
    ended = simulate(USUAL, LONG, CONTROL)
    network = oven_network(USUAL)
    power = np.zeros(BODIES)
    power[HEATERS] = ended.power[0, :, -1]
    np.testing.assert_allclose(whole(ended)[0, :, -1], steady_temperature(network, power, ROOM), atol=0.01)
    np.testing.assert_allclose(ended.mould[0, :, -1], HOLD, atol=0.01)  # the integral leaves nothing over
    lost = network.to_ambient @ (whole(ended)[0, :, -1] - ROOM)
    assert lost == pytest.approx(power.sum(), rel=1e-4)


@pytest.mark.parametrize("faults", [(), (ZoneDead(4, 70.0 * MINUTE),), (PowerCut(60.0 * MINUTE, 75.0 * MINUTE),)])
def test_heat_given_is_heat_stored_and_lost(faults: tuple[Fault, ...]) -> None:
    ovens, _ = drawn(3, np.random.default_rng(9))
    runs, network = simulate(ovens, SCHEDULE, CONTROL, faults, step=5.0, every=1), oven_network(ovens)
    above = whole(runs) - ROOM
    stored = (network.capacity * above[..., -1]).sum(axis=1)
    lost = np.trapezoid((network.to_ambient[..., None] * above).sum(axis=1), runs.seconds)
    given = np.trapezoid(runs.power.sum(axis=1), runs.seconds)
    np.testing.assert_allclose(stored + lost, given, rtol=1e-3)  # a heater that is cut off counts half a step too much


def test_what_is_alike_stays_alike() -> None:
    even = replace(
        USUAL, mould_capacity=np.array([8500.0]), mould_loss=np.array([3.0]), bondline_capacity=np.array([1300.0])
    )
    runs = simulate(even, SCHEDULE, CONTROL)
    np.testing.assert_allclose(runs.mould[0, :3], runs.mould[0, 3:], atol=1e-9)  # top and bottom
    np.testing.assert_allclose(runs.mould[0, 0], runs.mould[0, 2], atol=1e-9)  # root and tip


def test_power_stays_between_nothing_and_the_most() -> None:
    weak = simulate(replace(USUAL, greatest_power=np.array([300.0])), SCHEDULE, CONTROL)
    assert weak.power.min() >= 0.0
    assert weak.power.max() <= 300.0
    assert (weak.mould.max(axis=2) < HOLD + 1.0).all()  # no wind-up after so long at its most


def test_a_dead_zone_cools_and_its_neighbours_work_more() -> None:
    sound, dead = simulate(USUAL, LONG, CONTROL), simulate(USUAL, LONG, CONTROL, (ZoneDead(4, 90.0 * MINUTE),))
    colder = sound.mould[0, :, -1] - dead.mould[0, :, -1]
    assert colder.argmax() == 3
    assert colder[3] > 10.0
    more = dead.power[0, :, -1] - sound.power[0, :, -1]
    assert more[3] < 0.0
    assert (np.delete(more, 3) > 0.0).all()
    assert (dead.bondline[0, 0, -1], dead.bondline[0, 2, -1]) < (sound.bondline[0, 0, -1], sound.bondline[0, 2, -1])
    np.testing.assert_array_equal(
        dead.mould[..., dead.seconds < 90.0 * MINUTE], sound.mould[..., sound.seconds < 90.0 * MINUTE]
    )


def test_a_zone_whose_sensor_reads_high_is_kept_too_cold_by_as_much() -> None:
    offset = simulate(USUAL, LONG, CONTROL, (SensorOffset(2, 4.0),))
    np.testing.assert_allclose(offset.mould[0, :, -1], HOLD - 4.0 * (np.arange(6) == 1), atol=0.02)


def test_a_power_cut_is_an_even_loss_and_is_made_good() -> None:
    cut = simulate(USUAL, LONG, CONTROL, (PowerCut(70.0 * MINUTE, 80.5 * MINUTE),))
    during = (cut.seconds > 71.0 * MINUTE) & (cut.seconds < 80.0 * MINUTE)
    assert (cut.power[..., during] == 0.0).all()
    assert (np.diff(cut.mould[..., during]) < 0.0).all()
    np.testing.assert_allclose(cut.mould[0, :, -1], HOLD, atol=0.02)


def test_a_run_can_be_gone_on_with() -> None:
    ovens, dies = drawn(3, np.random.default_rng(5))
    fault = (ZoneDead(4, dies),)
    at_once = simulate(ovens, SCHEDULE, CONTROL, fault)
    first = simulate(ovens, SCHEDULE, CONTROL, fault, duration=60.0 * MINUTE)
    rest = simulate(ovens, SCHEDULE, CONTROL, fault, begun=first.ended, since=60.0 * MINUTE)
    np.testing.assert_allclose(whole(rest), whole(at_once)[..., 60:], atol=1e-8)
    np.testing.assert_array_equal(rest.seconds, at_once.seconds[60:])
    settled = simulate(USUAL, LONG, CONTROL).ended
    held = simulate(USUAL, Schedule(np.array([0.0, 600.0]), np.array([HOLD, HOLD]), ROOM), CONTROL, begun=settled)
    np.testing.assert_allclose(held.mould, HOLD, atol=0.02)
    many = simulate(ovens, LONG, CONTROL, begun=OvenState(settled.temperature[0], settled.integral[0]), duration=60.0)
    np.testing.assert_allclose(whole(many)[..., 0], np.broadcast_to(settled.temperature, (3, 15)), atol=1e-9)


def test_control_may_be_drawn_too() -> None:
    gains = np.array([[30.0], [60.0], [120.0]]) * np.ones(6)
    runs = simulate(USUAL, SCHEDULE, AssumedControl(gains, CONTROL.reset), (ZoneDead(1, np.full(3, 4000.0)),))
    np.testing.assert_allclose(whole(runs)[1], whole(simulate(USUAL, SCHEDULE, CONTROL, (ZoneDead(1, 4000.0),)))[0])
    with pytest.raises(BadInput) as wrong:
        simulate(USUAL, SCHEDULE, AssumedControl(gains, CONTROL.reset), (ZoneDead(1, np.zeros(2)),))
    assert wrong.value.field == "faults"


def test_it_runs_to_the_end_of_the_schedule_whatever_the_step() -> None:
    odd = simulate(USUAL, SCHEDULE, CONTROL, step=70.0, every=4)
    assert odd.seconds[-1] >= SCHEDULE.seconds[-1]
    assert odd.seconds[-1] < SCHEDULE.seconds[-1] + 4 * 70.0


def test_a_fault_within_a_step_takes_its_part_of_the_heat() -> None:
    for since in (4015.0, 4030.0, 4051.0):
        assert missed(60.0, (5, since)) < 0.03
    edges = np.array([0.0, 10.0, 20.0, 30.0])
    upset = disturbed((PowerCut(5.0, 22.0), SensorOffset(1, 2.0, 15.0)), edges)
    np.testing.assert_allclose(upset.powered[:, 3, 0], [0.5, 0.0, 0.8])
    np.testing.assert_allclose(upset.running[:, 0, 0], [0.5, 0.0, 0.8])
    np.testing.assert_array_equal(upset.fed[:, 3, 0], [1.0, 0.0, 0.0, 1.0])
    np.testing.assert_allclose(upset.offset[:, 0, 0], [0.0, 1.0, 2.0])


def test_power_that_comes_back_within_a_step_is_exact_for_steady_power() -> None:
    # a heater at its most throughout, so nothing but the heat decides; the cut ends between two samples
    full = replace(USUAL, greatest_power=np.array([50.0]))
    hot = Schedule(np.array([0.0, 1800.0]), np.array([HOLD, HOLD]), ROOM)
    cut = (PowerCut(613.0, 911.0),)
    coarse, fine = (
        simulate(full, hot, CONTROL, cut, step=60.0, every=1),
        simulate(full, hot, CONTROL, cut, step=1.0, every=60),
    )
    np.testing.assert_allclose(whole(coarse)[..., -1], whole(fine)[..., -1], atol=1e-9)


@pytest.mark.parametrize("fault", [ZoneDead(0, 0.0), ZoneDead(7, 0.0), SensorOffset(9, 1.0)])
def test_a_zone_that_is_none_is_refused(fault: Fault) -> None:
    with pytest.raises(BadInput) as wrong:
        simulate(USUAL, SCHEDULE, CONTROL, (fault,))
    assert (wrong.value.field, wrong.value.allowed) == ("zone", "1 to 6")


def test_what_cannot_be_run_is_refused() -> None:
    ovens, _ = drawn(4, np.random.default_rng(1))
    with pytest.raises(BadInput) as runs:
        simulate(ovens, SCHEDULE, CONTROL, (ZoneDead(1, np.zeros(3)),))
    assert (runs.value.field, runs.value.value) == ("faults", 3)
    with pytest.raises(BadInput) as unlike:
        simulate(USUAL, SCHEDULE, CONTROL, (ZoneDead(1, np.zeros(3)), SensorOffset(1, np.zeros(2))))
    assert unlike.value.field == "faults"
    with pytest.raises(BadInput) as short:
        simulate(USUAL, SCHEDULE, CONTROL, duration=1.0)
    assert short.value.field == "duration"
    with pytest.raises(BadInput) as zones:
        simulate(replace(USUAL, mould_loss=np.ones(4)), SCHEDULE, CONTROL)
    assert (zones.value.field, zones.value.value) == ("mould_loss", 4)
    with pytest.raises(BadInput) as negative:
        replace(USUAL, along=np.array([-1.0]))
    assert negative.value.field == "along"
    with pytest.raises(BadInput) as control:
        AssumedControl(np.array([1.0]), 0.0)
    assert control.value.field == "gain, reset"
    with pytest.raises(OutsideValidity) as celsius:
        Schedule(np.array([0.0, 60.0]), np.array([21.0, 121.0]), 294.0)
    assert celsius.value.field == "temperature"
    with pytest.raises(StationOrder) as order:
        Schedule(np.array([60.0, 0.0]), np.array([294.0, 394.0]), 294.0)
    assert order.value.field == "seconds"


def test_a_control_too_quick_for_the_step_is_refused_and_the_allowed_step_runs() -> None:
    quick = AssumedControl(np.array([2000.0]), 15.0 * MINUTE)
    with pytest.raises(OutsideValidity) as wrong:
        simulate(USUAL, SCHEDULE, quick, step=60.0)
    assert wrong.value.field == "step"
    fine, finer = (simulate(USUAL, SCHEDULE, quick, step=s, every=round(60.0 / s)) for s in (5.0, 1.0))
    np.testing.assert_allclose(fine.mould, finer.mould, atol=0.1)
    with pytest.raises(OutsideValidity) as reset:
        simulate(USUAL, SCHEDULE, AssumedControl(np.array([60.0]), 30.0), step=60.0)
    assert reset.value.allowed == "below 30 s"


def test_an_oven_may_say_one_number_for_all() -> None:
    one = Oven(*(np.asarray(value) for value in (900.0, 8000.0, 1300.0, 25.0, 12.0, 6.0, 4.0, 0.8, 0.4, 3.0, 900.0)))
    assert simulate(one, SCHEDULE, CONTROL).mould.shape[:2] == (1, 6)
