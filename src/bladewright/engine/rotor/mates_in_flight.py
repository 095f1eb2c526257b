"""How a see-saw pair answers a difference in pitch between its blades in flight: track, and a beat up and down."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.rotor.disc import disc_loads
from bladewright.engine.rotor.level_flight import SteadyFlight
from bladewright.engine.rotor.rotor import NAMES
from bladewright.errors import BadInput

STEP = 1e-5  # [rad] of the numerical derivatives
SEE_SAW = ("coning", "cosine_flap_2", "sine_flap_2")  # what blades of a pair may do opposite to each other
ORDERS = np.array([0.0, 2.0, 2.0])  # of those, per revolution


@dataclass(frozen=True, slots=True)
class PairResponse:
    """For each radian that one blade has more than its mate."""

    split: float  # mean height of its tip over its mate's [m/rad]
    split_cosine: float  # what the height changes by round the disc, with the cosine of twice the azimuth [m/rad]
    split_sine: float  # with the sine [m/rad]
    beat_cosine: float  # force up on the hub once a revolution, with the cosine of that blade's azimuth [N/rad]
    beat_sine: float  # with the sine [N/rad]

    @property
    def beat(self) -> float:
        """Amplitude of the force up and down once a revolution. [N/rad]"""
        return float(np.hypot(self.beat_cosine, self.beat_sine))

    def height(self, azimuth: Floats) -> Floats:
        """Of its tip over its mate's, each looked at as it passes an azimuth. [m/rad]"""
        twice = 2.0 * azimuth
        return np.asarray(self.split + self.split_cosine * np.cos(twice) + self.split_sine * np.sin(twice))


def pitch_response(state: SteadyFlight) -> PairResponse:
    """Answer of a see-saw pair to a difference of pitch in steady flight.

    Half more on one, half less on the other: what they do alike cancels to first order, what they do opposite is
    even per revolution, so the blade's own flap equation with only even harmonics free gives it. Of the force up, even
    harmonics cancel between the two and odd ones add.

    Parameters
    ----------
    state : SteadyFlight
        Of a see-saw rotor. [-]

    Returns
    -------
    PairResponse

    Raises
    ------
    BadInput
        If the hub is not a see-saw.

    Notes
    -----
    Linear; inflow and control held; pitch alone, so a moment counts by the pitch it winds the control run up by. Second
    harmonics as free as the first: a bending blade does a little less. In hover the split is ``tip_rise_per_pitch``,
    and nothing beats.

    Source: linear perturbation of the flap equation of ``level_flight``; no source needed.
    """
    rotor = state.disc.rotor
    if rotor.hub != "teetering":
        raise BadInput("only for a see-saw pair", field="hub", value=rotor.hub, allowed='"teetering"')
    names = ("collective", *SEE_SAW)
    states = np.repeat(state.setting.row()[None], 1 + len(names), axis=0)
    states[np.arange(1, 1 + len(names)), [NAMES.index(name) for name in names]] += STEP
    loads = disc_loads(state.disc, states)
    inertia = rotor.flap_inertia * state.setting.rotor_speed**2
    moments = (loads.flap_moment[1:] - loads.flap_moment[0]) / (STEP * inertia)  # (cause, p) per radian
    forces = (loads.up_force[1:] - loads.up_force[0]) / STEP
    azimuth = state.disc.azimuth
    waves = np.array([np.ones_like(azimuth), 2.0 * np.cos(2.0 * azimuth), 2.0 * np.sin(2.0 * azimuth)])
    answers = waves @ moments.T / azimuth.size  # (harmonic, cause)
    flapped = np.linalg.solve(np.diag(1.0 - ORDERS**2) - answers[:, 1:], answers[:, 0])
    beating = forces[0] + flapped @ forces[1:]
    once = 2.0 * beating @ np.exp(1j * azimuth) / azimuth.size
    split, cosine, sine = (state.disc.parts.radius * flapped).tolist()
    return PairResponse(split, cosine, sine, float(once.real), float(once.imag))
