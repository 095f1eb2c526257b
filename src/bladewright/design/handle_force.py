"""What the pilot holds at the collective handle, cause by cause. An estimate until flown.

Positive: the pilot must pull up ("heavy"). Every contribution is of all blades together, alike.
"""

import dataclasses
from dataclasses import dataclass

import numpy as np

from bladewright.design.section_flow import SectionFlow, section_flow
from bladewright.design.spanwise import mass_gaps, span_mass
from bladewright.design.trim_tab import tab_moment
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.rotor import ControlRun, Rotor
from bladewright.engine.arrays import Floats
from bladewright.engine.rotor import control_loads
from bladewright.engine.rotor.atmosphere import GRAVITY, standard_air
from bladewright.engine.rotor.blade_element import LiftAlong, LiftingBlade, hover_at_thrust, steady_at_pitch
from bladewright.engine.rotor.propeller_moment import propeller_moment
from bladewright.engine.rotor.span_mass import SpanMass
from bladewright.errors import BadInput
from bladewright.figures import Figure, Missing

LIFT_SLOPE = 5.73  # [1/rad] 0.1 per degree of a real 12 % section; common practice, no source
QUARTER = 0.25
STATIONS = 101  # along the lifting part
METHOD = "strip theory: thin-section moment, uniform inflow, rigid blade; docs/theory/control-loads"
VALIDITY = "hover and axial flight, no stall, no compressibility, limp in bending; an estimate until flown"
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


@dataclass(frozen=True, slots=True)
class _Condition:
    """One steady state of the rotor, ready for the moments."""

    blade: LiftingBlade
    lift: LiftAlong
    rotor_speed: float
    density: float


def collective_handle_force(
    drawing: BladeDrawing,
    collective: float | None = None,
    rotor_speed: float | None = None,
    *,
    density: float | None = None,
    mass: SpanMass | None = None,
    case: str = "",
) -> HandleForce:
    """Handle force in hover, or at a given collective [rad] in steady axial flight, carrying the gross mass.

    Without a collective it is the one that hovers the gross mass; rotor speed [rad/s] is the normal one, density
    [kg/m^3] that of standard air at sea level unless given. The mass along the span is the drawing's unless given;
    where the drawing does not tell it, the blade's own inertia is missing, and so is the total.
    """
    flow = section_flow(drawing)
    mass = span_mass(drawing) if mass is None else mass
    rotor = drawing.rotor
    case = case or ("hover" if collective is None else "at the given collective")
    if rotor is None:
        gap = Missing("collective handle force", ("rotor",))
        return HandleForce(case, None, (), None, flow.figures, (gap,))
    speed = rotor.speeds.normal if rotor_speed is None else rotor_speed
    if not (np.isfinite(speed) and speed > 0.0):
        raise BadInput("rotor speed", field="rotor_speed", value=speed, allowed="more than 0 rad/s")
    condition = _condition(drawing, rotor, flow, collective, speed, density)
    moments, of_mass, missing = _moments(drawing, rotor, flow, condition, mass)
    figures = (*flow.figures, *_state(condition, mass))
    control = rotor.control
    if control is None:
        gap = Missing("collective handle force", ("rotor.control",))
        return HandleForce(case, None, (), None, figures, (*missing, gap))
    linkage = _linkage(control)
    mass_validated = flow.validated and drawing.materials_validated  # coning comes from the lift
    sound = not missing and mass_validated
    forces = [
        _figure(
            name,
            control_loads.handle_force(rotor.blades * moment, linkage),
            mass_validated if name in of_mass else flow.validated,
        )
        for name, moment in moments.items()
    ]
    if control.trim_spring is not None:
        rate = control.trim_spring_rate or 0.0
        forces.append(_spring(control.trim_spring, rate, rotor.collective_least, linkage, condition.lift.collective))
    link = control_loads.pitch_link_force(sum(moments.values()), linkage)
    total = None
    if not missing:
        total = _figure("collective handle force", sum(force.value for force in forces), sound)
        figures = (*figures, _figure("pitch-link force, push up on the horn", link, sound))
    friction = None
    if control.trim_spring_rate and rotor.collective_least is None:
        missing = (*missing, Missing("trim spring at this collective", ("rotor.collective_least",)))
        total = None
    if control.friction is None:
        missing = (*missing, Missing("friction band of the handle force", ("rotor.control.friction",)))
    else:
        friction = Figure("friction", control.friction, "N", method="entered: the least the adjuster can be set to")
    return HandleForce(case, total, tuple(forces), friction, figures, missing)


def named_cases(drawing: BladeDrawing, *, mass: SpanMass | None = None) -> tuple[HandleForce, ...]:
    """The conditions a set is judged in: normal hover, and lowest collective at the greatest power-off speed."""
    return hover_case(drawing, mass=mass), lowest_collective_case(drawing, mass=mass)


def hover_case(drawing: BladeDrawing, *, mass: SpanMass | None = None) -> HandleForce:
    """Hover at gross mass and normal speed, standard air at sea level."""
    return collective_handle_force(drawing, mass=mass, case="hover")


