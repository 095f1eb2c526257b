"""Whether the air sucks an unsupported skin out of shape faster than it springs back. A screening.

Below the speed of sound a panel bulges before it flutters; so the bulging speed is the bound.
"""

import numpy as np

from bladewright.engine.structure.plate_buckling import plate_stiffness
from bladewright.errors import BadInput, OutsideValidity

GREATEST_MACH = 0.85  # beyond, the linear correction no longer stands for the flow; common practice, no source


def bulging_pressure(young: float, poisson: float, thickness: float, width: float, rise: float) -> float:
    """What ``rho V**2 / sqrt(1 - M**2)`` may become before the skin bulges, flow along its width.

    A wave ``w sin(k x)`` is pulled out by ``rho V**2 k / sqrt(1 - M**2)`` per height and springs back by ``D k**4``.
    One half-wave (``k = pi / b``) also has to stretch the arch: ``D k**3 (1 + 6 (h / t)**2)``. Two half-waves do not:
    ``8 D (pi / b)**3``. The less of the two.

    Parameters
    ----------
    young : float
        [Pa]
    poisson : float
        [-]
    thickness, width : float
        Width between the supports the air passes, one after the other. [m]
    rise : float
        How far the skin's middle stands off the straight line between its supports, either sign. [m]

    Returns
    -------
    float
        [Pa]

    Raises
    ------
    BadInput
        If a size is not positive.

    Notes
    -----
    Long along the span; edges that turn but stay where they are; air on one side, still air behind; no pull. The wavy
    wall goes on before and behind, which pulls harder than one bulge alone does. Screening.

    Source: J. Ackeret, 1928, wavy wall; S. P. Timoshenko, J. M. Gere, Theory of Elastic Stability, shallow arch (from
    memory); re-derived in docs/theory/skin-panels.
    """
    if not width > 0.0:
        raise BadInput("a panel needs a width", field="width", value=width, allowed="more than 0")
    one = plate_stiffness(young, poisson, thickness) * (np.pi / width) ** 3
    return float(one * min(1.0 + 6.0 * (rise / thickness) ** 2, 8.0))


def flow_pressure(density: float, speed: float, mach: float) -> float:
    """``rho V**2 / sqrt(1 - M**2)``, to be held against what the skin bears.

    Parameters
    ----------
    density : float
        Of the air. [kg/m^3]
    speed : float
        [m/s]
    mach : float
        [-]

    Returns
    -------
    float
        [Pa]

    Raises
    ------
    OutsideValidity
        If the flow is too near the speed of sound.

    Notes
    -----
    Source: L. Prandtl, H. Glauert, compressibility rule (from memory).
    """
    if not 0.0 <= mach <= GREATEST_MACH:
        raise OutsideValidity(
            "too near the speed of sound for this screening",
            field="mach",
            value=f"{mach:.3g}",
            allowed=f"0 to {GREATEST_MACH:g}",
        )
    return float(density * speed**2 / np.sqrt(1.0 - mach**2))
