"""Text with a unit to SI and back, at the edges only. Pint is imported on first use, so start-up stays quick.

A *kind* is what a value measures. Temperature and temperature difference are different kinds: 250 degF is a
temperature of 394.26 K, but "within 5 degF" is a difference of 2.78 K and never meets the 32.
"""

import math
import re
import tokenize
from functools import cache
from typing import Any, Final

from bladewright.errors import BadInput

#: kind -> (SI unit, an example a person can copy)
KINDS: Final[dict[str, tuple[str, str]]] = {
    "length": ("m", '"0.032 in" or "0.81 mm"'),
    "area": ("m^2", '"120 mm^2"'),
    "mass": ("kg", '"420 g" or "0.9 lb"'),
    "time": ("s", '"60 min"'),
    "temperature": ("K", '"250 degF" or "121 degC"'),
    "temperature difference": ("K", '"5 degF" or "3 K"'),
    "temperature rate": ("K/s", '"5 degF/min"'),
    "angle": ("rad", '"1.5 deg"'),
    "fraction": ("1", '"25 %" or "0.25"'),
    "force": ("N", '"12 lbf" or "50 N"'),
    "pressure": ("Pa", '"40 psi" or "276 kPa"'),
    "stiffness modulus": ("Pa", '"72.4 GPa" or "10.5e6 psi"'),
    "stress intensity": ("Pa m^0.5", '"30 MPa m^0.5" or "27 ksi in^0.5"'),
    "density": ("kg/m^3", '"2770 kg/m^3" or "0.100 lb/in^3"'),
    "area density": ("kg/m^2", '"120 g/m^2"'),
    "speed": ("m/s", '"90 kt" or "46 m/s"'),
    "rotor speed": ("rad/s", '"500 rpm"'),
    "moment": ("N m", '"120 N m" or "90 lbf ft"'),
    "span moment": ("kg m", '"17.06 kg m" or "8.2 g m"'),
    "force per width": ("N/m", '"3.4 N/mm" or "20 lbf/in"'),
    "line stiffness": ("N/m", '"12 N/mm"'),
    "turning stiffness": ("N m/rad", '"900 N m/rad"'),
    "expansion": ("1/K", '"23.2e-6 1/K"'),
    "mass per length": ("kg/m", '"2.9 kg/m"'),
    "power": ("W", '"85 kW" or "115 hp"'),
    "rate": ("1/s", '"2.1e9 1/min"'),
    "activation energy": ("J/mol", '"80.7 kJ/mol"'),
    "heat capacity": ("J/K", '"8.5 kJ/K"'),
    "heat conductance": ("W/K", '"12 W/K"'),
}

#: in SI; nothing in a shop comes near, and products of its powers are still numbers; our own choice
LARGEST: Final = 1e20
_NUMBER_AND_UNIT = re.compile(r"^\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*(\S.*?)?\s*$")
#: what a unit is made of; small powers only, because the units library would work out 9^9^9^9
_UNIT = re.compile(r"(?!.*\d\s*(?:\^|\*\*))(?!.*(?:\^|\*\*)\s*[+-]?\d\d)(?:1/)?[^\W\d_][\w%°·²³/*^(). -]{0,39}")
_DECIMAL_COMMA = re.compile(r"^\s*[+-]?\d+,\d+")
_SPELLINGS: Final[dict[str, str]] = {
    "°c": "degC", "°f": "degF", "deg c": "degC", "deg f": "degF", "celsius": "degC", "fahrenheit": "degF",
    "degc": "degC", "degf": "degF", "kelvin": "K", "kt": "knot", "kts": "knot", "°": "deg",
}  # fmt: skip
#: angles are written out, because the units library counts a radian, a turn and a percent as the same nothing
_TURNS: Final[dict[str, float]] = {"rad": 1.0, "mrad": 1e-3, "deg": math.pi / 180.0, "arcmin": math.pi / 10800.0}
_ROTOR_SPEEDS: Final[dict[str, float]] = {
    "rad/s": 1.0, "deg/s": math.pi / 180.0, "rpm": math.pi / 30.0, "rev/min": math.pi / 30.0, "1/min": math.pi / 30.0,
}  # fmt: skip
_FRACTIONS: Final[dict[str, float]] = {"": 1.0, "%": 0.01}
_SCALES: Final[dict[str, dict[str, float]]] = {
    "angle": _TURNS,
    "rotor speed": _ROTOR_SPEEDS,
    "fraction": _FRACTIONS,
}
_DEGREES: Final[dict[str, float]] = {"degC": 1.0, "degF": 5.0 / 9.0, "K": 1.0}
_LETTERS: Final[dict[str, str]] = {"C": "degC", "F": "degF"}  # only where nothing but a temperature can be meant
_ZERO: Final[dict[str, float]] = {"degC": 273.15, "degF": 459.67 * 5.0 / 9.0, "K": 0.0}


