"""Where the drawn section's two cells end: rays that fan round the solid nose, and the seam that closes the tail."""

from dataclasses import dataclass

import numpy as np

from bladewright.design.section_layout import SectionLayout, fillable
from bladewright.drawing.blade import Adhesive
from bladewright.engine.arrays import Floats
from bladewright.engine.structure.layers import place_on, points_at

NOSE_ROWS = 17
OPEN = 1e6  # [m^2/N] an open seam lets nothing through


@dataclass(frozen=True, slots=True)
class CellEnds:
    """The ends of the cells of a layout's sections."""

    number: Floats  # (s, rows) point numbers of the rays on the faces [-]
    faces: Floats  # (s, rows, 3, 2) where each ray meets the outer face, the inner face and the spar's face [m]
    edge: Floats  # (s, rows, 2) where it ends, on the front of the hollow [m]
    close: Floats  # (s,) place where the seam begins to hold [m]
    seam: Floats  # (s,) how far the seam's film gives way to shear flow; a lot if it holds nowhere [m^2/N]


def cell_ends(layout: SectionLayout, glue: Adhesive, film: float) -> CellEnds:
    """Nose and seam of every section, with a film of a shear modulus [Pa]."""
    top = place_on(layout.spar_wall, layout.hollow[:, 0], "top")
    bottom = place_on(layout.spar_wall, layout.hollow[:, 0], "bottom")
    fan = np.linspace(0.0, 1.0, NOSE_ROWS)
    number = top[:, None] + (bottom - top)[:, None] * fan
    faces = np.stack([points_at(face, number) for face in (layout.outer, layout.inner, layout.spar_face)], axis=2)
    z = layout.hollow_top[:, :1] + (layout.hollow_bottom - layout.hollow_top)[:, :1] * fan
    edge = np.stack((np.broadcast_to(layout.hollow[:, :1], z.shape), z), axis=-1)
    return CellEnds(number, faces, edge, *_closing(layout, glue, film))


def _closing(layout: SectionLayout, glue: Adhesive, film: float) -> tuple[Floats, Floats]:
    x, gap = layout.seam, layout.seam_gap
    narrowing = np.minimum.accumulate(gap, axis=-1)
    close = np.array([np.interp(-fillable(glue), -g, place) for g, place in zip(narrowing, x, strict=True)])
    held = np.where(narrowing[:, -1] <= fillable(glue), close, np.inf)
    bonded = np.clip(x[:, 1:] - np.maximum(x[:, :-1], held[:, None]), 0.0, None)
    thin = np.maximum(0.5 * (gap[:, 1:] + gap[:, :-1]), glue.bondline_least)
    return close, 1.0 / np.maximum((film * bonded / thin).sum(-1), 1.0 / OPEN)
