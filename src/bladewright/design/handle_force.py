"""What the pilot holds at the collective handle, cause by cause. An estimate until flown.

Positive: the pilot must pull up ("heavy"). Every contribution is of all blades together, alike.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from bladewright.design.conditions import Condition, hovering, steady
from bladewright.design.section_flow import SectionFlow, section_flow
from bladewright.design.spanwise import mass_gaps, span_mass
from bladewright.design.trim_tab import tab_moment
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.rotor import ControlRun, Rotor
from bladewright.engine.arrays import Floats
from bladewright.engine.rotor import control_loads
from bladewright.engine.rotor.atmosphere import Air, standard_air
from bladewright.engine.rotor.propeller_moment import propeller_moment
from bladewright.engine.rotor.span_mass import SpanMass
from bladewright.errors import BadInput
from bladewright.figures import Figure, Missing

METHOD = "blade elements, rigid blade; docs/theory/control-loads"
VALIDITY = "hover and axial flight, limp in bending; an estimate until flown"
POWER = "power at the rotor shaft"  # that holds the entered rotor speed; negative where the air drives it
SECTION, PROPELLER = "section moment", "propeller moment"
BENT_MASS, BENT_DRAG = "mass offset times coning less precone", "drag times coning less precone"
BENDING = 0.3  # of the moments of a bent blade: stiffness takes 10 to 30 % off a limp one's; common practice, no source
COLLECTIVE = math.radians(0.3)  # [rad] k = 2, how well blade elements know the collective; common practice, no source
COMPUTED = 0.9  # of the blade's length: with less of it inside the section's table a figure is outside validity
NOT_FITTED = "; counterweights, springs and tabs that are not entered are taken as not fitted"


@dataclass(frozen=True, slots=True)
class HandleForce:
    """Collective handle force in one condition, and what it is made of."""

    case: str
    total: Figure | None  # [N]; None when a contribution could not be found
    contributions: tuple[Figure, ...]  # [N] each; they add up to the total
    friction: Figure | None  # [N] least friction: the lever stays put within plus or minus this
    figures: tuple[Figure, ...]  # collective, coning, zero-lift pitch, section moment, pitch-link force ...
    missing: tuple[Missing, ...]

    @property
    def rises_by_itself(self) -> bool | None:
        """Whether the lever goes up unless held, entered friction counted; None where that is not known."""
        if self.total is None:
            return None
        held = self.friction.value if self.friction is not None else 0.0
        return self.total.value < -held


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
    figures = (*flow.figures, *_state(condition, mass))
    control = rotor.control
    if control is None:
        gap = Missing("collective handle force", ("rotor.control",))
        return HandleForce(case, None, (), None, figures, (*missing, gap))
    linkage = _linkage(control)
    mass_validated = flow.validated and drawing.materials_validated  # coning comes from the lift
    sound = not missing and mass_validated
    spreads = _spreads(moments, flow, condition, mass)
    per_moment = control_loads.handle_force(float(rotor.blades), linkage)
    forces = [
        _figure(
            name,
            per_moment * moment,
            mass_validated if name in of_mass else flow.validated,
            flow,
            condition,
            None if (spread := spreads.get(name)) is None else abs(per_moment) * spread,
        )
        for name, moment in moments.items()
    ]
    if control.trim_spring is not None:
        rate = control.trim_spring_rate or 0.0
        forces.append(_spring(control.trim_spring, rate, rotor.collective_least, linkage, condition.collective))
    link = control_loads.pitch_link_force(sum(moments.values()), linkage)
    total = None
    if not missing:
        known = flow.moment_spread is not None
        whole = abs(per_moment) * math.hypot(*(spread or 0.0 for spread in spreads.values())) if known else None
        value = sum(force.value for force in forces)
        total = _figure("collective handle force", value, sound, flow, condition, whole)
        figures = (*figures, _figure("pitch-link force, push up on the horn", link, sound, flow, condition))
    friction = None
    if control.trim_spring_rate and rotor.collective_least is None:
        missing = (*missing, Missing("trim spring at this collective", ("rotor.collective_least",)))
        total = None
    if control.friction is None:
        missing = (*missing, Missing("friction band of the handle force", ("rotor.control.friction",)))
    else:
        friction = Figure("friction", control.friction, "N", method="entered: the least the adjuster can be set to")
    return HandleForce(case, total, tuple(forces), friction, figures, missing)


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
        "mass offset times tilt of the feathering axis": control_loads.mass_offset_moment(mass, pitch, tilt, speed),
        BENT_MASS: control_loads.mass_offset_moment(mass, pitch, coning - tilt, speed),
        BENT_DRAG: control_loads.raised_drag_moment(condition.torque, coning - tilt),
        "weight times mass offset": control_loads.weight_moment(mass, pitch),
    }


def _spreads(
    moments: Mapping[str, float], flow: SectionFlow, condition: Condition, mass: SpanMass | None
) -> dict[str, float]:
    """What the method leaves open in a moment, k = 2 [N m]; inputs are taken as entered."""
    found = {name: BENDING * abs(moments[name]) for name in (BENT_MASS, BENT_DRAG) if name in moments}
    if flow.moment_spread is not None:
        found[SECTION] = flow.moment_spread * condition.per_moment
    if mass is not None and PROPELLER in moments:
        spread = float(np.trapezoid(mass.chordwise_inertia - mass.normal_inertia, mass.y)) * condition.rotor_speed**2
        found[PROPELLER] = abs(spread) * math.hypot(COLLECTIVE, flow.zero_lift_spread or 0.0)
    return found


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


def _spring(
    force: float, rate: float, least: float | None, linkage: control_loads.Linkage, collective: float
) -> Figure:
    travel = 0.0 if least is None else (collective - least) / linkage.pitch_per_handle
    value = control_loads.trim_spring_force(force, rate, travel)
    return Figure("trim spring", value, "N", method="entered: force at lowest collective, less rate times travel")


def _linkage(control: ControlRun) -> control_loads.Linkage:
    return control_loads.Linkage(control.pitch_arm, control.handle_per_link, control.link_up_is, control.lever_up_is)


def _figure(
    name: str, value: float, validated: bool, flow: SectionFlow, condition: Condition, spread: float | None = None
) -> Figure:
    return Figure(
        name,
        value + 0.0,
        "N",
        spread,
        method=f"{METHOD}; {flow.method}",
        validity=f"{VALIDITY}{NOT_FITTED}; section: {flow.validity}",
        inside_validity=flow.inside and condition.computed_share >= COMPUTED,
        source="own method",
        validated=validated,
    )


def _twist(drawing: BladeDrawing, y: Floats) -> Floats:
    stations = drawing.planform.stations
    twist: Floats = np.interp(y, [s.radius for s in stations], [s.twist for s in stations])
    return twist
