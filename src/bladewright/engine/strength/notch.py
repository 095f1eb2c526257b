"""How much a nick or a dent raises the stress beside it, and how much of that counts in fatigue."""

import math

from bladewright.engine.strength.refusals import require_at_least_one, require_not_negative, require_positive


def nick_factor(depth: float, root_radius: float) -> float:
    """Peak over far stress at the bottom of a nick across the stress.

    ``1 + 2 sqrt(d / r)``, half an ellipse of depth d in an edge.

    Parameters
    ----------
    depth : float
        d; nought for none. [m]
    root_radius : float
        r, of its bottom. [m]

    Returns
    -------
    float
        At least 1. [1]

    Raises
    ------
    BadInput
        If the depth is negative or the radius not positive.

    Notes
    -----
    An ellipse in a wide plate; a nick in an edge is up to an eighth worse, 1.122 (the edge's factor in fracture). A
    nick with a sharp bottom has no factor: treat it as a crack.

    Source: C. E. Inglis, 1913 (from memory).
    """
    require_not_negative({"depth": depth})
    require_positive({"root_radius": root_radius})
    return 1.0 + 2.0 * math.sqrt(depth / root_radius)


def fatigue_factor(factor: float, root_radius: float, material_length: float) -> float:
    """What of a stress factor counts in fatigue.

    ``1 + (K_t - 1) / (1 + a / r)``.

    Parameters
    ----------
    factor : float
        K_t. [1]
    root_radius : float
        r. [m]
    material_length : float
        a, of the metal; entered. [m]

    Returns
    -------
    float
        K_f, 1 up to K_t. [1]

    Raises
    ------
    BadInput
        If the factor is below one, the radius not positive or the length negative.

    Notes
    -----
    Long lives. An unknown length is entered as nought: then all of K_t counts.

    Source: R. E. Peterson, in Metal Fatigue, 1959 (from memory).
    """
    require_at_least_one({"factor": factor})
    require_positive({"root_radius": root_radius})
    require_not_negative({"material_length": material_length})
    return 1.0 + (factor - 1.0) / (1.0 + material_length / root_radius)


def neuber_fatigue_factor(factor: float, root_radius: float, material_length: float) -> float:
    """What of a stress factor counts in fatigue, by the other rule.

    ``1 + (K_t - 1) / (1 + sqrt(rho / r))``.

    Parameters
    ----------
    factor : float
        K_t. [1]
    root_radius : float
        r. [m]
    material_length : float
        rho, of the metal; entered, and not the same number as in ``fatigue_factor``. [m]

    Returns
    -------
    float
        K_f, 1 up to K_t. [1]

    Raises
    ------
    BadInput
        If the factor is below one, the radius not positive or the length negative.

    Notes
    -----
    Long lives.

    Source: H. Neuber, Kerbspannungslehre, 1958; P. Kuhn, NACA TN 2805, 1952 (from memory).
    """
    require_at_least_one({"factor": factor})
    require_positive({"root_radius": root_radius})
    require_not_negative({"material_length": material_length})
    return 1.0 + (factor - 1.0) / (1.0 + math.sqrt(material_length / root_radius))


def worst_nick_factor(depth: float, material_length: float) -> float:
    """Greatest fatigue factor of a nick whose bottom nobody measured, over all radii.

    The greatest of ``1 + 2 sqrt(d/r) / (1 + a/r)`` is ``1 + sqrt(d / a)``, at ``r = a``.

    Parameters
    ----------
    depth : float
        d. [m]
    material_length : float
        a, as in ``fatigue_factor``. [m]

    Returns
    -------
    float
        [1]

    Raises
    ------
    BadInput
        If the depth is negative or the length not positive.

    Notes
    -----
    As ``nick_factor`` and ``fatigue_factor``.

    Source: C. E. Inglis, 1913; R. E. Peterson, 1959 (from memory); closed form.
    """
    require_not_negative({"depth": depth})
    require_positive({"material_length": material_length})
    return 1.0 + math.sqrt(depth / material_length)


def dent_factor(depth: float, thickness: float) -> float:
    """Greatest stress over mean in a skin whose pull runs past a dent.

    ``1 + 6 d / t``.

    Parameters
    ----------
    depth : float
        d, of the skin's middle; nought for none. [m]
    thickness : float
        t, of the skin. [m]

    Returns
    -------
    float
        At least 1. [1]

    Raises
    ------
    BadInput
        If the depth is negative or the thickness not positive.

    Notes
    -----
    An upper bound: a strip that nothing beside or beneath it helps. The metal's own damage, thinning and residual
    stress, is not in it.

    Source: strip pulled off its line by d, any text on strength of materials.
    """
    require_not_negative({"depth": depth})
    require_positive({"thickness": thickness})
    return 1.0 + 6.0 * depth / thickness
