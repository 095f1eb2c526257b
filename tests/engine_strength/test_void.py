"""A void in a lap against the boundary-value problem, and what must hold of any void."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_bvp

from bladewright.engine.arrays import Floats
from bladewright.engine.strength.adherends import Film, Sheet
from bladewright.engine.strength.lap_joint import lap_shear
from bladewright.engine.strength.void import bonded_share, void_in_lap, void_in_transfer
from bladewright.errors import BadInput

FILM = Film(shear_modulus=0.8e9, modulus=2.2e9, thickness=0.0001)
THIN, THICK = Sheet(72e9, 0.0006, 0.33), Sheet(68e9, 0.003, 0.33)
sheets = st.builds(Sheet, st.floats(2e10, 2e11), st.floats(2e-4, 0.01), st.just(0.33))
films = st.builds(Film, st.floats(1e7, 3e9), st.floats(1e8, 9e9), st.floats(5e-5, 1e-3))


@pytest.mark.outside
def test_shear_beside_a_void_is_that_of_the_boundary_value_problem() -> None:
    load, overlap, start, length = 4e4, 0.025, 0.008, 0.006
    found = void_in_lap(load, overlap, start, length, THIN, THICK, FILM)
    lengths, spring = (start, length, overlap - start - length), FILM.shear_modulus / FILM.thickness

    def slope(s: Floats, state: Floats) -> Floats:
        rates = []
        for number, piece in enumerate(lengths):
            pull, slip = state[2 * number] * load, state[2 * number + 1]
            shear = spring * slip * 1e-6 * (number != 1)  # slip in micrometres
            grown = ((load - pull) / THICK.axial - pull / THIN.axial) * 1e6
            rates += [-shear * piece / load, grown * piece]
        return np.array(rates) + 0.0 * s

    def ends(a: Floats, b: Floats) -> Floats:
        return np.array([a[0] - 1.0, b[0] - a[2], b[1] - a[3], b[2] - a[4], b[3] - a[5], b[4]])

    solved = solve_bvp(slope, ends, np.linspace(0.0, 1.0, 300), np.zeros((6, 300)), tol=1e-9, max_nodes=50000)
    assert solved.success
    left, right = spring * 1e-6 * solved.sol(0.0), spring * 1e-6 * solved.sol(1.0)
    assert (found.first_end, found.before, found.after, found.second_end) == pytest.approx(
        (left[1], right[1], left[5], right[5]), rel=1e-5
    )


@given(
    first=sheets, second=sheets, film=films, overlap=st.floats(2e-3, 0.5),
    start=st.floats(0.01, 0.98), share=st.floats(0.0, 1.0),
)  # fmt: skip
def test_a_void_never_helps_and_none_changes_nothing(
    first: Sheet, second: Sheet, film: Film, overlap: float, start: float, share: float
) -> None:
    sound = lap_shear(1e4, overlap, first, second, film)
    void = void_in_lap(1e4, overlap, start * overlap, share * 0.99 * (1.0 - start) * overlap, first, second, film)
    assert void.worse_by >= 1.0 - 1e-9
    assert void.first_end >= sound.first_end * (1.0 - 1e-9)
    assert void.second_end >= sound.second_end * (1.0 - 1e-9)
    none = void_in_lap(1e4, overlap, start * overlap, 0.0, first, second, film)
    assert none.before == pytest.approx(none.after, rel=1e-6, abs=1e-9 * sound.peak)
    assert (none.first_end, none.second_end) == pytest.approx((sound.first_end, sound.second_end), rel=1e-9)


def test_a_wall_that_does_not_give_is_the_limit_of_stiff_ones() -> None:
    rigid = void_in_transfer(4e4, 0.025, 0.008, 0.006, math.inf, THIN.axial, FILM)
    stiff = void_in_transfer(4e4, 0.025, 0.008, 0.006, 1e10 * THIN.axial, THIN.axial, FILM)
    assert (rigid.first_end, rigid.before, rigid.after, rigid.second_end) == pytest.approx(
        (stiff.first_end, stiff.before, stiff.after, stiff.second_end), rel=1e-4
    )


@pytest.mark.parametrize("start", [0.0, 0.015])
def test_a_void_at_an_end_leaves_a_shorter_lap(start: float) -> None:
    void = void_in_lap(4e4, 0.025, start, 0.010, THIN, THICK, FILM)
    shorter = lap_shear(4e4, 0.015, THIN, THICK, FILM)
    assert (void.first_end, void.second_end) == pytest.approx((shorter.first_end, shorter.second_end), rel=1e-9)


@pytest.mark.parametrize(("start", "length"), [(0.020, 0.010), (0.0, 0.025), (-0.001, 0.001), (0.001, -0.001)])
def test_a_void_that_is_not_in_the_overlap_is_named(start: float, length: float) -> None:
    with pytest.raises(BadInput) as caught:
        void_in_lap(4e4, 0.025, start, length, THIN, THICK, FILM)
    assert caught.value.field in ("void_length", "void_start")


def test_what_is_left_of_a_bond() -> None:
    assert bonded_share(4e-3, 1e-3) == 0.75
    with pytest.raises(BadInput) as caught:
        bonded_share(1e-3, 2e-3)
    assert caught.value.field == "void_area"
