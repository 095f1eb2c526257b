"""Thin-section theory of any mean line: zero-lift angle, moment, ideal lift; and the plain flap in closed form.

Linear, inviscid, incompressible. The sum of small effects is their superposition: that is what it is good at.
"""

import itertools
import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats, require_finite, require_increasing
from bladewright.errors import BadInput, OutsideValidity

NODES = 64  # Gauss-Legendre nodes on each smooth part
LIFT_SLOPE = 2.0 * math.pi  # [1/rad] of any thin section; Glauert 1926
STEEPEST = 0.35  # [-] slope beyond which "thin" no longer holds anywhere but at a nose; common practice, no source


@dataclass(frozen=True, slots=True)
class ThinSection:
    """What thin theory says of a mean line. Angles are against the x axis the line was given in."""

    zero_lift_angle: float  # [rad]
    moment: float  # coefficient about the quarter chord, nose-up positive, at any lift [1]
    ideal_lift: float  # coefficient at which the flow meets the nose smoothly [1]
    ideal_angle: float  # [rad]
    first: float  # Glauert's A1 [1]
    second: float  # Glauert's A2 [1]

    def lift(self, angle: float) -> float:
        """Lift coefficient at an angle of attack [rad]. [1]"""
        return LIFT_SLOPE * (angle - self.zero_lift_angle)

    def centre_of_pressure(self, lift: float) -> float:
        """Where the lift acts at a lift coefficient [1], from the leading edge. [chord fraction]"""
        if lift == 0.0:
            raise OutsideValidity("a section without lift has no centre of pressure", field="lift", value=lift)
        return 0.25 - self.moment / lift


def thin_section(slope: Callable[[Floats], Floats], breaks: tuple[float, ...] = ()) -> ThinSection:
    """Thin theory of a mean line given by its slope.

    ``x = (1 - cos th)/2``; ``I_n = integral from 0 to pi of (dy/dx) cos n th dth``; ``alpha_i = I_0/pi``;
    ``A_n = 2 I_n/pi``; ``cl_i = pi A_1``; ``alpha_L0 = alpha_i - A_1/2``; ``cm_c/4 = pi/4 (A_2 - A_1)``.

    Parameters
    ----------
    slope : function of an (n,) array
        Slope of the mean line at places from 0 to 1; called only between breaks. [-]
    breaks : tuple of float
        Where slope or curvature jumps; the integrals are split there. [chord fraction]

    Returns
    -------
    ThinSection

    Raises
    ------
    BadInput
        If a break is not inside the chord or a slope is not finite.

    Notes
    -----
    Gauss-Legendre on each smooth part in th, where polynomial mean lines are entire functions: to rounding. A kink
    of the line (a jump in slope) is exact as long as it is among the breaks.
    Valid for thin sections at small angles without separation. A 12 % section's lift slope is a few percent above
    2 pi without and below it with its boundary layer.

    Source: H. Glauert, Elements of Aerofoil and Airscrew Theory, 1926, ch. VII (from memory).
    """
    integrals = np.zeros(3)
    nodes, weights = np.polynomial.legendre.leggauss(NODES)
    for place in breaks:
        if not 0.0 < place < 1.0:
            raise BadInput("a break lies outside the chord", field="breaks", value=place, allowed="between 0 and 1")
    ends = [0.0, *np.arccos(1.0 - 2.0 * np.unique(breaks)), np.pi]
    for low, high in itertools.pairwise(ends):
        theta = 0.5 * (low + high) + 0.5 * (high - low) * nodes
        values = slope(0.5 * (1.0 - np.cos(theta)))
        require_finite(values, "slope")
        for n in range(3):
            integrals[n] += 0.5 * (high - low) * np.sum(weights * values * np.cos(n * theta))
    ideal, first, second = (
        float(share * whole / np.pi) for share, whole in zip((1.0, 2.0, 2.0), integrals, strict=True)
    )
    return ThinSection(
        zero_lift_angle=ideal - 0.5 * first,
        moment=0.25 * math.pi * (second - first),
        ideal_lift=math.pi * first,
        ideal_angle=ideal,
        first=first,
        second=second,
    )


