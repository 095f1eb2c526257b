"""Flutter and divergence of the drawn blade as it bends and twists, with what service adds to it or takes."""

import itertools
from dataclasses import dataclass
from typing import Literal

import numpy as np

from bladewright.design.added_mass import AddedAlong
from bladewright.design.control_runs import ControlRun
from bladewright.design.stiff_blade import Onset
from bladewright.engine.dynamics.blade_beam import BladeBeam, Root
from bladewright.engine.dynamics.changed_mass import AddedMass, mass_added
from bladewright.engine.dynamics.flutter_margin import ControlRun as Run
from bladewright.engine.dynamics.flutter_margin import FlutterMargin, flutter_margin
from bladewright.engine.dynamics.strip_air import StripAir

LOOKED_THROUGH = 0.04  # either way; nobody builds a blade with its mass further off [m]
PIECES = 4  # of an added mass on a tapered blade
ALIKE = 1e-9  # of a mass per length: a blade whose chord changes by less has one piece


@dataclass(frozen=True, slots=True)
class Turning:
    """How a blade is held and flown while its margin is asked."""

    root: Root
    air: StripAir
    runs: tuple[ControlRun, ...]
    slowest: float  # [rad/s]
    fastest: float  # [rad/s]
    pitch: float  # of the lever [rad]
    forward: float = 0.0  # air from ahead, as if the advancing blade stayed there [m/s]


def elastic_blade_onsets(beam: BladeBeam, turning: Turning) -> tuple[Onset, ...]:
    """Every control run, pattern and rotor speed between the slowest and the fastest."""
    found = _margin(beam, turning, "mass")
    return tuple(
        Onset(one.goes, one.control_run, one.rotor_speed, _offset(one.margin, found.offset))
        for one in found.every
        if one.control_run in _asked(turning)
    )


def lift_may_move_ahead(beam: BladeBeam, turning: Turning) -> float | None:
    """How far ahead the aerodynamic centre may move before anything begins [m]; None: further than was looked."""
    least = min(one.margin for one in _margin(beam, turning, "lift").every if one.control_run in _asked(turning))
    return None if np.isposinf(least) else max(least, -LOOKED_THROUGH)


def _margin(beam: BladeBeam, turning: Turning, moved: Literal["mass", "lift"]) -> FlutterMargin:
    return flutter_margin(
        beam,
        turning.root,
        turning.air,
        [Run(run.words, run.stiffness) for run in turning.runs],
        np.array([turning.slowest, turning.fastest]),
        factor=1.0,
        pitch=turning.pitch,
        forward_speed=turning.forward,
        moved=moved,
        limit=LOOKED_THROUGH,
    )


def _asked(turning: Turning) -> set[str]:
    """A loose run is looked at whether asked for or not."""
    return {run.words for run in turning.runs}


def with_added(beam: BladeBeam, added: AddedAlong) -> BladeBeam:
    """The beam with a coat, water or tape on it; in pieces where the chord changes under it."""
    even = np.ptp(added.moments[:, 0]) <= ALIKE * added.moments[:, 0].max()
    ends = np.linspace(added.y[0], added.y[-1], 2 if even else PIECES + 1)
    return mass_added(beam, [_piece(added, inner, outer) for inner, outer in itertools.pairwise(ends.tolist())])


def _piece(added: AddedAlong, inner: float, outer: float) -> AddedMass:
    middle = 0.5 * (inner + outer)
    one, x, z, xx, _, _ = (float(np.interp(middle, added.y, moment)) for moment in added.moments.T)
    if one == 0.0:
        return AddedMass(inner, outer, 0.0, 0.0)
    spread = max(xx / one - (x / one) ** 2, 0.0) ** 0.5
    return AddedMass(inner, outer, one, x / one, z / one, spread)


def _offset(margin: float, offset: float) -> float | None:
    """Where the centre would be; None where nothing begins, and the end of what was looked through where all grows."""
    if np.isposinf(margin):
        return None
    return offset + max(margin, -LOOKED_THROUGH)
