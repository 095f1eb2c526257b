"""Cracks: stress intensity of several shapes, the length that breaks, growth between two lengths. For screening only."""

import math
from collections.abc import Callable
from dataclasses import dataclass

from scipy.integrate import quad
from scipy.optimize import brentq

from bladewright.engine.strength.refusals import require_at_least_one, require_positive
from bladewright.errors import BadInput, NotConverged

#: from a crack's length [m] to the factor Y of its stress intensity [1]
Shape = Callable[[float], float]
ROUND = 2.0 / math.pi  # a round crack inside; I. N. Sneddon, 1946: closed form


def _share(length: float, width: float, field: str) -> float:
    require_positive({"length": length, "width": width})
    if not length < width:
        raise BadInput(
            "the crack is longer than its formula holds", field=field, value=length, allowed=f"below {width:.6g} m"
        )
    return length / width


def central_crack(length: float, width: float) -> float:
    """Factor of a crack through the middle of a strip.

    ``Y = sqrt(sec(pi a / W))`` with a half the crack's length.

    Parameters
    ----------
    length : float
        a, half of the crack. [m]
    width : float
        W, of the whole strip. [m]

    Returns
    -------
    float
        Y. [1]

    Raises
    ------
    BadInput
        If a length is not positive or the crack is as wide as the strip.

    Notes
    -----
    Within 0.3 % up to ``2 a = 0.8 W`` (from memory).

    Source: C. E. Feddersen, ASTM STP 410, 1966 (from memory).
    """
    share = _share(length, 0.5 * width, "length")
    return 1.0 / math.sqrt(math.cos(0.5 * math.pi * share))


def edge_crack(length: float, width: float) -> float:
    """Factor of a crack from the edge of a strip.

    ``Y = 1.12 - 0.231 s + 10.55 s**2 - 21.72 s**3 + 30.39 s**4`` with ``s = a / W``.

    Parameters
    ----------
    length : float
        a. [m]
    width : float
        W. [m]

    Returns
    -------
    float
        Y. [1]

    Raises
    ------
    BadInput
        If a length is not positive or the crack goes past 0.6 of the width, where the fit ends.

    Notes
    -----
    The strip is free to bend as the crack opens; 0.5 % up to ``s = 0.6``.

    Source: H. Tada, P. C. Paris, G. R. Irwin, The Stress Analysis of Cracks Handbook, 1973 (from memory).
    """
    s = _share(length, 0.6 * width, "length") * 0.6
    return 1.12 - 0.231 * s + 10.55 * s**2 - 21.72 * s**3 + 30.39 * s**4


def surface_crack(depth: float, thickness: float) -> float:
    """Factor of a half-round crack in a surface, where it meets the surface.

    ``Y = (2/pi)(1.04 + 0.202 s**2 - 0.106 s**4)(1.1 + 0.35 s**2)`` with ``s = a / t``.

    Parameters
    ----------
    depth : float
        a. [m]
    thickness : float
        t. [m]

    Returns
    -------
    float
        Y, greater there than at the deepest point. [1]

    Raises
    ------
    BadInput
        If a length is not positive or the crack is through.

    Notes
    -----
    Pulled, far from the edges. It stays half round; when it is through, ask ``central_crack``.

    Source: J. C. Newman, I. S. Raju, Eng. Fract. Mech. 15, 1981, for a/c = 1 (from memory).
    """
    s = _share(depth, thickness, "depth")
    return ROUND * (1.04 + 0.2017 * s**2 - 0.1061 * s**4) * (1.1 + 0.35 * s**2)


def corner_crack(radius: float, thickness: float) -> float:
    """Factor of a quarter-round crack in a corner, where it meets a surface.

    ``Y = (2/pi)(1.05 + 0.375 s**2 - 0.25 s**4)(1.08 + 0.4 s**2)`` with ``s = a / t``.

    Parameters
    ----------
    radius : float
        a. [m]
    thickness : float
        t. [m]

    Returns
    -------
    float
        Y. [1]

    Raises
    ------
    BadInput
        If a length is not positive or the crack is through.

    Notes
    -----
    Pulled, the edge otherwise whole. It stays quarter round; when it is through, ask ``edge_crack``.

    Source: J. C. Newman, I. S. Raju, NASA TM 85793, 1984, for a/c = 1 (from memory).
    """
    s = _share(radius, thickness, "radius")
    return ROUND * (1.05 + 0.3754 * s**2 - 0.25 * s**4) * (1.08 + 0.4 * s**2)


