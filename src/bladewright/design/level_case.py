"""What the pilot holds, and what it takes, in level flight up to never-exceed speed. An estimate until flown."""

import numpy as np

from bladewright.design.at_the_handle import METHOD, BladeMoments, HandleForce, at_the_handle, linkage_of
from bladewright.design.conditions import rotor_blade
from bladewright.design.handle_force import (
    BENDING,
    BENT_DRAG,
    BENT_MASS,
    POWER,
    PROPELLER,
    SECTION,
    TILTED_MASS,
    TURNING,
    WEIGHT,
    pitch_spread,
)
from bladewright.design.section_flow import SectionFlow, section_flow
from bladewright.design.spanwise import mass_gaps, span_mass
from bladewright.design.trim_tab import tab_moment
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.rotor import Rotor as DrawnRotor
from bladewright.engine.rotor.atmosphere import GRAVITY, standard_air
from bladewright.engine.rotor.control_harmonics import sum_of_blades
from bladewright.engine.rotor.control_loads import handle_force
from bladewright.engine.rotor.feathering import Counterweights, FeatheringMoment, feathering_moment
from bladewright.engine.rotor.level_flight import SteadyFlight, level_flight
from bladewright.engine.rotor.rotor import STANDARD, Flight, Modelled, Rotor
from bladewright.engine.rotor.span_mass import SpanMass
from bladewright.errors import NotConverged
from bladewright.figures import Figure, Missing

CASE = "never-exceed speed"
VALIDITY = "level flight, straight inflow, sections that answer at once; outside where the retreating blade stalls"
#: what the engine calls a cause, and what the pilot's page does
CAUSES = {
    "section_moment": SECTION,
    "pitch_rate": TURNING,
    "lift_offset": "lift offset",
    "propeller_moment": PROPELLER,
    "tilt_offset": TILTED_MASS,
    "bent_offset": BENT_MASS,
    "bent_drag": BENT_DRAG,
    "weight": WEIGHT,
    "counterweights": "counterweights",
}
OF_MASS = frozenset({TURNING, PROPELLER, TILTED_MASS, BENT_MASS, BENT_DRAG, WEIGHT})


def never_exceed_case(
    drawing: BladeDrawing,
    *,
    mass: SpanMass | None = None,
    flow: SectionFlow | None = None,
    model: Modelled = STANDARD,
) -> HandleForce:
    """Level flight at never-exceed speed, gross mass, normal rotor speed, sea level."""
    flow = section_flow(drawing) if flow is None else flow
    mass = span_mass(drawing) if mass is None else mass
    rotor = drawing.rotor
    gap = level_gap(drawing, mass)
    if rotor is None or mass is None or gap is not None or rotor.never_exceed_speed is None:
        needs = gap.needs if gap is not None else ("rotor.never_exceed_speed",)
        return HandleForce(CASE, None, (), None, flow.figures, (Missing(f"handle force at {CASE}", needs),))
    try:
        state = level_state(drawing, rotor, flow, mass, rotor.never_exceed_speed, model)
    except NotConverged:
        stalled = Missing(f"handle force at {CASE}", ("a steady state: the rotor stalls first",))
        return HandleForce(CASE, None, (), None, flow.figures, (stalled,))
    return at_the_handle(drawing, rotor, flow, _moments(drawing, rotor, flow, mass, state))


def level_gap(drawing: BladeDrawing, mass: SpanMass | None) -> Missing | None:
    """What keeps level flight from being worked out."""
    rotor = drawing.rotor
    if rotor is None:
        return Missing("level flight", ("rotor",))
    needs = [need for gap in mass_gaps(drawing) for need in gap.needs] if mass is None else []
    needs += ["rotor.drag_area"] if rotor.drag_area is None else []
    needs += ["a hub that lets the blades flap"] if rotor.hub == "rigid" else []
    needs += ["two blades on a teetering hub"] if rotor.hub == "teetering" and rotor.blades != 2 else []
    return Missing("level flight", tuple(needs)) if needs else None


