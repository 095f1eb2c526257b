"""Mean stress, curves, scatter, damage sums, counting, spectrum and design life: by hand, and as properties."""

import math
from functools import partial
from pathlib import Path

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from bladewright.engine.arrays import Floats
from bladewright.engine.strength.design_life import KnockDown, design_life
from bladewright.engine.strength.mean_stress import (
    equivalent_maximum,
    gerber,
    goodman,
    ratio_tested,
    smith_watson_topper,
    soderberg,
    walker,
)
from bladewright.engine.strength.miner import miner_sum
from bladewright.engine.strength.rainflow import rainflow, turning_points
from bladewright.engine.strength.spectrum import Manoeuvre, Spectrum, spectrum
from bladewright.engine.strength.stress_life import PowerLaw, Scatter, ShiftedLog, lives, scatter_factor
from bladewright.errors import BadInput, MissingInput, OutsideValidity

ULTIMATE, YIELD = 441e6, 324e6
CURVE = PowerLaw(coefficient=900e6, exponent=0.15, least_stress=40e6, greatest_stress=300e6)
KNOWN = Scatter(deviation=0.2, count=None)  # as if exact; z of 0.99 is 2.3263479
COUNTED = Scatter(deviation=0.2, count=20)
CORRECTION = partial(goodman, ultimate=ULTIMATE)
FLYING = (
    Manoeuvre(share=0.9, mean=60e6, amplitude=20e6, cycles_per_hour=30000.0),
    Manoeuvre(share=0.1, mean=70e6, amplitude=45e6, cycles_per_hour=30000.0),
)


@given(amplitude=st.floats(0.0, 1.5e8), mean=st.floats(-3e8, 1.5e8))
def test_the_rules_stand_in_their_order_and_a_pressing_mean_is_none(amplitude: float, mean: float) -> None:
    s, g, p = (
        float(rule(amplitude, mean, strength))
        for rule, strength in ((soderberg, YIELD), (goodman, ULTIMATE), (gerber, ULTIMATE))
    )
    assert s >= g * (1 - 1e-12) >= p * (1 - 1e-12) ** 2 >= amplitude * (1 - 1e-12) ** 3
    if mean <= 0.0:
        assert s == g == p == amplitude
        assert float(smith_watson_topper(amplitude, mean)) == pytest.approx(amplitude)
    else:
        assert float(walker(amplitude, mean, 1.0)) == pytest.approx(amplitude)
        assert float(smith_watson_topper(amplitude, mean)) == pytest.approx(math.sqrt((amplitude + mean) * amplitude))


def test_a_pulsating_cycle_is_its_own_equivalent_maximum() -> None:
    assert float(equivalent_maximum(50e6, 50e6, 0.56)) == pytest.approx(100e6)
    assert float(equivalent_maximum(50e6, 0.0, 0.56)) == pytest.approx(50e6 * 2.0**0.56)


def test_a_ratio_outside_the_tests_is_told() -> None:
    ratios = np.array([-1.0, 0.0, 0.1, 0.5, 0.6])
    mean, amplitude = 50e6 * (1.0 + ratios), 50e6 * (1.0 - ratios)
    assert ratio_tested(amplitude, mean, 0.0, 0.5).tolist() == [False, True, True, True, False]
    assert ratio_tested(10e6, -20e6, 0.0, 0.5)
    with pytest.raises(BadInput) as caught:
        ratio_tested(1.0, 0.0, 0.5, 0.0)
    assert caught.value.field == "greatest"


