"""How much higher one blade flies than its mate, and whether the control run's stiffness decides which."""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from bladewright.engine.arrays import Floats, require_increasing
from bladewright.engine.rotor.blade_element import integral
from bladewright.errors import BadInput


def tip_rise_per_pitch(
    y: Floats, chord: Floats, lift_slope: float, density: float, flap_inertia: float, tip: float
) -> float:
    """Rise of the tip path against the mate's for each radian of pitch more along the whole blade.

    ``dh/dtheta = R (rho a / 2) (integral of c y**3 dy) / I``, which is ``R gamma / 8`` for a uniform blade that lifts
    from the axis out.

    Parameters
    ----------
    y : (n,) array
        Radii of the lifting part, increasing. [m]
    chord : (n,) array
        There. [m]
    lift_slope : float
        Of the section. [1/rad]
    density : float
        Of the air. [kg/m^3]
    flap_inertia : float
        Of one blade about the flapping axis. [kg m^2]
    tip : float
        Rotor radius. [m]

    Returns
    -------
    float
        Independent of rotor speed. [m/rad]

    Raises
    ------
    StationOrder
        If ``y`` does not increase.
    BadInput
        If the inertia is not positive.

    Notes
    -----
    Rigid blade free to flap once per revolution (teetering or hinged at the axis), inflow held fixed. The wake of a
    real rotor answers and the split is smaller, perhaps 60 to 100 % of this (common practice, no source).

    Source: W. Johnson, Helicopter Theory, 1980, chapter 5 (from memory); re-derived in docs/theory/track.
    """
    require_increasing(y, "y")
    if not flap_inertia > 0.0:
        raise BadInput("not positive", field="flap_inertia", value=flap_inertia, allowed="> 0")
    lift_arm = integral(chord * y**3, y)
    return tip * 0.5 * density * lift_slope * lift_arm / flap_inertia


@dataclass(frozen=True, slots=True)
class MateDifference:
    """What one blade has more than its mate at the same place of the control."""

    pitch: float  # effective: twist, zero-lift angle, bushing angle [rad]
    flap_moment: float  # of lift that comes without pitch, as of a tab, up positive [N m]
    feathering_moment: float  # of section, tab and mass beside the axis, nose-up positive [N m]
    flap_inertia: float = 0.0  # [kg m^2]


@dataclass(frozen=True, slots=True)
class Rise:
    """How the pair answers a difference; as of one blade."""

    per_pitch: float  # ``tip_rise_per_pitch`` [m/rad]
    tip: float  # rotor radius [m]
    flap_inertia: float  # [kg m^2]
    rotor_speed: float  # [rad/s]
    coning: float  # [rad]
    propeller_stiffness: float  # ``W**2 int (I_c - I_n)``: how the blade flattens itself [N m/rad]

    def __post_init__(self) -> None:
        for name in ("tip", "flap_inertia", "rotor_speed"):
            if not getattr(self, name) > 0.0:
                raise BadInput("must be positive", field=name, value=getattr(self, name), allowed="more than 0")


@dataclass(frozen=True, slots=True)
class TrackSplit:
    """How much higher the blade's tip goes than its mate's, for the softest and the stiffest control run."""

    soft: float  # [m]
    stiff: float  # [m]
    wind_up_soft: float  # pitch its moments turn the blade by [rad]
    wind_up_stiff: float  # [rad]
    turns_at: float | None  # stiffness at which neither flies higher, where that lies between [N m/rad]

    @property
    def direction(self) -> Literal["high", "low", "level", "not determined"]:
        """Of the blade that has more; not determined where the stiffness decides."""
        if self.soft * self.stiff < 0.0:
            return "not determined"
        if self.soft == self.stiff == 0.0:
            return "level"
        return "high" if self.soft + self.stiff > 0.0 else "low"


