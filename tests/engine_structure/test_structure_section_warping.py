"""Sections in torsion and shear by finite elements: closed forms, order of convergence, thin walls, refusals."""

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.arrays import Floats
from bladewright.engine.structure.cells import Cells, Wall, cell_areas, cell_flexibility, cell_torsion, shear_centre
from bladewright.engine.structure.section_mesh import Patch, section_mesh
from bladewright.engine.structure.section_warping import SectionWarping, section_warping
from bladewright.errors import BadInput

E, G = np.array([70e9, 2.2e9]), np.array([27e9, 0.8e9])


def grid(x: Floats, z: Floats) -> Floats:
    nodes: Floats = np.stack(np.meshgrid(x, z, indexing="ij"), axis=-1)[None]
    return nodes


def bar(width: float, depth: float, count: int, move: tuple[float, float] = (0.0, 0.0)) -> SectionWarping:
    steps = np.linspace(-0.5, 0.5, 2 * count + 1)
    nodes = grid(width * steps + move[0], depth * steps + move[1])
    return section_warping(section_mesh([Patch(nodes, (0,) * count)]), E, G)


def around(line: Floats, thickness: float) -> Patch:
    """A thin wall on a line of points, square to it."""
    along = np.gradient(line, axis=0)
    normal = np.column_stack((-along[:, 1], along[:, 0])) / np.hypot(*along.T)[:, None]
    offsets = thickness * np.linspace(-0.5, 0.5, 3)
    return Patch((line[:, None] + offsets[:, None] * normal[:, None])[None], (0,))


def test_a_solid_round_bar_twists_without_warping() -> None:
    # an ellipse has G pi a^3 b^3 / (a^2 + b^2): closed form, any text; drawn as rings round a small hole
    a, b = 0.03, 0.01
    angle, radius = np.linspace(0.0, 2.0 * np.pi, 129), np.linspace(1e-4, 1.0, 13)
    ring = np.stack((a * np.cos(angle)[:, None] * radius, b * np.sin(angle)[:, None] * radius), axis=-1)
    found = section_warping(section_mesh([Patch(ring[None], (0,) * 6)]), E, G)
    assert found.torsion[0] == pytest.approx(G[0] * np.pi * a**3 * b**3 / (a**2 + b**2), rel=1e-5)


def test_torsion_of_a_square_bar_nears_the_series_with_the_fourth_power_of_the_element() -> None:
    # the corners hold the order back by a logarithm
    # 1/3 - 64/pi^5 sum tanh(n pi / 2) / n^5 over odd n: de Saint-Venant's series, closed form
    odd = np.arange(1, 200, 2)
    exact = G[0] * (1.0 / 3.0 - 64.0 / np.pi**5 * float((np.tanh(odd * np.pi / 2.0) / odd**5).sum()))
    errors = [float(bar(1.0, 1.0, n).torsion[0]) - exact for n in (2, 4, 8)]
    assert errors[0] > errors[1] > errors[2] > 0.0
    assert np.log2(errors[1] / errors[2]) == pytest.approx(4.0, abs=0.4)


def test_a_bar_gives_way_in_shear_as_the_parabola_says() -> None:
    # 6/5 of F / (G A): closed form, any text on strength of materials; Poisson's ratio nought
    found = bar(0.06, 0.012, 12)
    assert np.linalg.inv(found.giving[0]) == pytest.approx(
        5.0 / 6.0 * G[0] * 0.06 * 0.012 * np.eye(2), rel=1e-4, abs=1.0
    )


def test_a_soft_layer_between_stiff_ones_shears_as_springs_in_a_row() -> None:
    # a soft layer h between faces t: the energy of dq/dz = -E z / EI, q the flow across each level, over three layers
    t, h, width = 4e-3, 1e-3, 1.0
    z = np.concatenate((np.linspace(-t - h / 2, -h / 2, 9)[:-1], np.linspace(-h / 2, h / 2, 9)[:-1],
                        np.linspace(h / 2, t + h / 2, 9)))  # fmt: skip
    patch = Patch(grid(np.linspace(0.0, width, 3), z), (0,) * 4 + (1,) * 4 + (0,) * 4)
    found = section_warping(section_mesh([patch]), E, G)
    fine = np.linspace(-t - h / 2, t + h / 2, 900001)
    soft = np.abs(fine) < h / 2
    young, shear = np.where(soft, E[1], E[0]), np.where(soft, G[1], G[0])
    step = fine[1] - fine[0]
    stiffness = np.trapezoid(young * fine**2, fine) * width
    flow = -np.cumsum(young * fine) * step * width / stiffness
    energy = np.trapezoid(flow**2 / (shear * width), fine)
    assert found.giving[0, 1, 1] == pytest.approx(energy, rel=1e-3)


