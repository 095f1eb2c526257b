"""When a thin skin between two supports buckles: along compression, under shear, under both. A screening."""

from typing import Literal

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.errors import BadInput

Edges = Literal["turning", "held"]

#: of a long plate, its long edges free to turn or held from turning
COMPRESSION: dict[Edges, float] = {"turning": 4.0, "held": 6.98}
SHEAR: dict[Edges, float] = {"turning": 5.35, "held": 8.98}


def plate_stiffness(young: float, poisson: float, thickness: float) -> float:
    """Bending stiffness of a plate per width, ``D = E t**3 / (12 (1 - v**2))``.

    Parameters
    ----------
    young : float
        [Pa]
    poisson : float
        [-]
    thickness : float
        [m]

    Returns
    -------
    float
        [N m]

    Raises
    ------
    BadInput
        If modulus or thickness are not positive, or Poisson's ratio is none of a solid's.

    Notes
    -----
    Source: S. P. Timoshenko, S. Woinowsky-Krieger, Theory of Plates and Shells (from memory).
    """
    for name, value, allowed in (
        ("young", young, young > 0.0),
        ("thickness", thickness, thickness > 0.0),
        ("poisson", poisson, -1.0 < poisson <= 0.5),
    ):
        if not (allowed and np.isfinite(value)):
            raise BadInput("is none a plate can have", field=name, value=f"{value:g}", allowed="a real plate's value")
    return young * thickness**3 / (12.0 * (1.0 - poisson**2))


def compression_limit(
    young: float, poisson: float, thickness: float, width: float, edges: Edges, curvature: float, knock_down: float
) -> float:
    """Compression along a long plate's length at which it buckles, flat or curved across its width.

    Flat: ``s = k pi**2 E / (12 (1 - v**2)) (t / b)**2``. Curved, with ``f`` the flat one and ``c`` the cylinder's
    ``E t / (R sqrt(3 (1 - v**2)))`` times the knock-down: ``s = f/2 + sqrt(f**2/4 + c**2)``.

    Parameters
    ----------
    young : float
        [Pa]
    poisson : float
        [-]
    thickness, width : float
        Width between the supported long edges. [m]
    edges : {"turning", "held"}
        Whether the long edges can turn. [-]
    curvature : float
        Of the width, either sign; nought is flat. [1/m]
    knock_down : float
        Of the cylinder's part, for what real shells fall short of: 0 counts the plate as flat. [-]

    Returns
    -------
    float
        Positive. [Pa]

    Raises
    ------
    BadInput
        If a size is not positive or the knock-down not between 0 and 1.

    Notes
    -----
    Elastic; longer than three widths; nothing across the width. Screening.

    Source: S. P. Timoshenko, J. M. Gere, Theory of Elastic Stability, 1961, for k; S. C. Redshaw, 1934, for the curved
    one (from memory).
    """
    _require_width(width, knock_down)
    flat = COMPRESSION[edges] * np.pi**2 * plate_stiffness(young, poisson, thickness) / (thickness * width**2)
    cylinder = knock_down * young * thickness * abs(curvature) / np.sqrt(3.0 * (1.0 - poisson**2))
    return float(0.5 * flat + np.hypot(0.5 * flat, cylinder))


def shear_limit(young: float, poisson: float, thickness: float, width: float, edges: Edges) -> float:
    """Shear at which a long flat plate buckles, ``k pi**2 E / (12 (1 - v**2)) (t / b)**2``.

    Parameters
    ----------
    young : float
        [Pa]
    poisson : float
        [-]
    thickness, width : float
        Width between the supported long edges. [m]
    edges : {"turning", "held"}
        Whether the long edges can turn. [-]

    Returns
    -------
    float
        Positive. [Pa]

    Raises
    ------
    BadInput
        If a size is not positive.

    Notes
    -----
    Elastic, flat, long: curvature and ends only help. Screening.

    Source: G. Gerard, H. Becker, NACA TN 3781, 1957 (from memory).
    """
    _require_width(width, 0.0)
    return SHEAR[edges] * np.pi**2 * plate_stiffness(young, poisson, thickness) / (thickness * width**2)


def buckling_reserve(
    compression: Floats | float, shear: Floats | float, compression_greatest: float, shear_greatest: float
) -> Floats:
    """By how much both loads together may grow before the plate buckles.

    The factor f with ``f r_c + (f r_s)**2 = 1``, r the shares of each limit alone; pull counts as compression below
    nought and helps.

    Parameters
    ----------
    compression : float or (...) array
        Compression positive, pull negative. [Pa]
    shear : float or (...) array
        Either sign. [Pa]
    compression_greatest, shear_greatest : float
        At which either alone buckles the plate. [Pa]

    Returns
    -------
    (...) array
        Infinite where nothing buckles it. [1]

    Notes
    -----
    Screening.

    Source: G. Gerard, H. Becker, NACA TN 3781, 1957, long plates in compression and shear (from memory).
    """
    pressed, sheared = np.asarray(compression) / compression_greatest, np.asarray(shear) / shear_greatest
    size = np.hypot(pressed, 2.0 * sheared)
    # the root of f r_c + f**2 r_s**2 = 1, written so that pull loses no digits
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        pulled = (size - pressed) / (2.0 * sheared**2)
        reserve = np.where(pressed > 0.0, 2.0 / (pressed + size), np.where(sheared == 0.0, np.inf, pulled))
    return np.asarray(reserve, dtype=np.float64)


def _require_width(width: float, knock_down: float) -> None:
    if not width > 0.0:
        raise BadInput("a plate needs a width", field="width", value=width, allowed="more than 0")
    if not 0.0 <= knock_down <= 1.0:
        raise BadInput("is no share", field="knock_down", value=knock_down, allowed="0 to 1")
