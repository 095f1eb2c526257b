"""Thermocouples of types K, J and T: voltage from temperature on ITS-90, and back.

The reference functions are polynomials in degrees Celsius that give millivolts with the other junction at 0 degC;
type K above zero has one bell-shaped term more. Everything outside this file is in kelvin and volts.
"""

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.polynomial.polynomial import polyval
from numpy.typing import ArrayLike

from bladewright.engine.arrays import Floats
from bladewright.errors import BadInput, OutsideValidity

ThermocoupleType = Literal["K", "J", "T"]

ICE: Final = 273.15  # 0 degC, where the reference junction of the tables is [K]
_MILLI: Final = 1e-3
#: an inverse is settled when a step no longer moves it by more than this [K]; a thousandth of what any table prints
_SETTLED: Final = 1e-7
#: halving alone needs 40 from the widest range; Newton's steps need about five
_MOST_STEPS: Final = 60


@dataclass(frozen=True, slots=True)
class Reference:
    """One type's reference function, piece by piece."""

    edges: tuple[float, ...]  # ends of the pieces [degC]
    pieces: tuple[tuple[float, ...], ...]  # coefficients from the constant up [mV/degC^i]
    bell: tuple[float, float, float] | None = None  # height [mV], [1/degC^2], place [degC]; in the last piece


#: G. W. Burns et al., NIST Monograph 175 (1993); the same coefficients stand in IEC 60584-1
_REFERENCE: Final[dict[str, Reference]] = {
    "K": Reference(
        (-270.0, 0.0, 1372.0),
        (
            (
                0.0, 0.394501280250e-01, 0.236223735980e-04, -0.328589067840e-06, -0.499048287770e-08,
                -0.675090591730e-10, -0.574103274280e-12, -0.310888728940e-14, -0.104516093650e-16,
                -0.198892668780e-19, -0.163226974860e-22,
            ),
            (
                -0.176004136860e-01, 0.389212049750e-01, 0.185587700320e-04, -0.994575928740e-07, 0.318409457190e-09,
                -0.560728448890e-12, 0.560750590590e-15, -0.320207200030e-18, 0.971511471520e-22, -0.121047212750e-25,
            ),
        ),
        (0.118597600000, -0.118343200000e-03, 126.968600000),
    ),
    "J": Reference(
        (-210.0, 760.0, 1200.0),
        (
            (
                0.0, 0.503811878150e-01, 0.304758369300e-04, -0.856810657200e-07, 0.132281952950e-09,
                -0.170529583370e-12, 0.209480906970e-15, -0.125383953360e-18, 0.156317256970e-22,
            ),
            (
                0.296456256810e03, -0.149761277860e01, 0.317871039240e-02, -0.318476867010e-05, 0.157208190040e-08,
                -0.306913690560e-12,
            ),
        ),
    ),
    "T": Reference(
        (-270.0, 0.0, 400.0),
        (
            (
                0.0, 0.387481063640e-01, 0.441944343470e-04, 0.118443231050e-06, 0.200329735540e-07,
                0.901380195590e-09, 0.226511565930e-10, 0.360711542050e-12, 0.384939398830e-14, 0.282135219250e-16,
                0.142515947790e-18, 0.487686622860e-21, 0.107955392700e-23, 0.139450270620e-26, 0.797951539270e-30,
            ),
            (
                0.0, 0.387481063640e-01, 0.332922278800e-04, 0.206182434040e-06, -0.218822568460e-08,
                0.109968809280e-10, -0.308157587720e-13, 0.454791352900e-16, -0.275129016730e-19,
            ),
        ),
    ),
}  # fmt: skip
TYPES: Final[tuple[ThermocoupleType, ...]] = ("K", "J", "T")


def thermocouple_range(letter: ThermocoupleType) -> tuple[float, float]:
    """Lowest and highest temperature the reference function of a type holds for.

    Parameters
    ----------
    letter : ThermocoupleType
        The type. [-]

    Returns
    -------
    tuple of float
        Both ends, included. [K]

    Raises
    ------
    BadInput
        If the type is not one of K, J and T.

    Notes
    -----
    Type K -270 to 1372 degC, J -210 to 1200 degC, T -270 to 400 degC.

    Source: G. W. Burns et al., NIST Monograph 175, 1993 (ranges as printed beside the coefficients).
    """
    if letter not in _REFERENCE:
        raise BadInput("not a type with a reference function here", field="letter", value=letter, allowed="K, J or T")
    edges = _REFERENCE[letter].edges
    return edges[0] + ICE, edges[-1] + ICE


def thermocouple_voltage(temperature: ArrayLike, letter: ThermocoupleType) -> Floats:
    """Voltage of a thermocouple whose other junction is at 0 degC.

    ``E(t) = sum c_i t**i``, for type K above zero ``+ a_0 exp(a_1 (t - a_2)**2)``.

    Parameters
    ----------
    temperature : (...) array
        Of the measuring junction; a reading that is not there (NaN) stays not there. [K]
    letter : ThermocoupleType
        The type of the wire. [-]

    Returns
    -------
    Floats
        The voltage, of the shape of ``temperature``. [V]

    Raises
    ------
    BadInput
        If the type is not one of K, J and T.
    OutsideValidity
        If a temperature is outside the type's range.

    Notes
    -----
    Of wire that follows the reference function exactly; real wire departs from it by its tolerance class.

    Source: G. W. Burns et al., NIST Monograph 175, 1993 (coefficients).
    """
    celsius = _inside(temperature, letter) - ICE
    return _millivolts(celsius, _REFERENCE[letter]) * _MILLI


