"""A film that yields: the brittle, endless and wholly yielded joint in closed form, and the equations stepped."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from bladewright.engine.arrays import Floats
from bladewright.engine.strength.adherends import Film, Sheet
from bladewright.engine.strength.ductile_lap import Ductility, lap_capacity
from bladewright.engine.strength.lap_joint import lap_shear
from bladewright.errors import BadInput

FILM = Film(shear_modulus=0.8e9, modulus=2.2e9, thickness=0.0001)
THIN, THICK = Sheet(72e9, 0.0006, 0.33), Sheet(68e9, 0.003, 0.33)
TOUGH = Ductility(yield_stress=35e6, plastic_strain=0.4)
sheets = st.builds(Sheet, st.floats(2e10, 2e11), st.floats(2e-4, 0.01), st.just(0.33))
films = st.builds(Film, st.floats(1e8, 3e9), st.floats(1e8, 9e9), st.floats(5e-5, 1e-3))
ductilities = st.builds(Ductility, st.floats(1e6, 1e8), st.floats(0.0, 2.0))


@given(first=sheets, second=sheets, film=films, overlap=st.floats(1e-3, 0.5), stress=st.floats(1e6, 1e8))
def test_a_brittle_film_is_the_elastic_joint(
    first: Sheet, second: Sheet, film: Film, overlap: float, stress: float
) -> None:
    found = lap_capacity(overlap, first, second, film, Ductility(stress, 0.0))
    assert lap_shear(found.load, overlap, first, second, film).peak == pytest.approx(stress, rel=1e-9)


@given(first=sheets, second=sheets, film=films, ductility=ductilities, overlap=st.floats(1e-3, 0.5))
def test_no_joint_bears_more_than_all_its_film_or_the_work_to_break_it(
    first: Sheet, second: Sheet, film: Film, ductility: Ductility, overlap: float
) -> None:
    found = lap_capacity(overlap, first, second, film, ductility)
    turned = lap_capacity(overlap, second, first, film, ductility)
    elastic = lap_capacity(overlap, first, second, film, Ductility(ductility.yield_stress, 0.0))
    assert found.load == pytest.approx(turned.load, rel=1e-9)
    assert elastic.load * (1 - 1e-9) <= found.load <= ductility.yield_stress * overlap * (1 + 1e-9)
    assert found.load <= found.endless * (1 + 1e-9)
    assert found.yielded_first >= found.yielded_second - 1e-12
    longer = lap_capacity(1.3 * overlap, first, second, film, ductility)
    assert longer.load >= found.load * (1 - 1e-9)


def test_a_long_joint_bears_the_work_and_a_short_one_all_its_film() -> None:
    long = lap_capacity(0.5, THIN, THICK, FILM, TOUGH)
    assert long.load == pytest.approx(long.endless, rel=1e-6)
    short = lap_capacity(0.005, THIN, THICK, FILM, TOUGH)
    assert short.load == pytest.approx(35e6 * 0.005, rel=1e-12)
    # closed form of two like sheets without end: 2 sqrt(E t t_a tau (tau / 2G + gamma)); Hart-Smith's for a double lap
    like = lap_capacity(0.5, THIN, THIN, FILM, TOUGH)
    work = 35e6 * 0.0001 * (35e6 / 1.6e9 + 0.4)
    assert like.load == pytest.approx(2.0 * math.sqrt(THIN.axial * work), rel=1e-6)


@pytest.mark.outside
@pytest.mark.parametrize("overlap", [0.012, 0.016, 0.02, 0.03])
@pytest.mark.parametrize("strain", [0.02, 0.1, 0.4])
def test_the_equations_stepped_from_the_broken_end_leave_nothing_at_the_other(overlap: float, strain: float) -> None:
    ductility = Ductility(35e6, strain)
    found = lap_capacity(overlap, THIN, THICK, FILM, ductility)
    stiffness = FILM.shear_modulus / FILM.thickness

    def slope(_: float, state: Floats) -> Floats:
        pull, slip = state
        shear = min(stiffness * slip, 35e6)
        return np.array([-shear, (found.load - pull) / THICK.axial - pull / THIN.axial])

    broken = FILM.thickness * (35e6 / FILM.shear_modulus + strain)
    whole = solve_ivp(slope, (0.0, overlap), [found.load, broken], rtol=1e-11, atol=1e-13, max_step=overlap / 2000)
    assert abs(whole.y[0, -1]) < 1e-3 * found.load
    yielded = stiffness * whole.y[1] >= 35e6
    length = float(np.diff(whole.t)[yielded[1:]].sum())
    assert length == pytest.approx(found.yielded_first + found.yielded_second, abs=2e-3 * overlap)


def test_what_is_no_film_is_named() -> None:
    for field, ask in (
        ("yield_stress", lambda: Ductility(0.0, 0.1)),
        ("plastic_strain", lambda: Ductility(35e6, -0.1)),
        ("overlap", lambda: lap_capacity(0.0, THIN, THICK, FILM, TOUGH)),
    ):
        with pytest.raises(BadInput) as caught:
            ask()
        assert caught.value.field == field
