"""The steady states of the rotor that handle force and power are asked in, worked out once each."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from bladewright.design.section_flow import SectionFlow
from bladewright.drawing.blade import Planform
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.rotor import Rotor
from bladewright.engine.arrays import Floats
from bladewright.engine.rotor.atmosphere import GRAVITY, Air
from bladewright.engine.rotor.axial_flow import AxialFlow, axial_flow
from bladewright.engine.rotor.bent_blade import coned_turning_moment
from bladewright.engine.rotor.blade_element import LiftingBlade
from bladewright.engine.rotor.hover import Hover, hover_sweep, hover_with_thrust
from bladewright.engine.rotor.rotor_blade import RotorBlade

QUARTER = 0.25
STATIONS = 101  # along the lifting part
MOST_KEPT = 512
USUAL = np.radians([4.0, 8.0])  # collectives of a hover far below stall; only where a search begins
WIDER = float(np.radians(6.0))
SECANTS, MET = 8, 1e-10  # how often, and of the thrust


@dataclass(frozen=True, slots=True)
class Condition:
    """One steady state, ready for the moments; loads are of one blade."""

    collective: float  # [rad]
    inflow: float  # down through the disc, mean over it [m/s]
    rotor_speed: float  # [rad/s]
    lift_moment: float  # of the lift about the rotor axis [N m]
    torque: float  # of the air about the rotor axis, against the turning [N m]
    section_moment: float  # about the quarter chord, nose-up positive [N m]
    offset_moment: float  # of the lift about the feathering axis [N m]
    per_moment: float  # section moment for a coefficient of one all along [N m]
    turning: float  # of the coned section's turning, for each radian of coning [N m/rad]
    power: float  # of all blades, at the rotor shaft [W]
    computed_share: float  # of the blade where the section's forces were computed [1]


def hovering(drawing: BladeDrawing, rotor: Rotor, flow: SectionFlow, speed: float, air: Air) -> Condition:
    """Hover out of ground effect at the gross mass; ``CannotCarry`` says how much short."""
    return _hovering(drawing.planform, flow, rotor.blades, speed, air, rotor.gross_mass * GRAVITY)


def steady(
    drawing: BladeDrawing, rotor: Rotor, flow: SectionFlow, speed: float, air: Air, collective: float
) -> Condition:
    """Steady climb or descent at a collective [rad], carrying the gross mass."""
    return _steady(drawing.planform, flow, rotor.blades, speed, air, rotor.gross_mass * GRAVITY, collective)


def hover_state(drawing: BladeDrawing, rotor: Rotor, flow: SectionFlow, speed: float, air: Air, thrust: float) -> Hover:
    """The hover itself, for power and what stands along the blade."""
    return _hover(drawing.planform, flow, rotor.blades, speed, air, thrust)


@lru_cache(maxsize=MOST_KEPT)
def _hover(plan: Planform, flow: SectionFlow, blades: int, speed: float, air: Air, thrust: float) -> Hover:
    blade = rotor_blade(plan, flow)
    return _below_stall(blade, blades, speed, air, thrust) or hover_with_thrust(blade, blades, speed, air, thrust)


def _below_stall(blade: RotorBlade, blades: int, speed: float, air: Air, thrust: float) -> Hover | None:
    """The hover by secants from where a blade usually works; None where that does not lead straight to it."""
    older, newer = hover_sweep(blade, blades, speed, air, USUAL)
    for _ in range(SECANTS):
        if abs(newer.thrust - thrust) <= MET * thrust:
            return newer
        slope = (newer.thrust - older.thrust) / (newer.collective - older.collective)
        if not slope > 0.0:
            return None
        wanted = newer.collective + (thrust - newer.thrust) / slope
        if not USUAL[0] - WIDER < wanted < USUAL[1] + WIDER:
            return None
        older, (newer,) = newer, hover_sweep(blade, blades, speed, air, np.array([wanted]))
    return None


@lru_cache(maxsize=MOST_KEPT)
def _hovering(plan: Planform, flow: SectionFlow, blades: int, speed: float, air: Air, thrust: float) -> Condition:
    found = _hover(plan, flow, blades, speed, air, thrust)
    return _condition(found, found.induced_power / found.thrust, blades, speed, air)


@lru_cache(maxsize=MOST_KEPT)
def _steady(
    plan: Planform, flow: SectionFlow, blades: int, speed: float, air: Air, thrust: float, collective: float
) -> Condition:
    found = axial_flow(rotor_blade(plan, flow), blades, speed, air, thrust, collective)
    return _condition(found, found.inflow, blades, speed, air)


def _condition(found: Hover | AxialFlow, inflow: float, blades: int, speed: float, air: Air) -> Condition:
    parts = found.parts
    lift = found.lift_per_length * parts.length
    pressure = 0.5 * air.density * (speed * parts.y) ** 2
    return Condition(
        collective=found.collective,
        inflow=inflow,
        rotor_speed=speed,
        lift_moment=float(lift @ parts.y),
        torque=found.power / speed / blades,
        section_moment=float(found.moment_per_length @ parts.length),
        offset_moment=float(-lift @ parts.aft),
        per_moment=float((pressure * parts.chord**2) @ parts.length),
        turning=coned_turning_moment(parts.y, parts.length, parts.chord, speed, air.density),
        power=found.power,
        computed_share=found.computed_share,
    )


def rotor_blade(plan: Planform, flow: SectionFlow) -> RotorBlade:
    """The planform's lifting part with one section all along."""
    y = _stations(plan, 2)
    chord, twist = _along(plan, y)
    none = np.zeros_like(y)
    return RotorBlade(
        y=y,
        chord=chord,
        twist=twist,
        aft=chord * (QUARTER - plan.feathering_axis),
        lift_added=none,
        moment_added=none,
        sections=(flow.polar,),
        section_y=y[-1:],
    )


def lifting_part(drawing: BladeDrawing, flow: SectionFlow) -> LiftingBlade:
    """The drawing's lifting part, its stations dense enough for Simpson's rule, the drawing's own among them."""
    y = _stations(drawing.planform, STATIONS)
    chord, twist = _along(drawing.planform, y)
    return LiftingBlade(y, chord, twist, np.full_like(y, flow.zero_lift_angle), flow.lift_slope)


def _stations(plan: Planform, count: int) -> Floats:
    inner = {s.radius for s in plan.stations if plan.airfoil_start < s.radius < plan.tip}
    y = np.union1d(np.linspace(plan.airfoil_start, plan.tip, count), sorted(inner))
    return y[np.concatenate(([True], np.diff(y) > 1e-9))]


def _along(plan: Planform, y: Floats) -> tuple[Floats, Floats]:
    radii = [s.radius for s in plan.stations]
    return np.interp(y, radii, [s.chord for s in plan.stations]), np.interp(y, radii, [s.twist for s in plan.stations])
