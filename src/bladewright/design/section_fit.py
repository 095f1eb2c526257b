"""Whether the drawn parts fit into the section and beside each other; what does not is named by its entry."""

import numpy as np

from bladewright.design.outline import chord_at
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.arrays import Floats
from bladewright.errors import BadInput

SAME_RADIUS = 1e-9  # [m]


def reach_of(drawing: BladeDrawing, part: str) -> tuple[float, float]:
    """Radii between which a part lies [m]; ``BadInput`` if it has no length or leaves the blade."""
    record, tip = getattr(drawing, part), drawing.planform.tip
    if not record.inner < record.outer:
        raise BadInput(
            "begins where it ends, or beyond",
            field=f"{part}.outer",
            value=record.outer,
            allowed=f"more than {record.inner:g} m",
        )
    if record.outer > tip + SAME_RADIUS:
        raise BadInput("reaches beyond the tip", field=f"{part}.outer", value=record.outer, allowed=f"up to {tip:g} m")
    return record.inner, record.outer


def require_room_in_the_nose(outer: Floats, face: Floats, depth: float) -> None:
    """Sides of the spar's face that run backwards show that the nose is rounder than its layers are thick."""
    turned = (np.diff(outer, axis=1) * np.diff(face, axis=1)).sum(-1) < 0.0
    if np.any(turned & (outer[:, 1:, 0] < depth)):
        raise BadInput(
            "skin and film are thicker than the nose radius of this section",
            field="skin",
            value=float(np.hypot(*(face - outer)[0, 0])),
            allowed="less than the nose radius",
            fix="check the thicknesses, the chord and the nose of the outline",
        )


def require_walls_that_do_not_fold(outer: Floats, inside: Floats, front: Floats) -> None:
    """The spar walls' inner faces (s, n, 2) run the way of the outline, from the hollow's fronts (s,) [m] aft."""
    step = np.diff(inside, axis=1)
    folded = (np.diff(outer, axis=1) * step).sum(-1) < 0.0
    reach = np.maximum(inside[:, 1:, 0], inside[:, :-1, 0]) > front[:, None]
    if np.any(folded & reach & (outer[:, 1:, 0] < 0.5 * outer[..., 0].max())):
        raise BadInput(
            "the spar's walls are thicker than the nose is round where the hollow begins",
            field="spar.nose_wall",
            value=float(front.min()),
            allowed="a nose wall that reaches to where the walls have room beside each other",
            fix="make the nose wall longer or the walls thinner",
        )


def require_a_hollow(places: Floats, depth: Floats) -> None:
    """The spar's hollow, from its front to the web [m], must have length and depth [m] everywhere."""
    if np.any(np.diff(places, axis=-1) <= 0.0):
        raise BadInput(
            "the spar's nose wall reaches the web: there is no hollow left",
            field="spar.nose_wall",
            value=float((places[:, -1] - places[:, 0]).min()),
            allowed="less than from the spar's face to the web",
            fix="check the nose wall, the web's place and the chord",
        )
    if np.any(depth <= 0.0):
        raise BadInput(
            "the spar's walls leave no hollow inside this section",
            field="spar",
            value=float(depth.min()),
            allowed="walls that leave a hollow between nose wall and web",
            fix="check the walls, the web's place and the chord",
        )


def require_parts_beside_each_other(drawing: BladeDrawing, chord: Floats) -> None:
    """Web, seam, doubler and filler in their order along the chord; chords [m]."""
    spar, glue, doubler, filler = drawing.spar, drawing.adhesive, drawing.doubler, drawing.filler
    assert spar is not None
    assert glue is not None
    back = float((spar.web_place + 0.5 * spar.web / chord).max())  # of the chord, where the spar ends
    _require(
        back < glue.seam_start, "the spar reaches into the trailing-edge seam", "spar.web_place", spar.web_place,
        f"a web that ends ahead of {glue.seam_start:g} of the chord",
    )  # fmt: skip
    if doubler is not None:
        _require(
            doubler.front < doubler.back, "ends where it begins, or ahead of it", "doubler.back", doubler.back,
            f"more than {doubler.front:g} of the chord",
        )  # fmt: skip
        _require(doubler.front >= 0.0, "begins ahead of the leading edge", "doubler.front", doubler.front, "0 or more")
        _require(doubler.back <= 1.0, "ends behind the trailing edge", "doubler.back", doubler.back, "up to 1")
    if filler is not None:
        _require(
            filler.front < filler.back, "ends where it begins, or ahead of it", "filler.back", filler.back,
            f"more than {filler.front:g} of the chord",
        )  # fmt: skip
        _require(
            filler.front >= back, "the filler reaches into the spar", "filler.front", filler.front,
            f"behind the web, {back:.4g} of the chord or more",
        )  # fmt: skip
        _require(
            filler.back <= glue.seam_start, "the filler reaches into the seam", "filler.back", filler.back,
            f"ahead of the seam, up to {glue.seam_start:g} of the chord",
        )  # fmt: skip


def require_weight_in_the_hollow(drawing: BladeDrawing) -> None:
    """The tip weight's centre between the hollow's front and the web, along its own length."""
    weight, spar, glue, skin = drawing.tip_weight, drawing.spar, drawing.adhesive, drawing.skin
    if weight is None or spar is None or glue is None:
        return
    chords = np.array([chord_at(drawing, radius) for radius in (weight.inner, weight.outer)])
    nose = 0.5 * (skin.top_thickness + skin.bottom_thickness) + glue.bondline + spar.nose_wall
    front, back = float((nose / chords).max()), float((spar.web_place - 0.5 * spar.web / chords).min())
    _require(
        front < weight.chordwise < back, "the tip weight lies in the spar's metal, not in its hollow",
        "tip_weight.chordwise", weight.chordwise, f"{front:.4g} to {back:.4g} of the chord",
    )  # fmt: skip


def _require(holds: bool, what: str, field: str, value: float, allowed: str) -> None:
    if not holds:
        raise BadInput(what, field=field, value=value, allowed=allowed, fix="check the places along the chord")
