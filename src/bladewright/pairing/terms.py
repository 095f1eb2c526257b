"""What a set must meet, and where it may be mended: all that the drawing says about matching, in one record."""

from dataclasses import dataclass, field

import numpy as np

from bladewright.design.track import TrackModel
from bladewright.drawing.blade import TrimPocket
from bladewright.drawing.limits import MatchLimits, WeighLimits
from bladewright.drawing.rotor import HandleBand
from bladewright.engine.arrays import Floats
from bladewright.pairing.quantities import SPAN_MOMENT, Quantity
from bladewright.pairing.records import Balance


@dataclass(frozen=True, slots=True)
class Places:
    """Where weight may go, and the limits of the finished blade that it must not break."""

    pockets: tuple[TrimPocket, ...] = ()
    balance: Balance | None = None
    weighing: WeighLimits | None = None

    @property
    def greatest(self) -> Floats:
        """What each pocket holds. [kg]"""
        return np.array([pocket.greatest for pocket in self.pockets])

    def per_mass(self, quantity: Quantity) -> Floats | None:
        """Change of a blade's span moment [m] or chordwise centre [m/kg] for each kilogram in each pocket."""
        if quantity is SPAN_MOMENT:
            return np.array([pocket.radius for pocket in self.pockets])
        return None if self.balance is None else self.arms(self.balance) / self.balance.mass

    def arms(self, balance: Balance) -> Floats:
        """How far aft of the blade's mass centre each pocket is. [m]"""
        aft = np.array([pocket.chordwise - balance.feathering_axis for pocket in self.pockets]) * balance.chord
        return aft - balance.centre

    def finished(self, quantity: Quantity) -> float:
        """Greatest difference of a finished blade from the master, SI; infinite where none is entered."""
        if self.weighing is None:
            return np.inf
        return self.weighing.span_moment if quantity is SPAN_MOMENT else self.weighing.chordwise_centre


@dataclass(frozen=True, slots=True)
class Aircraft:
    """What the pilot sits in, as far as matching feels it."""

    mass: float  # [kg] all-up
    tip: float  # [m] radius of the blade's tip
    blades: int


@dataclass(frozen=True, slots=True)
class Terms:
    """What the tests of a set are made with."""

    limits: MatchLimits
    handle_band: HandleBand | None = None
    friction: float | None = None  # [N] at the handle, least it can be set to; None: nothing holds the lever
    places: Places = field(default_factory=Places)
    rotor_speed: float | None = None  # [rad/s] at which the hub is shaken; None: not said
    track: TrackModel | None = None  # None: track is not worked out, which is a finding
    aircraft: Aircraft | None = None  # None: what the cabin feels is not said
