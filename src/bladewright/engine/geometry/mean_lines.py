"""The four-digit and five-digit mean lines: height and slope along the chord, in chord fractions."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.errors import BadInput


@dataclass(frozen=True, slots=True)
class FourDigitLine:
    """Two parabolas that meet level at the greatest camber."""

    camber: float  # greatest height [chord fraction]
    place: float  # where it is [chord fraction]

    @property
    def breaks(self) -> tuple[float, ...]:
        """Where its curvature jumps. [chord fraction]"""
        return (self.place,) if self.camber else ()


@dataclass(frozen=True, slots=True)
class FiveDigitLine:
    """A cubic that runs out into a straight line (``ratio`` zero), or into a second cubic that turns up (reflexed)."""

    join: float  # r: where the two parts meet [chord fraction]
    k1: float  # third derivative of the front part [-]
    ratio: float = 0.0  # k2 / k1 of the rear part [-]

    @property
    def breaks(self) -> tuple[float, ...]:
        """Where its third derivative jumps. [chord fraction]"""
        return (self.join,)


MeanLine = FourDigitLine | FiveDigitLine

#: designation's first three digits, for an ideal lift coefficient of 0.3 -> published constants.
#: Source: Ladson, Brooks, Hill, Sproles, NASA TM 4741, 1996, as seen in public transcriptions of its table; the
#: constants go back to Jacobs, Pinkerton, Greenberg, NACA Report 537, 1935. They are rounded: see exact_lines.
PUBLISHED_FIVE_DIGIT = {
    "10": FiveDigitLine(0.0580, 361.400),
    "20": FiveDigitLine(0.1260, 51.640),
    "30": FiveDigitLine(0.2025, 15.957),
    "40": FiveDigitLine(0.2900, 6.643),
    "50": FiveDigitLine(0.3910, 3.230),
    "21": FiveDigitLine(0.1300, 51.990, 0.000764),
    "31": FiveDigitLine(0.2170, 15.793, 0.00677),
    "41": FiveDigitLine(0.3180, 6.520, 0.0303),
    "51": FiveDigitLine(0.4410, 3.191, 0.1355),
}
LIFT_PER_FIRST_DIGIT = 0.15  # ideal lift coefficient; Report 537
LIFT_OF_THE_TABLE = 0.3


def mean_line_height(line: MeanLine, x: Floats) -> Floats:
    """Height of a mean line above the chord line.

    ``y = m/p**2 (2 p x - x**2)``, ``y = m/(1-p)**2 (1 - 2 p + 2 p x - x**2)`` for four digits;
    ``y = k1/6 [(x-r)**3 - q (1-r)**3 x - r**3 x + r**3]``, with ``q (x-r)**3`` aft of r, for five.

    Parameters
    ----------
    line : FourDigitLine or FiveDigitLine
        The line. [-]
    x : (n,) array
        Places from 0 to 1. [chord fraction]

    Returns
    -------
    (n,) array
        [chord fraction]

    Notes
    -----
    Source: Jacobs, Ward, Pinkerton, NACA Report 460, 1933; Jacobs, Pinkerton, Greenberg, NACA Report 537, 1935.
    """
    if isinstance(line, FourDigitLine):
        if line.camber == 0.0:
            return np.zeros_like(x)
        m, p = line.camber, line.place
        front = m / p**2 * (2.0 * p * x - x**2)
        rear = m / (1.0 - p) ** 2 * (1.0 - 2.0 * p + 2.0 * p * x - x**2)
        return np.where(x < p, front, rear)
    r, q = line.join, line.ratio
    cube = (x - r) ** 3
    straight = r**3 - (r**3 + q * (1.0 - r) ** 3) * x
    return line.k1 / 6.0 * (np.where(x < r, cube, q * cube) + straight)


def mean_line_slope(line: MeanLine, x: Floats) -> Floats:
    """Slope of a mean line, the derivative of ``mean_line_height``.

    Parameters
    ----------
    line : FourDigitLine or FiveDigitLine
        The line. [-]
    x : (n,) array
        Places from 0 to 1. [chord fraction]

    Returns
    -------
    (n,) array
        [-]

    Notes
    -----
    Source: as ``mean_line_height``, differentiated.
    """
    if isinstance(line, FourDigitLine):
        if line.camber == 0.0:
            return np.zeros_like(x)
        m, p = line.camber, line.place
        return np.where(x < p, m / p**2, m / (1.0 - p) ** 2) * 2.0 * (p - x)
    r, q = line.join, line.ratio
    square = 3.0 * (x - r) ** 2
    return line.k1 / 6.0 * (np.where(x < r, square, q * square) - r**3 - q * (1.0 - r) ** 3)


def designated_mean_line(designation: str) -> MeanLine:
    """The mean line a four- or five-digit designation stands for, with the published constants.

    Parameters
    ----------
    designation : str
        Like "2412", "23012" or, reflexed, "23112". [-]

    Returns
    -------
    FourDigitLine or FiveDigitLine

    Raises
    ------
    BadInput
        If no such line was published.

    Notes
    -----
    Five digits: the first gives the ideal lift (0.15 each), the second the place of greatest camber (0.05 each), the
    third says plain (0) or reflexed (1). The published constants are rounded: the 231 line keeps cm_c/4 = +0.0011.

    Source: NACA Reports 460 (1933) and 537 (1935); constants from NASA TM 4741 (1996).
    """
    if not (designation.isdigit() and len(designation) in (4, 5) and int(designation[-2:]) > 0):
        raise BadInput(
            f"{designation!r} is not a section designation",
            field="designation",
            value=designation,
            allowed="four or five digits, the last two the thickness in percent",
        )
    if len(designation) == 4:
        camber, place = int(designation[0]) / 100.0, int(designation[1]) / 10.0
        if camber and not place:
            raise BadInput(
                "a cambered line needs a place of greatest camber",
                field="designation",
                value=designation,
                allowed='a second digit of 1 to 9, like "2412"',
            )
        return FourDigitLine(camber, place)
    table = PUBLISHED_FIVE_DIGIT.get(designation[1:3])
    if table is None or designation[0] == "0":
        known = ", ".join(sorted(PUBLISHED_FIVE_DIGIT))
        raise BadInput(
            f"no mean line was published for {designation!r}",
            field="designation",
            value=designation,
            allowed=f"a first digit of 1 to 9, then one of {known}",
        )
    strength = LIFT_PER_FIRST_DIGIT * int(designation[0]) / LIFT_OF_THE_TABLE
    return FiveDigitLine(table.join, table.k1 * strength, table.ratio)
