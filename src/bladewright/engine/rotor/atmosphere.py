"""Standard atmosphere of the lowest eleven kilometres, warmer or colder days, and density height."""

from dataclasses import dataclass

from bladewright.errors import OutsideValidity

# Source: U.S. Standard Atmosphere, 1976; ISO 2533:1975
SEA_TEMPERATURE = 288.15  # [K]
SEA_PRESSURE = 101325.0  # [Pa]
LAPSE = 0.0065  # [K/m]
GRAVITY = 9.80665  # [m/s^2]
GAS_CONSTANT = 287.05287  # [J/(kg K)]
HEAT_RATIO = 1.4  # [1]
SUTHERLAND = 1.458e-6  # [kg/(m s K^0.5)]
SUTHERLAND_TEMPERATURE = 110.4  # [K]
TROPOPAUSE = 11_000.0  # [m]
LOWEST = -2_000.0  # [m]
EARTH_RADIUS = 6_356_766.0  # [m]


@dataclass(frozen=True, slots=True)
class Air:
    """The air at one place."""

    temperature: float  # [K]
    pressure: float  # [Pa]
    density: float  # [kg/m^3]
    sound_speed: float  # [m/s]
    viscosity: float  # [Pa s]


def standard_air(height: float = 0.0, warmer: float = 0.0) -> Air:
    """Air at a pressure height, on a day warmer or colder than standard.

    ``T = 288.15 - 0.0065 h``; ``p = p0 (T/T0)**(g/(R L))``; ``rho = p/(R (T + dT))``; ``a = sqrt(1.4 R T)``;
    ``mu = 1.458e-6 T**1.5/(T + 110.4)``.

    Parameters
    ----------
    height : float
        Geopotential pressure height, -2000 to 11000. [m]
    warmer : float
        How much warmer than standard the air is there. [K]

    Returns
    -------
    Air

    Raises
    ------
    OutsideValidity
        If the height is outside the lowest layer, or the air would be colder than 150 K.

    Notes
    -----
    Dry air. At 5000 m geopotential and geometric height differ by 4 m.

    Source: U.S. Standard Atmosphere, 1976; ISO 2533:1975.
    """
    if not LOWEST <= height <= TROPOPAUSE:
        raise OutsideValidity("height", field="height", value=height, allowed="-2000 m to 11000 m")
    standard = SEA_TEMPERATURE - LAPSE * height
    temperature = standard + warmer
    if not temperature > 150.0:
        raise OutsideValidity("the air would be too cold", field="warmer", value=warmer, allowed="air above 150 K")
    pressure = SEA_PRESSURE * (standard / SEA_TEMPERATURE) ** (GRAVITY / (GAS_CONSTANT * LAPSE))
    return Air(
        temperature=temperature,
        pressure=pressure,
        density=pressure / (GAS_CONSTANT * temperature),
        sound_speed=(HEAT_RATIO * GAS_CONSTANT * temperature) ** 0.5,
        viscosity=SUTHERLAND * temperature**1.5 / (temperature + SUTHERLAND_TEMPERATURE),
    )


def density_height(density: float) -> float:
    """Height at which the standard atmosphere has a density.

    ``h = T0/L (1 - (rho/rho0)**(1/(g/(R L) - 1)))``.

    Parameters
    ----------
    density : float
        More than zero. [kg/m^3]

    Returns
    -------
    float
        [m]

    Raises
    ------
    OutsideValidity
        If the height is outside the lowest layer.

    Notes
    -----
    Source: ``standard_air`` solved for height.
    """
    sea = SEA_PRESSURE / (GAS_CONSTANT * SEA_TEMPERATURE)
    power = GRAVITY / (GAS_CONSTANT * LAPSE) - 1.0
    height = SEA_TEMPERATURE / LAPSE * (1.0 - (density / sea) ** (1.0 / power)) if density > 0.0 else float("inf")
    if not LOWEST <= height <= TROPOPAUSE:
        raise OutsideValidity("density", field="density", value=density, allowed="0.364 to 1.48 kg/m^3")
    return height


def geopotential_height(geometric: float) -> float:
    """Height the standard atmosphere counts in, from one measured with a tape.

    ``h = r z/(r + z)``.

    Parameters
    ----------
    geometric : float
        z, above sea level. [m]

    Returns
    -------
    float
        [m]

    Raises
    ------
    OutsideValidity
        If the height is outside the lowest layer.

    Notes
    -----
    4 m less at 5000 m.

    Source: U.S. Standard Atmosphere, 1976.
    """
    if not LOWEST <= geometric <= TROPOPAUSE:
        raise OutsideValidity("height", field="geometric", value=geometric, allowed="-2000 m to 11000 m")
    return EARTH_RADIUS * geometric / (EARTH_RADIUS + geometric)
