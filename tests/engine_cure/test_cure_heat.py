"""Slabs, thin sheets and networks of heat: balance, limits, other people's solvers."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.linalg import expm

from bladewright.engine.arrays import Floats
from bladewright.engine.cure.conduction import Sheet, ramp_lag, slab_roots, slab_temperature
from bladewright.engine.cure.course import heated_course
from bladewright.engine.cure.lumped import ThinSheet, biot_of_sheet, temperature_after, time_to_reach
from bladewright.engine.cure.network import (
    HeatNetwork,
    exact_step,
    heat_modes,
    steady_temperature,
    step_weights,
    time_constants,
)
from bladewright.errors import BadInput, OutsideValidity


@pytest.mark.parametrize("biot", [1e-3, 0.3, 2.0, 50.0])
def test_roots_are_roots_each_in_its_place(biot: float) -> None:
    roots = slab_roots(biot, 20)
    np.testing.assert_allclose(roots * np.sin(roots), biot * np.cos(roots), atol=1e-9 * (1.0 + biot) * roots[-1])
    np.testing.assert_array_equal(np.floor(roots / np.pi), np.arange(20))


def test_a_thin_slab_is_one_temperature_and_a_stiff_one_holds_its_faces() -> None:
    thin, time = 1e-4, np.array([1e3, 1e4])
    np.testing.assert_allclose(slab_temperature(thin, time, np.array(0.0)), np.exp(-thin * time), rtol=1e-3)
    early = np.array([0.05, 0.2])
    held = slab_temperature(np.inf, early, np.array(0.3))
    np.testing.assert_allclose(slab_temperature(1e6, early, np.array(0.3)), held, atol=1e-5)
    np.testing.assert_allclose(slab_temperature(np.inf, early, np.array(1.0)), 0.0, atol=1e-12)


def test_a_slab_takes_up_what_flows_through_its_face() -> None:
    biot, fourier, step = 1.5, 0.4, 1e-5
    place = np.polynomial.legendre.leggauss(40)
    across = 0.5 * (place[0] + 1.0)

    def mean(time: float) -> float:
        return float(0.5 * place[1] @ slab_temperature(biot, np.array(time), across))

    loses = -(mean(fourier + step) - mean(fourier - step)) / (2.0 * step)
    assert loses == pytest.approx(biot * float(slab_temperature(biot, np.array(fourier), np.array(1.0))), rel=1e-6)


@pytest.mark.parametrize(
    ("biot", "fourier", "field"), [(0.0, 1.0, "biot"), (np.nan, 1.0, "biot"), (1.0, 0.0, "fourier")]
)
def test_what_a_series_cannot_do_is_refused(biot: float, fourier: float, field: str) -> None:
    with pytest.raises(BadInput) as wrong:
        slab_temperature(biot, np.array(fourier), np.array(0.0))
    assert wrong.value.field == field


def test_a_settled_ramp_lags_as_a_marched_stack_does() -> None:
    # skin, film, spar wall on a tool, in cells of finite volumes; nothing flows through the far side
    sheets = (
        Sheet(0.8e-3, 150.0, 2.42e6, contact=2e-4),
        Sheet(0.2e-3, 0.2, 1.6e6),
        Sheet(3.0e-3, 150.0, 2.42e6, contact=1e-5),
    )
    rate, cells = 3.0 / 60.0, 40
    size = np.concatenate([np.full(cells, sheet.thickness / cells) for sheet in sheets])
    through = np.concatenate([np.full(cells, sheet.thickness / cells / sheet.conductivity) for sheet in sheets])
    store = size * np.repeat([sheet.heat_capacity for sheet in sheets], cells)
    gap = np.zeros(3 * cells)
    gap[::cells] = [sheet.contact for sheet in sheets]
    resistance = gap + 0.5 * through + 0.5 * np.concatenate(([0.0], through[:-1]))
    # once settled all warm alike, so each cell's flow is what it and those behind it take up
    flow = rate * np.cumsum(store[::-1])[::-1]
    far = (np.cumsum(resistance * flow) + 0.5 * through * flow)[cells - 1 :: cells]
    np.testing.assert_allclose(ramp_lag(sheets, rate), far, rtol=2e-3)
    assert ramp_lag(sheets, rate, beyond=1e4)[0] > ramp_lag(sheets, rate)[0]
    assert ramp_lag((sheets[0],), rate)[0] == pytest.approx(
        rate * 2.42e6 * (0.8e-3 * 2e-4 + 0.8e-3**2 / (2.0 * 150.0)), rel=1e-12
    )
    with pytest.raises(BadInput) as wrong:
        ramp_lag((Sheet(0.0, 1.0, 1.0),), rate)
    assert (wrong.value.field, wrong.value.row) == ("sheets", 1)


@settings(max_examples=20, deadline=None)
@given(start=st.floats(280.0, 380.0), emissivity=st.floats(0.0, 1.8), seconds=st.floats(1.0, 2000.0))
def test_a_sheet_warms_as_an_outside_solver_says(start: float, emissivity: float, seconds: float) -> None:
    sheet, air = ThinSheet(4000.0, 50.0, emissivity), 450.0
    ours = temperature_after(sheet, start, air, seconds)
    exact = solve_ivp(
        lambda _, t: [sheet.passes(t[0], air) * (air - t[0]) / sheet.capacity],
        (0.0, seconds),
        [start],
        rtol=1e-9,
        atol=1e-9,
    ).y[0, -1]
    assert ours == pytest.approx(exact, abs=1e-5)
    if abs(air - ours) > 1e-6:
        assert time_to_reach(sheet, start, ours, air) == pytest.approx(seconds, rel=1e-6)


def test_a_temperature_beyond_the_air_is_never_reached() -> None:
    with pytest.raises(BadInput) as wrong:
        time_to_reach(ThinSheet(4000.0, 50.0), 300.0, 400.0, 399.0)
    assert (wrong.value.field, wrong.value.value) == ("end", 400.0)
    assert time_to_reach(ThinSheet(4000.0, 50.0), 300.0, 300.0, 399.0) == 0.0
    assert temperature_after(ThinSheet(4000.0, 50.0), 300.0, 300.0, 60.0) == 300.0
    with pytest.raises(OutsideValidity) as celsius:
        time_to_reach(ThinSheet(4000.0, 50.0), 21.0, 118.0, 121.0)
    assert celsius.value.allowed == "200 to 1000 K"


def test_a_thick_sheet_is_not_of_one_temperature() -> None:
    assert biot_of_sheet(25.0, 0.8e-3, 177.0) == pytest.approx(5.65e-5, rel=1e-3)
    with pytest.raises(OutsideValidity) as wrong:
        biot_of_sheet(25.0, 20e-3, 0.2)
    assert wrong.value.field == "thickness"


def drawn_network(seed: int, bodies: int = 6, lossless: bool = False) -> HeatNetwork:
    generator = np.random.default_rng(seed)
    half = np.triu(generator.uniform(0.0, 20.0, (bodies, bodies)), 1)
    loss = np.zeros(bodies) if lossless else generator.uniform(0.1, 5.0, bodies)
    return HeatNetwork(generator.uniform(500.0, 9000.0, bodies), half + half.T, loss)


def one_step(network: HeatNetwork, seconds: float, begun: Floats, first: Floats, last: Floats) -> Floats:
    return heated_course(network, np.array([0.0, seconds]), np.stack((first, last), axis=-2), begun)[..., 1, :]


@pytest.mark.parametrize("seed", range(4))
def test_a_step_is_the_exponential_of_its_matrix(seed: int) -> None:
    network, seconds = drawn_network(seed), 60.0
    bodies, none = len(network.capacity), np.zeros((6, 6))
    rates = -network.conductance / network.capacity[:, None]
    # heat and its rise as states of their own: one exponential gives all three matrices
    whole = np.zeros((3 * bodies, 3 * bodies))
    whole[:bodies, :bodies] = rates
    whole[:bodies, bodies : 2 * bodies] = np.diag(1.0 / network.capacity)
    whole[bodies : 2 * bodies, 2 * bodies :] = np.eye(bodies) / seconds
    exact = expm(whole * seconds)[:bodies]
    each, two = np.eye(6), 2 * bodies
    np.testing.assert_allclose(one_step(network, seconds, each, none, none).T, exact[:, :bodies], atol=1e-12)
    np.testing.assert_allclose(one_step(network, seconds, none, each, each).T, exact[:, bodies:two], atol=1e-12)
    np.testing.assert_allclose(one_step(network, seconds, none, none, each).T, exact[:, two:], atol=1e-12)


@settings(max_examples=25, deadline=None)
@given(seed=st.integers(0, 10_000), seconds=st.floats(0.01, 2000.0))
def test_without_loss_heat_is_kept(seed: int, seconds: float) -> None:
    network = drawn_network(seed, lossless=True)
    generator = np.random.default_rng(seed + 1)
    begun, first, last = generator.uniform(0.0, 500.0, (3, 6))
    gained = network.capacity @ (one_step(network, seconds, begun, first, last) - begun)
    assert gained == pytest.approx(0.5 * seconds * float((first + last).sum()), rel=1e-8)


@settings(max_examples=25, deadline=None)
@given(seed=st.integers(0, 10_000))
def test_settled_is_where_a_step_changes_nothing_and_loss_is_heat(seed: int) -> None:
    network = drawn_network(seed)
    power = np.random.default_rng(seed + 1).uniform(0.0, 300.0, 6)
    settled = steady_temperature(network, power, 0.0)
    assert network.to_ambient @ settled == pytest.approx(power.sum(), rel=1e-9)
    np.testing.assert_allclose(one_step(network, 300.0, settled, power, power), settled, rtol=1e-9)
    np.testing.assert_allclose(steady_temperature(network, power, 21.0), settled + 21.0, rtol=1e-12)


def test_uneven_samples_lead_to_the_same_end_and_many_networks_are_each_alone() -> None:
    one, other = drawn_network(1), drawn_network(2)
    begun, first, last = np.random.default_rng(3).uniform(0.0, 400.0, (3, 6))
    uneven = np.array([0.0, 1.0, 31.7, 80.0, 90.0])
    heat = first + (last - first) * uneven[:, None] / 90.0
    ended = heated_course(one, uneven, heat, begun)[-1]
    np.testing.assert_allclose(ended, one_step(one, 90.0, begun, first, last), rtol=1e-12)
    steady = heated_course(one, uneven, np.broadcast_to(last, heat.shape), begun)
    changed = np.concatenate((first[None], np.broadcast_to(last, (4, 6))))
    np.testing.assert_allclose(heated_course(one, uneven, changed, begun, held=True), steady, rtol=1e-12)
    both = HeatNetwork(
        np.stack((one.capacity, other.capacity)),
        np.stack((one.between, other.between)),
        np.stack((one.to_ambient, other.to_ambient)),
    )
    np.testing.assert_allclose(heated_course(both, uneven, heat, begun)[0, -1], ended, rtol=1e-12)
    np.testing.assert_allclose(time_constants(both)[1], time_constants(other), rtol=1e-10)
    modes = heat_modes(one)
    np.testing.assert_allclose(modes.shapes.T @ np.diag(one.capacity) @ modes.shapes, np.eye(6), atol=1e-10)


def test_the_matrices_of_a_step_say_what_the_course_says() -> None:
    network, seconds, each, none = drawn_network(4), 45.0, np.eye(6), np.zeros((6, 6))
    step = exact_step(network, seconds)
    np.testing.assert_allclose(step.carry, one_step(network, seconds, each, none, none).T, atol=1e-13)
    np.testing.assert_allclose(step.held, one_step(network, seconds, none, each, each).T, atol=1e-13)
    np.testing.assert_allclose(step.rising, one_step(network, seconds, none, none, each).T, atol=1e-13)


def test_weights_are_smooth_where_the_series_takes_over() -> None:
    small = np.array([0.0, 1e-9, 0.0099999, 0.0100001])
    first, second = step_weights(small)
    np.testing.assert_allclose(
        first, 1.0 - small / 2.0 + small**2 / 6.0 - small**3 / 24.0 + small**4 / 120.0, atol=1e-12
    )
    np.testing.assert_allclose(second, 0.5 - small / 6.0 + small**2 / 24.0 - small**3 / 120.0, atol=1e-10)


@pytest.mark.parametrize(
    ("capacity", "between", "field"),
    [
        (np.array([1.0, 0.0]), np.array([[0.0, 1.0], [1.0, 0.0]]), "capacity, to_ambient"),
        (np.ones(2), np.array([[0.0, 1.0], [2.0, 0.0]]), "between"),
        (np.ones(2), np.array([[0.0, -1.0], [-1.0, 0.0]]), "between"),
        (np.ones(2), np.eye(2), "between"),
    ],
)
def test_what_is_no_network_is_refused(capacity: Floats, between: Floats, field: str) -> None:
    with pytest.raises(BadInput) as wrong:
        HeatNetwork(capacity, between, np.ones(2))
    assert wrong.value.field == field
