"""Which harmonics of the rotor speed can excite a mode, and how near it comes to one of them."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats, require_increasing
from bladewright.engine.dynamics.blade_beam import Pattern
from bladewright.errors import BadInput


@dataclass(frozen=True, slots=True)
class Closeness:
    """Where a mode comes nearest to one harmonic."""

    harmonic: int
    gap: float  # least of |frequency / (n W) - 1|; nought where they meet [1]
    rotor_speed: float  # where; the lowest of several meetings [rad/s]
    frequency: float  # of the mode there [rad/s]
    crosses: bool


def excited_harmonics(pattern: Pattern, blades: int, highest: int) -> tuple[int, ...]:
    """Harmonics whose loads are alike on all blades, or the others.

    From blade to blade the n-th harmonic lags by ``2 pi n / N``: all blades feel it alike where N divides n.

    Parameters
    ----------
    pattern : {"collective", "cyclic"}
        [-]
    blades : int
        N, two or more. [-]
    highest : int
        Harmonic, at least one. [-]

    Returns
    -------
    tuple of int

    Raises
    ------
    BadInput
        If there is no such pattern, or fewer than two blades or one harmonic.

    Notes
    -----
    Two blades: even for the collective pattern, odd for the cyclic. Three or more: harmonics one beside a multiple of N
    tilt the hub, the rest cancel in it; a hinged or clamped root is the same for both, so both are called cyclic. A
    blade unlike its mates feels every harmonic in both.

    Source: W. Johnson, Helicopter Theory, 1980, ch. 9 (from memory).
    """
    if pattern not in ("collective", "cyclic"):
        raise BadInput("no such pattern", field="pattern", value=pattern, allowed="collective or cyclic")
    for field, value, least in (("blades", blades, 2), ("highest", highest, 1)):
        if value < least:
            raise BadInput("too few", field=field, value=value, allowed=f"{least} or more")
    return tuple(n for n in range(1, highest + 1) if (n % blades == 0) == (pattern == "collective"))


def closeness(
    rotor_speeds: Floats, frequencies: Floats, harmonics: tuple[int, ...], slowest: float, fastest: float
) -> tuple[Closeness, ...]:
    """Least relative gap of one mode to each harmonic over a range of rotor speeds, the nearest first.

    Between two speeds the square of the frequency goes straight with the square of the speed, as it does exactly for a
    shape that stays: then a gap is least at an end of the range, at a speed given, or at a meeting.

    Parameters
    ----------
    rotor_speeds : (s,) array
        Increasing, reaching over the range. [rad/s]
    frequencies : (s,) array
        Of one mode. [rad/s]
    harmonics : tuple of int
        One or more. [-]
    slowest, fastest : float
        The range; the slowest above nought. [rad/s]

    Returns
    -------
    tuple of Closeness

    Raises
    ------
    BadInput
        If the range begins at nought, ends before it begins, or reaches beyond the speeds given.

    Notes
    -----
    Source: own method, after R. V. Southwell, B. S. Gough, ARC R&M 766, 1921 (from memory).
    """
    require_increasing(rotor_speeds, "rotor_speeds")
    if frequencies.shape != rotor_speeds.shape:
        raise BadInput("one value for each speed", field="frequencies", allowed=f"{rotor_speeds.size} values")
    if not 0.0 < slowest <= fastest:
        raise BadInput(
            "no range of speeds that turn", field="slowest", value=slowest, allowed=f"more than 0, up to {fastest:.6g}"
        )
    if slowest < rotor_speeds[0] or fastest > rotor_speeds[-1]:
        raise BadInput(
            "the range reaches beyond the speeds given", field="rotor_speeds", value=float(rotor_speeds[-1]),
            allowed=f"{slowest:.6g} to {fastest:.6g} rad/s",
        )  # fmt: skip
    inside = rotor_speeds[(rotor_speeds > slowest) & (rotor_speeds < fastest)]
    speed = np.concatenate(([slowest], inside, [fastest])) ** 2
    square = np.interp(speed, rotor_speeds**2, frequencies**2)
    return tuple(sorted((_nearest(speed, square, n) for n in harmonics), key=lambda one: one.gap))


def _nearest(speed: Floats, square: Floats, harmonic: int) -> Closeness:
    """From squares of speed and frequency."""
    over = square - harmonic**2 * speed
    meets = np.flatnonzero((over[:-1] * over[1:] < 0.0) | (over[:-1] == 0.0))
    if meets.size or over[-1] == 0.0:
        at = int(meets[0]) if meets.size else len(over) - 1
        step = over[at] / (over[at] - over[at + 1]) if meets.size and over[at] != 0.0 else 0.0
        place = float(speed[at] + step * (speed[at + 1] - speed[at])) if step else float(speed[at])
        return Closeness(harmonic, 0.0, place**0.5, harmonic * place**0.5, crosses=True)
    gap = np.abs(np.sqrt(square / speed) / harmonic - 1.0)
    at = int(np.argmin(gap))
    return Closeness(harmonic, float(gap[at]), float(speed[at] ** 0.5), float(square[at] ** 0.5), crosses=False)