def thermocouple_sensitivity(temperature: ArrayLike, letter: ThermocoupleType) -> Floats:
    """Change of a thermocouple's voltage with the temperature of its measuring junction.

    ``S(t) = dE/dt``.

    Parameters
    ----------
    temperature : (...) array
        Of the measuring junction. [K]
    letter : ThermocoupleType
        The type of the wire. [-]

    Returns
    -------
    Floats
        The sensitivity, of the shape of ``temperature``. [V/K]

    Raises
    ------
    BadInput
        If the type is not one of K, J and T.
    OutsideValidity
        If a temperature is outside the type's range.

    Notes
    -----
    The reference function differentiated term by term.

    Source: G. W. Burns et al., NIST Monograph 175, 1993 (coefficients).
    """
    celsius = _inside(temperature, letter) - ICE
    return _slope(celsius, _REFERENCE[letter]) * _MILLI


def thermocouple_temperature(voltage: ArrayLike, letter: ThermocoupleType) -> Floats:
    """Temperature of the measuring junction from the voltage, the other junction at 0 degC.

    ``E(t) = voltage`` solved by Newton's steps; a step that leaves what is still possible halves it instead.

    Parameters
    ----------
    voltage : (...) array
        With the other junction at 0 degC; NaN stays NaN. [V]
    letter : ThermocoupleType
        The type the voltage is read as. [-]

    Returns
    -------
    Floats
        The temperature, of the shape of ``voltage``. [K]

    Raises
    ------
    BadInput
        If the type is not one of K, J and T.
    OutsideValidity
        If no temperature in the type's range gives the voltage.

    Notes
    -----
    Exact to 1e-7 K, where the published inverse polynomials are off by up to 0.06 K. Near -270 degC the voltage
    hardly changes with temperature, so a small error of the voltage is a large one of the temperature.

    Source: G. W. Burns et al., NIST Monograph 175, 1993 (coefficients); solved here.
    """
    least, greatest = thermocouple_range(letter)
    reference = _REFERENCE[letter]
    wanted = np.asarray(voltage, dtype=np.float64) / _MILLI
    ends = _millivolts(np.array([least, greatest]) - ICE, reference)
    slack = 1e-12 * float(np.abs(ends).max())  # what a voltage at the very end may have lost to rounding
    _require_between(wanted, float(ends[0]) - slack, float(ends[1]) + slack, "voltage", "mV")
    low, high = np.full(wanted.shape, least - ICE), np.full(wanted.shape, greatest - ICE)
    found = np.clip(wanted / _slope(np.zeros(()), reference), low, high)
    for _ in range(_MOST_STEPS):
        over = _millivolts(found, reference) - wanted
        low, high = np.where(over <= 0.0, found, low), np.where(over >= 0.0, found, high)
        step = found - over / _slope(found, reference)
        better = np.where((step >= low) & (step <= high), step, 0.5 * (low + high))
        moved = np.abs(better - found)
        found = better
        if not (moved > _SETTLED).any():
            break
    return np.where(np.isnan(wanted), np.nan, found + ICE)


def _inside(temperature: ArrayLike, letter: ThermocoupleType) -> Floats:
    least, greatest = thermocouple_range(letter)
    values = np.asarray(temperature, dtype=np.float64)
    _require_between(values - ICE, least - ICE - _SETTLED, greatest - ICE + _SETTLED, "temperature", "degC")
    return values


def _require_between(values: Floats, least: float, greatest: float, field: str, unit: str) -> None:
    out = (values < least) | (values > greatest)
    if not out.any():
        return
    at = int(np.argmax(out.ravel()))
    raise OutsideValidity(
        "outside what the reference function of this type covers",
        field=field,
        row=at + 1,
        value=float(values.ravel()[at]),
        allowed=f"{least:.6g} to {greatest:.6g} {unit}",
        fix="check the type, and whether the sensor was open",
    )


def _millivolts(celsius: Floats, reference: Reference) -> Floats:
    below, above = (polyval(celsius, piece) for piece in reference.pieces)
    if reference.bell is not None:
        height, width, place = reference.bell
        above = above + height * np.exp(width * (celsius - place) ** 2)
    found: Floats = np.where(celsius >= reference.edges[1], above, below)
    return found


def _slope(celsius: Floats, reference: Reference) -> Floats:
    below, above = (polyval(celsius, np.arange(1, len(piece)) * np.asarray(piece)[1:]) for piece in reference.pieces)
    if reference.bell is not None:
        height, width, place = reference.bell
        above = above + 2.0 * height * width * (celsius - place) * np.exp(width * (celsius - place) ** 2)
    found: Floats = np.where(celsius >= reference.edges[1], above, below)
    return found
