"""The gas constant, and the check that keeps a number in degrees Celsius out of an exponent."""

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.errors import OutsideValidity

GAS_CONSTANT = 8.314462618  # [J/(mol K)] CODATA 2018, exact since then to the digits given
FREEZING = 273.15  # [K] zero of the Celsius scale, by definition
#: colder than any freezer and hotter than any film bears: a number in degC or degF falls below; our own choice
LEAST, GREATEST = 200.0, 1000.0


def require_kelvin(temperature: Floats, field: str) -> None:
    """Raise ``OutsideValidity`` where a temperature is missing or cannot be one of a cure in kelvin.

    Parameters
    ----------
    temperature : (...) array
        [K]
    field : str
        What the array is called where it came from. [-]

    Raises
    ------
    OutsideValidity
        Naming the first that is outside 200 to 1000 K, or no number.
    """
    values = np.atleast_1d(temperature)
    bad = ~((values >= LEAST) & (values <= GREATEST))
    if not bad.any():
        return
    at = int(np.argmax(bad.ravel()))
    raise OutsideValidity(
        "is no temperature of a cure in kelvin",
        field=field,
        row=at + 1,
        value=float(values.ravel()[at]),
        allowed=f"{LEAST:g} to {GREATEST:g} K",
        fix="give kelvin; a reading that is missing must be dealt with before",
    )
