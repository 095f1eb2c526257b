"""The bondlines of a drawn blade that an inspection from outside can reach, and where each lies."""

from dataclasses import dataclass

from bladewright.drawing.file import BladeDrawing

SEAM = "trailing-edge seam"


@dataclass(frozen=True, slots=True)
class Bondline:
    """One bond between two parts: between two radii [m] and two fractions of the chord."""

    name: str
    inner: float
    outer: float
    front: float
    back: float


def bondlines(drawing: BladeDrawing) -> tuple[Bondline, ...]:
    """Every bond a skin has, from the nose aft. A tip weight's bond lies inside and is not among them."""
    plan, found = drawing.planform, []
    if drawing.spar is not None:
        found += _to_both_skins("spar", plan.root, plan.tip, 0.0, drawing.spar.web_place)
    if (doubler := drawing.doubler) is not None:
        found += _to_both_skins("doubler", doubler.inner, doubler.outer, doubler.front, doubler.back)
    if (filler := drawing.filler) is not None:
        found += _to_both_skins("filler", filler.inner, filler.outer, filler.front, filler.back)
    if drawing.adhesive is not None:
        found.append(Bondline(SEAM, plan.root, plan.tip, drawing.adhesive.seam_start, 1.0))
    return tuple(found)


def _to_both_skins(part: str, inner: float, outer: float, front: float, back: float) -> list[Bondline]:
    return [Bondline(f"{part} to {side} skin", inner, outer, front, back) for side in ("top", "bottom")]