@cache
def _registry() -> Any:
    import pint

    return pint.UnitRegistry(cache_folder=None)


def si_unit(kind: str) -> str:
    """The SI unit a kind is kept in."""
    return KINDS[kind][0]


def _spelled(unit: str) -> str:
    return _SPELLINGS.get(unit.strip().lower(), unit.strip())


@cache
def scale_and_zero(unit: str, kind: str) -> tuple[float, float]:
    """How a unit becomes SI: ``si = scale * value + zero``; ``BadInput`` if the unit does not measure the kind."""
    name = _spelled(unit)
    si, example = KINDS[kind]
    wrong = BadInput(f"{unit!r} is not a unit of {kind}", value=unit, allowed=f"{_one(kind)}, like {example}")
    if kind in _SCALES:
        if name not in _SCALES[kind]:
            raise wrong
        return _SCALES[kind][name], 0.0
    if kind == "temperature":
        name = _LETTERS.get(name, name)
        if name not in _ZERO:
            raise wrong
        return _DEGREES[name], _ZERO[name]
    if kind in ("temperature difference", "temperature rate"):
        top, _, bottom = name.partition("/")
        top = _spelled(top.removeprefix("delta_"))
        top = _LETTERS.get(top, top)
        if top not in _DEGREES or bool(bottom) != (kind == "temperature rate"):
            raise wrong
        return _DEGREES[top] / (scale_and_zero(bottom, "time")[0] if bottom else 1.0), 0.0
    if not _UNIT.fullmatch(name):
        raise wrong
    ureg = _registry()
    import pint

    try:
        # a person writes "N m" and "lbf ft"; pint reads a blank as multiplication already
        scale = ureg.Quantity(1.0, name).to(si).magnitude
    except (pint.errors.PintError, ArithmeticError, AttributeError, LookupError, ValueError, TypeError,
            SyntaxError, AssertionError, tokenize.TokenError) as error:  # fmt: skip
        raise wrong from error
    return float(scale), 0.0


def split(text: str, kind: str) -> tuple[float, str]:
    """The number and the unit of a value as a person wrote it."""
    _, example = KINDS[kind]
    comma = bool(_DECIMAL_COMMA.match(text))
    match = None if comma else _NUMBER_AND_UNIT.match(text)
    if match is None:
        raise BadInput(
            f"{text!r} is not a number with a unit",
            value=text,
            allowed=f"{_one(kind)}, like {example}",
            fix="write the decimal mark as a point" if comma else "write the number first, then its unit",
        )
    number, unit = match.group(1), match.group(2) or ""
    if not unit and kind != "fraction":
        raise BadInput(
            f"{text!r} has no unit",
            value=text,
            allowed=f"{_one(kind)}, like {example}",
            fix="add the unit the drawing was dimensioned in",
        )
    return float(number), unit


def to_si(value: str, kind: str) -> float:
    """A value as a person wrote it, ``"0.032 in"``, in the SI unit of its kind."""
    number, unit = split(value, kind)
    scale, zero = scale_and_zero(unit, kind)
    result = scale * number + zero
    if not abs(result) <= LARGEST:
        raise BadInput(
            f"{value!r} is too large to be {_one(kind)}", value=value, allowed=f"at most {LARGEST:g} {KINDS[kind][0]}"
        )
    if kind == "temperature" and result < 0.0:
        raise BadInput(f"{value!r} is below absolute zero", value=value, allowed="at least 0 K")
    return result


def _one(kind: str) -> str:
    return f"{'an' if kind[0] in 'aeiou' else 'a'} {kind}"


def from_si(value: float, unit: str, kind: str) -> float:
    """An SI value as a number of another unit."""
    scale, zero = scale_and_zero(unit, kind)
    return (value - zero) / scale


def written(value: float, unit: str, kind: str, digits: int = 6) -> str:
    """An SI value as text with its unit, as a person would write it in a drawing."""
    return f"{from_si(value, unit, kind):.{digits}g} {unit}"
