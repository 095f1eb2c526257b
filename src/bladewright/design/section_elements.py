"""The drawn section as finite elements: every bonded part, its layers, and the places where parts begin and end.

Ahead of the hollow, columns of elements fan round the nose; along the hollow they turn from square to the wall to
square to the chord; behind, they stand square to the chord. Film in the seam that holds nothing is left out.
"""

import itertools
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from bladewright.design.section_layout import SIDES, SectionLayout, fillable
from bladewright.drawing.blade import Adhesive
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.arrays import Floats, Integers
from bladewright.engine.structure.layers import Side, heights, place_on, points_at
from bladewright.engine.structure.section_mesh import Patch, SectionMesh, section_mesh
from bladewright.errors import MissingInput

SKIN, FILM, SPAR, DOUBLER, FILLER = range(5)  # as the moduli are in order
#: elements along each stretch, and across the spar's wall and solid nose, up the web, across a filler
FAN, RUN, WEB, TAIL, FIN = 6, 4, 2, 5, 2
WALL_ROWS, WEB_ROWS, FILLER_ROWS = 1, 4, 2
NEAR = 0.02  # of a stretch: a part that ends nearer than this to the stretch's end ends there
NO_LENGTH = 1e-7  # [m] a stretch shorter than this is not there
LEAST_FILM = 1e-5  # of the chord: so thin a film between skins that touch gives way to nothing
NOWHERE = (np.inf, np.inf)

Layers = list[tuple[int, int]]  # material, rows of elements


@dataclass(frozen=True, slots=True)
class Elements:
    """Sections meshed alike."""

    at: Integers  # (k,) which of the layout's chords
    mesh: SectionMesh


@dataclass(frozen=True, slots=True)
class _Stretch:
    """Part of the section between two places or numbers of points, with shares of it where parts begin and end."""

    begin: Floats  # (s,)
    end: Floats  # (s,)
    doubled: Floats  # (s, 2)
    filled: Floats  # (s, 2)

    def some(self, at: Integers) -> "_Stretch":
        """The same of some sections."""
        return _Stretch(self.begin[at], self.end[at], self.doubled[at], self.filled[at])

    @property
    def pattern(self) -> Floats:
        """The same for sections that may be meshed alike. (s, 5)"""
        shares = np.concatenate((self.doubled, self.filled), axis=1)
        there = np.abs(self.end - self.begin) > NO_LENGTH
        return np.column_stack((np.where((shares > 0.0) & (shares < 1.0), 0.5, shares), there))

    def pieces(self, count: int) -> Iterator[tuple[Floats, bool, bool]]:
        """Places (s, columns) along each piece, and whether doubler and filler are there."""
        if abs(float((self.end - self.begin)[0])) <= NO_LENGTH:
            return
        ends = [np.zeros_like(self.begin), np.ones_like(self.begin), *self.doubled.T, *self.filled.T]
        for a, b in itertools.pairwise(sorted(ends, key=lambda share: float(share[0]))):
            length, middle = float((b - a)[0]), float(0.5 * (a + b)[0])
            if length > 0.0:
                share = a[:, None] + (b - a)[:, None] * _steps(max(1, round(count * length)))
                covered = [bool(part[0, 0] < middle < part[0, 1]) for part in (self.doubled, self.filled)]
                yield self.begin[:, None] + (self.end - self.begin)[:, None] * share, covered[0], covered[1]


@dataclass(frozen=True, slots=True)
class _Frame:
    """What the patches are drawn from."""

    faces: list[Floats]  # (s, n, 2) each: doubler, its film, skin, film, spar, and the spar's inner face [m]
    edge: Floats  # (s, 2, 2) corners of the hollow's front, top and bottom [m]
    front_ends: dict[Side, list[Floats]]  # (s,) point numbers on each face at the web's front
    stretches: dict[str, _Stretch]

    def some(self, at: Integers) -> "_Frame":
        """The same of some sections."""
        if len(at) == len(self.edge):
            return self
        return _Frame(
            [face[at] for face in self.faces],
            self.edge[at],
            {side: [end[at] for end in ends] for side, ends in self.front_ends.items()},
            {name: stretch.some(at) for name, stretch in self.stretches.items()},
        )


