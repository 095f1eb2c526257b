"""What an integral method must assume of the profile: friction, energy shape, dissipation as functions of the shape.

Lengths in chords, speeds in flight speeds. ``shape`` is always the kinematic shape factor Hk.
"""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats

LEAST_LOG = 1.3  # of log10 Re_theta: no turbulent layer is thinner (Re_theta = 20); keeps the friction law finite


@dataclass(frozen=True, slots=True)
class Closure:
    """One layer's profile, at each place."""

    energy_shape: Floats  # H*, kinetic-energy thickness over momentum thickness [1]
    friction: Floats  # half the friction coefficient, tau/(rho u_e**2) [1]
    dissipation: Floats  # 2 CD / H* [1]


def laminar_closure(shape: Floats, re_theta: Floats) -> Closure:
    """Laminar profile by shape alone, from fits to the similar flows of Falkner and Skan.

    ``H* = 1.515 + 0.076 (4 - H)**2/H`` up to H = 4, with 0.040 beyond;
    ``Re_th cf/2 = -0.067 + 0.01977 (7.4 - H)**2/(H - 1)`` up to H = 7.4, ``-0.067 + 0.022 (1 - 1.4/(H - 6))**2``
    beyond; ``Re_th 2 CD/H* = 0.207 + 0.00205 (4 - H)**5.5`` up to 4, beyond
    ``0.207 - 0.003 (H - 4)**2/(1 + 0.02 (H - 4)**2)``.

    Parameters
    ----------
    shape : (...) array
        More than 1. [1]
    re_theta : (...) array
        Momentum-thickness Reynolds number. [1]

    Returns
    -------
    Closure

    Notes
    -----
    Valid where profiles resemble similar flows: attached and mildly separated. Measured against our own similar
    solutions in selfcheck/falkner_skan.

    Source: M. Drela, M. B. Giles, AIAA J. 25, 1987, p. 1347 (from memory).
    """
    past = shape - 4.0
    square = past * past
    attached = past < 0.0
    energy = 1.515 + np.where(attached, 0.076, 0.040) * square / shape
    far = 1.0 - 1.4 / (np.maximum(shape, 7.4) - 6.0)
    near = 7.4 - shape
    friction = np.where(shape < 7.4, 0.01977 * near * near / (shape - 1.0), 0.022 * far * far) - 0.067
    inside = np.where(attached, -past, 0.0)
    loss = 0.207 + np.where(attached, 0.00205 * inside**5 * np.sqrt(inside), -0.003 * square / (1.0 + 0.02 * square))
    return Closure(energy_shape=energy, friction=friction / re_theta, dissipation=loss / re_theta)


@dataclass(frozen=True, slots=True)
class TurbulentClosure:
    """A turbulent layer's profile but for its stress, which lags."""

    energy_shape: Floats  # H* [1]
    friction: Floats  # half the friction coefficient [1]
    slip: Floats  # U_s, the wall layer's share of the edge speed [1]
    equilibrium: Floats  # square root of the greatest shear stress coefficient where nothing changes [1]


def smooth_friction(shape: Floats, re_theta: Floats, mach_squared: Floats) -> tuple[Floats, Floats]:
    """Half the friction coefficient of a turbulent layer on a smooth wall, and the ln Re_theta it was taken at.

    ``Fc cf = 0.3 exp(-1.33 H) log10(Re/Fc)**(-1.74 - 0.31 H) + 0.00011 [tanh(4 - H/0.875) - 1]``,
    ``Fc**2 = 1 + 0.2 M_e**2``.

    Parameters
    ----------
    shape : (...) array
        Kinematic shape factor. [1]
    re_theta : (...) array
        Momentum-thickness Reynolds number; less than 20 counts as 20. [1]
    mach_squared : (...) array
        Of the edge Mach number. [1]

    Returns
    -------
    tuple of two arrays
        [1]

    Notes
    -----
    Source: T. W. Swafford, AIAA J. 21, 1983, p. 923 (from memory).
    """
    compression = np.sqrt(1.0 + 0.2 * mach_squared)
    log_re = np.maximum(np.log(re_theta), 2.302585 * LEAST_LOG)
    log10 = (log_re - np.log(compression)) / 2.302585
    friction = 0.3 * np.exp(-1.33 * shape - (1.74 + 0.31 * shape) * np.log(log10))
    friction = 0.5 * (friction + 0.00011 * (np.tanh(4.0 - shape / 0.875) - 1.0)) / compression
    return friction, log_re


