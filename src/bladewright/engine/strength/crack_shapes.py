"""How a crack's shape and the part around it load its tip: the factor Y of ``K = Y S sqrt(pi a)``."""

import math

from bladewright.engine.strength.refusals import require_positive
from bladewright.errors import BadInput

ROUND = 2.0 / math.pi  # a round crack inside a body; I. N. Sneddon, 1946: closed form


def _share(length: float, width: float, field: str) -> float:
    require_positive({"length": length, "width": width})
    if not length < width:
        raise BadInput(
            "the crack is longer than its formula holds", field=field, value=length, allowed=f"below {width:.6g} m"
        )
    return length / width


def central_crack(length: float, width: float) -> float:
    """Factor of a crack through the middle of a strip.

    ``Y = (1 - 0.025 s**2 + 0.06 s**4) sqrt(sec(pi s / 2))`` with ``s = 2 a / W``.

    Parameters
    ----------
    length : float
        a, half of the crack. [m]
    width : float
        W, of the whole strip. [m]

    Returns
    -------
    float
        Y. [1]

    Raises
    ------
    BadInput
        If a length is not positive or the crack is as wide as the strip.

    Notes
    -----
    Within 0.1 % (from memory).

    Source: H. Tada, 1973, on C. E. Feddersen, ASTM STP 410, 1966 (from memory).
    """
    share = _share(length, 0.5 * width, "length")
    return (1.0 - 0.025 * share**2 + 0.06 * share**4) / math.sqrt(math.cos(0.5 * math.pi * share))


def edge_crack(length: float, width: float) -> float:
    """Factor of a crack from the edge of a strip.

    ``Y = 1.12 - 0.231 s + 10.55 s**2 - 21.72 s**3 + 30.39 s**4`` with ``s = a / W``.

    Parameters
    ----------
    length : float
        a. [m]
    width : float
        W. [m]

    Returns
    -------
    float
        Y. [1]

    Raises
    ------
    BadInput
        If a length is not positive or the crack goes past 0.6 of the width, where the fit ends.

    Notes
    -----
    The strip is free to bend as the crack opens; 0.5 % up to ``s = 0.6``.

    Source: H. Tada, P. C. Paris, G. R. Irwin, The Stress Analysis of Cracks Handbook, 1973 (from memory).
    """
    s = _share(length, 0.6 * width, "length") * 0.6
    return 1.12 - 0.231 * s + 10.55 * s**2 - 21.72 * s**3 + 30.39 * s**4


def surface_crack(depth: float, thickness: float) -> float:
    """Factor of a half-round crack in a surface, where it meets the surface.

    ``Y = (2/pi)(1.04 + 0.202 s**2 - 0.106 s**4)(1.1 + 0.35 s**2)`` with ``s = a / t``.

    Parameters
    ----------
    depth : float
        a. [m]
    thickness : float
        t. [m]

    Returns
    -------
    float
        Y, greater there than at the deepest point. [1]

    Raises
    ------
    BadInput
        If a length is not positive or the crack is through.

    Notes
    -----
    Pulled, far from the edges. It stays half round; when it is through, ask ``central_crack``.

    Source: J. C. Newman, I. S. Raju, Eng. Fract. Mech. 15, 1981, for a/c = 1 (from memory).
    """
    s = _share(depth, thickness, "depth")
    return ROUND * (1.04 + 0.2017 * s**2 - 0.1061 * s**4) * (1.1 + 0.35 * s**2)


def corner_crack(radius: float, thickness: float) -> float:
    """Factor of a quarter-round crack in a corner, where it meets a surface.

    ``Y = (2/pi)(1.05 + 0.375 s**2 - 0.25 s**4)(1.08 + 0.4 s**2)`` with ``s = a / t``.

    Parameters
    ----------
    radius : float
        a. [m]
    thickness : float
        t. [m]

    Returns
    -------
    float
        Y. [1]

    Raises
    ------
    BadInput
        If a length is not positive or the crack is through.

    Notes
    -----
    Pulled, the edge otherwise whole. It stays quarter round; when it is through, ask ``edge_crack``.

    Source: J. C. Newman, I. S. Raju, NASA TM 85793, 1984, for a/c = 1 (from memory).
    """
    s = _share(radius, thickness, "radius")
    return ROUND * (1.05 + 0.3754 * s**2 - 0.25 * s**4) * (1.08 + 0.4 * s**2)


def hole_crack(length: float, radius: float, both_sides: bool) -> float:
    """Factor of a crack through the sheet from the side of a hole, or one from each side.

    With ``s = a / (a + r)``: one, ``(1 + 0.2 (1 - s) + 0.3 (1 - s)**6)(2.243 - 2.64 s + 1.352 s**2 - 0.248 s**3)``;
    two, ``(3 - s)(1 + 1.243 (1 - s)**3) / 2``.

    Parameters
    ----------
    length : float
        a, from the hole's edge. [m]
    radius : float
        r, of the hole. [m]
    both_sides : bool
        Whether one grows on the other side too. [-]

    Returns
    -------
    float
        Y, on the stress far from the hole and ``sqrt(pi a)``. [1]

    Raises
    ------
    BadInput
        If length or radius is not positive.

    Notes
    -----
    Open hole in a wide sheet. A bolt that bears in it makes it worse. One long crack: up to 4 % too high.

    Source: H. Tada, P. C. Paris, G. R. Irwin, 1973, fits to O. L. Bowie, 1956 (from memory).
    """
    require_positive({"length": length, "radius": radius})
    s = length / (length + radius)
    if both_sides:
        return 0.5 * (3.0 - s) * (1.0 + 1.243 * (1.0 - s) ** 3)
    near = 1.0 + 0.2 * (1.0 - s) + 0.3 * (1.0 - s) ** 6
    return near * (2.243 - 2.64 * s + 1.352 * s**2 - 0.248 * s**3)
