"""The cycles a detail sees in an hour of flying: in each manoeuvre at rotor speed, and once from rest to the worst."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.strength.refusals import require_not_negative
from bladewright.errors import BadInput, MissingInput

WHOLE = 1e-6  # shares of time written with six digits may miss one by this; our own choice


@dataclass(frozen=True, slots=True)
class Manoeuvre:
    """A part of the flying, with the stress cycle of a detail in it."""

    share: float  # of the flight time [1]
    mean: float  # stress [Pa]
    amplitude: float  # [Pa]
    cycles_per_hour: float  # while it lasts: rotor revolutions times the harmonic [1/h]

    def __post_init__(self) -> None:
        require_not_negative(
            {"share": self.share, "amplitude": self.amplitude, "cycles_per_hour": self.cycles_per_hour}
        )  # fmt: skip
        if not math.isfinite(self.mean):
            raise BadInput("not a number", field="mean", value=self.mean, allowed="a finite stress")


@dataclass(frozen=True, slots=True)
class Spectrum:
    """Blocks of cycles; the last is the start and stop."""

    amplitude: Floats  # (n,) [Pa]
    mean: Floats  # (n,) [Pa]
    per_hour: Floats  # (n,) cycles in an hour of flight [1/h]


def spectrum(manoeuvres: Sequence[Manoeuvre], at_rest: float, starts_per_hour: float) -> Spectrum:
    """Cycles per flight hour of every manoeuvre, and of starting and stopping.

    A manoeuvre: ``share cycles_per_hour`` at its own mean and amplitude. Start and stop: from the lowest of all
    stresses, rest included, to the highest, ``starts_per_hour`` times.

    Parameters
    ----------
    manoeuvres : sequence of Manoeuvre
        Their shares add to one. [-]
    at_rest : float
        Stress with the rotor standing: droop on its stop. [Pa]
    starts_per_hour : float
        Starts of the rotor in a flight hour. [1/h]

    Returns
    -------
    Spectrum
        One block for each manoeuvre in order, then the start and stop.

    Raises
    ------
    MissingInput
        If there is no manoeuvre, or no start.
    BadInput
        If the shares do not add to one, or a stress is not finite.

    Notes
    -----
    One cycle of start and stop for each start, to the worst of the whole profile: safe, since not every flight meets
    it. Going from one manoeuvre into another is covered by it and not counted again.

    Source: common practice for rotorcraft, no source; FAA AC 27-1B, 27.571 (from memory).
    """
    if not manoeuvres:
        raise MissingInput("no flying in the profile", field="manoeuvres", allowed="shares of time that add to one")
    require_not_negative({"starts_per_hour": starts_per_hour})
    if starts_per_hour == 0.0:
        raise MissingInput(
            "a blade that flies has been started", field="starts_per_hour", value=starts_per_hour, allowed="more than 0"
        )
    if not math.isfinite(at_rest):
        raise BadInput("not a number", field="at_rest", value=at_rest, allowed="a finite stress")
    whole = math.fsum(one.share for one in manoeuvres)
    if abs(whole - 1.0) > WHOLE:
        raise BadInput(
            "the shares of time do not add to one", field="share", value=whole, allowed="1",
            fix="enter the whole of the flying, hover and ground running included",
        )  # fmt: skip
    flown = [one for one in manoeuvres if one.share > 0.0]
    low = min(at_rest, *(one.mean - one.amplitude for one in flown))
    high = max(at_rest, *(one.mean + one.amplitude for one in flown))
    return Spectrum(
        amplitude=np.array([*(one.amplitude for one in manoeuvres), 0.5 * (high - low)]),
        mean=np.array([*(one.mean for one in manoeuvres), 0.5 * (high + low)]),
        per_hour=np.array([*(one.share * one.cycles_per_hour for one in manoeuvres), starts_per_hour]),
    )
