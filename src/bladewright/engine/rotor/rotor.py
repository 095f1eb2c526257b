"""A rotor, the flight it is in, and everything that can be set or found of its state."""

from dataclasses import dataclass, fields
from typing import Literal

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.rotor.atmosphere import Air
from bladewright.engine.rotor.inflow import LINEAR, InflowModel
from bladewright.engine.rotor.rotor_blade import RotorBlade
from bladewright.engine.rotor.span_mass import SpanMass
from bladewright.errors import BadInput


@dataclass(frozen=True, slots=True)
class Rotor:
    """Blades alike on a hub that lets them flap. Turns against the clock seen from above; azimuth is 0 aft."""

    blade: RotorBlade
    mass: SpanMass  # of one blade
    blades: int
    hub: Literal["teetering", "hinged"]
    hinge_offset: float = 0.0  # of the flapping hinge from the axis [m]

    def __post_init__(self) -> None:
        if self.hub == "teetering" and (self.blades, self.hinge_offset) != (2, 0.0):
            raise BadInput("a teetering rotor has two blades and its hinge on the axis", field="hub", value=self.hub)
        if not 0.0 <= self.hinge_offset < self.blade.y[0] + 1e-12:
            raise BadInput(
                "the hinge lies in the lifting part", field="hinge_offset", value=self.hinge_offset,
                allowed=f"0 to {self.blade.y[0]:.4g} m",
            )  # fmt: skip
        if self.blades < 2:
            raise BadInput("too few", field="blades", value=self.blades, allowed="2 or more")

    @property
    def flap_inertia(self) -> float:
        """Of one blade about its flapping hinge. [kg m^2]"""
        arm = np.maximum(self.mass.y - self.hinge_offset, 0.0)
        return float(np.trapezoid(self.mass.mass_per_length * arm**2, self.mass.y))

    @property
    def flap_moment(self) -> float:
        """First moment of one blade about its flapping hinge. [kg m]"""
        arm = np.maximum(self.mass.y - self.hinge_offset, 0.0)
        return float(np.trapezoid(self.mass.mass_per_length * arm, self.mass.y))

    @property
    def flap_stiffness(self) -> float:
        """Square of the flapping frequency over rotor speed: ``1 + e S/I``. [1]"""
        return 1.0 + self.hinge_offset * self.flap_moment / self.flap_inertia


@dataclass(frozen=True, slots=True)
class Flight:
    """What the rotor has to do, and in which air."""

    speed: float  # horizontal [m/s]
    weight: float  # carried [N]
    drag_area: float  # flat plate that drags like everything but the rotor [m^2]
    air: Air

    def __post_init__(self) -> None:
        for name, least in (("speed", 0.0), ("drag_area", 0.0)):
            if not getattr(self, name) >= least:
                raise BadInput("must not be negative", field=name, value=getattr(self, name), allowed="0 or more")
        if not self.weight > 0.0:
            raise BadInput("must be positive", field="weight", value=self.weight, allowed="more than 0")


@dataclass(frozen=True, slots=True)
class Setting:
    """State of the rotor; pitch ``p_0 + p_c cos(psi) + p_s sin(psi)``, flapping up likewise, against the shaft."""

    collective: float  # pitch of the section whose twist is zero [rad]
    cosine_pitch: float  # [rad]
    sine_pitch: float  # [rad]
    tilt: float  # of the shaft forward from upright [rad]
    climb: float  # [m/s]
    rotor_speed: float  # [rad/s]
    induced: float  # mean velocity down through the disc, without what flight brings [m/s]
    coning: float  # [rad]
    cosine_flap: float  # up over the tail [rad]
    sine_flap: float  # up on the advancing side [rad]
    cosine_flap_2: float  # twice a revolution [rad]
    sine_flap_2: float  # [rad]
    cosine_flap_3: float  # [rad]
    sine_flap_3: float  # [rad]

    def row(self) -> Floats:
        """As one row of numbers, in order of ``NAMES``. [rad, rad/s, m/s]"""
        return np.array([getattr(self, name) for name in NAMES], dtype=float)


NAMES: tuple[str, ...] = tuple(field.name for field in fields(Setting))


@dataclass(frozen=True, slots=True)
class Modelled:
    """How finely and by which inflow a rotor is looked at."""

    inflow: InflowModel = LINEAR
    azimuths: int = 36
    along: int = 24  # elements


STANDARD = Modelled()