def sampled_thin_section(mean_line: Floats, breaks: tuple[int, ...] = ()) -> ThinSection:
    """Thin theory of a mean line given by points.

    A cubic runs through the points of each part between breaks, and its slope is integrated as in ``thin_section``.

    Parameters
    ----------
    mean_line : (n, 2) array
        x and z from leading edge to trailing edge. [chord fraction or m]
    breaks : tuple of int
        Numbers of points where slope or curvature jumps. [-]

    Returns
    -------
    ThinSection
        Its angles against the x axis of the points, not against the line from nose to tail.

    Raises
    ------
    BadInput, StationOrder
        If points are not finite or do not go aft, or a break is not an inner point.
    OutsideValidity
        If the line is too steep for thin theory behind its nose.

    Notes
    -----
    Exact for parts that are polynomials up to the third power, as the designated mean lines are. Of a smooth line,
    error of third order in the spacing. Refuses slopes that are steep on more than the first twentieth of the chord.

    Source: as ``thin_section``.
    """
    from scipy.interpolate import make_interp_spline

    if mean_line.ndim != 2 or mean_line.shape[1] != 2 or len(mean_line) < 2:
        raise BadInput("a mean line needs two points", field="mean_line", allowed="an (n, 2) list, n at least 2")
    require_finite(mean_line, "mean_line")
    require_increasing(mean_line[:, 0], "mean_line")
    x = (mean_line[:, 0] - mean_line[0, 0]) / (mean_line[-1, 0] - mean_line[0, 0])
    z = mean_line[:, 1] / (mean_line[-1, 0] - mean_line[0, 0])
    inner = sorted(set(breaks))
    for at in inner:
        if not 0 < at < len(x) - 1:
            raise BadInput("a break is not an inner point", field="breaks", value=at, allowed=f"1 to {len(x) - 2}")
    parts = []
    for low, high in itertools.pairwise([0, *inner, len(x) - 1]):
        here = slice(low, high + 1)
        parts.append(make_interp_spline(x[here], z[here], k=min(3, high - low)).derivative())
    joins = x[inner]
    steep = np.abs(np.diff(z) / np.diff(x)) > STEEPEST
    if np.any(steep & (x[1:] > 0.05)):
        raise OutsideValidity(
            "the mean line is too steep for thin theory",
            field="mean_line",
            value=float(x[1:][steep][-1]),
            allowed=f"slopes up to {STEEPEST:g}",
        )

    def slope(places: Floats) -> Floats:
        number = np.searchsorted(joins, places)
        values: Floats = np.choose(number, [part(places) for part in parts]) if inner else parts[0](places)
        return values

    return thin_section(slope, tuple(float(place) for place in joins))


@dataclass(frozen=True, slots=True)
class FlapDerivatives:
    """What a plain flap does per radian, trailing edge up positive, at a constant angle of attack."""

    lift: float  # [1/rad]
    moment: float  # about the quarter chord, nose-up positive [1/rad]
    zero_lift_angle: float  # [1]


def flap_derivatives(flap_chord: float) -> FlapDerivatives:
    """Lift and moment of a small plain flap, trim tab or reflex on a thin section.

    ``cos th_h = 2 E - 1``; trailing edge up: ``dcl/dd = -2 [(pi - th_h) + sin th_h]``,
    ``dcm/dd = (1/2) sin th_h (1 - cos th_h)``.

    Parameters
    ----------
    flap_chord : float
        E, the flap's share of the chord. [chord fraction]

    Returns
    -------
    FlapDerivatives

    Raises
    ------
    BadInput
        If the share is not between 0 and 1.

    Notes
    -----
    Inviscid. A 12 % thick section has 1.07 to 1.10 times the lift and 1.01 to 1.07 times the moment, for E from 5 to
    15 % (numerical experiment with panels); a real boundary layer takes off some 10 to 30 % (common practice, no
    source).

    Source: H. Glauert, Theoretical relationships for an aerofoil with hinged flap, ARC R&M 1095, 1927 (from memory;
    rederived by splitting the integrals of ``thin_section`` at the hinge).
    """
    if not 0.0 < flap_chord < 1.0:
        raise BadInput("flap chord", field="flap_chord", value=flap_chord, allowed="between 0 and 1 of the chord")
    hinge = float(np.arccos(2.0 * flap_chord - 1.0))
    lift = -2.0 * ((np.pi - hinge) + np.sin(hinge))
    moment = 0.5 * np.sin(hinge) * (1.0 - np.cos(hinge))
    return FlapDerivatives(lift=float(lift), moment=float(moment), zero_lift_angle=float(-lift / LIFT_SLOPE))
