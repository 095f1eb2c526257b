"""How much higher a blade flies for a little more pitch."""

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

    Source: W. Johnson, Helicopter Theory, 1980, chapter 5 (from memory); re-derived in docs/theory/matching.
    """
    require_increasing(y, "y")
    if not flap_inertia > 0.0:
        raise BadInput("not positive", field="flap_inertia", value=flap_inertia, allowed="> 0")
    lift_arm = integral(chord * y**3, y)
    return tip * 0.5 * density * lift_slope * lift_arm / flap_inertia