def level_state(
    drawing: BladeDrawing,
    rotor: DrawnRotor,
    flow: SectionFlow,
    mass: SpanMass,
    speed: float,
    model: Modelled = STANDARD,
) -> SteadyFlight:
    """The rotor at a flight speed [m/s], at sea level; ``NotConverged`` where it cannot fly so."""
    return level_flight(
        turning_rotor(drawing, rotor, flow, mass), level_task(rotor, speed), rotor.speeds.normal, model=model
    )


def turning_rotor(drawing: BladeDrawing, rotor: DrawnRotor, flow: SectionFlow, mass: SpanMass) -> Rotor:
    """The drawn rotor as the engine takes it."""
    blade = rotor_blade(drawing.planform, flow)
    if rotor.hub == "teetering":
        return Rotor(blade, mass, rotor.blades, "teetering")
    return Rotor(blade, mass, rotor.blades, "hinged", rotor.hinge_offset)


def level_task(rotor: DrawnRotor, speed: float) -> Flight:
    """Weight and drag to be carried at a flight speed [m/s]."""
    return Flight(speed, rotor.gross_mass * GRAVITY, rotor.drag_area or 0.0, standard_air())


def _moments(
    drawing: BladeDrawing, rotor: DrawnRotor, flow: SectionFlow, mass: SpanMass, state: SteadyFlight
) -> BladeMoments:
    control, precone, speed = rotor.control, rotor.precone or 0.0, state.setting.rotor_speed
    weights = None
    if control is not None and control.counterweight is not None:
        weights = Counterweights(control.counterweight, rotor.speeds.normal)
    turning = feathering_moment(state, precone=precone, counterweights=weights)
    moments = {words: float(getattr(turning, name).mean()) for name, words in CAUSES.items()}
    if weights is None:
        del moments["counterweights"]
    missing: tuple[Missing, ...] = ()
    tab = tab_moment(drawing, speed, state.disc.flight.air.density)
    if isinstance(tab, Missing):
        missing = (tab,)
    elif tab is not None:
        moments["trim tab"] = tab
    spreads = {name: BENDING * abs(moments[name]) for name in (BENT_MASS, BENT_DRAG)}
    spreads[PROPELLER] = pitch_spread(mass, speed, flow)
    if flow.moment_spread is not None:
        spreads[SECTION] = flow.moment_spread * _per_moment(state)
    return BladeMoments(
        case=CASE,
        collective=state.setting.collective,
        moments=moments,
        of_mass=OF_MASS,
        spreads=spreads,
        computed_share=state.computed_share,
        figures=(*flow.figures, *_state(rotor, state, turning)),
        missing=missing,
    )


def _per_moment(state: SteadyFlight) -> float:
    """Section moment for a coefficient of one all along, the mean over a turn. [N m]"""
    loads, parts = state.loads, state.disc.parts
    pressure = 0.5 * state.disc.flight.air.density * (loads.tangential**2 + loads.normal**2)
    return float(((pressure * parts.chord**2) @ parts.length).mean())


def _state(rotor: DrawnRotor, state: SteadyFlight, turning: FeatheringMoment) -> tuple[Figure, ...]:
    setting = state.setting
    rows = [
        ("collective", float(np.degrees(setting.collective)), "deg"),
        (POWER, state.power, "W"),
        ("free coning", float(np.degrees(setting.coning)), "deg"),
        ("cyclic pitch, fore and aft", float(np.degrees(setting.sine_pitch)), "deg"),
        ("cyclic pitch, side to side", float(np.degrees(setting.cosine_pitch)), "deg"),
        ("nose-down tilt of the shaft", float(np.degrees(setting.tilt)), "deg"),
        ("advance ratio", state.advance_ratio, "1"),
        ("Mach number of the advancing tip", state.advancing_tip_mach, "1"),
    ]
    if rotor.control is not None:
        shaking = sum_of_blades(turning.total, rotor.blades, 1)
        per_moment = abs(handle_force(1.0, linkage_of(rotor.control)))
        rows.append(
            (f"shaking of the handle, {rotor.blades} per revolution", per_moment * float(shaking.amplitude[0]), "N")
        )
    return tuple(Figure(name, value, unit, method=METHOD, validity=VALIDITY) for name, value, unit in rows)
