"""Prandtl's stress function on a grid, against bars and tubes with closed forms."""

import numpy as np
import pytest
from numpy.typing import NDArray

from bladewright.engine.arrays import Floats
from bladewright.engine.structure.solid_block import FREE, OUTER, solid_block
from bladewright.errors import BadInput


def bar(width: float, depth: float, n: int) -> tuple[Floats, NDArray[np.int_]]:
    nodes = np.stack(np.meshgrid(np.linspace(0, width, n), np.linspace(0, depth, n), indexing="ij"), -1)
    held = np.full((n, n), FREE)
    held[[0, -1]] = held[:, [0, -1]] = OUTER
    return nodes, held


def rectangle(width: float, depth: float) -> float:
    """Series of Saint-Venant, as in Timoshenko and Goodier, Theory of Elasticity (from memory)."""
    n = np.arange(1, 60, 2)
    series = (np.tanh(n * np.pi * width / (2.0 * depth)) / n**5).sum()
    return float(width * depth**3 / 3.0 * (1.0 - 192.0 * depth / (np.pi**5 * width) * series))


@pytest.mark.parametrize("width", [1.0, 3.0])
def test_solid_bars_from_below_and_with_the_square_of_the_spacing(width: float) -> None:
    exact = rectangle(width, 1.0)
    errors = []
    for n in (9, 17, 33):
        nodes, held = bar(width, 1.0, n)
        errors.append(exact - float(solid_block(nodes, np.ones((n - 1, n - 1)), held, 0).own))
    assert min(errors) > 0.0
    assert errors[1] / errors[2] == pytest.approx(4.0, rel=0.1)
    assert errors[2] / exact < 0.005


def test_a_quarter_of_a_thick_tube() -> None:
    # pi/2 (a^4 - b^4): the cell's flow and the wall's own share together, bore included
    angle, radius = np.linspace(0.0, np.pi / 2.0, 49), np.linspace(2.0, 1.0, 17)
    nodes = np.stack((radius * np.cos(angle)[:, None], radius * np.sin(angle)[:, None]), axis=-1)
    held = np.full((49, 17), FREE)
    held[:, 0], held[:, -1] = OUTER, 1
    quarter = solid_block(nodes, np.ones((48, 16)), held, 1)
    area = 4.0 * float(quarter.areas[0]) + np.pi
    whole = 4.0 * area**2 / (4.0 * float(quarter.flexibility[0, 0])) + 4.0 * float(quarter.own)
    assert whole == pytest.approx(0.5 * np.pi * 15.0, rel=1e-3)


def test_a_layered_strip_twists_as_its_laminate() -> None:
    # natural at both end rows: no end effect; 4 integral of G n^2 about the weighted middle, closed form
    levels = np.concatenate((np.linspace(0.0, 1.0, 21), np.linspace(1.0, 3.0, 41)[1:]))
    nodes = np.stack(np.meshgrid(np.array([0.0, 1.0, 2.0]), levels, indexing="ij"), -1)
    held = np.full((3, len(levels)), FREE)
    held[:, 0] = held[:, -1] = OUTER
    g = np.concatenate((np.full(20, 5.0), np.full(40, 1.0)))
    found = solid_block(nodes, np.broadcast_to(1.0 / g, (2, 60)), held, 0).own
    middle = (5.0 * 0.5 + 1.0 * 4.0) / 7.0
    exact = 4.0 * (5.0 * (1.0 / 12.0 + (middle - 0.5) ** 2) + 1.0 * (8.0 / 12.0 + 2.0 * (2.0 - middle) ** 2))
    assert found / 2.0 == pytest.approx(exact, rel=2e-3)


def test_a_hollow_element_counts_its_area_and_bears_nothing() -> None:
    nodes, held = bar(1.0, 1.0, 4)
    held[1:3, 1:3] = 1  # the middle third is a cell; walls one third thick, one element
    compliance = np.ones((3, 3))
    compliance[1, 1] = 0.0
    block = solid_block(nodes, compliance, held, 1)
    assert block.own == pytest.approx(0.0, abs=1e-15)
    # pyramid frustum of the function over the wall: 1/9 + 4 walls x half x 1/9 + 4 corners (two splits averaged)
    assert block.areas[0] == pytest.approx(1.0 / 9.0 + 4.0 / 18.0 + 4.0 / 9.0 * 0.25, rel=1e-12)


def test_many_blocks_at_once_are_each_as_alone() -> None:
    nodes, held = bar(2.0, 1.0, 9)
    compliance = np.ones((8, 8))
    one = solid_block(nodes, compliance, held, 0).own
    many = solid_block(nodes * np.array([1.0, 2.0])[:, None, None, None], np.ones((2, 8, 8)), held, 0).own
    assert many == pytest.approx([one, 16.0 * one], rel=1e-12)


def test_a_grid_that_does_not_fit_is_refused() -> None:
    nodes, held = bar(1.0, 1.0, 4)
    with pytest.raises(BadInput) as caught:
        solid_block(nodes, np.ones((3, 4)), held, 0)
    assert caught.value.field == "nodes"