def turbulent_closure(shape: Floats, full_shape: Floats, re_theta: Floats, mach_squared: Floats) -> TurbulentClosure:
    """Turbulent profile by shape and thickness Reynolds number.

    ``H* = 1.505 + 4/Re + (0.165 - 1.6/Re**0.5) (H0 - H)**1.6/H`` up to ``H0 = 3 + 400/Re`` (4 below Re = 400), beyond
    ``1.505 + 4/Re + (H - H0)**2 [0.04/H + 0.007 ln Re/(H - H0 + 4/ln Re)**2]``;
    ``U_s = H*/2 [1 - 4/3 (Hk - 1)/H]``; ``C_tau_eq = 0.015 H* (Hk - 1)**3/[(1 - U_s) Hk**2 H]``.

    Parameters
    ----------
    shape, full_shape : (...) arrays
        Kinematic shape factor, and that with the density's variation. [1]
    re_theta : (...) array
        Momentum-thickness Reynolds number. [1]
    mach_squared : (...) array
        Of the edge Mach number. [1]

    Returns
    -------
    TurbulentClosure

    Notes
    -----
    Friction by ``smooth_friction``; equilibrium stress after Clauser's constant. Valid for smooth walls from
    Re_theta of some hundred; ``rough_friction`` puts roughness on.

    Source: M. Drela, M. B. Giles, AIAA J. 25, 1987, p. 1347 (from memory); T. W. Swafford, AIAA J. 21, 1983.
    """
    friction, log_re = smooth_friction(shape, re_theta, mach_squared)
    reynolds = np.exp(log_re)
    joint = np.where(reynolds < 400.0, 4.0, 3.0 + 400.0 / reynolds)
    past = shape - joint
    below = np.maximum(-past, 0.0)
    above = np.maximum(past, 0.0)
    energy = 1.505 + 4.0 / reynolds + (0.165 - 1.6 / np.sqrt(reynolds)) * below**1.6 / shape
    energy = energy + above * above * (0.04 / shape + 0.007 * log_re / (above + 4.0 / log_re) ** 2)
    energy = (energy + 0.028 * mach_squared) / (1.0 + 0.014 * mach_squared)
    slip = np.minimum(0.5 * energy * (1.0 - 4.0 / 3.0 * (shape - 1.0) / full_shape), 0.9999)
    excess = np.maximum(shape - 1.0, 1e-4)
    stress = 0.015 * energy * excess**3 / ((1.0 - slip) * shape * shape * full_shape)
    return TurbulentClosure(energy, friction, slip, np.sqrt(stress))


def lagged_stress(before: Floats, equilibrium: Floats, length: Floats, thickness: Floats) -> Floats:
    """Root of the shear stress after a length in which equilibrium and thickness hold still.

    ``(delta/C_tau) dC_tau/ds = 4.2 (C_eq**0.5 - C_tau**0.5)``, solved in closed form: with ``r = C_tau**0.5`` it is
    the logistic equation, ``r = r_eq/[1 + (r_eq/r_0 - 1) exp(-2.1 r_eq s/delta)]``.

    Parameters
    ----------
    before, equilibrium : (...) arrays
        Roots of the stress coefficient. [1]
    length, thickness : (...) arrays
        Step, and thickness of the layer. [chord]

    Returns
    -------
    (...) array
        Root of the stress coefficient. [1]

    Notes
    -----
    Never negative and never past equilibrium, at any step.

    Source: J. E. Green, D. J. Weeks, J. W. F. Brooman, ARC R&M 3791, 1973, the idea; the equation as in M. Drela,
    M. B. Giles, AIAA J. 25, 1987 (from memory); its closed form: rederived.
    """
    decay = np.exp(-2.1 * equilibrium * length / thickness)
    lagged: Floats = equilibrium / (1.0 + (equilibrium / before - 1.0) * decay)
    return lagged


def layer_thickness(shape: Floats, displacement: Floats, momentum: Floats) -> Floats:
    """Thickness of a turbulent layer from its integrals: ``delta = theta [3.15 + 1.72/(Hk - 1)] + delta*``.

    Parameters
    ----------
    shape : (...) array
        Kinematic. [1]
    displacement, momentum : (...) arrays
        Thicknesses. [chord]

    Returns
    -------
    (...) array
        [chord]

    Notes
    -----
    Source: J. E. Green, D. J. Weeks, J. W. F. Brooman, ARC R&M 3791, 1973 (from memory).
    """
    thickness: Floats = momentum * (3.15 + 1.72 / np.maximum(shape - 1.0, 0.02)) + displacement
    return thickness
