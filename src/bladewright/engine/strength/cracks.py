"""Cracks: how strongly a tip is loaded, the length that breaks, growth between two lengths. For screening only."""

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy.integrate import quad
from scipy.optimize import brentq

from bladewright.engine.strength.refusals import require_at_least_one, require_positive
from bladewright.engine.strength.spectrum import Spectrum
from bladewright.errors import BadInput, NotConverged

#: from a crack's length [m] to the factor Y of its stress intensity [1]
Shape = Callable[[float], float]


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
class SteadyCycle:
    """One kind of cycle in place of many."""

    cycle: CrackStress
    per_hour: float  # [1/h]


def same_growth(cycles: Spectrum, growth: Growth) -> SteadyCycle:
    """The pulsating cycle that grows a crack as fast as a whole spectrum.

    ``n S**m = sum n_i (S_max_i (1 - R_i)**g)**m``, with n the sum of the counts.

    Parameters
    ----------
    cycles : Spectrum
        Far from the crack. [Pa, 1/h]
    growth : Growth
        [-]

    Returns
    -------
    SteadyCycle
        From nought to its greatest stress.

    Raises
    ------
    BadInput
        If no cycle of it opens a crack.

    Notes
    -----
    Each cycle grows as if alone: no retardation behind a great one, which would lengthen it. What presses is left out.

    Source: linear sum of growth, P. C. Paris, 1963 (from memory).
    """
    greatest = np.maximum(cycles.mean + cycles.amplitude, 0.0)
    least = np.clip(cycles.mean - cycles.amplitude, 0.0, greatest)
    opened = greatest > 0.0
    ratio = np.divide(least, greatest, out=np.zeros_like(greatest), where=opened)
    drive = greatest * (1.0 - ratio) ** growth.ratio_exponent
    count = float(cycles.per_hour[opened & (drive > 0.0)].sum())
    top = float(drive.max(initial=0.0))
    if not (count > 0.0 and top > 0.0):
        raise BadInput("no cycle opens a crack", field="cycles", value=count, allowed="at least one that pulls")
    mean = float((cycles.per_hour * (drive / top) ** growth.exponent).sum()) / count
    return SteadyCycle(CrackStress(greatest=top * mean ** (1.0 / growth.exponent), ratio=0.0), per_hour=count)


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
