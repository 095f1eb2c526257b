"""What the air does to a blade that bends and twists, strip by strip, as a thin section feels it."""

from dataclasses import dataclass, fields
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from bladewright.engine.arrays import Complexes, Floats, require_finite, require_increasing
from bladewright.errors import BadInput

Numbers = NDArray[np.inexact[Any]]  # real, or complex where a wake holds lift back


@dataclass(frozen=True, slots=True)
class Effects:
    """Which of the air's smaller doings are counted. Lift from pitch and heave, and damping of pitch, always are."""

    pitch_rate_lift: bool = True  # a turning section lifts as a cambered one does
    coned_turning: bool = True  # a bent-up blade turns about its own span once a revolution
    apparent_mass: bool = True  # air carried along
    wake: Literal["none", "shed", "returning"] = "none"  # what holds the lift back


@dataclass(frozen=True, slots=True)
class StripAir:
    """The blade as the air meets it, between its own first and last station; places from the feathering axis, aft."""

    y: Floats  # (n,) radii [m]
    chord: Floats  # (n,) [m]
    lift_slope: Floats  # (n,) at the Mach number of the station [1/rad]
    aerodynamic_centre: Floats  # (n,) aft of the feathering axis [m]
    density: float  # [kg/m^3]
    drag_coefficient: Floats | None = None  # (n,) damps chordwise swinging; none counted if not given [1]
    inflow: float = 0.0  # through the disc, positive down; carries the returning wake away [m/s]
    blades: int = 2  # in the returning wake
    effects: Effects = Effects()

    def __post_init__(self) -> None:
        require_increasing(self.y, "y")
        for field in fields(self):
            value = getattr(self, field.name)
            if isinstance(value, np.ndarray):
                if value.shape != self.y.shape:
                    raise BadInput(
                        "has not one value for each station", field=field.name, value=str(value.shape),
                        allowed=f"{self.y.size} values",
                    )  # fmt: skip
                require_finite(value, field.name)
        for name in ("density", "inflow", "blades"):
            require_finite(np.array([getattr(self, name)], dtype=float), name)
        for name in ("chord", "density", "blades"):
            if np.any(np.asarray(getattr(self, name)) <= 0.0):
                raise BadInput("is not more than nothing", field=name, value=getattr(self, name), allowed="above zero")
        if self.effects.wake == "returning" and self.inflow <= 0.0:
            raise BadInput(
                "the returning wake would stay in the disc", field="inflow", value=self.inflow, allowed="above zero",
                fix="give the air speed through the disc, or leave the returning wake out",
            )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Strips:
    """Where the air is summed: the shapes of each degree of freedom there, and how the air comes."""

    y: Floats  # (q,) [m]
    length: Floats  # (q,) of blade each place stands for [m]
    flap: Floats  # (m, q) of the feathering axis, up [m per unit]
    flap_slope: Floats  # (m, q) [1 per unit]
    chordwise: Floats  # (m, q) aft [m per unit]
    torsion: Floats  # (m, q) nose-up [rad per unit]
    air_speed: Floats  # (q,) from ahead [m/s]
    rotor_speed: float  # [rad/s]


@dataclass(frozen=True, slots=True)
class AirMatrices:
    """Force of the air as ``-(mass a + damping v + stiffness x)``; complex where the wake holds lift back."""

    mass: Floats  # (m, m) [kg]
    damping: Numbers  # (m, m) [N s/m]
    stiffness: Numbers  # (m, m) [N/m]


def air_matrices(air: StripAir, strips: Strips, kept: Complexes | None = None) -> AirMatrices:
    """The air's mass, damping and stiffness of each degree of freedom on each.

    At the aerodynamic centre ``(rho/2) U**2 a c C (p + (-z' + x_r q)/U)``, ``q = p' + W dz/dy``, ``x_r`` half a chord
    behind it; at the middle ``x_m``, a quarter chord behind it, ``-(pi rho c**2/4) (z'' - x_m q' - U p')``; and the
    moments ``-(pi rho c**3/16) U q`` and ``-(pi rho c**4/128) q'``. Without lift from pitch rate only the moment of
    ``U p'`` about the aerodynamic centre is left of that term.

    Parameters
    ----------
    air : StripAir
        [-]
    strips : Strips
        [-]
    kept : (q,) array, optional
        Share of the lift that the wake leaves, ``C``; one if not given. [1]

    Returns
    -------
    AirMatrices

    Notes
    -----
    Attached flow, small motion, reduced frequency below about a half where no wake is counted. Lift is taken square to
    the disc: its tilt by the inflow, and with it all but the drag chordwise, is left out. Leave all effects on for an
    answer: only together do they let a rotor whose blades feather freely lean over as a whole without any force.

    Source: T. Theodorsen, NACA Report 496, 1935 (from memory); docs/theory/flutter.
    """
    chord, slope, centre = (
        np.interp(strips.y, air.y, one) for one in (air.chord, air.lift_slope, air.aerodynamic_centre)
    )
    effects, half, speed = air.effects, 0.5 * chord, strips.air_speed
    middle = centre + 0.5 * half
    share = np.ones(1) if kept is None else kept
    at_centre, at_middle = strips.flap - centre * strips.torsion, strips.flap - middle * strips.torsion
    turning, coned = strips.torsion, strips.rotor_speed * strips.flap_slope * effects.coned_turning
    rear = (centre + half) / speed * effects.pitch_rate_lift
    length = strips.length * met(air, strips.y)
    lift = 0.5 * air.density * slope * chord * speed**2 * share * length
    plate = np.pi * air.density * half**2 * length  # air a flat plate carries along
    pushed = at_middle if effects.pitch_rate_lift else at_middle - at_centre
    damping = _summed(at_centre, lift, strips.flap / speed - rear * turning)
    damping = damping - _summed(pushed, plate * speed, turning) + _summed(turning, 0.5 * plate * half * speed, turning)
    stiffness = -_summed(at_centre, lift, turning + rear * coned) + _summed(turning, 0.5 * plate * half * speed, coned)
    mass = np.zeros(damping.shape)
    if effects.apparent_mass:
        eighth = plate * half**2 / 8.0
        mass = np.real(_summed(at_middle, plate, at_middle) + _summed(turning, eighth, turning))
        damping = damping - _summed(at_middle, plate * middle, coned) + _summed(turning, eighth, coned)
    if air.drag_coefficient is not None:
        drag = np.interp(strips.y, air.y, air.drag_coefficient) * air.density * chord * speed * length
        damping = damping + _summed(strips.chordwise, drag, strips.chordwise)
    return AirMatrices(mass, damping, stiffness)


def met(air: StripAir, y: Floats) -> Floats:
    """One where the air begins and ends with its stations, nothing beyond: a bare grip, or what lies outside the tip.

    Parameters
    ----------
    air : StripAir
        [-]
    y : (q,) array
        [m]

    Returns
    -------
    (q,) array
        [1]

    Notes
    -----
    Source: definition.
    """
    return np.where((y >= air.y[0]) & (y <= air.y[-1]), 1.0, 0.0)


def _summed(left: Floats, weight: Numbers, right: Floats) -> Numbers:
    summed: Numbers = (left * weight) @ right.T
    return summed
