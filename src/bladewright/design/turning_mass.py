"""The few sums of a blade's mass that its flutter turns on, as drawn and with what service adds or takes."""

from dataclasses import dataclass

import numpy as np

from bladewright.design.added_mass import AddedAlong
from bladewright.engine.rotor.span_mass import SpanMass


@dataclass(frozen=True, slots=True)
class TurningMass:
    """Integrals over the span, chordwise places from the feathering axis, aft."""

    mass: float  # [kg]
    span_moment: float  # of m r [kg m]
    flap_inertia: float  # of m r**2 [kg m^2]
    pitch_inertia: float  # of m (x**2 + z**2) [kg m^2]
    offset_moment: float  # of m x r [kg m^2]

    @property
    def offset(self) -> float:
        """Centre of mass weighted by radius: integral of m x r over integral of m r. [m]"""
        return self.offset_moment / self.span_moment

    def with_added(self, added: AddedAlong) -> "TurningMass":
        """The same blade with a coat, water or tape on it."""
        one, first, _, xx, zz, _ = added.moments.T
        y = added.y
        return TurningMass(
            self.mass + added.mass,
            self.span_moment + added.span_moment,
            self.flap_inertia + float(np.trapezoid(one * y**2, y)),
            self.pitch_inertia + float(np.trapezoid(xx + zz, y)),
            self.offset_moment + float(np.trapezoid(first * y, y)),
        )


def turning_mass(mass: SpanMass) -> TurningMass:
    """Of the blade along its span."""
    y, one = mass.y, mass.mass_per_length
    return TurningMass(
        mass.mass,
        mass.span_moment,
        mass.flap_inertia,
        float(np.trapezoid(mass.chordwise_inertia + mass.normal_inertia, y)),
        float(np.trapezoid(one * mass.chordwise_centre * y, y)),
    )
