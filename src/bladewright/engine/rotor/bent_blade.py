"""What a blade's coning does to its feathering moment by way of the air."""

import numpy as np

from bladewright.engine.arrays import Floats


def raised_drag_moment(torque: float, angle: float) -> float:
    """Moment of what the air takes off a blade's turning, where the blade is bent above its feathering axis.

    ``M = (b - b_0) Q``: at a radius y the blade stands ``y (b - b_0)`` above the axis, and Q is the integral of y times
    the force aft there.

    Parameters
    ----------
    torque : float
        Q, of the air on one blade about the rotor axis, against its turning positive; induced drag included. [N m]
    angle : float
        b - b_0, coning less the tilt of the feathering axis, small. [rad]

    Returns
    -------
    float
        Nose-up positive: the air pushes aft above the axis. [N m]

    Notes
    -----
    Rigid bend at the rotor axis. For a blade limp in flap and stiff in lag what its lag does cancels but for ``g S``
    times the lag.

    Source: moment balance; docs/theory/sizing-the-reflex.
    """
    return angle * torque


def coned_turning_moment(y: Floats, length: Floats, chord: Floats, rotor_speed: float, density: float) -> float:
    """Moment of a coned blade's turning about its own span, once a revolution, for each radian of coning.

    ``q = W b`` nose up, so ``M = -(pi rho/16) integral of c**3 W y q dy``.

    Parameters
    ----------
    y, length, chord : (e,) arrays
        Radii, the length each stands for, chord there. [m]
    rotor_speed : float
        W. [rad/s]
    density : float
        Of the air. [kg/m^3]

    Returns
    -------
    float
        Nose-up positive, so negative. [N m/rad]

    Notes
    -----
    Quasi-steady thin-section theory: a turning section meets air as a cambered one does.

    Source: T. Theodorsen, NACA Report 496, 1935 (from memory), its wake left out.
    """
    return float(-np.pi * density / 16.0 * rotor_speed**2 * (chord**3 * y) @ length)
