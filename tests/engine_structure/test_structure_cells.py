"""Thin-walled torsion and shear centre: closed forms, symmetry, and what more metal must do."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.arrays import Floats
from bladewright.engine.structure.cells import (
    Cells,
    Wall,
    cell_areas,
    cell_flexibility,
    cell_torsion,
    shear_centre,
)
from bladewright.errors import BadInput

G, E = 27e9, 70e9


def wall(points: Floats, thickness: float, start: int, end: int) -> Wall:
    pieces = (*points.shape[:-2], points.shape[-2] - 1)
    return Wall(points, np.full(pieces, G * thickness), np.full(pieces, E * thickness), start, end)


def stiffness(cells: Cells) -> float:
    return float(cell_torsion(cell_areas(cells), cell_flexibility(cells)).stiffness)


def two_cells(web: float = 1.5e-3, tail: float = 1e-3, move: tuple[float, float] = (0.0, 0.0)) -> Cells:
    """A box with a web in it: 60 mm ahead of the web, 90 mm behind, 30 mm deep."""
    o = np.array(move)
    front = np.array([(0.0, 0.015), (-0.06, 0.015), (-0.06, -0.015), (0.0, -0.015)]) + o
    middle = np.array([(0.0, -0.015), (0.0, 0.015)]) + o
    back = np.array([(0.0, -0.015), (0.09, -0.015), (0.09, 0.015), (0.0, 0.015)]) + o
    walls = (wall(front, 2e-3, 0, 1), wall(middle, web, 1, 0), wall(back, tail, 1, 0))
    return Cells(walls, (((0, 1), (1, 1)), ((2, 1), (1, -1))))


def tube(radius: float, thickness: float, pieces: int) -> Cells:
    angle = np.linspace(0.0, 2.0 * np.pi, pieces + 1)
    ring = radius * np.column_stack((np.cos(angle), np.sin(angle)))
    half = pieces // 2
    walls = (wall(ring[: half + 1], thickness, 0, 1), wall(ring[half:], thickness, 1, 0))
    return Cells(walls, (((0, 1), (1, 1)),))


def test_a_thin_tube_is_found_with_the_square_of_the_piece() -> None:
    # 2 pi r^3 t G, Bredt; the inscribed polygon is low by a number that falls fourfold with half the side
    exact = 2.0 * np.pi * 0.05**3 * 1e-3 * G
    errors = [1.0 - stiffness(tube(0.05, 1e-3, n)) / exact for n in (50, 100, 200)]
    assert errors[0] / errors[1] == pytest.approx(4.0, rel=0.01)
    assert errors[1] / errors[2] == pytest.approx(4.0, rel=0.01)


def test_a_thick_tube_with_its_walls_own_torsion() -> None:
    # solid of revolution: pi/2 (a^4 - b^4) G. Bredt alone is low by (t/2r)^2, with the strips by nothing of that order
    r, t = 0.05, 0.01
    exact = 0.5 * np.pi * ((r + t / 2.0) ** 4 - (r - t / 2.0) ** 4) * G
    cells = tube(r, t, 4000)
    own = 2.0 * np.pi * r * G * t**3 / 3.0
    thin = stiffness(cells)
    whole = float(cell_torsion(cell_areas(cells), cell_flexibility(cells), own).stiffness)
    assert 1.0 - thin / exact == pytest.approx((t / (2.0 * r)) ** 2, rel=0.05)
    assert abs(whole / exact - 1.0) < 0.35 * (t / (2.0 * r)) ** 2


def test_two_cells_by_hand() -> None:
    # areas and ds/t of each cell, 2 x 2 system solved by hand: Bredt, Batho
    a1, a2 = 0.06 * 0.03, 0.09 * 0.03
    d1, d2, d12 = 0.15 / 2e-3 + 0.03 / 1.5e-3, 0.21 / 1e-3 + 0.03 / 1.5e-3, 0.03 / 1.5e-3
    determinant = d1 * d2 - d12**2
    q1, q2 = 2.0 * G * (a1 * d2 + a2 * d12) / determinant, 2.0 * G * (a2 * d1 + a1 * d12) / determinant
    assert stiffness(two_cells()) == pytest.approx(2.0 * (a1 * q1 + a2 * q2), rel=1e-12)


@settings(max_examples=25)
@given(st.floats(0.2, 5.0), st.floats(-1.0, 1.0), st.floats(-1.0, 1.0))
def test_moving_a_section_moves_its_shear_centre_and_nothing_else(web: float, x: float, z: float) -> None:
    here, there = two_cells(web * 1e-3), two_cells(web * 1e-3, move=(x, z))
    assert stiffness(there) == pytest.approx(stiffness(here), rel=1e-9)
    a, b = shear_centre(here), shear_centre(there)
    assert (b[0] - x, b[1] - z) == (pytest.approx(a[0], abs=1e-9), pytest.approx(a[1], abs=1e-9))
    assert a[1] == pytest.approx(0.0, abs=1e-12)  # symmetric about the chord line


@settings(max_examples=25)
@given(st.floats(0.2, 5.0), st.floats(1.05, 3.0))
def test_more_metal_never_softens(web: float, more: float) -> None:
    assert stiffness(two_cells(web * more * 1e-3)) >= stiffness(two_cells(web * 1e-3))
    assert stiffness(two_cells(tail=web * more * 1e-3)) > stiffness(two_cells(tail=web * 1e-3))


def test_a_doubly_symmetric_box_has_its_shear_centre_in_the_middle() -> None:
    ring = np.array([(0.1, 0.02), (0.0, 0.02), (0.0, 0.0), (0.1, 0.0)])
    cells = Cells((wall(ring, 1e-3, 0, 1), wall(ring[[3, 0]], 1e-3, 1, 0)), (((0, 1), (1, 1)),))
    assert [float(place) for place in shear_centre(cells)] == pytest.approx([0.05, 0.01], abs=1e-12)


def test_many_sections_at_once_are_each_as_alone() -> None:
    one = two_cells()
    scale = np.array([0.5, 1.0, 2.0])
    many = Cells(
        tuple(
            Wall(
                scale[:, None, None] * w.points, *(np.broadcast_to(a, (3, len(a))) for a in (w.shear, w.axial)),
                w.start, w.end,
            )
            for w in one.walls
        ),
        one.loops,
    )  # fmt: skip
    found = cell_torsion(cell_areas(many), cell_flexibility(many)).stiffness
    assert found == pytest.approx(stiffness(one) * scale**3, rel=1e-12)
    assert shear_centre(many)[0] == pytest.approx(shear_centre(one)[0] * scale, rel=1e-9)


def test_a_branch_with_a_free_end_twists_nothing_but_moves_the_shear_centre_as_an_open_one() -> None:
    # a fin along the line of symmetry carries no flow from a force up, so the place does not change
    box = np.array([(0.1, 0.02), (0.0, 0.02), (0.0, 0.0), (0.1, 0.0)])
    closing = (wall(box, 1e-3, 0, 1), wall(np.array([(0.1, 0.0), (0.1, 0.01)]), 1e-3, 1, 2))
    other = wall(np.array([(0.1, 0.01), (0.1, 0.02)]), 1e-3, 2, 0)
    fin = wall(np.array([(0.1, 0.01), (0.15, 0.01)]), 1e-3, 2, 3)
    loop = ((0, 1), (1, 1), (2, 1))
    with_fin = Cells((*closing, other, fin), (loop,))
    without = Cells((*closing, other), (loop,))
    assert stiffness(with_fin) == pytest.approx(stiffness(without), rel=1e-12)
    assert shear_centre(with_fin)[0] == pytest.approx(shear_centre(without)[0], abs=1e-9)


def test_loops_that_do_not_close_are_refused() -> None:
    good = two_cells()
    with pytest.raises(BadInput) as caught:
        Cells(good.walls, (((0, 1), (1, -1)),))
    assert caught.value.field == "loops"
    with pytest.raises(BadInput) as caught:
        shear_centre(Cells(good.walls, good.loops[:1]))
    assert (caught.value.field, caught.value.value, caught.value.allowed) == ("loops", 1, "2 loops")
