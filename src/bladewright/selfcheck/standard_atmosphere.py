"""Standard air against its published table."""

from functools import partial

from bladewright.engine.rotor.atmosphere import density_height, standard_air
from bladewright.selfcheck.case import Case

SOURCE = "U.S. Standard Atmosphere, 1976; ISO 2533:1975; recomputed from their constants"
TABLE = (
    (0.0, 101325.0, 1.225000, 340.2940),
    (1000.0, 89874.6, 1.111643, 336.4340),
    (2000.0, 79495.2, 1.006490, 332.5292),
    (3000.0, 70108.5, 0.909122, 328.5779),
    (5000.0, 54019.9, 0.736116, 320.5294),
)


def _value(height: float, name: str) -> float:
    return float(getattr(standard_air(height), name))


CASES: tuple[Case, ...] = (
    *(
        case
        for height, pressure, density, sound in TABLE
        for case in (
            Case(SOURCE, f"{height:g} m: pressure [Pa]", partial(_value, height, "pressure"), pressure, 0.051),
            Case(SOURCE, f"{height:g} m: density [kg/m^3]", partial(_value, height, "density"), density, 6e-7),
            Case(SOURCE, f"{height:g} m: sound speed [m/s]", partial(_value, height, "sound_speed"), sound, 6e-5),
        )
    ),
    Case(
        SOURCE,
        "1500 m, 20 K warm: density height [m]",
        lambda: density_height(standard_air(1500.0, 20.0).density),
        2192.533,
        0.1,
    ),
)
