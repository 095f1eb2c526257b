"""The bend near the trailing edge: one skin, or both, turned about the point where the bend begins."""

from typing import Literal

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.geometry.outline import Outline, require_apart
from bladewright.errors import BadInput

STEEPEST_REFLEX = np.pi / 6.0  # [rad] a bend beyond this is no reflex but a slip of the unit
SAME_PLACE = 1e-9  # of the chord


def reflexed(
    outline: Outline, side: Literal["top", "bottom"], start: float, angle: float, other_skin_follows: bool
) -> Outline:
    """The outline after the reflex bend, each turned skin as long as before.

    Every point of the turned skin aft of the bend is rotated about the skin's point at the bend. When the other skin
    stays, the mean line, half-way between both, turns by about half the angle.

    Parameters
    ----------
    outline : Outline
        In chord fractions. [-]
    side : {"top", "bottom"}
        The skin the roll bends. [-]
    start : float
        Where the bend begins, between 0 and 1. [chord fraction]
    angle : float
        Trailing edge up positive. [rad]
    other_skin_follows : bool
        Whether the other skin turns as far. [-]

    Returns
    -------
    Outline
        With the bend among its points and its breaks.

    Raises
    ------
    BadInput
        If the bend is not on the chord, the angle is not a small one, or the skins would cross.

    Notes
    -----
    A sharp bend; a rolled one of radius R has its middle where the sharp one is. Exact for any angle; the half is
    exact to the first order (the mean line's slope is half the sum of the surfaces').

    Source: geometry; no source needed.
    """
    if not 0.0 < start < 1.0:
        raise BadInput("the bend must lie on the chord", field="reflex.start", value=start, allowed="between 0 and 1")
    if not abs(angle) <= STEEPEST_REFLEX:
        raise BadInput(
            "the reflex angle is too large",
            field="reflex.angle",
            value=angle,
            allowed="at most 30 deg either way",
            fix="check the unit of the angle",
        )
    opened, at = with_point(outline, start, side)
    turned = {name: getattr(opened, name) for name in ("top", "bottom")}
    for name in turned:
        if name == side or other_skin_follows:
            turned[name] = _turned(turned[name], at, angle)
    bent = Outline(top=turned["top"], bottom=turned["bottom"], breaks=opened.breaks)
    try:
        require_apart(bent)
    except BadInput as error:
        raise BadInput(
            "this reflex makes the skins cross at the trailing edge",
            field="reflex.angle",
            value=angle,
            allowed="an angle that leaves the top above the bottom",
            fix="turn both skins (other_skin_follows = true), or open the trailing edge",
        ) from error
    return bent


def with_point(outline: Outline, start: float, side: Literal["top", "bottom"]) -> tuple[Outline, int]:
    """The same outline with a pair of points where one surface passes a place, marked as a break.

    Parameters
    ----------
    outline : Outline
        In chord fractions. [-]
    start : float
        The place. [chord fraction]
    side : {"top", "bottom"}
        The surface whose x is meant. [-]

    Returns
    -------
    tuple of Outline and int
        The outline, and the number of the pair.

    Notes
    -----
    The new pair is read off a curve through the neighbouring points, so a smooth outline stays smooth.

    Source: geometry; no source needed.
    """
    x = getattr(outline, side)[:, 0]
    near = int(np.argmin(np.abs(x - start)))
    if abs(x[near] - start) < SAME_PLACE:
        return Outline(outline.top, outline.bottom, tuple(sorted({*outline.breaks, near}))), near
    at = int(np.flatnonzero(x < start)[-1]) + 1
    pieces = (0, *outline.breaks, len(x) - 1)
    first = max(b for b in pieces if b < at)
    last = min(b for b in pieces if b >= at)
    low, high = max(first, at - 2), min(last, at + 1)
    here = x[low : high + 1]
    weights = [np.prod([(start - b) / (a - b) for b in here if b != a]) for a in here]
    surfaces = []
    for surface in (outline.top, outline.bottom):
        point = np.asarray(weights) @ surface[low : high + 1]
        surfaces.append(np.insert(surface, at, point, axis=0))
    surfaces[0 if side == "top" else 1][at, 0] = start
    moved = {at, *(b + 1 if b >= at else b for b in outline.breaks)}
    return Outline(top=surfaces[0], bottom=surfaces[1], breaks=tuple(sorted(moved))), at


def _turned(surface: Floats, at: int, angle: float) -> Floats:
    cosine, sine = np.cos(angle), np.sin(angle)
    turn = np.array([[cosine, sine], [-sine, cosine]])  # rows are points, so this is the rotation's transpose
    result = surface.copy()
    result[at:] = surface[at] + (surface[at:] - surface[at]) @ turn
    return result