def test_a_cycle_above_the_strength_is_named() -> None:
    for rule, strength, field in (
        (goodman, ULTIMATE, "ultimate"),
        (gerber, ULTIMATE, "ultimate"),
        (soderberg, YIELD, "yield_strength"),
    ):
        with pytest.raises(BadInput) as caught:
            rule(np.array([10e6, 200e6]), np.array([0.0, 300e6]), strength)
        assert (caught.value.field, caught.value.row, caught.value.value) == (field, 2, 500e6)
        assert caught.value.fix
    for bad in (-1.0, math.nan):
        with pytest.raises(BadInput) as caught:
            goodman(bad, 0.0, ULTIMATE)
        assert caught.value.field == "amplitude"
    with pytest.raises(BadInput) as caught:
        walker(1.0, 0.0, 1.5)
    assert caught.value.field == "exponent"


@given(cycles=st.floats(1.0, 1e12))
def test_a_power_law_gives_back_the_cycles_it_was_asked_for(cycles: float) -> None:
    assert float(lives(CURVE, 900e6 * cycles**-0.15).cycles) == pytest.approx(cycles, rel=1e-9)


def test_a_curve_says_where_it_was_not_tested() -> None:
    shifted = ShiftedLog(11.1, 3.97, 108e6, 6.894757e6, 140e6, 400e6)
    found = lives(shifted, np.array([100e6, 108e6, 120e6, 200e6, 500e6]))
    assert found.inside_range.tolist() == [False, False, False, True, False]
    assert np.isinf(found.cycles[:2]).all()
    assert (np.diff(found.cycles[1:]) < 0.0).all()
    assert not lives(CURVE, 0.0).inside_range
    assert lives(CURVE, 0.0).cycles == math.inf
    with pytest.raises(BadInput) as caught:
        lives(CURVE, -1.0)
    assert caught.value.field == "stress"
    with pytest.raises(BadInput) as caught:
        PowerLaw(900e6, 0.15, 300e6, 300e6)
    assert caught.value.field == "greatest_stress"
    with pytest.raises(BadInput) as caught:
        ShiftedLog(11.1, -3.97, 108e6, 1.0, 140e6, 400e6)
    assert caught.value.field == "slope"


def test_scatter_by_the_normal_law_and_worse_from_few_pieces() -> None:
    # z of 0.99 is 2.3263479; the factor of ten pieces at 0.99 and 95 % is 3.981, MIL-HDBK-5 (from memory)
    assert scatter_factor(KNOWN, 0.99, 0.95) == pytest.approx(10.0 ** (0.2 * 2.3263479), rel=1e-6)
    assert scatter_factor(Scatter(0.2, 10), 0.99, 0.95) == pytest.approx(10.0 ** (0.2 * 3.981), rel=1e-3)
    assert scatter_factor(Scatter(0.0, 10), 0.99, 0.95) == 1.0
    with pytest.raises(OutsideValidity) as outside:
        scatter_factor(KNOWN, 1.0, 0.95)
    assert outside.value.field == "reliability"
    with pytest.raises(MissingInput) as missing:
        scatter_factor(Scatter(0.2, 2), 0.99, 0.95)
    assert missing.value.field == "count"
    with pytest.raises(BadInput) as caught:
        Scatter(-0.1, None)
    assert caught.value.field == "deviation"


@pytest.mark.outside
def test_lives_of_101_strips_have_the_early_failures_our_scatter_says(shared: Path) -> None:
    """Z. W. Birnbaum, S. C. Saunders, J. Am. Stat. Assoc. 53, 1958: the file is not ours to copy."""
    text = (shared / "data/statistics/fatigue_6061_t6_birnbaum_saunders.dat").read_text(encoding="utf-8")
    thousands = np.array(text.rpartition("-----")[2].split(), dtype=float)
    logs = np.log10(thousands)
    assert len(logs) == 101
    scatter, median = Scatter(float(logs.std(ddof=1)), 101), 10.0 ** logs.mean()
    # shape 0.310 and scale 1336 thousand cycles fitted by the e-Handbook of NIST and SEMATECH (from memory); its 1 %
    # quantile is scale / 4 (g z + sqrt(g**2 z**2 + 4))**2, and a lognormal's must lie near
    spread = 0.310 * -2.3263479
    theirs = 1336.0 / 4.0 * (spread + math.hypot(spread, 2.0)) ** 2
    assert median / scatter_factor(Scatter(scatter.deviation, None), 0.99, 0.95) == pytest.approx(theirs, rel=0.03)
    # a B life of the whole sample: some 10 of 101 fail earlier, fewer by the confidence, within two of a binomial count
    early = int((thousands < median / scatter_factor(scatter, 0.90, 0.95)).sum())
    assert 2 <= early <= 10


