"""What the pilot holds in hover and in steady climb or descent. An estimate until flown."""

import math
from collections.abc import Mapping

import numpy as np

from bladewright.design.at_the_handle import METHOD, VALIDITY, BladeMoments, HandleForce, at_the_handle
from bladewright.design.conditions import Condition, hovering, steady
from bladewright.design.section_flow import SectionFlow, section_flow
from bladewright.design.spanwise import mass_gaps, span_mass
from bladewright.design.trim_tab import tab_moment
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.rotor import Rotor
from bladewright.engine.arrays import Floats
from bladewright.engine.rotor import control_loads
from bladewright.engine.rotor.atmosphere import Air, standard_air
from bladewright.engine.rotor.bent_blade import raised_drag_moment
from bladewright.engine.rotor.propeller_moment import propeller_moment
from bladewright.engine.rotor.span_mass import SpanMass
from bladewright.errors import BadInput
from bladewright.figures import Figure, Missing

POWER = "power at the rotor shaft"  # that holds the entered rotor speed; negative where the air drives it
SECTION, PROPELLER = "section moment", "propeller moment"
TILTED_MASS, WEIGHT = "mass offset times tilt of the feathering axis", "weight times mass offset"
TURNING = "turning of the coned section"
BENT_MASS, BENT_DRAG = "mass offset times coning less precone", "drag times coning less precone"
BENDING = 0.3  # of the moments of a bent blade: stiffness takes 10 to 30 % off a limp one's; common practice, no source
COLLECTIVE = math.radians(0.3)  # [rad] k = 2, how well blade elements know the collective; common practice, no source


def collective_handle_force(
    drawing: BladeDrawing,
    collective: float | None = None,
    rotor_speed: float | None = None,
    *,
    air: Air | None = None,
    mass: SpanMass | None = None,
    flow: SectionFlow | None = None,
    case: str = "",
) -> HandleForce:
    """Handle force in hover, or at a given collective [rad] in steady axial flight, carrying the gross mass.

    Without a collective it is the one that hovers the gross mass; rotor speed [rad/s] is the normal one, air that of
    a standard day at sea level unless given. Mass along the span and flow about the section are the drawing's unless
    given; where the drawing does not tell the mass, the blade's own inertia is missing, and so is the total.
    """
    flow = section_flow(drawing) if flow is None else flow
    mass = span_mass(drawing) if mass is None else mass
    rotor = drawing.rotor
    case = case or ("hover" if collective is None else "at the given collective")
    if rotor is None:
        gap = Missing("collective handle force", ("rotor",))
        return HandleForce(case, None, (), None, flow.figures, (gap,))
    speed = rotor.speeds.normal if rotor_speed is None else rotor_speed
    if not (np.isfinite(speed) and speed > 0.0):
        raise BadInput("rotor speed", field="rotor_speed", value=speed, allowed="more than 0 rad/s")
    around = standard_air() if air is None else air
    if collective is None:
        condition = hovering(drawing, rotor, flow, speed, around)
    else:
        condition = steady(drawing, rotor, flow, speed, around, collective)
    moments, of_mass, missing = _moments(drawing, rotor, condition, around.density, mass)
    return at_the_handle(
        drawing,
        rotor,
        flow,
        BladeMoments(
            case=case,
            collective=condition.collective,
            moments=moments,
            of_mass=of_mass,
            spreads=_spreads(moments, flow, condition, mass),
            computed_share=condition.computed_share,
            figures=(*flow.figures, *_state(condition, mass)),
            missing=missing,
        ),
    )


def named_cases(
    drawing: BladeDrawing, *, mass: SpanMass | None = None, flow: SectionFlow | None = None
) -> tuple[HandleForce, ...]:
    """The conditions a set is judged in: normal hover, and lowest collective at the greatest power-off speed."""
    return hover_case(drawing, mass=mass, flow=flow), lowest_collective_case(drawing, mass=mass, flow=flow)


def hover_case(drawing: BladeDrawing, *, mass: SpanMass | None = None, flow: SectionFlow | None = None) -> HandleForce:
    """Hover at gross mass and normal speed, standard air at sea level."""
    return collective_handle_force(drawing, mass=mass, flow=flow, case="hover")


def lowest_collective_case(
    drawing: BladeDrawing, *, mass: SpanMass | None = None, flow: SectionFlow | None = None
) -> HandleForce:
    """Steady autorotation at lowest collective and greatest power-off speed: where a lever rises by itself."""
    case = "lowest collective, greatest power-off speed"
    rotor = drawing.rotor
    needs = []
    if rotor is None or rotor.collective_least is None:
        needs.append("rotor.collective_least")
    if rotor is None or rotor.speeds.power_off_greatest is None:
        needs.append("rotor.speeds.power_off_greatest")
    if rotor is None or needs:
        gap = Missing(f"collective handle force, {case}", tuple(needs))
        return HandleForce(case, None, (), None, (flow or section_flow(drawing)).figures, (gap,))
    return collective_handle_force(
        drawing, rotor.collective_least, rotor.speeds.power_off_greatest, mass=mass, flow=flow, case=case
    )


