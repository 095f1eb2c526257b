"""The controller that simulations assume, and the temperature it is asked to follow. It commands nothing real."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats, require_increasing
from bladewright.engine.cure.kelvin import require_kelvin
from bladewright.errors import BadInput


@dataclass(frozen=True, slots=True)
class AssumedControl:
    """Proportional and integral, one for each zone, with power held between nothing and the heater's most.

    ``P = clip(K (T_set - T_read) + I)``, ``dI/dt = (P - I)/t_i``: the integral follows the power that is really
    asked for, so it does not wind up while the heater can do no more. An assumption, not the shop's controller.
    """

    gain: Floats  # K, one or (..., 6) [W/K]
    reset: float  # t_i [s]

    def __post_init__(self) -> None:
        if not (np.all(np.asarray(self.gain) >= 0.0) and self.reset > 0.0):
            raise BadInput("cannot be", field="gain, reset", allowed="gain not negative, reset above 0 s")


@dataclass(frozen=True, slots=True)
class Schedule:
    """Set temperature, straight between points and held after the last, in a room of steady temperature."""

    seconds: Floats  # (p,) increasing [s]
    temperature: Floats  # (p,) [K]
    ambient: float  # also where everything starts [K]

    def __post_init__(self) -> None:
        require_increasing(self.seconds, "seconds")
        require_kelvin(self.temperature, "temperature")
        require_kelvin(np.array(self.ambient), "ambient")

    def at(self, seconds: Floats) -> Floats:
        """The set temperature at given times. [K]"""
        return np.interp(seconds, self.seconds, self.temperature)