def section_elements(
    drawing: BladeDrawing, layout: SectionLayout, doubled: bool, filled: bool, fine: int = 1
) -> list[Elements]:
    """Meshes of all sections of a layout, with or without doubler and filler; ``fine`` multiplies every count."""
    frame = _frame(drawing, layout, doubled, filled)
    pattern = np.concatenate([stretch.pattern for stretch in frame.stretches.values()], axis=1)
    left, found = np.arange(len(pattern)), []
    while len(left):
        alike = (pattern[left] == pattern[left[0]]).all(-1)
        at, left = left[alike], left[~alike]
        found.append(Elements(at, section_mesh(list(_patches(frame.some(at), fine)))))
    return found


def _frame(drawing: BladeDrawing, layout: SectionLayout, doubled: bool, filled: bool) -> _Frame:
    spar, glue, doubler, filler = drawing.spar, drawing.adhesive, drawing.doubler, drawing.filler
    if spar is None or glue is None:
        raise MissingInput("stiffness needs the spar and the adhesive", field="spar" if spar is None else "adhesive")
    faces = [layout.outer, layout.inner, layout.spar_face, layout.spar_wall]
    sheets, filling = NOWHERE, NOWHERE
    if doubled and doubler is not None:
        faces = [layout.laid(-glue.bondline - doubler.thickness), layout.laid(-glue.bondline), *faces]
        sheets = (doubler.front, doubler.back)
    if filled and filler is not None:
        filling = (filler.front, filler.back)
    hollow = layout.hollow
    begin = {side: place_on(layout.spar_wall, hollow[:, 0], side) for side in SIDES}
    ends = {side: [place_on(face, hollow[:, -1], side) for face in faces] for side in SIDES}
    places = [hollow[:, -1], hollow[:, -1] + spar.web, seam_closes(layout, glue), layout.seam[:, -1]]
    stretches = {
        name: _Stretch(a, b, _shares(sheets, layout.chord, a, b), _shares(filling, layout.chord, a, b))
        for name, (a, b) in zip(("web", "tail", "fin"), itertools.pairwise(places), strict=True)
    }
    nothing = np.ones((len(layout.chord), 2))
    where = {side: _numbers(layout, sheets, side) for side in SIDES}
    for side in SIDES:
        a, b = begin[side], ends[side][-4]
        stretches[side] = _Stretch(a, b, _inside((where[side] - a[:, None]) / (b - a)[:, None]), nothing)
    # round the nose the doubler is away between its two fronts
    fronts = np.column_stack((where["top"][:, 0], where["bottom"][:, 0]))
    a, b = begin["top"], begin["bottom"]
    away = _inside((fronts - a[:, None]) / (b - a)[:, None])
    stretches["fan"] = _Stretch(a, b, away if np.isfinite(sheets[0]) else nothing * (0.0, 1.0), nothing)
    corners = [np.stack((hollow[:, 0], z[:, 0]), axis=-1) for z in (layout.hollow_top, layout.hollow_bottom)]
    return _Frame(faces, np.stack(corners, axis=1), ends, stretches)


def _shares(part: tuple[float, float], chord: Floats, begin: Floats, end: Floats) -> Floats:
    """Where a part given in chords begins and ends on a stretch. (s, 2)"""
    if not np.isfinite(part[0]):
        return np.ones((len(chord), 2))
    length = np.maximum(end - begin, NO_LENGTH)
    return _inside((np.outer(chord, part) - begin[:, None]) / length[:, None])


def _inside(shares: Floats) -> Floats:
    near_begin, near_end = shares < NEAR, shares > 1.0 - NEAR
    return np.where(near_begin, 0.0, np.where(near_end, 1.0, shares))


def _numbers(layout: SectionLayout, part: tuple[float, float], side: Side) -> Floats:
    """Point numbers of the outer face where a part begins and ends. (s, 2)"""
    if not np.isfinite(part[0]):
        return np.full((len(layout.chord), 2), layout.outer.shape[1] * (1.0 if side == "bottom" else -1.0))
    return np.stack([place_on(layout.outer, share * layout.chord, side) for share in part], axis=-1)


def seam_closes(layout: SectionLayout, glue: Adhesive) -> Floats:
    """Place [m] where the seam begins to hold, of each section; the trailing edge where it never does."""
    widest = fillable(glue)
    close = np.empty_like(layout.chord)
    for at, (x, gap) in enumerate(zip(layout.seam, layout.seam_gap, strict=True)):
        narrowing = np.minimum.accumulate(gap)
        close[at] = np.interp(-widest, -narrowing, x) if narrowing[-1] <= widest else x[-1]
    return close


