"""One blade's mass along the span, about the feathering axis: what its own inertia does needs nothing else."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats, require_finite, require_increasing


@dataclass(frozen=True, slots=True)
class SpanMass:
    """Per length, in the section's own axes with their origin on the feathering axis: x aft, z up."""

    y: Floats  # (n,) radii [m]
    mass_per_length: Floats  # (n,) [kg/m]
    chordwise_centre: Floats  # (n,) of mass, aft of the feathering axis [m]
    normal_centre: Floats  # (n,) of mass, above the feathering axis [m]
    chordwise_inertia: Floats  # (n,) integral of x**2 [kg m]
    normal_inertia: Floats  # (n,) integral of z**2 [kg m]
    product_of_inertia: Floats  # (n,) integral of x z [kg m]

    def __post_init__(self) -> None:
        require_increasing(self.y, "y")
        for name in self.__slots__:
            require_finite(getattr(self, name), name)

    @property
    def mass(self) -> float:
        """Of the blade. [kg]"""
        return float(np.trapezoid(self.mass_per_length, self.y))

    @property
    def span_moment(self) -> float:
        """First moment about the rotor axis. [kg m]"""
        return float(np.trapezoid(self.mass_per_length * self.y, self.y))

    @property
    def flap_inertia(self) -> float:
        """Second moment about the rotor axis. [kg m^2]"""
        return float(np.trapezoid(self.mass_per_length * self.y**2, self.y))
