"""An owner repainted one blade: what that adds to it, and whether it is still the match of its mate."""

from dataclasses import dataclass

from bladewright.design.added_mass import AddedAlong, added_along
from bladewright.design.spanwise import Spanwise, spanwise
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.limits import AddedMass, MatchLimits
from bladewright.figures import Figure, Finding, Missing, Outcome, in_both_units

PROOF = "weighing"
METHOD = "area density times the drawn outline between the two places; docs/theory/section-constants"
VALIDITY = "a coat as thick everywhere as entered, over what was drawn; nothing stripped or sanded off counts"
REWEIGH = "weigh the blade on the rig against the master, trim or match anew; whoever signs the set decides"


@dataclass(frozen=True, slots=True)
class Repainted:
    """What one blade gained, and both tests against a mate that gained nothing."""

    added: AddedAlong
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]
    missing: tuple[Missing, ...]


def repainted(drawing: BladeDrawing, coat: AddedMass, field: str = "paint") -> Repainted:
    """The drawn blade with one more coat; ``BadInput`` names ``field`` where it reaches off the blade."""
    added, span = added_along(drawing, coat, field), spanwise(drawing)
    moment = _figure(drawing, "span moment, more than its mate's", added.span_moment, "kg m")
    centre = _figure(drawing, "chordwise centre of mass, aft of its mate's", _moved(span, added), "m")
    figures = (
        _figure(drawing, f"mass of {added.name}", added.mass, "kg"),
        _figure(drawing, "span moment, new", span.span_moment + added.span_moment, "kg m"),
        moment,
        _figure(drawing, "chordwise centre of mass, new, aft of the axis", span.chordwise_centre + centre.value, "m"),
        centre,
        *_trimmable(drawing),
    )
    limits = drawing.limits.match
    if limits is None:
        return Repainted(added, figures, (), (Missing("whether it still matches its mate", ("limits.match",)),))
    tests = ((moment, limits.span_moment), (centre, limits.chordwise_centre))
    return Repainted(added, figures, tuple(_judged(figure, limit, limits) for figure, limit in tests), ())


def _moved(span: Spanwise, added: AddedAlong) -> float:
    """How far aft the whole blade's centre of mass goes. [m]"""
    before = span.total_mass * span.chordwise_centre
    return (before + added.chordwise_moment) / (span.total_mass + added.mass) - span.chordwise_centre


def _trimmable(drawing: BladeDrawing) -> tuple[Figure, ...]:
    """What weight in its mate's pockets could make up."""
    pockets = drawing.trim.pockets
    if not pockets:
        return ()
    most = sum(pocket.greatest * pocket.radius for pocket in pockets)
    method = "entered pockets, each as full as it may be; what they hold already is not known here"
    return (Figure("span moment that trim weight can make up at most", most, "kg m", method=method),)


def _judged(figure: Figure, limit: float, limits: MatchLimits) -> Finding:
    """Outside the limit it is no match; inside it, only a weighing knows."""
    apart = abs(figure.value) > limit
    told = f"{figure.name}: {in_both_units(figure)} by the coat alone; mates may differ by {_shown(limit, figure.unit)}"
    return Finding(
        f"match after the repaint, {figure.name.partition(',')[0]}",
        Outcome.FAIL if apart else Outcome.REFER,
        f"{told}: {'NOT MATCHED any more' if apart else 'the coat alone does not part them, if it is as entered'}.",
        PROOF,
        worst=figure,
        limit=f"at most {_shown(limit, figure.unit)} apart",
        limit_source=limits.source or "",
        deviable=False,
        next_step=REWEIGH,
        would_change="a weighing after the repaint; the same coat on the mate; trim weight",
    )


def _shown(value: float, unit: str) -> str:
    return in_both_units(Figure("", value, unit))


def _figure(drawing: BladeDrawing, name: str, value: float, unit: str) -> Figure:
    source = "entered area density and dimensions"
    sound = drawing.materials_validated
    return Figure(name, value, unit, method=METHOD, validity=VALIDITY, source=source, validated=sound)
