"""Doublers against the boundary-value problem, one step in closed form, and peel at an end by its own equation."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_bvp

from bladewright.engine.arrays import Floats
from bladewright.engine.strength.adherends import Film, Sheet
from bladewright.engine.strength.doubler import Step, doubler_end
from bladewright.engine.strength.lap_joint import lap_shear
from bladewright.engine.strength.peel import EdgeLoad, edge_peel, end_peel
from bladewright.errors import BadInput, MissingInput

FILM = Film(shear_modulus=0.8e9, modulus=2.2e9, thickness=0.0001)
SKIN = Sheet(72e9, 0.0034, 0.33)
THIN, THICK = Sheet(72e9, 0.0004, 0.33), Sheet(72e9, 0.0016, 0.33)
sheets = st.builds(Sheet, st.floats(2e10, 2e11), st.floats(2e-4, 0.01), st.just(0.33))
films = st.builds(Film, st.floats(1e7, 3e9), st.floats(1e8, 9e9), st.floats(5e-5, 1e-3))


@given(sheet=sheets, skin=sheets, film=films, length=st.floats(1e-3, 1.0))
def test_one_step_is_the_closed_form(sheet: Sheet, skin: Sheet, film: Film, length: float) -> None:
    found = doubler_end(1e5, [Step(length, sheet)], skin, film)
    decay = film.shear_decay(sheet.axial, skin.axial)
    share = sheet.axial / (sheet.axial + skin.axial)
    assert found.shear[0] == pytest.approx(1e5 * share * decay * np.tanh(decay * length), rel=1e-9)
    assert found.inner_load == pytest.approx(1e5 * share * (1.0 - 1.0 / np.cosh(min(decay * length, 700.0))), rel=1e-6)


@given(sheet=sheets, skin=sheets, film=films, length=st.floats(1e-3, 0.5), cut=st.floats(0.1, 0.9))
def test_a_step_cut_in_two_is_the_same_doubler(
    sheet: Sheet, skin: Sheet, film: Film, length: float, cut: float
) -> None:
    whole = doubler_end(1e5, [Step(length, sheet)], skin, film)
    parts = doubler_end(1e5, [Step(cut * length, sheet), Step((1.0 - cut) * length, sheet)], skin, film)
    assert parts.shear[0] == pytest.approx(whole.shear[0], rel=1e-7)
    assert parts.inner_load == pytest.approx(whole.inner_load, rel=1e-7)
    assert parts.peel == pytest.approx(whole.peel, rel=1e-7)


def test_a_long_doubler_takes_its_share_and_is_sheared_as_a_long_lap() -> None:
    found = doubler_end(1e5, [Step(0.3, THICK)], SKIN, FILM)
    assert found.inner_load == pytest.approx(1e5 * THICK.axial / (THICK.axial + SKIN.axial), rel=1e-9)
    # what goes into the doubler at its end goes out of the skin as at the end of a lap where the skin comes in loaded
    assert found.shear[0] == pytest.approx(lap_shear(1e5, 0.3, SKIN, THICK, FILM).first_end, rel=1e-9)


@pytest.mark.outside
def test_three_steps_are_the_boundary_value_problem() -> None:
    lengths, steps = (0.006, 0.010, 0.020), (THIN, Sheet(72e9, 0.0009, 0.33), THICK)
    found = doubler_end(8e4, [Step(*both) for both in zip(lengths, steps, strict=True)], SKIN, FILM)

    def slope(s: Floats, state: Floats) -> Floats:  # every step on its own 0 to 1, so that no coefficient jumps
        rates = []
        for number, (length, sheet) in enumerate(zip(lengths, steps, strict=True)):
            pull, shear = state[2 * number : 2 * number + 2] * 8e4
            grown = FILM.shear_modulus / FILM.thickness * (pull / sheet.axial - (8e4 - pull) / SKIN.axial)
            rates += [shear * length / 8e4, grown * length / 8e4]
        return np.array(rates) + 0.0 * s

    def ends(a: Floats, b: Floats) -> Floats:
        joined = [b[0] - a[2], b[1] - a[3], b[2] - a[4], b[3] - a[5]]
        return np.array([a[0], *joined, b[5]])

    solved = solve_bvp(slope, ends, np.linspace(0.0, 1.0, 200), np.zeros((6, 200)), tol=1e-9, max_nodes=50000)
    assert solved.success
    at_edges = solved.sol(0.0) * 8e4
    assert found.load[1:] == pytest.approx(at_edges[2::2], rel=1e-6)
    assert found.shear == pytest.approx(at_edges[1::2], rel=1e-5)
    assert found.inner_load == pytest.approx(solved.sol(1.0)[4] * 8e4, rel=1e-6)
    assert found.edges == pytest.approx([0.0, 0.006, 0.016])


def test_a_thin_first_step_spares_the_film() -> None:
    blunt = doubler_end(8e4, [Step(0.03, THICK)], SKIN, FILM)
    stepped = doubler_end(8e4, [Step(0.01, THIN), Step(0.02, THICK)], SKIN, FILM)
    assert stepped.shear.max() < blunt.shear.max()
    assert stepped.peel < blunt.peel


@pytest.mark.outside
@pytest.mark.parametrize("decay", [0.0, 150.0, 600.0])
def test_peel_at_an_end_is_that_of_its_equation(decay: float) -> None:
    shear, length = 30e6, 0.04
    spring, stiffness = FILM.modulus / FILM.thickness, THICK.bending
    couple = 0.5 * THICK.thickness * shear

    def slope(x: Floats, w: Floats) -> Floats:  # in millimetres
        driven = -decay * couple * np.exp(-decay * x)
        return np.array([w[1], w[2], w[3], (driven - spring * w[0] / 1e3) / stiffness * 1e3])

    def ends(a: Floats, b: Floats) -> Floats:
        return np.array([a[2], a[3] - couple / stiffness * 1e3, b[0], b[1]])

    x = np.linspace(0.0, length, 1200)
    solved = solve_bvp(slope, ends, x, np.zeros((4, x.size)), tol=1e-6, max_nodes=100000)
    assert solved.success
    assert end_peel(shear, decay, THICK, FILM) == pytest.approx(solved.sol(0.0)[0] / 1e3 * spring, rel=1e-4)


@given(sheet=sheets, film=films)
def test_peel_of_a_shear_that_stays_is_the_published_form(sheet: Sheet, film: Film) -> None:
    # L. J. Hart-Smith, NASA CR-112235, 1973 (from memory)
    known = (3.0 * film.modulus * (1.0 - sheet.poisson**2) * sheet.thickness / (sheet.modulus * film.thickness)) ** 0.25
    assert end_peel(1e7, 0.0, sheet, film) == pytest.approx(1e7 * known, rel=1e-9)


@given(sheet=sheets, film=films, force=st.floats(0.0, 1e4), moment=st.floats(0.0, 1e2))
def test_edge_loads_add(sheet: Sheet, film: Film, force: float, moment: float) -> None:
    both = edge_peel(EdgeLoad(force, moment), sheet, film)
    assert both == pytest.approx(
        edge_peel(EdgeLoad(force, 0.0), sheet, film) + edge_peel(EdgeLoad(0.0, moment), sheet, film), rel=1e-9
    )


def test_what_is_missing_or_wrong_is_named() -> None:
    with pytest.raises(MissingInput) as missing:
        doubler_end(1e5, [], SKIN, FILM)
    assert missing.value.field == "steps"
    with pytest.raises(BadInput) as caught:
        Step(0.0, THIN)
    assert (caught.value.field, caught.value.allowed) == ("length", "more than 0")
    with pytest.raises(BadInput) as caught:
        doubler_end(-1.0, [Step(0.1, THIN)], SKIN, FILM)
    assert caught.value.field == "load"
