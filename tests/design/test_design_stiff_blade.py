"""The quick screen against stated ratios: W. Johnson, Helicopter Theory, 1980, ch. 12 (from memory).

A uniform stiff blade of radius one, Lock number 5, pitch inertia 0.0007 of its flap inertia, chord 0.06 of its radius.
"""

import math

import numpy as np
import pytest

from bladewright.design.control_runs import ControlRun
from bladewright.design.stiff_blade import stiff_blade, stiff_blade_onsets
from bladewright.design.turning_mass import TurningMass
from bladewright.engine.dynamics.strip_air import StripAir

CHORD, SPEED, PITCH_INERTIA, LOCK = 0.06, 50.0, 0.0007, 5.0
UNIFORM = TurningMass(mass=3.0, span_moment=1.5, flap_inertia=1.0, pitch_inertia=PITCH_INERTIA, offset_moment=0.0)


def air(aerodynamic_centre: float = 0.0, count: int = 4001) -> StripAir:
    y, one = np.linspace(1e-9, 1.0, count), np.ones(count)
    density = LOCK / (2.0 * math.pi * CHORD)
    return StripAir(y, CHORD * one, 2.0 * math.pi * one, aerodynamic_centre * one, density)


def run(per_rev: float) -> ControlRun:
    return ControlRun("run", PITCH_INERTIA * (per_rev * SPEED) ** 2)


def test_sums_along_the_span_are_the_stated_ratios() -> None:
    blade = stiff_blade(UNIFORM, run(3.0).stiffness, SPEED, air(0.0006))
    assert blade.lock_number == pytest.approx(LOCK, rel=1e-6)
    assert blade.control_frequency == pytest.approx(3.0, rel=1e-12)
    assert blade.pitch_damping == pytest.approx(LOCK / 32.0 * CHORD**2, rel=1e-6)
    assert blade.aerodynamic_centre == pytest.approx(0.0006, rel=1e-6)


@pytest.mark.outside
@pytest.mark.parametrize(
    ("per_rev", "flutter", "divergence"),
    [(2.0, 3.81889, 6.16745), (3.0, 7.39369, 12.22909), (4.0, 13.84703, 20.54758)],
)
def test_onsets_are_the_stated_shares_of_the_chord(per_rev: float, flutter: float, divergence: float) -> None:
    found = {one.motion: one for one in stiff_blade_onsets(UNIFORM, [run(per_rev)], [(SPEED, air())])}
    shares = [100.0 * (found[motion].offset or math.nan) / CHORD for motion in ("flutter", "divergence")]
    assert shares == pytest.approx([flutter, divergence], rel=2e-6)


@pytest.mark.outside
def test_a_stiff_control_run_leaves_nothing_to_begin() -> None:
    # five per rev: no flutter below the bound, and divergence only beyond what a blade can have
    assert [one.offset for one in stiff_blade_onsets(UNIFORM, [run(5.0)], [(SPEED, air())])] == [None, None]