def hole_crack(length: float, radius: float, both_sides: bool) -> float:
    """Factor of a crack through the sheet from the side of a hole, or one from each side.

    With ``s = a / (a + r)``: one, ``(1 + 0.2 (1 - s) + 0.3 (1 - s)**6)(2.243 - 2.64 s + 1.352 s**2 - 0.248 s**3)``;
    two, ``(3 - s)(1 + 1.243 (1 - s)**3) / 2``.

    Parameters
    ----------
    length : float
        a, from the hole's edge. [m]
    radius : float
        r, of the hole. [m]
    both_sides : bool
        Whether one grows on the other side too. [-]

    Returns
    -------
    float
        Y, on the stress far from the hole and ``sqrt(pi a)``. [1]

    Raises
    ------
    BadInput
        If length or radius is not positive.

    Notes
    -----
    Open hole in a wide sheet. A bolt that bears in it makes it worse.

    Source: H. Tada, P. C. Paris, G. R. Irwin, 1973, fits to O. L. Bowie, 1956 (from memory).
    """
    require_positive({"length": length, "radius": radius})
    s = length / (length + radius)
    if both_sides:
        return 0.5 * (3.0 - s) * (1.0 + 1.243 * (1.0 - s) ** 3)
    near = 1.0 + 0.2 * (1.0 - s) + 0.3 * (1.0 - s) ** 6
    return near * (2.243 - 2.64 * s + 1.352 * s**2 - 0.248 * s**3)


def stress_intensity(stress: float, length: float, factor: float) -> float:
    """How strongly a crack's tip is loaded.

    ``K = Y S sqrt(pi a)``.

    Parameters
    ----------
    stress : float
        S, far from the crack. [Pa]
    length : float
        a. [m]
    factor : float
        Y. [1]

    Returns
    -------
    float
        [Pa m**0.5]

    Raises
    ------
    BadInput
        If a value is not positive.

    Notes
    -----
    Elastic; the plastic zone small against the crack.

    Source: G. R. Irwin, J. Appl. Mech. 24, 1957 (from memory).
    """
    require_positive({"stress": stress, "length": length, "factor": factor})
    return factor * stress * math.sqrt(math.pi * length)


def critical_length(stress: float, toughness: float, shape: Shape, longest: float) -> float:
    """Length at which a crack runs.

    The least ``a`` with ``Y(a) S sqrt(pi a) = K_c``.

    Parameters
    ----------
    stress : float
        S, the greatest the part sees: the limit load. [Pa]
    toughness : float
        K_c, of the sheet at its thickness. [Pa m**0.5]
    shape : callable
        Y of a. [1]
    longest : float
        Beyond which the part is lost, or the shape no longer holds. [m]

    Returns
    -------
    float
        At most ``longest``. [m]

    Raises
    ------
    BadInput
        If a value is not positive.

    Notes
    -----
    Yielding of what is left beside the crack may come first: ask the net section too.

    Source: G. R. Irwin, 1957 (from memory).
    """
    require_positive({"stress": stress, "toughness": toughness, "longest": longest})

    def short(length: float) -> float:
        return stress_intensity(stress, length, shape(length)) - toughness

    steps = [longest * (number / 400.0) ** 3 for number in range(1, 401)]  # close where cracks are short
    low = 1e-9 * longest
    if short(low) > 0.0:
        return low
    for high in steps:
        if short(high) >= 0.0:
            return float(brentq(short, low, high, xtol=1e-12 * longest, rtol=1e-12))
        low = high
    return longest


