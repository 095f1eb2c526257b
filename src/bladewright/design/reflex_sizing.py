"""Size the reflex: the finished blade's bend that gives a chosen handle force, before metal is rolled.

The chosen force is asked for in hover. What the same reflex does at lowest collective in autorotation and along the
collective is shown and judged with it: one bend cannot choose them all.
"""

from dataclasses import dataclass

import numpy as np

from bladewright.design.reflex_bend import bend_of, with_reflex
from bladewright.design.reflex_effects import HOVER, ReflexEffects, Tried, as_angle, reflex_effects, require_known
from bladewright.drawing.blade import Reflex
from bladewright.drawing.file import BladeDrawing
from bladewright.errors import BadInput, NotConverged
from bladewright.figures import Figure, Missing

BEFORE_BONDING = (("loose_skin", "reflex the roll must leave in the loose skin"), ("mould", "reflex of the mould"))
ALIKE = 1e-9  # [rad] difference and ratio say the same: nothing is known of their doubt


@dataclass(frozen=True, slots=True)
class SizedReflex:
    """The reflex for a chosen force and what comes with it."""

    asked: Figure  # [N]
    reflex: Figure  # of the finished blade's bent skin [deg]
    loose_skin: Figure | None  # what the roll must leave [deg]
    mould: Figure | None  # what the mould must be cut to [deg]
    effects: ReflexEffects  # with that reflex
    missing: tuple[Missing, ...]


def size_reflex(drawing: BladeDrawing, handle_force: float) -> SizedReflex:
    """The finished blade's reflex for a handle force in hover [N], pull-up positive."""
    bend = bend_of(drawing)
    tried = Tried(drawing)
    require_known(drawing, tried, bend.angle)
    try:
        angle = tried.angle_for(HOVER, handle_force)
    except (BadInput, NotConverged) as error:
        raise _unreachable(drawing, tried, handle_force) from error
    effects = reflex_effects(with_reflex(drawing, angle), tried)
    total = effects.range.cases[0].total
    assert total is not None
    per_radian = effects.per_degree.value / np.radians(1.0)
    spread = None if total.uncertainty is None else abs(total.uncertainty / per_radian)
    loose, mould, gaps = _before_bonding(bend, angle)
    return SizedReflex(
        asked=Figure("handle force asked for, hover", handle_force, "N", 0.0, "entered"),
        reflex=as_angle(total, "reflex of the finished blade", angle, spread),
        loose_skin=loose,
        mould=mould,
        effects=effects,
        missing=(*effects.range.missing, *gaps),
    )


def _unreachable(drawing: BladeDrawing, tried: Tried, force: float) -> BadInput:
    """The skins would cross, or the bend be no reflex: said with what was reached."""
    forces = [found[HOVER] for found in tried.forces.values()]
    return BadInput(
        "no reflex that can be built gives this handle force",
        file=drawing.name,
        field="handle_force",
        value=f"{force:.3g} N",
        allowed=f"reached so far: {min(forces):.3g} N to {max(forces):.3g} N",
        fix="turn both skins, open the trailing edge, or change the trim spring",
    )


def _before_bonding(bend: Reflex, angle: float) -> tuple[Figure | None, Figure | None, tuple[Missing, ...]]:
    """Loose skin and mould for a finished reflex [rad]: the drawing's own differences kept, ratio as their doubt."""
    found: list[Figure | None] = []
    missing = []
    for name, words in BEFORE_BONDING:
        table = getattr(bend, name)
        if table is None:
            found.append(None)
            missing.append(Missing(words, (f"reflex.{name}",)))
            continue
        by_difference = angle + table.angle - bend.angle
        by_ratio = angle * table.angle / bend.angle if bend.angle else by_difference
        doubt = abs(by_difference - by_ratio)
        found.append(
            Figure(
                words,
                float(np.degrees(by_difference)),
                "deg",
                float(np.degrees(doubt)) if doubt > ALIKE else None,
                method=f"the drawing's difference between {name.replace('_', ' ')} and finished blade kept; its "
                "uncertainty is what keeping their ratio would change",
                validity="skin, roll and cure as for the entered pair",
                source="entered: reflex",
            )
        )
    return found[0], found[1], tuple(missing)
