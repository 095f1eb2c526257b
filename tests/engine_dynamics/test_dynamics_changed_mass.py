"""Paint, strips and lost weights on a blade, against sums done by hand."""

from dataclasses import replace

import numpy as np
import pytest

from bladewright.engine.dynamics.blade_beam import PointMass
from bladewright.engine.dynamics.changed_mass import (
    AddedMass,
    mass_added,
    mass_shifted,
    span_weighted_offset,
    tip_weight_lost,
)
from bladewright.errors import BadInput
from tests.engine_dynamics.even_blade import INNER, RADIUS, even_blade

TIP = PointMass(y=2.9, mass=0.8, x=-0.03, z=0.0)
BLADE = even_blade(aft=0.004, masses=(TIP,))


def whole(values: np.ndarray, y: np.ndarray) -> float:
    return float(np.trapezoid(values, y))


def test_an_even_blade_with_its_tip_weight_by_hand() -> None:
    spar = 2.9 * (RADIUS**2 - INNER**2) / 2.0
    expected = (spar * 0.004 + 0.8 * 2.9 * -0.03) / (spar + 0.8 * 2.9)
    assert span_weighted_offset(BLADE) == pytest.approx(expected, rel=1e-12)


def test_a_shift_moves_the_offset_by_itself_and_the_inertia_as_parallel_axes_do() -> None:
    moved = mass_shifted(BLADE, 0.003)
    assert span_weighted_offset(moved) - span_weighted_offset(BLADE) == pytest.approx(0.003, rel=1e-10)
    about_centre = moved.chordwise_inertia - moved.mass_per_length * moved.mass_x**2
    assert about_centre == pytest.approx(BLADE.chordwise_inertia - BLADE.mass_per_length * BLADE.mass_x**2, rel=1e-12)
    assert moved.masses[0].x == pytest.approx(-0.027)
    back = mass_shifted(moved, -0.003)
    assert back.chordwise_inertia == pytest.approx(BLADE.chordwise_inertia, rel=1e-12)


def test_paint_moves_the_centre_by_hand() -> None:
    # 60 g/m at 50 mm aft from 1.0 to 2.5 m
    painted = mass_added(BLADE, [AddedMass(1.0, 2.5, 0.06, 0.05)])
    mass = whole(painted.mass_per_length, painted.y) - whole(BLADE.mass_per_length, BLADE.y)
    assert mass == pytest.approx(0.06 * 1.5, rel=2e-6)
    moment = 2.9 * (RADIUS**2 - INNER**2) / 2.0
    extra = 0.06 * (2.5**2 - 1.0**2) / 2.0
    tip = TIP.mass * TIP.y
    expected = (moment * 0.004 + tip * TIP.x + extra * 0.05) / (moment + tip + extra)
    assert span_weighted_offset(painted) == pytest.approx(expected, rel=2e-6)
    inside = np.searchsorted(painted.y, 1.7)
    assert painted.chordwise_inertia[inside] - BLADE.chordwise_inertia[0] == pytest.approx(0.06 * 0.05**2, rel=1e-9)
    assert np.all(np.diff(painted.y) > 0.0)


def test_what_was_added_can_be_taken_off_again() -> None:
    coat = AddedMass(INNER, RADIUS, 0.06, 0.05, 0.001, 0.02)
    bare = mass_added(BLADE, [coat, replace(coat, mass_per_length=-0.06)])
    # a spread belongs to the mass, so it goes with it
    for name in ("mass_per_length", "mass_x", "mass_z", "chordwise_inertia", "product_of_inertia"):
        assert np.interp(2.0, bare.y, getattr(bare, name)) == pytest.approx(getattr(BLADE, name)[0], abs=1e-12)


def test_a_lost_tip_weight_leaves_the_mass_further_aft() -> None:
    assert span_weighted_offset(tip_weight_lost(BLADE, 0)) == pytest.approx(0.004, rel=1e-12)


@pytest.mark.parametrize("number", [1, -1])
def test_a_weight_that_is_not_there_cannot_be_lost(number: int) -> None:
    with pytest.raises(BadInput) as refused:
        tip_weight_lost(BLADE, number)
    assert refused.value.field == "number"


@pytest.mark.parametrize(
    ("added", "field"),
    [
        ((0.1, 2.0, 0.05, 0.0), "inner"),
        ((1.0, 3.1, 0.05, 0.0), "outer"),
        ((2.0, 1.0, 0.05, 0.0), "outer"),
        ((1.0, 2.0, -3.0, 0.0), "mass_per_length"),
        ((1.0, 2.0, np.nan, 0.0), "mass_per_length"),
    ],
)
def test_a_change_no_blade_can_have_is_refused(added: tuple[float, float, float, float], field: str) -> None:
    with pytest.raises(BadInput) as refused:
        mass_added(BLADE, [AddedMass(*added)])
    assert refused.value.field == field
