"""From one blade's feathering moment round the disc to what the pilot's hands hold and feel shaking."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.rotor.control_loads import Linkage
from bladewright.errors import BadInput


@dataclass(frozen=True, slots=True)
class Harmonics:
    """A load that repeats with the rotor's turn: its mean, and what of it shakes at each order per revolution."""

    steady: float  # [as the load]
    orders: Floats  # (h,) per revolution [1]
    cosine: Floats  # (h,) [as the load]
    sine: Floats  # (h,) [as the load]

    @property
    def amplitude(self) -> Floats:
        """Of each order. [as the load]"""
        return np.asarray(np.hypot(self.cosine, self.sine))


@dataclass(frozen=True, slots=True)
class CyclicLinkage:
    """Cyclic pitch for each travel of the stick; a stick pushed forward lowers pitch on the advancing side."""

    sine_per_forward: float  # [rad/m]
    cosine_per_right: float  # [rad/m]


@dataclass(frozen=True, slots=True)
class HandleLoads:
    """What the pilot must hold, positive along the travel: pull up, push forward, push right."""

    collective: Harmonics  # [N]
    fore_aft: Harmonics | None  # [N]; None without a cyclic linkage
    lateral: Harmonics | None  # [N]
    pitch_link: Harmonics  # of one blade, push up on the horn positive, all orders [N]


def harmonics(values: Floats, greatest: int) -> Harmonics:
    """Mean and harmonics of values at equal steps round the disc.

    Parameters
    ----------
    values : (p,) array
        From azimuth zero on. [any]
    greatest : int
        Highest order, less than half of p. [-]

    Returns
    -------
    Harmonics

    Raises
    ------
    BadInput
        If there are too few values.

    Notes
    -----
    Source: Fourier series; any text.
    """
    if not 0 < 2 * greatest < values.size:
        raise BadInput("too few azimuths for this order", field="values", value=values.size, allowed=f"{2 * greatest}+")
    spectrum = np.fft.rfft(values)[: greatest + 1] / values.size
    orders = np.arange(1.0, greatest + 1.0)
    return Harmonics(float(spectrum[0].real), orders, 2.0 * spectrum[1:].real, -2.0 * spectrum[1:].imag)


def sum_of_blades(values: Floats, blades: int, greatest: int = 2) -> Harmonics:
    """Sum over equal blades, equally spaced: only multiples of their number are left, each times their number.

    Parameters
    ----------
    values : (p,) array
        Of one blade against its azimuth. [any]
    blades : int
        How many. [-]
    greatest : int
        How many multiples. [-]

    Returns
    -------
    Harmonics
        Against the azimuth of the first blade.

    Raises
    ------
    BadInput
        If there are too few values.

    Notes
    -----
    Source: W. Johnson, Helicopter Theory, 1980, ch. 2 and 5 (from memory): sums of harmonics over N blades.
    """
    one = harmonics(values, blades * greatest)
    left = slice(blades - 1, None, blades)
    return Harmonics(blades * one.steady, one.orders[left], blades * one.cosine[left], blades * one.sine[left])


def handle_loads(
    moment: Floats, azimuth: Floats, blades: int, linkage: Linkage, cyclic: CyclicLinkage | None = None
) -> HandleLoads:
    """Steady and shaking loads at the handles, by virtual work on equal blades.

    Pitch ``p_0 + p_c cos(psi) + p_s sin(psi)``: the collective takes ``sum M``, the cyclic ``sum M cos(psi)`` and
    ``sum M sin(psi)``; each times minus pitch per travel. So the collective shakes from the blade's harmonics kN, the
    cyclic, at kN, from those at kN - 1 and kN + 1, and holds the first.

    Parameters
    ----------
    moment : (p,) array
        Feathering moment of one blade, nose-up positive. [N m]
    azimuth : (p,) array
        Equal steps from zero. [rad]
    blades : int
        N. [-]
    linkage : Linkage
        Collective. [-]
    cyclic : CyclicLinkage, optional
        [-]

    Returns
    -------
    HandleLoads

    Raises
    ------
    BadInput
        If there are too few azimuths.

    Notes
    -----
    Equal blades; rigid linkage without friction, slack or booster. Springs and friction are not in it.

    Source: virtual work; no source needed.
    """

    def held(values: Floats, pitch_per_travel: float) -> Harmonics:
        return sum_of_blades(-pitch_per_travel * values, blades)

    up = 1.0 if linkage.link_up_is == "nose up" else -1.0
    return HandleLoads(
        collective=held(moment, linkage.pitch_per_handle),
        fore_aft=held(moment * np.sin(azimuth), cyclic.sine_per_forward) if cyclic else None,
        lateral=held(moment * np.cos(azimuth), cyclic.cosine_per_right) if cyclic else None,
        pitch_link=harmonics(-up * moment / linkage.pitch_arm, 2 * blades),
    )
