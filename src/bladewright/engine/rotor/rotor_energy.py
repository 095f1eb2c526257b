"""What a turning rotor has in store when the engine stops, in seconds and by the indices in use."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.errors import BadInput

USED_OF_STALL = 0.8  # [1] of the greatest blade loading that a flare may use; part of the index's definition


@dataclass(frozen=True, slots=True)
class EnergyIndices:
    """Three measures of the same store; higher is kinder to the pilot."""

    stored_energy: float  # I W^2/2 of all blades [J]
    stored_energy_index: float  # I W^2/(2 weight x disc loading); some leave out the 2 [m^3/N]
    hover_seconds: float  # stored energy over hover power [s]
    usable_hover_seconds: float  # the part of them above stall, (CT/sigma)/(0.8 of its greatest) taken off [s]


def energy_indices(
    inertia: float,
    rotor_speed: float,
    weight: float,
    disc_area: float,
    hover_power: float,
    blade_loading: float,
    greatest_blade_loading: float,
) -> EnergyIndices:
    """Energy and hover-time indices of autorotation.

    ``E = I W**2/2``; ``I W**2/(2 G (G/A))``; ``E/P``; ``(E/P) (1 - (CT/sigma)/(0.8 (CT/sigma)_max))``.

    Parameters
    ----------
    inertia : float
        I, of all blades about the rotor axis. [kg m^2]
    rotor_speed : float
        W. [rad/s]
    weight : float
        G. [N]
    disc_area : float
        A. [m^2]
    hover_power : float
        P. [W]
    blade_loading, greatest_blade_loading : float
        CT/sigma in hover, and the greatest before stall, CT without a half. [1]

    Returns
    -------
    EnergyIndices

    Raises
    ------
    BadInput
        If an input is not positive.

    Notes
    -----
    Comparisons between rotors, no promise of a landing. The last is negative where hover already uses more than 80 % of
    the greatest blade loading.

    Source: E. A. Fradenburgh, J. Am. Helicopter Soc. 29, 1984; T. L. Wood, High energy rotor system, AHS Forum, 1976,
    as in W. Johnson, Helicopter Theory, 1980, ch. 7 (from memory).
    """
    given = {
        "inertia": inertia, "rotor_speed": rotor_speed, "weight": weight, "disc_area": disc_area,
        "hover_power": hover_power, "blade_loading": blade_loading, "greatest_blade_loading": greatest_blade_loading,
    }  # fmt: skip
    for name, value in given.items():
        if not (np.isfinite(value) and value > 0.0):
            raise BadInput("must be positive", field=name, value=value, allowed="more than 0")
    energy = 0.5 * inertia * rotor_speed**2
    seconds = energy / hover_power
    return EnergyIndices(
        stored_energy=energy,
        stored_energy_index=energy * disc_area / weight**2,
        hover_seconds=seconds,
        usable_hover_seconds=seconds * (1.0 - blade_loading / (USED_OF_STALL * greatest_blade_loading)),
    )


@dataclass(frozen=True, slots=True)
class PowerLoss:
    """An engine that stops at time zero, and what the pilot then does."""

    rotor_speed: float  # before [rad/s]
    inertia: float  # of all blades about the rotor axis [kg m^2]
    torque: float  # before, at the rotor [N m]
    reaction: float  # time until the pitch begins to go down [s]
    lowering: float  # time it takes to go down [s]
    left: float  # torque with the pitch down over that before, at the same speed; below 0 the air drives [1]

    def __post_init__(self) -> None:
        for name in ("rotor_speed", "inertia", "torque"):
            if not getattr(self, name) > 0.0:
                raise BadInput("must be positive", field=name, value=getattr(self, name), allowed="more than 0")
        for name in ("reaction", "lowering"):
            if not getattr(self, name) >= 0.0:
                raise BadInput("must not be negative", field=name, value=getattr(self, name), allowed="0 or more")

    @property
    def time_constant(self) -> float:
        """``tau = I W_0/Q_0``. [s]"""
        return self.inertia * self.rotor_speed / self.torque


def speed_after_power_loss(loss: PowerLoss, time: Floats) -> Floats:
    """Rotor speed after the engine stops.

    ``I dW/dt = -Q_0 q(t) (W/W_0)**2``, so ``W = W_0/(1 + (1/tau) int q dt)``: q is 1 until the pilot reacts, falls in a
    straight line to what is left while the pitch goes down, and stays there.

    Parameters
    ----------
    loss : PowerLoss
        [-]
    time : array
        Since the engine stopped, not negative. [s]

    Returns
    -------
    Floats
        [rad/s]

    Raises
    ------
    BadInput
        If a time is negative.

    Notes
    -----
    Torque goes with the square of speed at a given pitch and inflow; the air that a beginning descent brings from below
    is in ``left`` only. Freewheel without drag. With ``left`` below zero the speed grows without end: the pilot holds
    it by then, so nothing after it has come back is meant.

    Source: W. Johnson, Helicopter Theory, 1980, ch. 7 (from memory); integrated in closed form.
    """
    if (np.asarray(time) < 0.0).any():
        raise BadInput("before the engine stopped", field="time", value=float(np.min(time)), allowed="0 s or more")
    held = np.minimum(time, loss.reaction)
    going = np.clip(time - loss.reaction, 0.0, loss.lowering)
    down = np.maximum(time - loss.reaction - loss.lowering, 0.0)
    fallen = going**2 / (2.0 * loss.lowering) if loss.lowering > 0.0 else 0.0
    spent = held + going - (1.0 - loss.left) * fallen + loss.left * down
    speed: Floats = loss.rotor_speed / (1.0 + spent / loss.time_constant)
    return speed


def time_to_speed(loss: PowerLoss, share: float) -> float:
    """How long the pilot may wait before the rotor has fallen to a share of its speed, pitch held.

    ``t = tau (1/s - 1)``.

    Parameters
    ----------
    loss : PowerLoss
        Of which reaction and lowering do not count. [-]
    share : float
        Above 0 and at most 1. [1]

    Returns
    -------
    float
        [s]

    Raises
    ------
    BadInput
        If the share is not between.

    Notes
    -----
    Source: as ``speed_after_power_loss``.
    """
    if not 0.0 < share <= 1.0:
        raise BadInput("no such share", field="share", value=share, allowed="above 0, at most 1")
    return loss.time_constant * (1.0 / share - 1.0)
