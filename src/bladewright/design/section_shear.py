"""Shear centre of the drawn section, its solid parts taken as walls along their middle lines."""

import numpy as np

from bladewright.design.section_ends import CellEnds
from bladewright.design.section_layout import SectionLayout
from bladewright.design.section_moduli import ShearModuli
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.arrays import Floats
from bladewright.engine.structure.cells import Cells, Wall, shear_centre
from bladewright.engine.structure.laminate import Laminate, laminate
from bladewright.engine.structure.layers import Side, heights, lengths, place_on, points_at
from bladewright.engine.structure.moments import region_area
from bladewright.engine.structure.solid_block import Block
from bladewright.errors import MissingInput

LOOPS = (((0, 1), (1, 1)), ((2, 1), (3, 1), (1, -1)))  # walls: nose, web upward, lower skin, upper skin, seam
SIDES: tuple[Side, Side] = ("top", "bottom")
PLACES = 41  # along a wall
TOP, BOTTOM, SEAM, FREE_END = 0, 1, 2, 3  # the junctions


def section_shear_centre(
    drawing: BladeDrawing,
    layout: SectionLayout,
    shear: ShearModuli,
    young: dict[str, float],
    ends: CellEnds,
    solid: Block,
) -> tuple[Floats, Floats]:
    """Places of the shear centre (s,), aft of the leading edge and above the chord line [m]."""
    spar, skin, glue = drawing.spar, drawing.skin, drawing.adhesive
    if spar is None or glue is None:
        raise MissingInput("the shear centre needs the spar and the adhesive", field="spar" if spar is None else "")
    moduli = np.array(
        [(shear.skin, young[skin.material]), (shear.film, young[glue.material]), (shear.spar, young[spar.material])]
    )
    thicknesses = (skin.top_thickness, skin.bottom_thickness)
    front = layout.hollow[:, -1]
    middle = front + 0.5 * spar.web
    walls = {
        side: [laminate(tuple(modulus), (sheet, glue.bondline, wall)) for modulus in moduli.T]
        for side, sheet, wall in zip(SIDES, thicknesses, (spar.top_wall, spar.bottom_wall), strict=True)
    }
    sheets = {
        side: [laminate((modulus,), (sheet,)) for modulus in moduli[0]]
        for side, sheet in zip(SIDES, thicknesses, strict=True)
    }
    nose = _nose(ends, moduli, solid)
    rays = {"top": nose.metal[:, 0], "bottom": nose.metal[:, -1]}
    caps = {side: _line(layout, walls[side], side, middle, middle + 0.5 * spar.web) for side in SIDES}
    runs = {}
    for side in SIDES:
        line = layout.laid(walls[side][0].middle)
        points = points_at(line, _numbers(place_on(line, middle, side), _nearest(line, rays[side])))
        runs[side] = _wall(points, walls[side])
    around = _chain([runs["top"], nose, _turned(runs["bottom"])], TOP, BOTTOM)

    foot, head = caps["bottom"].points[:, 0], caps["top"].points[:, 0]
    depth = layout.hollow_top[:, -1] - layout.hollow_bottom[:, -1]
    height = lengths(head - foot)
    web = Wall(
        points=np.stack((foot, head), axis=1),
        shear=np.broadcast_to(shear.spar * spar.web, (len(front), 1)),
        axial=(young[spar.material] * spar.web * depth / height)[:, None],
        start=BOTTOM,
        end=TOP,
    )
    skins = {side: _line(layout, sheets[side], side, middle + 0.5 * spar.web, ends.close) for side in SIDES}
    fin = _fin(layout, moduli, ends.close)
    under = _chain([caps["bottom"], skins["bottom"], _point(fin.points[:, 0])], BOTTOM, SEAM)
    gap = lengths(fin.points[:, 0] - skins["top"].points[:, -1]) / ends.seam
    over = _chain([_point(fin.points[:, 0]), _turned(skins["top"]), _turned(caps["top"])], SEAM, TOP, gap)
    return shear_centre(Cells((around, web, under, over, fin), LOOPS))


def _fin(layout: SectionLayout, moduli: Floats, close: Floats) -> Wall:
    """The skins behind the last cell, along their mean line to its free end."""
    x = _numbers(close, layout.seam[:, -1])
    outer, inner = (np.stack(heights(face, x)) for face in (layout.outer, layout.inner))
    gap = np.maximum(inner[0] - inner[1], 0.0)
    parts = np.stack((outer[0] - outer[1] - gap, gap), axis=-1)
    each = 0.5 * (parts[:, 1:] + parts[:, :-1]) @ moduli[:2]
    points = np.stack((x, 0.5 * (outer[0] + outer[1])), axis=-1)
    return Wall(points, each[..., 0], each[..., 1], SEAM, FREE_END)


