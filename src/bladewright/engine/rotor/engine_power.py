"""What an engine has left where the air is thin."""

from bladewright.errors import OutsideValidity

# Source: R. S. Gagg, E. V. Farrar, SAE Journal 34, 1934 (from memory)
INDICATED = 1.132
FRICTION = 0.132
THINNEST = 0.4  # density ratio below which the rule is not used: some 9 km; our own choice


def aspirated_power(sea_level: float, density_ratio: float) -> float:
    """Full-throttle power of a piston engine without a blower.

    ``P = P_0 (1.132 s - 0.132)``: the charge falls with the density ratio s, the engine's own friction does not.

    Parameters
    ----------
    sea_level : float
        At standard sea-level density. [W]
    density_ratio : float
        Density over that of standard sea level, 0.4 to 1.15. [1]

    Returns
    -------
    float
        [W]

    Raises
    ------
    OutsideValidity
        If the density ratio is outside the range.

    Notes
    -----
    Same rotor speed. A day colder than standard gives a little more than the rating; many ratings do not allow it.

    Source: R. S. Gagg, E. V. Farrar, SAE Journal 34, 1934 (from memory).
    """
    if not THINNEST <= density_ratio <= 1.15:
        raise OutsideValidity("density", field="density_ratio", value=density_ratio, allowed="0.4 to 1.15")
    return sea_level * (INDICATED * density_ratio - FRICTION)
