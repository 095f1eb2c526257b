"""Air through the disc of a rotor that moves: its mean by momentum, its slope over the disc, and vertical descent."""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.rotor.root_finding import root_between
from bladewright.errors import BadInput, OutsideValidity

DEEPEST = -2.0  # [1] descent over hover induced velocity: the fit ends, the windmill state begins


@dataclass(frozen=True, slots=True)
class InflowModel:
    """How induced velocity is spread over the disc, and how much is lost."""

    distribution: Literal["uniform", "linear"] = "linear"
    induced_factor: float = 1.0  # induced velocity over that of momentum theory: what unevenness costs [1]
    lossy_tip: bool = True  # Prandtl's factor on the lift of the tips


LINEAR = InflowModel()


def glauert_inflow(advance_ratio: float, tilt: float, thrust_coefficient: float) -> float:
    """Inflow ratio of a rotor moving edgewise or tilted.

    ``lambda = mu tan(a) + CT/(2 sqrt(mu**2 + lambda**2))``.

    Parameters
    ----------
    advance_ratio : float
        mu, in the plane of the disc. [1]
    tilt : float
        a, of the disc, forward positive. [rad]
    thrust_coefficient : float
        CT without a half, not negative. [1]

    Returns
    -------
    float
        Down through the disc positive. [1]

    Raises
    ------
    BadInput
        If the thrust coefficient is negative.
    NotConverged
        If no root is found.

    Notes
    -----
    Uniform over the disc. Holds in level and climbing flight, and in descent that is shallow against its own wake.

    Source: H. Glauert, A general theory of the autogyro, ARC R&M 1111, 1926 (from memory).
    """
    if not thrust_coefficient >= 0.0:
        raise BadInput(
            "must not be negative", field="thrust_coefficient", value=thrust_coefficient, allowed="0 or more"
        )
    through = advance_ratio * np.tan(tilt)

    def short(inflow: Floats) -> Floats:
        mixed = np.maximum(np.hypot(advance_ratio, inflow), np.finfo(float).tiny)
        left: Floats = through + 0.5 * thrust_coefficient / mixed - inflow
        return left

    most = abs(through) + np.sqrt(0.5 * thrust_coefficient) + 1e-9
    low = np.array([through - 1e-12])
    return float(root_between(short, low, np.array([most]), 1e-15, "inflow ratio")[0])


def inflow_slopes(advance_ratio: Floats, inflow: Floats) -> tuple[Floats, Floats]:
    """How much more air goes through aft, and through the advancing side, as a share of the mean at the tip.

    ``v = v_0 (1 + k_x r cos(psi) + k_y r sin(psi))``, ``k_x = (4/3)(1 - cos(chi) - 1.8 mu**2)/sin(chi)``,
    ``k_y = -2 mu``, ``tan(chi) = mu/lambda``; psi is 0 aft.

    Parameters
    ----------
    advance_ratio : array
        mu, not negative. [1]
    inflow : array
        lambda, down positive. [1]

    Returns
    -------
    tuple of arrays
        k_x and k_y; both vanish in hover. [1]

    Notes
    -----
    The distribution is straight over the disc; a real one is not, and harmonics of the load above the second come
    out too small.

    Source: J. M. Drees, A theory of airflow through rotors and its application to some helicopter problems,
    J. Helicopter Assoc. of Great Britain 3, 1949 (from memory).
    """
    mixed = np.maximum(np.hypot(advance_ratio, inflow), 1e-12)
    sine, cosine = advance_ratio / mixed, inflow / mixed
    aft = 4.0 / 3.0 * (sine / np.maximum(1.0 + cosine, 1e-6) - 1.8 * advance_ratio * mixed)
    return np.asarray(aft), np.asarray(-2.0 * advance_ratio)


def descent_induced_velocity(hover_velocity: float, climb: float) -> float:
    """Induced velocity in vertical climb or descent at the thrust of a hover.

    Climb and windmill by momentum, ``v = -Vc/2 +- sqrt((Vc/2)**2 +- vh**2)``; between them, where a rotor meets its own
    wake, ``v/vh = 1 - 1.125 x - 1.372 x**2 - 1.718 x**3 - 0.655 x**4``, ``x = Vc/vh`` from -2 to 0.

    Parameters
    ----------
    hover_velocity : float
        vh, more than zero. [m/s]
    climb : float
        Vc, negative in descent. [m/s]

    Returns
    -------
    float
        [m/s]

    Raises
    ------
    OutsideValidity
        If the hover velocity is not positive.

    Notes
    -----
    Between 0.4 and 1.5 vh of descent the flow is unsteady: a mean, 10 % and more off (common practice, no source).

    Source: J. G. Leishman, Principles of Helicopter Aerodynamics, 2000, ch. 2: fit to measurements (from memory).
    """
    if not hover_velocity > 0.0:
        raise OutsideValidity("no hover", field="hover_velocity", value=hover_velocity, allowed="more than 0")
    x = climb / hover_velocity
    if x >= 0.0:
        return float(hover_velocity * (np.hypot(0.5 * x, 1.0) - 0.5 * x))
    if x <= DEEPEST:
        return float(hover_velocity * (-0.5 * x - np.sqrt(0.25 * x**2 - 1.0)))
    return float(hover_velocity * (1.0 + x * (-1.125 + x * (-1.372 + x * (-1.718 + x * -0.655)))))