def track_split(difference: MateDifference, rise: Rise, softest: float, stiffest: float) -> TrackSplit:
    """Height of one tip over the other, with the pitch that its moments wind the control run up by.

    ``dh = G (dp + dM/(k + k_p)) + R dM_flap/(I W**2) - R b dI/I``, for the least and the greatest k.

    Parameters
    ----------
    difference : MateDifference
        [-]
    rise : Rise
        [-]
    softest, stiffest : float
        k, of the control run at the feathering axis, the first not more than the second. [N m/rad]

    Returns
    -------
    TrackSplit

    Raises
    ------
    BadInput
        If a stiffness is not positive, or they stand the wrong way round.

    Notes
    -----
    Rigid blades free to see-saw, in hover, inflow held fixed: a real wake answers, and the split is smaller, perhaps 60
    to 100 % of this (common practice, no source). A nose-up moment by lift ahead of the axis would soften k; with the
    quarter chord on the axis it does not. The height goes steadily with k, so both ends decide for all between.

    Source: W. Johnson, Helicopter Theory, 1980, ch. 5 (from memory); re-derived in docs/theory/track.
    """
    if not 0.0 < softest <= stiffest:
        raise BadInput(
            "not a range of stiffness",
            field="softest",
            value=softest,
            allowed=f"above 0, at most {stiffest:.4g} N m/rad",
        )
    flapped = difference.flap_moment / (rise.flap_inertia * rise.rotor_speed**2)
    heavier = rise.coning * difference.flap_inertia / rise.flap_inertia
    without = rise.per_pitch * difference.pitch + rise.tip * (flapped - heavier)
    soft, stiff = (
        difference.feathering_moment / (stiffness + rise.propeller_stiffness) for stiffness in (softest, stiffest)
    )
    turns_at = None
    if without * (difference.feathering_moment * rise.per_pitch) < 0.0:
        balanced = -rise.per_pitch * difference.feathering_moment / without - rise.propeller_stiffness
        turns_at = balanced if softest < balanced < stiffest else None
    return TrackSplit(
        soft=without + rise.per_pitch * soft,
        stiff=without + rise.per_pitch * stiff,
        wind_up_soft=soft,
        wind_up_stiff=stiff,
        turns_at=turns_at,
    )


def mate_difference(
    y: Floats,
    chord: Floats,
    pitch: Floats,
    lift: Floats,
    moment: Floats,
    lift_slope: float,
    density: float,
    rotor_speed: float,
    *,
    mass_moment: float = 0.0,
    flap_inertia: float = 0.0,
) -> MateDifference:
    """What differs along two blades, taken together.

    ``dM_flap = int (rho/2) W**2 c y**3 (a dp + dcl)``, ``dM = int (rho/2) W**2 c**2 y**2 dcm + dM_mass``.

    Parameters
    ----------
    y : (n,) array
        Radii of the lifting part, increasing. [m]
    chord : (n,) array
        [m]
    pitch : (n,) array
        More of it, as twist or zero-lift angle differ along the blade. [rad]
    lift, moment : (n,) arrays
        More of the coefficients at the same angle, as of a tab or reflex. [1]
    lift_slope : float
        a. [1/rad]
    density : float
        [kg/m^3]
    rotor_speed : float
        [rad/s]
    mass_moment : float
        More of the moment of mass beside the feathering axis, ``mass_offset_moment``. [N m]
    flap_inertia : float
        More of it. [kg m^2]

    Returns
    -------
    MateDifference
        Pitch that differs along the blade stands in the flap moment.

    Raises
    ------
    StationOrder
        If ``y`` does not increase.

    Notes
    -----
    Hover; inflow held fixed. Trapezoid between stations: let them stand close where a tab begins and ends.

    Source: strip theory, elementary.
    """
    require_increasing(y, "y")
    pressure = 0.5 * density * (rotor_speed * y) ** 2 * chord
    return MateDifference(
        pitch=0.0,
        flap_moment=float(np.trapezoid(pressure * y * (lift_slope * pitch + lift), y)),
        feathering_moment=float(np.trapezoid(pressure * chord * moment, y)) + mass_moment,
        flap_inertia=flap_inertia,
    )
