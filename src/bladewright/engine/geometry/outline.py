"""The outline record, and how an outline is made from a top and a bottom coordinate list."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats, require_finite
from bladewright.errors import BadInput

#: A join at the leading edge may differ by this much of the chord: ordinates are printed to five places.
NOSE_GAP = 1e-4


@dataclass(frozen=True, slots=True)
class Outline:
    """A section outline: two surfaces of paired points from leading edge to trailing edge.

    Point i of the top lies across from point i of the bottom, so half their sum is the mean line. Made in chord
    fractions (leading edge at the origin, x along the chord line); ``scaled`` turns it into metres.
    """

    top: Floats  # (n, 2) x and z, leading edge first [chord fraction, or m after scaled]
    bottom: Floats  # (n, 2) the same [chord fraction, or m after scaled]
    breaks: tuple[int, ...] = ()  # point numbers where slope or curvature may jump: interpolation stops there

    @property
    def mean_line(self) -> Floats:
        """Half-way between the surfaces. [as the outline]"""
        middle: Floats = 0.5 * (self.top + self.bottom)
        return middle

    @property
    def ring(self) -> Floats:
        """All points once round, counter-clockwise: bottom from the nose aft, then top from the tail forward."""
        shared = bool(np.array_equal(self.top[-1], self.bottom[-1]))
        top = self.top[-2:0:-1] if shared else self.top[:0:-1]
        ring: Floats = np.concatenate((self.bottom, top))
        return ring


def scaled(outline: Outline, chord: float) -> Outline:
    """The outline with every coordinate multiplied by the chord.

    Parameters
    ----------
    outline : Outline
        In chord fractions. [-]
    chord : float
        More than zero. [m]

    Returns
    -------
    Outline
        In metres.

    Raises
    ------
    BadInput
        If the chord is not a positive finite number.

    Notes
    -----
    Source: definition; no source needed.
    """
    if not (np.isfinite(chord) and chord > 0.0):
        raise BadInput("a chord must be positive", field="chord", value=chord, allowed="more than 0 m")
    return Outline(top=outline.top * chord, bottom=outline.bottom * chord, breaks=outline.breaks)


def outline_from_surfaces(top: Floats, bottom: Floats, places: Floats) -> Outline:
    """An outline from coordinate lists whose points need not lie across from each other.

    Both surfaces are read, straight between their points, at common places, so that the points pair up.

    Parameters
    ----------
    top, bottom : (n, 2), (m, 2) arrays
        x and z from leading edge to trailing edge, both starting at the same nose point. [chord fraction]
    places : (k,) array
        From 0 to 1: where the outline's points go, as fractions from the nose to the tail of each surface. [-]

    Returns
    -------
    Outline

    Raises
    ------
    BadInput
        If a list is too short, reversed, goes back on itself, does not start at the nose, or the surfaces cross.

    Notes
    -----
    Straight lines between points: the area error falls with the square of the entered spacing.

    Source: definition; no source needed.
    """
    for name, surface in (("top", top), ("bottom", bottom)):
        _require_surface(surface, name)
    gap = float(np.hypot(*(top[0] - bottom[0])))
    if gap > NOSE_GAP * float(top[-1, 0] - top[0, 0]):
        raise BadInput(
            "top and bottom do not start at the same leading-edge point",
            field="bottom",
            row=1,
            value=gap,
            allowed=f"within {NOSE_GAP:g} of the chord",
            fix="begin both lists at the leading edge",
        )
    nose = 0.5 * (top[0] + bottom[0])
    paired = []
    for surface in (top, bottom):
        whole = surface.copy()
        whole[0] = nose
        x = nose[0] + (whole[-1, 0] - nose[0]) * places
        paired.append(np.column_stack((x, np.interp(x, whole[:, 0], whole[:, 1]))))
    outline = Outline(top=paired[0], bottom=paired[1])
    require_apart(outline)
    return outline


def require_apart(outline: Outline) -> None:
    """Raise ``BadInput`` unless the top lies above the bottom and no part of the outline crosses another.

    Parameters
    ----------
    outline : Outline
        Any outline. [-]

    Raises
    ------
    BadInput
        Naming the first pair of points that is upside down, or the outline as a whole.

    Notes
    -----
    Source: definition; no source needed.
    """
    from shapely import LinearRing

    direction = np.gradient(outline.mean_line, axis=0)
    across = outline.top - outline.bottom
    above = direction[:, 0] * across[:, 1] - direction[:, 1] * across[:, 0]
    if np.any(above < 0.0):
        at = int(np.argmax(above < 0.0))
        raise BadInput(
            f"the top lies below the bottom at x = {outline.top[at, 0]:.4g}",
            field="top",
            row=at + 1,
            value=float(above[at]),
            allowed="the top above the bottom from leading edge to trailing edge",
            fix="exchange top and bottom, or take the crossing out",
        )
    if not LinearRing(outline.ring).is_simple:
        raise BadInput(
            "the outline crosses itself", field="top", allowed="surfaces that meet only at their ends", fix="mend it"
        )


def _require_surface(surface: Floats, name: str) -> None:
    if surface.ndim != 2 or surface.shape[1] != 2 or len(surface) < 3:
        raise BadInput("needs three or more points of x and z", field=name, allowed="an (n, 2) list, n at least 3")
    require_finite(surface, name)
    steps = np.diff(surface[:, 0])
    if np.all(steps < 0.0):
        raise BadInput(
            "runs from the trailing edge to the leading edge",
            field=name,
            value=float(surface[0, 0]),
            allowed="from the leading edge to the trailing edge",
            fix="turn the list round",
        )
    if np.any(steps <= 0.0):
        at = int(np.argmax(steps <= 0.0)) + 1
        raise BadInput(
            "goes back on itself",
            field=name,
            row=at + 1,
            value=float(surface[at, 0]),
            allowed=f"x more than {float(surface[at - 1, 0]):.6g}",
            fix="put the points in order from the leading edge, each place once",
        )
