"""Torsional stiffness of the drawn section: thin walls where they are thin, a solved grid at nose and web.

Not counted, so that the figure errs low: the doubler, the tip weight, and a seam the film cannot fill.
"""

import numpy as np

from bladewright.design.section_ends import NOSE_ROWS, CellEnds
from bladewright.design.section_layout import SectionLayout
from bladewright.design.section_moduli import ShearModuli
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.arrays import Floats
from bladewright.engine.structure.cells import Torsion, cell_torsion
from bladewright.engine.structure.laminate import Laminate, laminate
from bladewright.engine.structure.layers import Side, heights, lengths, place_on, points_at
from bladewright.engine.structure.moments import region_area
from bladewright.engine.structure.solid_block import FREE, OUTER, Block, solid_block
from bladewright.errors import MissingInput

SPAR, TAIL = 1, 2  # the cells
NOSE_LEVELS = 5  # in the spar, from its face to the hollow
CAP_LEVELS = 3
WEB_LEVELS = 7
WEB_COLUMNS = (3, 3, 3)  # ahead of the web, in it, behind it
PLACES = 41  # along a wall


def section_torsion(
    drawing: BladeDrawing, layout: SectionLayout, shear: ShearModuli, ends: CellEnds, nose: Block
) -> Torsion:
    """Torsion of the sections of a layout."""
    spar, skin, glue = drawing.spar, drawing.skin, drawing.adhesive
    if spar is None or glue is None:
        raise MissingInput("torsion needs the spar and the adhesive", field="spar" if spar is None else "adhesive")
    top_ray, bottom_ray = ends.number[:, 0], ends.number[:, -1]
    front = layout.hollow[:, -1]
    back = front + spar.web
    ahead = np.minimum(front - spar.top_wall, front - 0.25 * (front - layout.hollow[:, 0]))
    behind = back + spar.top_wall
    web = _web(layout, shear, ahead, front, back, behind)

    upper, lower = (
        laminate((shear.skin, shear.film, shear.spar), (sheet, glue.bondline, wall))
        for sheet, wall in ((skin.top_thickness, spar.top_wall), (skin.bottom_thickness, spar.bottom_wall))
    )
    top = _stretch(layout.laid(upper.middle), top_ray, ahead, "top")
    bottom = _stretch(layout.laid(lower.middle), bottom_ray, ahead, "bottom")
    corners = np.stack(
        [np.stack((layout.hollow[:, 0], z[:, 0]), axis=-1) for z in (layout.hollow_top, layout.hollow_bottom)], axis=1
    )
    spar_area = region_area(np.concatenate((corners, bottom, top[:, ::-1]), axis=1))

    close = ends.close
    over, under = (laminate((shear.skin,), (sheet,)) for sheet in (skin.top_thickness, skin.bottom_thickness))
    tail_top = _between(layout.laid(over.middle), behind, close, "top")
    tail_bottom = _between(layout.laid(under.middle), behind, close, "bottom")
    tail_area = region_area(np.concatenate((tail_bottom, tail_top[:, ::-1]), axis=1))

    areas = web.areas.copy()
    areas[:, 0] += nose.areas[:, 0] + spar_area
    areas[:, 1] += tail_area
    flexibility = web.flexibility.copy()
    flexibility[:, 0, 0] += nose.flexibility[:, 0, 0] + _along(top, upper) + _along(bottom, lower)
    flexibility[:, 1, 1] += _along(tail_top, over) + _along(tail_bottom, under) + ends.seam
    own = web.own + nose.own + _fin(layout, shear, close)
    for line, stack in ((top, upper), (bottom, lower), (tail_top, over), (tail_bottom, under)):
        own = own + stack.twisting * _length(line)
    return cell_torsion(areas, flexibility, own)


def nose_block(ends: CellEnds, shear: ShearModuli) -> Block:
    """The solid ahead of the hollow, on rays from the outline to the hollow's front."""
    faces, edge = ends.faces, ends.edge
    part = np.linspace(0.0, 1.0, NOSE_LEVELS + 1)[1:, None]
    inside = faces[:, :, 2:3] + part * (edge[:, :, None] - faces[:, :, 2:3])
    nodes = np.concatenate((faces, inside), axis=2)
    levels = nodes.shape[2]
    held = np.full((NOSE_ROWS, levels), FREE)
    held[:, 0], held[:, -1] = OUTER, SPAR
    compliance = np.empty((len(nodes), NOSE_ROWS - 1, levels - 1))
    compliance[..., 0], compliance[..., 1], compliance[..., 2:] = 1.0 / shear.skin, 1.0 / shear.film, 1.0 / shear.spar
    return solid_block(nodes, compliance, held, cells=1)


