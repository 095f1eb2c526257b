"""Lap joints against the boundary-value problems they solve, and against what must hold of any joint."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_bvp

from bladewright.engine.arrays import Floats
from bladewright.engine.strength.adherends import Film, Sheet
from bladewright.engine.strength.lap_joint import lap_shear, moment_factor, single_lap, transfer
from bladewright.errors import BadInput

FILM = Film(shear_modulus=0.8e9, modulus=2.2e9, thickness=0.0001)
THIN, THICK = Sheet(72e9, 0.0006, 0.33), Sheet(68e9, 0.003, 0.33)
sheets = st.builds(Sheet, st.floats(1e10, 3e11), st.floats(2e-4, 0.02), st.just(0.33))
films = st.builds(Film, st.floats(1e7, 3e9), st.floats(1e8, 9e9), st.floats(5e-5, 2e-3))


def shear_by_boundary_values(load: float, overlap: float, first: Sheet, second: Sheet, film: Film) -> Floats:
    """Shear along the overlap from the equations themselves: N' = -tau, slip' = strain of second less first."""

    def slope(_: Floats, state: Floats) -> Floats:
        pull, slip = state
        shear = film.shear_modulus / film.thickness * slip
        return np.array([-shear, (load - pull) / second.axial - pull / first.axial])

    def ends(a: Floats, b: Floats) -> Floats:
        return np.array([a[0] - load, b[0]]) / load

    x = np.linspace(0.0, overlap, 400)
    found = solve_bvp(slope, ends, x, np.array([load * (1.0 - x / overlap), 0.0 * x]), tol=1e-9, max_nodes=20000)
    assert found.success
    return np.asarray(film.shear_modulus / film.thickness * found.sol(np.linspace(0.0, overlap, 2001))[1])


@pytest.mark.outside
@pytest.mark.parametrize(("first", "second"), [(THIN, THICK), (THICK, THIN), (THICK, THICK)])
def test_shear_is_that_of_the_boundary_value_problem(first: Sheet, second: Sheet) -> None:
    load, overlap = 50e3, 0.02
    along = shear_by_boundary_values(load, overlap, first, second, FILM)
    shear = lap_shear(load, overlap, first, second, FILM)
    assert along[0] == pytest.approx(shear.first_end, rel=1e-6)
    assert along[-1] == pytest.approx(shear.second_end, rel=1e-6)
    assert along.min() == pytest.approx(shear.least, rel=1e-3)  # the least lies between two points
    assert np.trapezoid(along, dx=overlap / 2000) == pytest.approx(load, rel=1e-4)


@given(first=sheets, second=sheets, film=films, overlap=st.floats(1e-3, 5.0), load=st.floats(1.0, 1e6))
def test_turning_the_joint_round_turns_its_ends_round(
    first: Sheet, second: Sheet, film: Film, overlap: float, load: float
) -> None:
    one, other = lap_shear(load, overlap, first, second, film), lap_shear(load, overlap, second, first, film)
    assert one.first_end == pytest.approx(other.second_end, rel=1e-9)
    assert one.least == pytest.approx(other.least, rel=1e-9)
    assert one.least <= one.mean * (1.0 + 1e-12)
    assert one.peak >= one.mean * (1.0 - 1e-12)
    assert math.isfinite(one.peak)


@given(first=sheets, second=sheets, film=films)
def test_a_short_joint_is_sheared_evenly_and_a_long_one_at_its_ends_alone(
    first: Sheet, second: Sheet, film: Film
) -> None:
    decay = film.shear_decay(first.axial, second.axial)
    short = lap_shear(1e4, 1e-4 / decay, first, second, film)
    assert short.peak_ratio == pytest.approx(1.0, abs=1e-4)
    long = lap_shear(1e4, 2e3 / decay, first, second, film)
    # closed form of an overlap without end: p lambda times the other sheet's share of the stiffness
    assert long.first_end == pytest.approx(1e4 * decay * second.axial / (first.axial + second.axial), rel=1e-9)


def test_a_wall_that_does_not_give_is_the_limit_of_stiff_ones() -> None:
    stiff = transfer(1e4, 0.02, THIN.axial, 1e6 * THIN.axial, FILM)
    rigid = transfer(1e4, 0.02, THIN.axial, math.inf, FILM)
    assert rigid.first_end == pytest.approx(stiff.first_end, rel=1e-5)
    turned = transfer(1e4, 0.02, math.inf, THIN.axial, FILM)
    assert turned.second_end == pytest.approx(rigid.first_end, rel=1e-12)


def peel_by_boundary_values(moment: float, cross_force: float, overlap: float, sheet: Sheet, film: Film) -> float:
    """Peel at an end of two sheets on one film: D w'''' = -2 (E_a/t_a) w of their parting w."""
    stiffness, spring = sheet.bending, film.modulus / film.thickness
    scale = overlap / 2.0

    def slope(_: Floats, w: Floats) -> Floats:
        return np.array([w[1], w[2], w[3], -2.0 * spring / stiffness * w[0] * scale**4])

    def ends(a: Floats, b: Floats) -> Floats:
        bent, pulled = moment * scale**2 / stiffness, cross_force * scale**3 / stiffness
        return np.array([a[2] - bent, a[3] - pulled, b[2] - bent, b[3] + pulled]) / bent

    x = np.linspace(-1.0, 1.0, 801)
    found = solve_bvp(slope, ends, x, np.zeros((4, x.size)), tol=1e-8, max_nodes=50000)
    assert found.success
    return float(abs(found.sol(1.0)[0]) * spring)


@pytest.mark.outside
@pytest.mark.parametrize("overlap", [0.004, 0.012, 0.025])
def test_peel_is_that_of_the_boundary_value_problem(overlap: float) -> None:
    sheet, load = Sheet(72e9, 0.0016, 0.33), 96e3
    lap = single_lap(load, overlap, sheet, FILM)
    moment = 0.5 * lap.moment_factor * load * sheet.thickness
    cross_force = moment * math.sqrt(load / sheet.bending)
    assert lap.peak_peel == pytest.approx(peel_by_boundary_values(moment, cross_force, overlap, sheet, FILM), rel=1e-5)


@given(sheet=sheets, film=films, overlap=st.floats(1e-3, 2.0), stress=st.floats(1e3, 4e8))
@settings(deadline=None)
def test_the_moment_of_an_offset_load_adds_to_a_lap_held_straight(
    sheet: Sheet, film: Film, overlap: float, stress: float
) -> None:
    load = stress * sheet.thickness
    lap = single_lap(load, overlap, sheet, film)
    assert 0.0 < lap.moment_factor <= 1.0
    straight = lap_shear(load, overlap, sheet, sheet, film).peak
    # (1 + 3 k) / 4 of twice the straight one in a long joint: more where k exceeds a third
    assert lap.peak_shear >= straight * (1.0 - 1e-9) or lap.moment_factor < 1.0 / 3.0
    assert math.isfinite(lap.peak_peel)
    assert lap.peak_peel >= 0.0
    assert stress * (1.0 - 1e-12) <= lap.sheet_stress <= 4.0 * stress * (1.0 + 1e-12)


def test_a_film_too_hard_beside_thick_sheets_is_outside_the_theory() -> None:
    # t E_a / (t_a E): 0.3 mm on 0.1 mm of film, 0.092; 0.6 mm, 0.18
    assert single_lap(1e4, 0.02, Sheet(72e9, 0.0003, 0.33), FILM).inside_validity
    assert not single_lap(1e4, 0.02, THIN, FILM).inside_validity


def test_a_small_load_bends_with_its_whole_arm() -> None:
    for bending in ("goland-reissner", "hart-smith"):
        assert moment_factor(1e-6, 0.025, THIN, bending) == pytest.approx(1.0, abs=1e-4)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("field", "load", "overlap"),
    [("load", -1.0, 0.02), ("overlap", 1.0, 0.0), ("overlap", 1.0, math.nan), ("load", math.inf, 0.02)],
)
def test_what_is_no_load_or_length_is_named(field: str, load: float, overlap: float) -> None:
    for ask in (
        lambda: lap_shear(load, overlap, THIN, THICK, FILM),
        lambda: single_lap(load, overlap, THIN, FILM),
        lambda: moment_factor(load, overlap, THIN, "hart-smith"),
    ):
        with pytest.raises(BadInput) as caught:
            ask()
        assert (caught.value.field, caught.value.allowed) == (field, "more than 0")


def test_a_sheet_or_film_that_cannot_be_is_named() -> None:
    with pytest.raises(BadInput) as caught:
        Sheet(72e9, -0.001, 0.33)
    assert (caught.value.field, caught.value.value) == ("thickness", -0.001)
    with pytest.raises(BadInput) as caught:
        Sheet(72e9, 0.001, 0.5)
    assert caught.value.field == "poisson"
    with pytest.raises(BadInput) as caught:
        Film(0.0, 2e9, 1e-4)
    assert caught.value.field == "shear_modulus"
    with pytest.raises(BadInput) as caught:
        transfer(1.0, 0.1, math.inf, math.inf, FILM)
    assert caught.value.field == "second"
    with pytest.raises(BadInput) as caught:
        transfer(1.0, 0.1, -1.0, 1.0, FILM)
    assert caught.value.field == "first"