@dataclass(frozen=True, slots=True)
class Growth:
    """``da/dN = C (K_max (1 - R)**g)**m``; with ``g = 1`` the range alone drives it."""

    constant: float  # C, in m per cycle and Pa m**0.5 [m/(Pa m**0.5)**m]
    exponent: float  # m [1]
    ratio_exponent: float  # g [1]

    def __post_init__(self) -> None:
        require_positive(
            {"constant": self.constant, "exponent": self.exponent, "ratio_exponent": self.ratio_exponent}
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class CrackStress:
    """A cycle far from the crack."""

    greatest: float  # [Pa]
    ratio: float  # R, least over greatest; what presses counts as nought [1]

    def __post_init__(self) -> None:
        require_positive({"greatest": self.greatest})
        if not -10.0 <= self.ratio < 1.0:
            raise BadInput("not a ratio of stresses", field="ratio", value=self.ratio, allowed="-10 up to 1")


def growth_cycles(cycle: CrackStress, start: float, end: float, shape: Shape, growth: Growth) -> float:
    """Cycles in which a crack grows from one length to another.

    ``N = integral of da / (C (Y S_max (1 - R)**g sqrt(pi a))**m)``.

    Parameters
    ----------
    cycle : CrackStress
        One kind of cycle, again and again. [-]
    start : float
        [m]
    end : float
        [m]
    shape : callable
        Y of a. [1]
    growth : Growth
        [-]

    Returns
    -------
    float
        Nought if it is that long already. [1]

    Raises
    ------
    BadInput
        If a length is not positive.
    NotConverged
        If the integral does not settle.

    Notes
    -----
    No threshold and no retardation by overloads: both would lengthen it. No corrosion, which shortens it: enter faster
    growth. A pressing part of the cycle is left out.

    Source: P. C. Paris, F. Erdogan, J. Basic Eng. 85, 1963; K. Walker, ASTM STP 462, 1970 (from memory).
    """
    require_positive({"start": start, "end": end})
    if end <= start:
        return 0.0
    drive = cycle.greatest * float((1.0 - max(cycle.ratio, 0.0)) ** growth.ratio_exponent)

    def per_log(log_length: float) -> float:
        length = math.exp(log_length)
        intensity = stress_intensity(drive, length, shape(length))
        return float(length / (growth.constant * intensity**growth.exponent))

    cycles, error = quad(per_log, math.log(start), math.log(end), limit=200)
    if not error <= 1e-6 * abs(cycles):
        raise NotConverged("the growth does not settle", field="shape", value=cycles, fix="a smoother shape of crack")
    return float(cycles)


@dataclass(frozen=True, slots=True)
class CrackScreen:
    """What a screening says of one detail; it substantiates nothing."""

    critical: float  # [m]
    cycles: float  # from detectable to critical [1]
    interval: float  # cycles over factor [1]


def crack_screen(
    cycle: CrackStress, limit_stress: float, toughness: float, detectable: float, longest: float,
    shape: Shape, growth: Growth, factor: float,
) -> CrackScreen:  # fmt: skip
    """How often to look so that a crack is seen before it is critical.

    ``(N(critical) - N(detectable)) / factor``.

    Parameters
    ----------
    cycle : CrackStress
        That grows it. [-]
    limit_stress : float
        That breaks it, far from the crack. [Pa]
    toughness : float
        K_c. [Pa m**0.5]
    detectable : float
        Length that the method of inspection finds for certain. [m]
    longest : float
        As in ``critical_length``. [m]
    shape : callable
        Y of a. [1]
    growth : Growth
        [-]
    factor : float
        How many looks fall into the time a crack takes; at least 1. [1]

    Returns
    -------
    CrackScreen
        An interval of nought says that looking does not help.

    Raises
    ------
    BadInput
        If a value is not positive, or the factor is below one.

    Notes
    -----
    Screening only: one crack, one cycle, no threshold.

    Source: as ``growth_cycles``; damage tolerance as in FAA AC 25.571 (from memory).
    """
    require_positive({"detectable": detectable})
    require_at_least_one({"factor": factor})
    critical = critical_length(limit_stress, toughness, shape, longest)
    cycles = growth_cycles(cycle, detectable, critical, shape, growth)
    return CrackScreen(critical=critical, cycles=cycles, interval=cycles / factor)