def _patches(frame: _Frame, fine: int) -> Iterator[Patch]:
    faces, stretches = frame.faces, frame.stretches
    sheets: Layers = [(SKIN, 1), (FILM, 1), (SPAR, fine * WALL_ROWS)]
    outer: Layers = [(DOUBLER, 1), (FILM, 1)]

    def chosen(doubled: bool) -> tuple[slice, Layers]:
        """The faces and layers outside the hollow."""
        return (slice(0, None), outer + sheets) if doubled else (slice(-4, None), sheets)

    for number, away, _ in stretches["fan"].pieces(fine * FAN):
        some, layers = chosen(not away)
        a, b = stretches["fan"].begin[:, None], stretches["fan"].end[:, None]
        share = ((number - a) / (b - a))[..., None]
        front = frame.edge[:, :1] + share * (frame.edge[:, 1:] - frame.edge[:, :1])
        lines = [*(points_at(face, number) for face in faces[some][:-1]), front]
        yield _patch(lines, layers, np.abs(share[0, :, 0] - 0.5))
    for side in SIDES:
        a, b = stretches[side].begin[:, None], stretches[side].end[:, None]
        for number, doubled, _ in stretches[side].pieces(fine * RUN):
            some, layers = chosen(doubled)
            share = (number - a) / (b - a)
            ends = frame.front_ends[side][some]
            yield _patch(
                [points_at(face, a + (end[:, None] - a) * share) for face, end in zip(faces[some], ends, strict=True)],
                layers,
                1.0 + share[0],
            )
    upright = [
        (name, *piece)
        for name, count in (("web", WEB), ("tail", TAIL), ("fin", FIN))
        for piece in stretches[name].pieces(fine * count)
    ]
    every = np.concatenate([x for _, x, _, _ in upright], axis=1)
    read = [heights(face, every) for face in faces]
    last = 0
    for name, x, doubled, filled in upright:
        some, layers = chosen(doubled)
        here = slice(last, last := last + x.shape[1])
        rank = 2.0 + x[0]
        top, bottom = ([np.stack((x, z[side][:, here]), axis=-1) for z in read[some]] for side in (0, 1))
        if name == "web":
            yield _patch([*bottom, *top[::-1]], [*layers, (SPAR, fine * WEB_ROWS), *layers[::-1]], rank)
            continue
        skins, top, bottom = layers[:-2], top[:-2], bottom[:-2]
        if name == "fin":
            _part_and_straighten(top, bottom, LEAST_FILM * stretches[name].end)
        between = (FILLER, FILLER_ROWS) if filled and name == "tail" else (FILM, 1) if name == "fin" else None
        if between is not None:
            yield _patch([*bottom, *top[::-1]], [*skins, between, *skins[::-1]], rank)
        else:
            yield _patch(bottom, skins, rank)
            yield _patch(top, skins, rank)


@lru_cache(maxsize=64)
def _steps(elements: int) -> Floats:
    """Nodes along so many elements, from nought to one."""
    steps: Floats = np.linspace(0.0, 1.0, 2 * elements + 1)
    return steps


def _part_and_straighten(top: list[Floats], bottom: list[Floats], least: Floats) -> None:
    """Keep some film [m] between skins that touch, and sides straight, or the film folds over where it runs out."""
    for line in (*top, *bottom):
        line[:, 1::2] = 0.5 * (line[:, :-1:2] + line[:, 2::2])
    crossed = top[-1][..., 1] < bottom[-1][..., 1]  # as at a sharp trailing edge
    middle = 0.5 * (top[-2][..., 1] + bottom[-2][..., 1])
    for line in (top[-1], bottom[-1]):
        line[..., 1] = np.where(crossed, middle, line[..., 1])
    short = np.maximum(least[:, None] - (top[-1][..., 1] - bottom[-1][..., 1]), 0.0)
    sheet = np.minimum(top[-2][..., 1] - top[-1][..., 1], bottom[-1][..., 1] - bottom[-2][..., 1])
    aside = 0.5 * np.clip(short, 0.0, np.maximum(sheet, 0.0))  # a sharp trailing edge has no skin to part
    top[-1][..., 1] += aside
    bottom[-1][..., 1] -= aside


def _patch(lines: list[Floats], layers: Layers, rank: Floats) -> Patch:
    """Rows of elements between successive lines, the columns with their rank."""
    rows, names = [lines[0][:, :, None]], []
    for low, high, (material, count) in zip(lines[:-1], lines[1:], layers, strict=True):
        part = _steps(count)[1:, None]
        rows.append(low[:, :, None] + part * (high - low)[:, :, None])
        names += [material] * count
    return Patch(np.concatenate(rows, axis=2), tuple(names), rank)