def _moments(
    drawing: BladeDrawing, rotor: Rotor, condition: Condition, density: float, mass: SpanMass | None
) -> tuple[dict[str, float], frozenset[str], tuple[Missing, ...]]:
    """Feathering moments of one blade [N m], nose-up positive; which rest on its mass; what could not be found."""
    speed = condition.rotor_speed
    moments = {SECTION: condition.section_moment, "lift offset": condition.offset_moment}
    missing: list[Missing] = []
    inertia: dict[str, float] = {}
    if mass is None:
        needs = tuple(need for gap in mass_gaps(drawing) for need in gap.needs)
        missing.append(Missing("propeller moment and mass offset", needs))
    else:
        inertia = _inertia_moments(drawing, rotor, condition, mass)
        moments |= inertia
    if rotor.control is not None and rotor.control.counterweight is not None:
        moments["counterweights"] = control_loads.counterweight_moment(
            rotor.control.counterweight, condition.collective, speed, rotor.speeds.normal
        )
    tab = tab_moment(drawing, speed, density)
    if isinstance(tab, Missing):
        missing.append(tab)
    elif tab is not None:
        moments["trim tab"] = tab
    return moments, frozenset(inertia), tuple(missing)


def _inertia_moments(drawing: BladeDrawing, rotor: Rotor, condition: Condition, mass: SpanMass) -> dict[str, float]:
    speed = condition.rotor_speed
    pitch = condition.collective + _twist(drawing, mass.y)
    coning = control_loads.limp_coning(condition.lift_moment, mass, speed)
    # with a flapping hinge inboard of the bearing the feathering axis itself takes the coning
    tilt = coning if rotor.hub == "hinged" else (rotor.precone or 0.0)
    return {
        PROPELLER: propeller_moment(
            mass.y, mass.chordwise_inertia, mass.normal_inertia, mass.product_of_inertia, pitch, speed
        ).total,
        TILTED_MASS: control_loads.mass_offset_moment(mass, pitch, tilt, speed),
        BENT_MASS: control_loads.mass_offset_moment(mass, pitch, coning - tilt, speed),
        TURNING: condition.turning * coning,
        BENT_DRAG: raised_drag_moment(condition.torque, coning - tilt),
        WEIGHT: control_loads.weight_moment(mass, pitch),
    }


def _spreads(
    moments: Mapping[str, float], flow: SectionFlow, condition: Condition, mass: SpanMass | None
) -> dict[str, float]:
    """What the method leaves open in a moment, k = 2 [N m]; inputs are taken as entered."""
    found = {name: BENDING * abs(moments[name]) for name in (BENT_MASS, BENT_DRAG) if name in moments}
    if flow.moment_spread is not None:
        found[SECTION] = flow.moment_spread * condition.per_moment
    if mass is not None and PROPELLER in moments:
        found[PROPELLER] = pitch_spread(mass, condition.rotor_speed, flow)
    return found


def pitch_spread(mass: SpanMass, rotor_speed: float, flow: SectionFlow) -> float:
    """What not knowing the pitch better leaves open in the propeller moment, k = 2. [N m]"""
    slope = float(np.trapezoid(mass.chordwise_inertia - mass.normal_inertia, mass.y)) * rotor_speed**2
    return abs(slope) * math.hypot(COLLECTIVE, flow.zero_lift_spread or 0.0)


def _state(condition: Condition, mass: SpanMass | None) -> tuple[Figure, ...]:
    figures = [
        Figure("collective", float(np.degrees(condition.collective)), "deg", method=METHOD, validity=VALIDITY),
        Figure("inflow", condition.inflow, "m/s", method=METHOD, validity=VALIDITY),
        Figure(POWER, condition.power, "W", method=METHOD, validity=VALIDITY),
    ]
    if mass is not None:
        coning = control_loads.limp_coning(condition.lift_moment, mass, condition.rotor_speed)
        figures.append(
            Figure(
                "free coning", float(np.degrees(coning)), "deg", method="limp blade", validity="no bending stiffness"
            )
        )
    return tuple(figures)


def _twist(drawing: BladeDrawing, y: Floats) -> Floats:
    stations = drawing.planform.stations
    twist: Floats = np.interp(y, [s.radius for s in stations], [s.twist for s in stations])
    return twist
