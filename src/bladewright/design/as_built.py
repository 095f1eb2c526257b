"""The one door from a measured departure to its flight effect.

The measured values go into the drawing, the same questions are asked of both, and the differences are the effects.
"""

import dataclasses
from collections.abc import Callable, Sequence

import numpy as np

from bladewright.design.departed import departed, departed_fields
from bladewright.design.handle_force import HandleForce, hover_case, lifting_blade, lowest_collective_case
from bladewright.design.records import AsBuilt, Departure
from bladewright.design.section_flow import METHOD as SECTION_METHOD
from bladewright.design.section_flow import VALIDITY, section_flow
from bladewright.design.spanwise import span_mass
from bladewright.drawing.entries import number_at
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.rotor.blade_element import integral
from bladewright.engine.rotor.span_mass import SpanMass
from bladewright.figures import Figure, Missing

MassOf = Callable[[BladeDrawing], SpanMass | None]
CHANGE = "change of "
NOTHING = 1e-12  # of a unit: below this a change is rounding
METHOD = "recomputed with the measured values; uncertainty by half the difference at plus and minus U, root sum square"


def as_built(drawing: BladeDrawing, departures: Sequence[Departure], *, mass_of: MassOf = span_mass) -> AsBuilt:
    """The blade with its measured values in place, and what each change comes to in flight.

    ``mass_of`` tells the mass along the span of a drawing; where nothing does, mass effects are missing. Departures
    that are dimensions of the drawing's own list have no known effect and come back as missing.
    """
    known, missing = departed_fields(drawing, departures)
    built = departed(drawing, known)
    before, gaps = _answers(drawing, mass_of)
    after, _ = _answers(built, mass_of)
    common = [name for name in before if name in after]
    spread = dict.fromkeys(common, 0.0)
    unknown = any(departure.uncertainty is None for departure in known)
    for at, departure in enumerate(known):
        moved = _moved(drawing, known, at, mass_of) if departure.uncertainty else None
        touched = False
        for name in common:
            half = 0.5 * abs(moved[0][name].value - moved[1][name].value) if moved else 0.0
            spread[name] = float(np.hypot(spread[name], half))
            touched = touched or half > NOTHING
        alone = _answers(departed(drawing, [departure]), mass_of)[0]
        touched = touched or any(abs(alone[n].value - before[n].value) > NOTHING for n in common if n in alone)
        if not touched and departure.value != number_at(drawing, departure.field):
            missing = (*missing, Missing(f"flight effect of {departure.field}", ("a model of what it does",)))
    effects = tuple(
        dataclasses.replace(
            after[name],
            name=CHANGE + name,
            value=after[name].value - before[name].value,
            uncertainty=None if unknown else spread[name],
            method=f"{METHOD}; {after[name].method}",
        )
        for name in common
    )
    return AsBuilt(drawing=built, departures=tuple(departures), effects=effects, missing=(*missing, *gaps))


def _answers(drawing: BladeDrawing, mass_of: MassOf) -> tuple[dict[str, Figure], tuple[Missing, ...]]:
    """Every question a departure may change the answer of."""
    mass = mass_of(drawing)
    flow = section_flow(drawing)
    found = {figure.name: figure for figure in flow.figures}
    blade = lifting_blade(drawing, flow)
    weight = blade.chord * blade.y**2
    pitch = integral(weight * (blade.twist - blade.zero_lift_angle), blade.y) / integral(weight, blade.y)
    found["effective pitch"] = Figure(
        "effective pitch",
        float(np.degrees(pitch)),
        "deg",
        method=f"twist less zero-lift angle, weighted by chord and radius squared; {SECTION_METHOD}",
        validity=VALIDITY,
        validated=flow.validated,
    )
    missing: list[Missing] = []
    for answer in (hover_case(drawing, mass=mass), lowest_collective_case(drawing, mass=mass)):
        found |= _shares(drawing, answer)
        missing += [gap for gap in answer.missing if gap not in missing]
    if mass is not None:
        found |= _mass_figures(drawing, mass)
    return found, tuple(missing)


def _shares(drawing: BladeDrawing, answer: HandleForce) -> dict[str, Figure]:
    """Handle force of the whole set alike, and of one blade in it; of the known contributions when some are missing."""
    if not answer.contributions or drawing.rotor is None:
        return {}
    total = answer.total
    if total is None:
        parts = [part.value for part in answer.contributions]
        total = dataclasses.replace(
            answer.contributions[0],
            value=sum(parts),
            validity=f"{answer.contributions[0].validity}; without {', '.join(gap.name for gap in answer.missing)}",
            inside_validity=False,
        )
    whole = f"handle force, {answer.case}, all blades alike"
    share = f"handle force, {answer.case}, this blade's share"
    return {
        whole: dataclasses.replace(total, name=whole),
        share: dataclasses.replace(total, name=share, value=total.value / drawing.rotor.blades),
    }


def _mass_figures(drawing: BladeDrawing, mass: SpanMass) -> dict[str, Figure]:
    along = float(np.trapezoid(mass.mass_per_length * mass.chordwise_centre, mass.y)) / mass.mass
    method = "mass of the drawn parts along the span"
    return {
        name: Figure(name, value, unit, method=method, validated=drawing.materials_validated)
        for name, value, unit in (
            ("mass", mass.mass, "kg"),
            ("span moment", mass.span_moment, "kg m"),
            ("chordwise centre of mass, aft of the feathering axis", along, "m"),
        )
    }


def _moved(
    drawing: BladeDrawing, known: Sequence[Departure], at: int, mass_of: MassOf
) -> tuple[dict[str, Figure], dict[str, Figure]]:
    """The answers with one departure at the upper and at the lower end of its uncertainty."""
    ends = []
    for sign in (1.0, -1.0):
        departure = known[at]
        moved = dataclasses.replace(departure, value=departure.value + sign * (departure.uncertainty or 0.0))
        ends.append(_answers(departed(drawing, [*known[:at], moved, *known[at + 1 :]]), mass_of)[0])
    return ends[0], ends[1]