def test_damage_adds_and_the_worst_block_is_told() -> None:
    found = miner_sum(np.array([10.0, 0.0, 5.0]), np.array([100.0, 1.0, 20.0]))
    assert (found.total, found.governing, found.until_one) == pytest.approx((0.35, 2, 1.0 / 0.35))
    assert miner_sum(np.array([10.0]), np.array([math.inf])).until_one == math.inf
    for field, counts, cycles in (
        ("cycles", np.array([]), np.array([])),
        ("cycles", np.array([1.0]), np.array([1.0, 2.0])),
        ("cycles", np.array([1.0]), np.array([0.0])),
        ("cycles", np.array([1.0]), np.array([math.nan])),
        ("counts", np.array([-1.0]), np.array([1.0])),
        ("counts", np.array([math.nan]), np.array([1.0])),
    ):
        with pytest.raises(BadInput) as caught:
            miner_sum(counts, cycles)
        assert caught.value.field == field


loads = arrays(np.float64, st.integers(2, 60), elements=st.integers(-9, 9).map(float))


@given(run=loads)
def test_no_turning_point_is_lost_in_counting(run: Floats) -> None:
    points = turning_points(run)
    assume(points.size > 1)
    found = rainflow(run)
    # each full cycle uses up two steps between turning points, each half one
    assert 2.0 * found.count.sum() == points.size - 1
    assert 2.0 * found.amplitude.max() == pytest.approx(np.ptp(run))
    assert found.amplitude.min() > 0.0
    assert 2.0 * (2.0 * found.count * found.amplitude).sum() == pytest.approx(np.abs(np.diff(run)).sum())


@given(run=loads)
def test_counting_knows_no_unit_and_no_zero(run: Floats) -> None:
    assume(turning_points(run).size > 1)
    plain, turned = rainflow(run), rainflow(-run)
    assert turned.amplitude.tolist() == plain.amplitude.tolist()
    assert (-turned.mean).tolist() == plain.mean.tolist()
    scaled = rainflow(16.0 * run + 3.0)  # exact in floats, so that ties stay ties
    assert scaled.amplitude.tolist() == (16.0 * plain.amplitude).tolist()


def test_a_run_that_begins_and_ends_at_its_top_leaves_one_whole_cycle_in_halves() -> None:
    found = rainflow(np.array([5.0, -1.0, 3.0, -3.0, 4.0, 0.0, 5.0]))
    assert found.count[found.amplitude == 4.0].sum() == 1.0
    assert found.count.sum() == 3.0


def test_a_steady_load_has_no_cycle() -> None:
    with pytest.raises(BadInput) as caught:
        rainflow(np.full(5, 3.0))
    assert caught.value.field == "loads"
    with pytest.raises(BadInput) as caught:
        rainflow(np.array([1.0, math.nan]))
    assert caught.value.field == "loads"


def test_a_spectrum_by_hand() -> None:
    found = spectrum(FLYING, at_rest=-10e6, starts_per_hour=2.0)
    assert found.per_hour == pytest.approx([27000.0, 3000.0, 2.0])
    assert (found.amplitude[-1], found.mean[-1]) == pytest.approx((62.5e6, 52.5e6))  # from -10 to 115


