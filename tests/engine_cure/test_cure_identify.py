"""An oven found again from its own simulated survey, and what a survey cannot tell."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from benchmarks.cure_reference import CONTROL, ROOM, SCHEDULE, USUAL
from bladewright.engine.arrays import Floats
from bladewright.engine.cure.identify import Free, Identified, drawn_ovens, identify, survey_band
from bladewright.engine.cure.interior import between_stations
from bladewright.engine.cure.simulate import simulate
from bladewright.engine.cure.survey import Survey, survey_course
from bladewright.errors import BadInput, MissingInput, OutsideValidity, StationOrder

NOISE = 0.3  # of a reading [K]
#: what stands in the drawing, each off by the factor beside it
ENTERED = replace(
    USUAL,
    mould_capacity=USUAL.mould_capacity * 1.2,
    mould_loss=USUAL.mould_loss * 0.7,
    heater_to_mould=USUAL.heater_to_mould * 1.3,
    mould_to_bondline=USUAL.mould_to_bondline * 0.8,
    bondline_capacity=USUAL.bondline_capacity * 1.25,
)
TRUE = {"mould_capacity": 1 / 1.2, "mould_loss": 1 / 0.7, "heater_to_mould": 1 / 1.3, "mould_to_bondline": 1 / 0.8,
        "bondline_capacity": 1 / 1.25}  # fmt: skip
FREE = tuple(Free(name) for name in TRUE)


@cache
def run() -> tuple[Floats, Floats, Floats]:
    """Times each minute, mean power since the minute before and temperatures of a run without noise."""
    ran = simulate(USUAL, SCHEDULE, CONTROL, step=5.0, every=1)
    power = 0.5 * (ran.power[0].T[1:] + ran.power[0].T[:-1])
    mean = np.concatenate((power[:1], power.reshape(-1, 12, 6).mean(axis=1)))
    return ran.seconds[::12], mean, np.concatenate((ran.heater[0], ran.mould[0], ran.bondline[0])).T[::12]


def survey(
    seed: int = 0, noise: float = NOISE, power: bool = True, bondline: bool = True, heater: bool = True
) -> Survey:
    seconds, given, true = run()
    read = true + np.random.default_rng(seed).normal(0.0, noise, true.shape)
    return Survey(
        seconds, read[:, 6:12], ROOM, given if power else None,
        read[:, :6] if heater else None, read[:, 12:] if bondline else None,
    )  # fmt: skip


@cache
def found(bondline: bool = True) -> Identified:
    return identify(survey(bondline=bondline), ENTERED, FREE, NOISE)


def test_driven_by_its_own_power_the_model_gives_the_run_back() -> None:
    seconds, given, true = run()
    off = np.abs(survey_course(USUAL, Survey(seconds, true[:, 6:12], ROOM, given)) - true)
    assert off[:, 6:].max() < 0.1  # power's course within a minute is lost
    assert off[:, :6].max() < 0.6  # and a heater is quicker than a minute
    by_heaters = survey_course(USUAL, Survey(seconds, true[:, 6:12], ROOM, None, true[:, :6]))
    assert np.abs(by_heaters - true).max() < 0.15


def test_a_room_that_warms_is_taken_as_it_was() -> None:
    seconds, given, true = run()
    steady = survey_course(USUAL, Survey(seconds, true[:, 6:12], ROOM, given))
    warming = np.linspace(ROOM, ROOM + 6.0, len(seconds))
    raised = survey_course(USUAL, Survey(seconds, true[:, 6:12], warming, given)) - steady
    assert (np.diff(raised[:, 6:], axis=0) > 0.0).all()
    assert raised.max() < 6.0


def test_the_oven_is_found_within_its_own_confidence() -> None:
    off = np.log(found().factor) - np.log([TRUE[name] for name in found().names])
    assert (np.abs(off) < 1.5 * found().relative).all()
    assert found().misfit == pytest.approx(NOISE, rel=0.05)
    assert found().not_identified == ()


def test_confidence_holds_as_often_as_it_says() -> None:
    free = (Free("mould_capacity"), Free("mould_loss"), Free("heater_to_mould"))
    right = replace(ENTERED, mould_to_bondline=USUAL.mould_to_bondline, bondline_capacity=USUAL.bondline_capacity)
    held = 0
    for seed in range(20):
        one = identify(survey(seed, noise=1.0), right, free, 1.0)
        truth = np.log([TRUE[name] for name in one.names])
        held += int((np.abs(np.log(one.factor) - truth) <= one.relative).sum())
    assert held >= 52  # of 60; fewer has a chance of one in a thousand at 95 %


def test_the_band_holds_the_bondline_that_nobody_measured() -> None:
    one = found(bondline=False)
    value, expanded = survey_band(one, survey(1, bondline=False))
    _, _, true = run()
    inside = np.abs(value - true)[:, 12:] <= expanded[:, 12:]
    assert inside.mean() > 0.95
    measured = survey_band(found(), survey(1))[1][:, 12:].mean()
    assert expanded[:, 12:].mean() > measured  # probes in the bondline teach


def test_what_a_survey_does_not_tell_is_named() -> None:
    # with the heaters' temperatures alone everything could be larger together
    free = (Free("mould_capacity"), Free("mould_loss"), Free("heater_to_mould"), Free("mould_to_bondline"),
            Free("bondline_capacity"), Free("along"), Free("across"), Free("bondline_along"))  # fmt: skip
    one = identify(survey(power=False), ENTERED, free, NOISE)
    assert {"mould_capacity", "mould_loss", "heater_to_mould"} <= set(one.not_identified)
    with pytest.raises(MissingInput) as wrong:
        drawn_ovens(one, 10, np.random.default_rng(1))
    assert wrong.value.field in one.not_identified
    kept = identify(survey(power=False), replace(ENTERED, mould_capacity=USUAL.mould_capacity), free[1:5], NOISE)
    assert kept.not_identified == ()
    assert kept.factor[0] == pytest.approx(TRUE["mould_loss"], rel=0.05)


def test_what_was_entered_with_a_spread_stays_near_it_untaught() -> None:
    free = (Free("mould_capacity"), Free("mould_loss"), Free("bondline_along", spread=0.2))
    one = identify(survey(bondline=False), replace(USUAL, mould_loss=ENTERED.mould_loss), free, NOISE)
    assert one.not_identified == ("bondline_along",)
    assert np.sqrt(one.covariance[2, 2]) == pytest.approx(0.2, rel=0.2)
    assert abs(np.log(one.factor[2])) < 0.2


def test_zones_may_be_found_one_by_one() -> None:
    one = identify(survey(), replace(USUAL, mould_loss=np.array([2.0])), (Free("mould_loss", each=True),), NOISE)
    np.testing.assert_allclose(one.oven.mould_loss, USUAL.mould_loss, rtol=0.05)
    assert one.names[3] == "mould_loss 4"


def test_a_wrong_model_widens_its_own_confidence() -> None:
    crooked = replace(ENTERED, heater_loss=np.array([3.0]), across=np.array([30.0]))
    wrong = identify(survey(), crooked, FREE[:3], NOISE)
    right = identify(survey(), replace(ENTERED, mould_to_bondline=USUAL.mould_to_bondline), FREE[:3], NOISE)
    assert wrong.misfit > 1.5 * NOISE
    assert (wrong.relative > 2.0 * right.relative).all()


def test_drawn_ovens_scatter_as_the_covariance_says() -> None:
    ovens = drawn_ovens(found(), 4000, np.random.default_rng(5))
    logs = np.log(ovens.mould_loss[:, 0] / found().oven.mould_loss[0])
    number = found().names.index("mould_loss")
    assert logs.std() == pytest.approx(np.sqrt(found().covariance[number, number]), rel=0.05)
    assert simulate(ovens, SCHEDULE, CONTROL, step=60.0).bondline.shape[:2] == (4000, 3)


def test_between_stations_the_band_holds_either_neighbour() -> None:
    stations, value, expanded = np.array([0.5, 1.5, 2.5]), np.array([390.0, 394.0, 393.0]), np.array([0.5, 0.6, 0.5])
    place = np.array([0.2, 0.5, 1.0, 1.5, 2.5, 2.9])
    at, band = between_stations(place, stations, value, expanded)
    np.testing.assert_allclose(at, [390.0, 390.0, 392.0, 394.0, 393.0, 393.0])
    np.testing.assert_allclose(band, [2.5, 0.5, 2.55, 0.6, 0.5, 1.0])
    assert at[2] - band[2] < 390.0
    assert at[2] + band[2] > 394.0
    with pytest.raises(StationOrder) as wrong:
        between_stations(place, stations[::-1], value, expanded)
    assert wrong.value.field == "stations"


def test_what_cannot_be_identified_is_refused() -> None:
    with pytest.raises(BadInput) as name:
        identify(survey(), ENTERED, (Free("greatest_power"),), NOISE)
    assert (name.value.field, name.value.value) == ("free", "greatest_power")
    with pytest.raises(BadInput) as zero:
        identify(survey(), replace(ENTERED, across=np.zeros(3)), (Free("across"),), NOISE)
    assert zero.value.field == "across"
    with pytest.raises(BadInput) as spread:
        identify(survey(), ENTERED, (Free("along", spread=0.0),), NOISE)
    assert spread.value.field == "spread"
    seconds, given, true = run()
    silent = true[:, 6:12].copy()
    silent[0] = np.nan
    with pytest.raises(MissingInput) as first:
        Survey(seconds, silent, ROOM, given)
    assert (first.value.field, first.value.row) == ("mould", 1)
    with pytest.raises(MissingInput) as nothing:
        Survey(seconds, true[:, 6:12], ROOM)
    assert nothing.value.field == "power"
    with pytest.raises(BadInput) as shape:
        Survey(seconds, true[:, :5], ROOM, given)
    assert shape.value.field == "mould"
    holed = given.copy()
    holed[3, 2] = np.nan
    with pytest.raises(BadInput) as hole:
        Survey(seconds, true[:, 6:12], ROOM, holed)
    assert hole.value.field == "power"
    with pytest.raises(OutsideValidity) as celsius:
        Survey(seconds, true[:, 6:12], 21.0, given)
    assert celsius.value.field == "ambient"
    with pytest.raises(MissingInput) as few:
        identify(Survey(seconds[:1], true[:1, 6:12], ROOM, given[:1]), ENTERED, FREE, NOISE)
    assert few.value.field == "survey"
