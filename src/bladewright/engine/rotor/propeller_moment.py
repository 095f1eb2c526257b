"""Centrifugal feathering ("propeller") moment of a blade held at a pitch angle."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats, require_increasing


@dataclass(frozen=True, slots=True)
class PropellerMoment:
    """What a turning blade does to flatten its own pitch."""

    total: float  # [N m] about the feathering axis, nose-up positive
    per_length: Floats  # [N m/m] at each station


def propeller_moment(
    y: Floats,
    chordwise_inertia: Floats,
    normal_inertia: Floats,
    product_of_inertia: Floats,
    pitch: Floats,
    rotor_speed: float,
) -> PropellerMoment:
    """Moment about the feathering axis from centrifugal force, per length and integrated.

    Each slice is pulled outward along the line from the rotor axis, so mass ahead of and behind the feathering
    axis is pulled apart in the plane of rotation:
    ``M' = -W**2 (I_c - I_n) sin(p) cos(p) + W**2 I_cn cos(2 p)``.

    Parameters
    ----------
    y : (n,) array
        Station radii, increasing. [m]
    chordwise_inertia, normal_inertia, product_of_inertia : (n,) arrays
        Per length, about the feathering axis: integral of x**2, of z**2, of x z over the mass, with x aft
        and z up in the section's own axes. [kg m]
    pitch : (n,) array
        Section pitch, nose-up positive. [rad]
    rotor_speed : float
        Not negative. [rad/s]

    Returns
    -------
    PropellerMoment

    Raises
    ------
    StationOrder
        If ``y`` does not increase.

    Notes
    -----
    Rigid blade, small coning, no lag. Valid at any pitch.

    Source: A. R. S. Bramwell, Helicopter Dynamics, 1976 (from memory); re-derived in docs/theory/control-loads.
    """
    require_increasing(y, "y")
    spread = (chordwise_inertia - normal_inertia) * np.sin(pitch) * np.cos(pitch)
    lean = product_of_inertia * np.cos(2.0 * pitch)
    per_length = rotor_speed**2 * (lean - spread)
    return PropellerMoment(total=float(np.trapezoid(per_length, y)), per_length=per_length)
