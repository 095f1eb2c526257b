"""Thickness, camber and nose radius read off an outline, as a gauge would."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.geometry.outline import Outline
from bladewright.errors import OutsideValidity

NOSE_REACH = 0.05  # of the chord: far enough for a fit, near enough for four terms of the series
FEWEST_NOSE_POINTS = 6


@dataclass(frozen=True, slots=True)
class Shape:
    """The figures a section is known by."""

    greatest_thickness: float  # [as the outline]
    thickness_place: float  # along the mean line's x [as the outline]
    greatest_camber: float  # of the mean line above the line through its ends, with its sign [as the outline]
    camber_place: float  # [as the outline]
    base_thickness: float  # at the trailing edge [as the outline]
    nose_radius: float  # [as the outline]


def thickness_distribution(outline: Outline) -> Floats:
    """Distance across the section at each pair of points.

    Parameters
    ----------
    outline : Outline
        Any outline. [chord fraction or m]

    Returns
    -------
    (n,) array
        [as the outline]

    Notes
    -----
    Square to the mean line where the outline was made so, upright where it came from coordinates.

    Source: definition; no source needed.
    """
    across = outline.top - outline.bottom
    return np.hypot(across[:, 0], across[:, 1])


def camber_distribution(outline: Outline) -> Floats:
    """Height of the mean line above the straight line from nose to tail, at each pair of points.

    Parameters
    ----------
    outline : Outline
        Any outline. [chord fraction or m]

    Returns
    -------
    (n,) array
        [as the outline]

    Notes
    -----
    Source: definition; no source needed.
    """
    line = outline.mean_line
    along = line[-1] - line[0]
    offset = line - line[0]
    height: Floats = (along[0] * offset[:, 1] - along[1] * offset[:, 0]) / np.hypot(along[0], along[1])
    return height


def section_shape(outline: Outline) -> Shape:
    """Greatest thickness and camber with their places, base thickness and nose radius.

    Parameters
    ----------
    outline : Outline
        Any outline. [chord fraction or m]

    Returns
    -------
    Shape

    Raises
    ------
    OutsideValidity
        If too few points lie near the nose to tell its radius.

    Notes
    -----
    Greatest values from a parabola through the three points about the largest. The nose radius is ``a**2 / 2`` of the
    fit ``y = a sqrt(s) + b s + c s**2 + d s**3`` to half the thickness over the first twentieth of the chord: exact
    for the four-digit form up to its fourth power.

    Source: nose series as in Jacobs, Ward, Pinkerton, NACA Report 460, 1933.
    """
    line = outline.mean_line
    thickness, camber = thickness_distribution(outline), camber_distribution(outline)
    thick, thick_place = _greatest(line[:, 0], thickness)
    sign = 1.0 if camber.max() >= -camber.min() else -1.0
    bow, bow_place = _greatest(line[:, 0], sign * camber)
    return Shape(
        greatest_thickness=thick,
        thickness_place=thick_place,
        greatest_camber=sign * bow,
        camber_place=bow_place,
        base_thickness=float(thickness[-1]),
        nose_radius=_nose_radius(line[:, 0] - line[0, 0], 0.5 * thickness, float(line[-1, 0] - line[0, 0])),
    )


def _greatest(x: Floats, values: Floats) -> tuple[float, float]:
    at = int(np.clip(np.argmax(values), 1, len(x) - 2))
    centre = float(x[at])
    a, b, c = np.polyfit(x[at - 1 : at + 2] - centre, values[at - 1 : at + 2], 2)
    if a >= 0.0:
        return float(values.max()), float(x[np.argmax(values)])
    return float(c - b * b / (4.0 * a)), float(centre - b / (2.0 * a))


def _nose_radius(along: Floats, half: Floats, chord: float) -> float:
    near = along <= NOSE_REACH * chord
    if int(near.sum()) < FEWEST_NOSE_POINTS:
        raise OutsideValidity(
            "too few points near the nose to tell its radius",
            field="outline",
            value=int(near.sum()),
            allowed=f"{FEWEST_NOSE_POINTS} or more in the first {NOSE_REACH:.0%} of the chord",
            fix="use more points",
        )
    s = along[near] / chord
    terms = np.column_stack((np.sqrt(s), s, s**2, s**3))
    root = float(np.linalg.lstsq(terms, half[near] / chord, rcond=None)[0][0])
    return 0.5 * root**2 * chord
