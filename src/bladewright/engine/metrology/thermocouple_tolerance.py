"""How far new thermocouple wire may be from its reference function, by tolerance class."""

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike

from bladewright.engine.arrays import Floats
from bladewright.engine.metrology.thermocouple import ICE, ThermocoupleType
from bladewright.errors import BadInput, OutsideValidity

#: "class 1" and "class 2" are of IEC 60584-1, "special" and "standard" of ASTM E230
ToleranceClass = Literal["class 1", "class 2", "special", "standard"]


@dataclass(frozen=True, slots=True)
class _Class:
    """One class of one type."""

    fixed: float  # [K]
    share: float  # of the temperature in degrees Celsius [1]
    least: float  # where the class begins [degC]
    greatest: float  # [degC]


#: limits as printed in the standards; the ends of the ranges from memory
_CLASSES: Final[dict[tuple[str, str], _Class]] = {
    ("K", "class 1"): _Class(1.5, 0.004, -40.0, 1000.0),
    ("K", "class 2"): _Class(2.5, 0.0075, -40.0, 1200.0),
    ("J", "class 1"): _Class(1.5, 0.004, -40.0, 750.0),
    ("J", "class 2"): _Class(2.5, 0.0075, -40.0, 750.0),
    ("T", "class 1"): _Class(0.5, 0.004, -40.0, 350.0),
    ("T", "class 2"): _Class(1.0, 0.0075, -40.0, 350.0),
    ("K", "special"): _Class(1.1, 0.004, 0.0, 1260.0),
    ("K", "standard"): _Class(2.2, 0.0075, 0.0, 1260.0),
    ("J", "special"): _Class(1.1, 0.004, 0.0, 760.0),
    ("J", "standard"): _Class(2.2, 0.0075, 0.0, 760.0),
    ("T", "special"): _Class(0.5, 0.004, 0.0, 370.0),
    ("T", "standard"): _Class(1.0, 0.0075, 0.0, 370.0),
}


def thermocouple_tolerance(temperature: ArrayLike, letter: ThermocoupleType, tolerance: ToleranceClass) -> Floats:
    """Greatest departure of new wire from its reference function, either way.

    ``max(fixed, share |t|)`` with ``t`` in degrees Celsius.

    Parameters
    ----------
    temperature : (...) array
        Of the measuring junction. [K]
    letter : ThermocoupleType
        Type of the wire. [-]
    tolerance : ToleranceClass
        Class the wire was bought to. [-]

    Returns
    -------
    Floats
        The limit, a difference, of the shape of ``temperature``. [K]

    Raises
    ------
    BadInput
        If there is no such class of that type.
    OutsideValidity
        If a temperature is outside the class's range.

    Notes
    -----
    For new wire. Wire that was bent, used hot or long, or patched is not covered. As a distribution of half width
    ``a`` with nothing else known its standard uncertainty is ``a / sqrt(3)``. The share takes over where it
    passes the fixed value: above 375 degC for K and J class 1, above 125 degC for T class 1.

    Source: IEC 60584-1:2013 (class 1, class 2); ASTM E230 (special, standard; those of type T from memory).
    """
    if (letter, tolerance) not in _CLASSES:
        raise BadInput(
            "no such tolerance class of this type",
            field="tolerance",
            value=f"{letter} {tolerance}",
            allowed=", ".join(" ".join(known) for known in _CLASSES),
        )
    limits = _CLASSES[letter, tolerance]
    celsius = np.asarray(temperature, dtype=np.float64) - ICE
    slack = 1e-9
    out = (celsius < limits.least - slack) | (celsius > limits.greatest + slack)
    if out.any():
        raise OutsideValidity(
            "the tolerance class does not cover this temperature",
            field="temperature",
            value=float(celsius.ravel()[int(np.argmax(out.ravel()))]),
            allowed=f"{limits.least:g} to {limits.greatest:g} degC",
        )
    return np.maximum(limits.fixed, limits.share * np.abs(celsius))
