"""The quick screen for flutter and divergence: the blade as if it could only flap and turn against its control run."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from bladewright.design.control_runs import ControlRun
from bladewright.design.turning_mass import TurningMass
from bladewright.engine.dynamics.pitch_flap import PitchFlap, pitch_flap_divergence, pitch_flap_flutter
from bladewright.engine.dynamics.strip_air import StripAir

LEAST_FLAP = 1.0  # per rev, of a blade hinged at the axis: any other hub holds its flap harder


@dataclass(frozen=True, slots=True)
class Onset:
    """Where the mass centre, weighted by radius, must be for a motion to begin; None where no blade gets there."""

    motion: str  # "flutter" or "divergence"
    control: str
    speed: float  # [rad/s]
    offset: float | None  # aft of the feathering axis [m]


def stiff_blade_onsets(
    mass: TurningMass, runs: Sequence[ControlRun], airs: Sequence[tuple[float, StripAir]]
) -> Iterator[Onset]:
    """Both motions, for every control run and every rotor speed [rad/s] with its air."""
    for run in runs:
        for speed, air in airs:
            blade = stiff_blade(mass, run.stiffness, speed, air)
            to_offset = mass.flap_inertia / mass.span_moment
            for motion, found in (
                ("flutter", pitch_flap_flutter(blade)),
                ("divergence", pitch_flap_divergence(blade)),
            ):
                reached = found is not None and math.isfinite(found) and abs(found) < blade.greatest_offset
                yield Onset(motion, run.words, speed, found * to_offset if reached and found is not None else None)


def stiff_blade(mass: TurningMass, stiffness: float, speed: float, air: StripAir) -> PitchFlap:
    """Ratios of the pitch-flap equations, each summed along the span; stiffness [N m/rad], speed [rad/s]."""
    y, inertia = air.y, mass.flap_inertia
    lift = 0.5 * air.density * air.lift_slope * air.chord
    lock_number = 8.0 * float(np.trapezoid(lift * y**3, y)) / inertia
    arm = float(np.trapezoid(lift * air.aerodynamic_centre * y**2, y)) / inertia
    return PitchFlap(
        lock_number=lock_number,
        flap_frequency=LEAST_FLAP,
        pitch_inertia=mass.pitch_inertia / inertia,
        pitch_damping=math.pi * air.density / 8.0 * float(np.trapezoid(air.chord**3 * y, y)) / inertia,
        control_frequency=math.sqrt(stiffness / mass.pitch_inertia) / speed,
        aerodynamic_centre=6.0 * arm / lock_number,
    )