def lowest_collective_case(drawing: BladeDrawing, *, mass: SpanMass | None = None) -> HandleForce:
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
        return HandleForce(case, None, (), None, section_flow(drawing).figures, (gap,))
    return collective_handle_force(
        drawing, rotor.collective_least, rotor.speeds.power_off_greatest, mass=mass, case=case
    )


def _condition(
    drawing: BladeDrawing,
    rotor: Rotor,
    flow: SectionFlow,
    collective: float | None,
    speed: float,
    density: float | None,
) -> _Condition:
    blade = lifting_blade(drawing, flow)
    air = standard_air().density if density is None else density
    thrust = rotor.gross_mass * GRAVITY
    if collective is None:
        lift = hover_at_thrust(blade, rotor.blades, speed, air, thrust)
    else:
        lift = steady_at_pitch(blade, rotor.blades, speed, air, thrust, collective)
    return _Condition(blade, lift, speed, air)


def lifting_blade(drawing: BladeDrawing, flow: SectionFlow) -> LiftingBlade:
    """The drawing's lifting part, its stations dense enough for Simpson's rule, the drawing's own among them."""
    plan = drawing.planform
    inner = {s.radius for s in plan.stations if plan.airfoil_start < s.radius < plan.tip}
    y = np.union1d(np.linspace(plan.airfoil_start, plan.tip, STATIONS), sorted(inner))
    y = y[np.concatenate(([True], np.diff(y) > 1e-9))]
    radii = [s.radius for s in plan.stations]
    return LiftingBlade(
        y=y,
        chord=np.interp(y, radii, [s.chord for s in plan.stations]),
        twist=np.interp(y, radii, [s.twist for s in plan.stations]),
        zero_lift_angle=np.full_like(y, flow.zero_lift_angle),
        lift_slope=LIFT_SLOPE,
    )


def _moments(
    drawing: BladeDrawing, rotor: Rotor, flow: SectionFlow, condition: _Condition, mass: SpanMass | None
) -> tuple[dict[str, float], frozenset[str], tuple[Missing, ...]]:
    """Feathering moments of one blade [N m], nose-up positive; which rest on its mass; what could not be found."""
    blade, lift, speed = condition.blade, condition.lift, condition.rotor_speed
    coefficient = np.full_like(blade.y, flow.moment)
    aft = blade.chord * (QUARTER - drawing.planform.feathering_axis)
    moments = {
        "section moment": control_loads.section_moment(blade.y, blade.chord, coefficient, speed, condition.density),
        "lift offset": control_loads.lift_offset_moment(blade.y, lift.lift_per_length, aft),
    }
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
            rotor.control.counterweight, lift.collective, speed, rotor.speeds.normal
        )
    tab = tab_moment(drawing, speed, condition.density)
    if isinstance(tab, Missing):
        missing.append(tab)
    elif tab is not None:
        moments["trim tab"] = tab
    return moments, frozenset(inertia), tuple(missing)


def _inertia_moments(drawing: BladeDrawing, rotor: Rotor, condition: _Condition, mass: SpanMass) -> dict[str, float]:
    speed, lift = condition.rotor_speed, condition.lift
    pitch = lift.collective + _twist(drawing, mass.y)
    coning = control_loads.free_coning(condition.blade.y, lift.lift_per_length, mass, speed)
    # with a flapping hinge inboard of the bearing the feathering axis itself takes the coning
    tilt = coning if rotor.hub == "hinged" else (rotor.precone or 0.0)
    return {
        "propeller moment": propeller_moment(
            mass.y, mass.chordwise_inertia, mass.normal_inertia, mass.product_of_inertia, pitch, speed
        ).total,
        "mass offset times tilt of the feathering axis": control_loads.mass_offset_moment(mass, pitch, tilt, speed),
        "mass offset times coning less precone": control_loads.mass_offset_moment(mass, pitch, coning - tilt, speed),
        "weight times mass offset": control_loads.weight_moment(mass, pitch),
    }


def _state(condition: _Condition, mass: SpanMass | None) -> tuple[Figure, ...]:
    lift = condition.lift
    method = "blade elements with uniform inflow"
    figures = [
        Figure("collective", float(np.degrees(lift.collective)), "deg", method=method, validity=VALIDITY),
        Figure("inflow", lift.inflow, "m/s", method=method, validity=VALIDITY),
    ]
    if mass is not None:
        coning = control_loads.free_coning(condition.blade.y, lift.lift_per_length, mass, condition.rotor_speed)
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
    figure = _figure("trim spring", control_loads.trim_spring_force(force, rate, travel), True)
    return dataclasses.replace(figure, method="entered: force at lowest collective, less rate times travel")


def _linkage(control: ControlRun) -> control_loads.Linkage:
    return control_loads.Linkage(control.pitch_arm, control.handle_per_link, control.link_up_is, control.lever_up_is)


def _figure(name: str, value: float, validated: bool) -> Figure:
    return Figure(
        name, value + 0.0, "N", method=METHOD, validity=VALIDITY + NOT_FITTED, source="own method", validated=validated
    )


def _twist(drawing: BladeDrawing, y: Floats) -> Floats:
    stations = drawing.planform.stations
    twist: Floats = np.interp(y, [s.radius for s in stations], [s.twist for s in stations])
    return twist