def _web(
    layout: SectionLayout, shear: ShearModuli, ahead: Floats, front: Floats, back: Floats, behind: Floats
) -> Block:
    """The web with the walls it meets, on columns square to the chord."""
    pieces = [
        a[:, None] + (b - a)[:, None] * np.linspace(0.0, 1.0, n + 1)[(1 if at else 0) :]
        for at, (a, b, n) in enumerate(zip((ahead, front, back), (front, back, behind), WEB_COLUMNS, strict=True))
    ]
    x = np.concatenate(pieces, axis=1)
    at_front, at_back = WEB_COLUMNS[0], WEB_COLUMNS[0] + WEB_COLUMNS[1]
    outer, inner, face, wall = (
        heights(path, x) for path in (layout.outer, layout.inner, layout.spar_face, layout.spar_wall)
    )
    cap = np.linspace(0.0, 1.0, CAP_LEVELS + 1)[1:]
    web = np.linspace(0.0, 1.0, WEB_LEVELS + 1)[1:]

    def steps(low: Floats, high: Floats, parts: Floats) -> list[Floats]:
        return [low + (high - low) * part for part in parts]

    one = np.ones(1)
    lines = [
        outer[1], inner[1], face[1], *steps(face[1], wall[1], cap), *steps(wall[1], wall[0], web),
        *steps(wall[0], face[0], cap), *steps(face[0], inner[0], one), *steps(inner[0], outer[0], one),
    ]  # fmt: skip
    z = np.stack(lines, axis=-1)
    nodes = np.stack((np.broadcast_to(x[..., None], z.shape), z), axis=-1)
    rows, levels = z.shape[1:]
    caps = 2 + CAP_LEVELS  # the level of the lower wall's inner face
    held = np.full((rows, levels), FREE)
    held[: at_front + 1, caps : levels - caps] = SPAR
    held[at_back:, 1:-1] = TAIL
    held[:, 0] = held[:, -1] = OUTER
    modulus = np.full((rows - 1, levels - 1), shear.spar)
    modulus[:, [0, -1]], modulus[:, [1, -2]] = shear.skin, shear.film
    modulus[:at_front, caps : levels - 1 - caps] = np.inf
    modulus[at_back:, 1:-1] = np.inf
    return solid_block(nodes, np.broadcast_to(1.0 / modulus, (len(x), rows - 1, levels - 1)), held, cells=2)


def _stretch(line: Floats, ray: Floats, until: Floats, side: Side) -> Floats:
    """Part of a middle line from a ray of the nose aft to a place."""
    return _run(line, ray, place_on(line, until, side))


def _between(line: Floats, begin: Floats, end: Floats, side: Side) -> Floats:
    return _run(line, place_on(line, begin, side), place_on(line, end, side))


def _run(line: Floats, begin: Floats, end: Floats) -> Floats:
    return points_at(line, begin[:, None] + (end - begin)[:, None] * np.linspace(0.0, 1.0, PLACES))


def _along(line: Floats, stack: Laminate) -> Floats:
    """Integral of ds / (G t). [m^2/N]"""
    return _length(line) / stack.stiffness


def _length(line: Floats) -> Floats:
    total: Floats = lengths(np.diff(line, axis=1)).sum(-1)
    return total


def _fin(layout: SectionLayout, shear: ShearModuli, close: Floats) -> Floats:
    """Strip torsion of the skins bonded to each other behind the last cell."""
    x, gap = layout.seam, layout.seam_gap
    top, bottom = heights(layout.outer, x)
    sheet = 0.5 * np.maximum(top - bottom - gap, 0.0)
    twisting = np.asarray(laminate((shear.skin, shear.film, shear.skin), (sheet, gap, sheet)).twisting)
    bonded = np.clip(x[:, 1:] - np.maximum(x[:, :-1], close[:, None]), 0.0, None)
    fin: Floats = (0.5 * (twisting[:, 1:] + twisting[:, :-1]) * bonded).sum(-1)
    return fin
