"""Every question the design room answers of one drawing, by name; departures and changes are told in them."""

import dataclasses
from collections.abc import Callable, Mapping

import numpy as np

from bladewright.design.at_the_handle import HandleForce
from bladewright.design.conditions import lifting_part
from bladewright.design.handle_force import hover_case, lowest_collective_case, named_cases
from bladewright.design.hover_power import hover_power, hover_time
from bladewright.design.properties import blade_properties
from bladewright.design.section_flow import section_flow
from bladewright.design.spanwise import span_mass
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.rotor.blade_element import integral
from bladewright.engine.rotor.span_mass import SpanMass
from bladewright.figures import Figure, Missing

MassOf = Callable[[BladeDrawing], SpanMass | None]
SHARE = ", this blade's share"
Answers = tuple[dict[str, Figure], tuple[Missing, ...]]


def flight_answers(drawing: BladeDrawing, mass_of: MassOf = span_mass) -> Answers:
    """What a departure on one blade may change in flight, and what could not be answered."""
    mass = mass_of(drawing)
    flow = section_flow(drawing)
    found = {figure.name: figure for figure in flow.figures}
    found["effective pitch"] = effective_pitch(drawing)
    missing: list[Missing] = []
    for answer in (hover_case(drawing, mass=mass), lowest_collective_case(drawing, mass=mass)):
        found |= _shares(drawing, answer)
        missing += [gap for gap in answer.missing if gap not in missing]
    if mass is not None:
        found |= _mass_figures(drawing, mass)
    return found, tuple(missing)


def design_answers(drawing: BladeDrawing) -> Answers:
    """Every answer there is, of flight and of the blade itself; what the hand holds first."""
    mass = span_mass(drawing)
    found, missing = flight_answers(drawing, lambda _: mass)
    found = {name: figure for name, figure in found.items() if not name.endswith(SHARE)}
    properties = blade_properties(drawing)
    for answer in named_cases(drawing, mass=mass):
        found |= _of_case(answer, known=found)
    power, stored = hover_power(drawing), hover_time(drawing)
    found |= {figure.name: figure for figure in power.figures}
    if isinstance(stored, Figure):
        found[stored.name] = stored
    for figure in properties.blade:
        found.setdefault(figure.name, figure)
    for figure in properties.section:
        name = f"section at {properties.section_radius:.4g} m: {figure.name}"
        found[name] = dataclasses.replace(figure, name=name)
    gaps = (*missing, *power.missing, *([stored] if isinstance(stored, Missing) else []), *properties.missing)
    return found, tuple(dict.fromkeys(gaps))


def effective_pitch(drawing: BladeDrawing) -> Figure:
    """The pitch at which the whole blade would lift the same, which splits the track of unlike mates."""
    flow = section_flow(drawing)
    blade = lifting_part(drawing, flow)
    weight = blade.chord * blade.y**2
    pitch = integral(weight * (blade.twist - blade.zero_lift_angle), blade.y) / integral(weight, blade.y)
    return Figure(
        "effective pitch",
        float(np.degrees(pitch)),
        "deg",
        method=f"twist less zero-lift angle, weighted by chord and radius squared; {flow.method}",
        validity=flow.validity,
        inside_validity=flow.inside,
        validated=flow.validated,
    )


def whole_name(case: str) -> str:
    """What the handle force of a case is called when all blades are alike."""
    return f"handle force, {case}, all blades alike"


def _of_case(answer: HandleForce, known: Mapping[str, Figure]) -> dict[str, Figure]:
    """State and contributions of one case, named by it; the section's own are no case's."""
    figures = [figure for figure in (*answer.figures, *answer.contributions) if figure.name not in known]
    names = [f"{answer.case}: {figure.name}" for figure in figures]
    return {name: dataclasses.replace(figure, name=name) for name, figure in zip(names, figures, strict=True)}


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
    whole = whole_name(answer.case)
    share = f"handle force, {answer.case}{SHARE}"
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
