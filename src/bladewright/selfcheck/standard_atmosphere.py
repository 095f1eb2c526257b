"""Standard air against its published table."""

from functools import partial

from bladewright.engine.rotor.atmosphere import Air, density_height, geopotential_height, standard_air
from bladewright.selfcheck.case import Case

SOURCE = "U.S. Standard Atmosphere, 1976; ISO 2533:1975; recomputed from their constants"
TABLE = (
    (0.0, 288.15, 101325.0, 1.225000, 340.2940, 1.789380e-5),
    (1000.0, 281.65, 89874.6, 1.111643, 336.4340, 1.757845e-5),
    (1500.0, 278.40, 84556.0, 1.058067, 334.4873, 1.741948e-5),
    (2000.0, 275.15, 79495.2, 1.006490, 332.5292, 1.725961e-5),
    (3000.0, 268.65, 70108.5, 0.909122, 328.5779, 1.693719e-5),
    (4000.0, 262.15, 61640.2, 0.819129, 324.5786, 1.661108e-5),
    (5000.0, 255.65, 54019.9, 0.736116, 320.5294, 1.628118e-5),
)
COLUMNS = (
    ("temperature", "temperature [K]", 1e-9), ("pressure", "pressure [Pa]", 0.051),
    ("density", "density [kg/m^3]", 6e-7), ("sound_speed", "sound speed [m/s]", 6e-5),
    ("viscosity", "viscosity [Pa s]", 6e-12),
)  # fmt: skip
PRINTED = "half the last digit printed"
HOT_HILL = "1500 m, 20 K warm"
HOT_FIELD = "600 m at 35 C"


def _value(height: float, name: str) -> float:
    return float(getattr(standard_air(height), name))


def _hot_hill() -> Air:
    return standard_air(1500.0, 20.0)


def _hot_field() -> Air:
    return standard_air(600.0, 308.15 - standard_air(600.0).temperature)


CASES: tuple[Case, ...] = (
    *(
        Case(SOURCE, f"{row[0]:g} m: {said}", partial(_value, row[0], name), value, band, PRINTED)
        for row in TABLE
        for (name, said, band), value in zip(COLUMNS, row[1:], strict=True)
    ),
    Case(SOURCE, f"{HOT_HILL}: temperature [K]", lambda: _hot_hill().temperature, 298.4, 1e-9),
    Case(SOURCE, f"{HOT_HILL}: density [kg/m^3]", lambda: _hot_hill().density, 0.98715122, 6e-9),
    Case(SOURCE, f"{HOT_HILL}: sound speed [m/s]", lambda: _hot_hill().sound_speed, 346.2935, 6e-5),
    Case(SOURCE, f"{HOT_HILL}: density height [m]", lambda: density_height(_hot_hill().density), 2192.533, 0.1),
    Case(SOURCE, f"{HOT_FIELD}: density [kg/m^3]", lambda: _hot_field().density, 1.0663198, 6e-8),
    Case(SOURCE, f"{HOT_FIELD}: density height [m]", lambda: density_height(_hot_field().density), 1421.739, 0.1),
    Case(SOURCE, "5003.9359 m by the tape: height [m]", lambda: geopotential_height(5003.9359), 5000.0, 1e-4),
)  # fmt: skip