def test_two_thin_cells_near_bredt_and_batho_as_their_walls_thin() -> None:
    # a box with a web off its middle; the formula is for walls without thickness, so the difference falls with it
    errors, arms = [], []
    for t in (1e-3, 0.5e-3):
        x, z = [0.0, 0.06, 0.15], [-0.015, 0.015]  # middle lines
        cuts = [np.sort(np.add.outer(places, (-t / 2.0, t / 2.0)).ravel()) for places in (x, z)]
        xs, zs = (
            [np.linspace(a, b, 2 * (12 if b - a > 2.0 * t else 1) + 1) for a, b in itertools.pairwise(cut)]
            for cut in cuts
        )
        solid = [(i, k) for i in range(5) for k in range(3) if i % 2 == 0 or k % 2 == 0]
        mesh = section_mesh([Patch(grid(xs[i], zs[k]), (0,) * ((len(zs[k]) - 1) // 2)) for i, k in solid])
        found = section_warping(mesh, E, G)
        front = np.array([(0.06, 0.015), (0.0, 0.015), (0.0, -0.015), (0.06, -0.015)])
        back = np.array([(0.06, -0.015), (0.15, -0.015), (0.15, 0.015), (0.06, 0.015)])
        walls = tuple(
            Wall(line, np.full(len(line) - 1, G[0] * t), np.full(len(line) - 1, E[0] * t), start, end)
            for line, start, end in ((front, 0, 1), (back[[0, 3]], 1, 0), (back, 1, 0))
        )
        cells = Cells(walls, (((0, 1), (1, 1)), ((2, 1), (1, -1))))
        formula = float(cell_torsion(cell_areas(cells), cell_flexibility(cells)).stiffness)
        errors.append(abs(float(found.torsion[0]) / formula - 1.0))
        arms.append(abs(float(found.shear_x[0]) - float(shear_centre(cells)[0])) / 0.15)
    assert errors[1] < 0.01
    assert errors[1] < 0.6 * errors[0]
    assert arms[1] < 1e-3
    assert arms[1] < 0.6 * arms[0]


@settings(max_examples=20, deadline=None)
@given(st.floats(-1.0, 1.0), st.floats(-1.0, 1.0))
def test_moving_a_section_moves_its_shear_centre_and_nothing_else(x: float, z: float) -> None:
    here, there = bar(0.06, 0.012, 3), bar(0.06, 0.012, 3, (x, z))
    assert there.torsion == pytest.approx(here.torsion, rel=1e-8)
    assert there.giving == pytest.approx(here.giving, rel=1e-7, abs=1e-17)
    assert (there.shear_x[0] - x, there.shear_z[0] - z) == pytest.approx((0.0, 0.0), abs=1e-9)


@settings(max_examples=20, deadline=None)
@given(st.floats(1.05, 4.0))
def test_a_stiffer_part_never_softens(more: float) -> None:
    nodes = grid(np.linspace(0.0, 0.05, 5), np.linspace(0.0, 0.01, 5))
    mesh = section_mesh([Patch(nodes, (0, 1))])
    soft, stiff = (section_warping(mesh, E, G * np.array([1.0, factor])) for factor in (1.0, more))
    assert stiff.torsion[0] > soft.torsion[0]
    assert np.all(np.linalg.eigvalsh(soft.giving[0] - stiff.giving[0]) > -1e-20)


def test_many_sections_at_once_are_each_as_alone() -> None:
    scale = np.array([0.5, 1.0, 2.0])
    nodes = grid(np.linspace(0.0, 0.05, 5), np.linspace(0.0, 0.01, 5))
    many = section_warping(section_mesh([Patch(scale[:, None, None, None] * nodes, (0, 1))]), E, G)
    one = section_warping(section_mesh([Patch(nodes, (0, 1))]), E, G)
    assert many.torsion == pytest.approx(one.torsion * scale**4, rel=1e-9)
    assert many.shear_z == pytest.approx(one.shear_z * scale, rel=1e-9)
    assert many.giving[:, 0, 0] == pytest.approx(one.giving[0, 0, 0] / scale**2, rel=1e-9)


def test_layers_that_fold_over_and_parts_that_do_not_touch_are_refused() -> None:
    nodes = grid(np.linspace(0.0, 1.0, 3), np.linspace(0.0, 1.0, 3))
    folded = nodes.copy()
    folded[0, :, 1, 1] = 3.0
    with pytest.raises(BadInput) as caught:
        section_warping(section_mesh([Patch(folded, (0,))]), E, G)
    assert (caught.value.field, caught.value.row) == ("mesh", 1)
    with pytest.raises(BadInput) as caught:
        section_warping(section_mesh([Patch(nodes, (0,)), Patch(nodes + 5.0, (0,))]), E, G)
    assert caught.value.allowed == "one connected section"
    with pytest.raises(BadInput) as caught:
        section_mesh([Patch(nodes, (0, 0))])
    assert (caught.value.field, caught.value.row) == ("patches", 1)
