"""Section forces as a table over angle of attack, Reynolds number and Mach number, and how it is read."""

from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray

from bladewright.engine.arrays import Bools, Floats, require_increasing
from bladewright.errors import BadInput, OutsideValidity

UPRIGHT = 0.5 * np.pi + 1e-6  # [rad] just past square to the wind, where a straight polar changes ends


@dataclass(frozen=True, slots=True)
class Polar:
    """Coefficients of one section; the moment is about the quarter chord, nose-up positive."""

    angle: Floats  # (a,) increasing [rad]
    reynolds: Floats  # (r,) increasing [1]
    mach: Floats  # (m,) increasing [1]
    lift: Floats  # (a, r, m); not a number where nothing is known [1]
    drag: Floats  # (a, r, m) [1]
    moment: Floats  # (a, r, m) [1]
    computed: Bools  # (a, r, m) False where extrapolated, or outside the method's validity

    def __post_init__(self) -> None:
        for name in ("angle", "reynolds", "mach"):
            require_increasing(getattr(self, name), name)
        if not self.reynolds[0] > 0.0:
            raise BadInput("must be positive", field="reynolds", value=float(self.reynolds[0]), allowed="more than 0")
        shape = (self.angle.size, self.reynolds.size, self.mach.size)
        for name in ("lift", "drag", "moment", "computed"):
            if getattr(self, name).shape != shape:
                raise BadInput(
                    "has another shape than the table", field=name, value=str(getattr(self, name).shape),
                    allowed=f"{shape}: angle, Reynolds number, Mach number",
                )  # fmt: skip
        if not np.isfinite([self.lift, self.drag, self.moment])[:, self.computed].all():
            raise BadInput("a computed value is not finite", field="computed", allowed="finite where computed")


@dataclass(frozen=True, slots=True)
class SectionForces:
    """Coefficients at the conditions asked for, all of one shape."""

    lift: Floats  # [1]
    drag: Floats  # [1]
    moment: Floats  # about the quarter chord, nose-up positive [1]
    computed: Bools  # False where any neighbour in the table is not, or the table was left


def look_up(polar: Polar, angle: Floats, reynolds: Floats, mach: Floats) -> SectionForces:
    """Coefficients between the entries of a table: linear in angle, in log Reynolds number and in Mach number.

    Parameters
    ----------
    polar : Polar
        The table. [-]
    angle : array
        Angle of attack, any turn of the circle. [rad]
    reynolds, mach : arrays
        Of the shape of ``angle``, or one that fits it. Outside the table its edge is used and the value is marked as
        not computed. [1]

    Returns
    -------
    SectionForces

    Raises
    ------
    OutsideValidity
        If an angle lies outside the table: ``extended`` continues one past stall.

    Notes
    -----
    Source: linear interpolation; log Reynolds number because friction goes with a power of it (common practice).
    """
    angle, reynolds, mach = np.broadcast_arrays(angle, reynolds, mach)
    turned = angle - 2.0 * np.pi * np.round(angle / (2.0 * np.pi))
    low, high = float(polar.angle[0]), float(polar.angle[-1])
    beyond = ~((turned >= low) & (turned <= high))
    if beyond.any():
        raise OutsideValidity(
            "the angle of attack leaves the polar", field="angle", value=float(turned[beyond].flat[0]),
            allowed=f"{low:.4g} to {high:.4g} rad", fix="extend the polar past stall",
        )  # fmt: skip
    inside = (reynolds >= polar.reynolds[0]) & (reynolds <= polar.reynolds[-1])
    inside = inside & (mach >= polar.mach[0]) & (mach <= polar.mach[-1])
    places = (
        _place(polar.angle, turned),
        _place(np.log(polar.reynolds), np.log(np.maximum(reynolds, np.finfo(float).tiny))),
        _place(polar.mach, mach),
    )
    lift, drag, moment = (np.zeros(angle.shape) for _ in range(3))
    computed = np.array(inside)
    for corner in product(*places):
        weight = corner[0][1] * corner[1][1] * corner[2][1]
        at = (corner[0][0], corner[1][0], corner[2][0])
        lift += weight * polar.lift[at]
        drag += weight * polar.drag[at]
        moment += weight * polar.moment[at]
        computed &= polar.computed[at] | (weight == 0.0)
    return SectionForces(lift=lift, drag=drag, moment=moment, computed=computed)


def straight_polar(lift_slope: float, zero_lift_angle: float, drag: float, moment: float) -> Polar:
    """A section that never stalls: lift straight in the angle, drag and moment constant.

    ``cl = a (alpha - alpha_L0)``, alpha counted from the chord line's nearer end: flow from behind lifts alike.

    Parameters
    ----------
    lift_slope : float
        [1/rad]
    zero_lift_angle : float
        [rad]
    drag, moment : float
        The moment about the quarter chord, nose-up positive. [1]

    Returns
    -------
    Polar
        The same at any Reynolds and Mach number.

    Notes
    -----
    For closed forms of linear theory; no real section is like it.

    Source: definition; no source needed.
    """
    angle = np.array([-np.pi, -UPRIGHT, -0.5 * np.pi, 0.5 * np.pi, UPRIGHT, np.pi])
    from_chord = angle - np.pi * np.array([-1.0, -1.0, 0.0, 0.0, 1.0, 1.0])
    anything = np.array([1.0, 1e12])
    shape = (6, 2, 2)
    return Polar(
        angle=angle,
        reynolds=anything,
        mach=np.array([0.0, 1e3]),
        lift=np.broadcast_to((lift_slope * (from_chord - zero_lift_angle))[:, None, None], shape).copy(),
        drag=np.full(shape, drag),
        moment=np.full(shape, moment),
        computed=np.ones(shape, dtype=np.bool_),
    )


_Corner = tuple[NDArray[np.intp], Floats]  # which entry, and its share


def _place(entries: Floats, asked: Floats) -> tuple[_Corner, ...]:
    """The entry below and the one above with their shares; a single entry counts everywhere."""
    if entries.size == 1:
        return ((np.zeros(asked.shape, dtype=np.intp), np.ones(asked.shape)),)
    below = np.clip(np.searchsorted(entries, asked, side="right") - 1, 0, entries.size - 2)
    share = np.clip((asked - entries[below]) / (entries[below + 1] - entries[below]), 0.0, 1.0)
    return ((below, 1.0 - share), (below + 1, share))