def _point(points: Floats) -> Wall:
    """A place on the way, without length."""
    none = np.zeros((len(points), 0))
    return Wall(points[:, None], none, none, SEAM, SEAM)


def _nose(ends: CellEnds, moduli: Floats, solid: Block) -> Wall:
    """The solid nose as a wall: its flow gives way and encloses as the solved nose does, its metal lies where it lies.

    The flow's line is the middle line drawn toward the hollow until it encloses the solved nose's area.
    """
    lines = np.concatenate((ends.faces, ends.edge[:, :, None]), axis=2)  # (s, rows, 4, 2)
    across = lengths(np.diff(lines, axis=2))
    weight = moduli[:, 0] * across
    middles = 0.5 * (lines[:, :, 1:] + lines[:, :, :-1])
    middle = (weight[..., None] * middles).sum(2) / weight.sum(2)[..., None]
    a, b = lines[:, :-1, 1:] - lines[:, 1:, :-1], lines[:, 1:, 1:] - lines[:, :-1, :-1]
    areas = 0.5 * np.abs(a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0])

    def enclosed(part: float) -> Floats:
        line = ends.edge + part * (middle - ends.edge)
        return region_area(np.concatenate((line, ends.edge[:, ::-1]), axis=1))

    half, whole = enclosed(0.5), enclosed(1.0)  # the area is a quadratic of how far out the line lies
    linear, square = 4.0 * half - whole, 2.0 * whole - 4.0 * half
    wanted = solid.areas[:, 0]
    part = 2.0 * wanted / (linear + np.sqrt(np.maximum(linear**2 + 4.0 * square * wanted, 0.0)))
    points = ends.edge + part[:, None, None] * (middle - ends.edge)
    length = lengths(np.diff(points, axis=1))
    give = length / (areas @ moduli[:, 0] / length)
    give = give * (solid.flexibility[:, 0, 0] / give.sum(-1))[:, None]
    axial = areas @ moduli[:, 1] / lengths(np.diff(middle, axis=1))
    return Wall(points, length / give, axial, TOP, BOTTOM, bearing=middle)


def _nearest(line: Floats, points: Floats) -> Floats:
    """Point numbers of a line nearest to given points, one for each station."""
    near = np.argmin(lengths(line - points[:, None]), axis=-1)
    row = np.arange(len(line))
    before, after = line[row, near - 1], line[row, near + 1]
    way = after - before
    ahead = ((points - line[row, near]) * way).sum(-1) / (way * way).sum(-1)
    number: Floats = near + np.clip(2.0 * ahead, -1.0, 1.0)
    return number


def _line(layout: SectionLayout, stacks: list[Laminate], side: Side, begin: Floats, end: Floats) -> Wall:
    line = layout.laid(stacks[0].middle)
    return _wall(points_at(line, _numbers(place_on(line, begin, side), place_on(line, end, side))), stacks)


def _numbers(begin: Floats, end: Floats) -> Floats:
    return begin[:, None] + (end - begin)[:, None] * np.linspace(0.0, 1.0, PLACES)


def _wall(points: Floats, stacks: list[Laminate]) -> Wall:
    shape = (points.shape[0], points.shape[1] - 1)
    return Wall(points, np.full(shape, stacks[0].stiffness), np.full(shape, stacks[1].stiffness), TOP, TOP)


def _turned(wall: Wall) -> Wall:
    return Wall(wall.points[:, ::-1], wall.shear[:, ::-1], wall.axial[:, ::-1], wall.end, wall.start)


def _chain(pieces: list[Wall], start: int, end: int, first: Floats | None = None) -> Wall:
    """Walls one after another; the step from one to the next neither shears nor bears, but for the first."""
    shear, axial = [], []
    for at, piece in enumerate(pieces):
        shear.append(piece.shear)
        axial.append(piece.axial)
        if at + 1 < len(pieces):
            step = first if first is not None and at == 0 else np.full(len(piece.points), np.inf)
            shear.append(step[:, None])
            axial.append(np.zeros((len(piece.points), 1)))
    points, metal = (np.concatenate([getattr(piece, kind) for piece in pieces], axis=1) for kind in ("points", "metal"))
    return Wall(points, np.concatenate(shear, axis=1), np.concatenate(axial, axis=1), start, end, metal)