def test_a_profile_that_is_not_a_whole_is_named() -> None:
    with pytest.raises(BadInput) as caught:
        spectrum(FLYING[:1], 0.0, 2.0)
    assert (caught.value.field, caught.value.value, caught.value.allowed) == ("share", 0.9, "1")
    for field, flying, starts in (("manoeuvres", (), 2.0), ("starts_per_hour", FLYING, 0.0)):
        with pytest.raises(MissingInput) as missing:
            spectrum(flying, 0.0, starts)
        assert missing.value.field == field
    with pytest.raises(BadInput) as caught:
        spectrum(FLYING, math.nan, 2.0)
    assert caught.value.field == "at_rest"
    with pytest.raises(BadInput) as caught:
        Manoeuvre(0.5, 1e6, -1e6, 1.0)
    assert caught.value.field == "amplitude"


def life(knock_downs: tuple[KnockDown, ...] = (), scatter: Scatter = KNOWN, starts: float = 2.0):  # type: ignore[no-untyped-def]
    return design_life(spectrum(FLYING, -10e6, starts), CURVE, CORRECTION, scatter, 0.99, 0.95, knock_downs)


def test_a_design_life_by_hand() -> None:
    found = life()
    stress = np.array([20e6 / (1 - 60 / 441), 45e6 / (1 - 70 / 441), 62.5e6 / (1 - 52.5 / 441)])
    damage = (np.array([27000.0, 3000.0, 2.0]) / (900e6 / stress) ** (1.0 / 0.15)).sum()
    assert found.median_hours == pytest.approx(1.0 / damage, rel=1e-9)
    assert found.hours == pytest.approx(1.0 / damage / 10.0 ** (0.2 * 2.3263479), rel=1e-6)
    assert found.starts == pytest.approx(2.0 * found.hours)
    assert found.damage_per_hour.sum() * found.hours == pytest.approx(1.0)
    assert found.governing == 1
    assert found.inside_range.tolist() == [False, True, True]
    assert not found.trusted  # nobody said on how many pieces the scatter stands
    assert life(scatter=COUNTED).trusted  # the small cycles lie below the tests, but they do damage
    assert life(scatter=COUNTED).hours < found.hours


def test_a_knock_down_shortens_and_never_helps() -> None:
    clean = life()
    assert life((KnockDown("fretting", "life", 2.0),)).hours == pytest.approx(clean.hours / 2.0, rel=1e-9)
    # without mean stress a factor on stress shortens a power law's life by its power; with it, by more
    holed = life((KnockDown("hole", "stress", 1.3),))
    assert holed.hours < clean.hours / 1.3 ** (1.0 / 0.15)
    with pytest.raises(BadInput) as caught:
        KnockDown("polish", "stress", 0.9)
    assert (caught.value.field, caught.value.allowed) == ("factor", "1 or more")


def test_many_starts_wear_a_blade_out_by_starting() -> None:
    assert life(starts=2000.0).governing == 2
    assert life(starts=2000.0).hours < life().hours


def test_a_life_that_leans_on_never_is_not_trusted() -> None:
    shifted = ShiftedLog(11.1, 3.97, 30e6, 6.894757e6, 40e6, 300e6)
    found = design_life(spectrum(FLYING, -10e6, 2.0), shifted, CORRECTION, COUNTED, 0.99, 0.95, ())
    assert found.beyond_tests.tolist() == [True, False, False]
    assert found.damage_per_hour[0] == 0.0
    assert not found.trusted


def test_nothing_that_hurts_is_a_life_without_end_and_says_so() -> None:
    still = Spectrum(amplitude=np.zeros(2), mean=np.full(2, 50e6), per_hour=np.array([30000.0, 1.0]))
    found = design_life(still, CURVE, CORRECTION, KNOWN, 0.99, 0.95, ())
    assert (found.hours, found.starts) == (math.inf, math.inf)


def test_a_spectrum_above_the_strength_has_no_life() -> None:
    with pytest.raises(BadInput) as caught:
        life((KnockDown("hole", "stress", 4.0),))
    assert caught.value.field == "ultimate"
