"""The limit cases a blade is judged in: what the air, its weight and its turning do to it, and what it bears inside.

Lift is that of the hover, scaled: where the blade would stall first it is asked to bear more than the air can give.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from bladewright.design.blade_beam import beam_gaps
from bladewright.design.conditions import QUARTER, hover_state
from bladewright.design.section_flow import section_flow
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.loads import Loads
from bladewright.drawing.rotor import Rotor
from bladewright.engine.arrays import Floats
from bladewright.engine.dynamics.blade_beam import BladeBeam
from bladewright.engine.rotor.atmosphere import GRAVITY, standard_air
from bladewright.errors import CannotCarry, NotConverged
from bladewright.figures import Missing

METHOD = "lift of the hover scaled by the load factor"
LIMITS = "limit and ultimate loads"


@dataclass(frozen=True, slots=True)
class LoadCase:
    """What is asked of the blade, before a factor."""

    name: str
    why: str  # how it came about, with its entries
    rotor_speed: float  # 0: at rest on its stop [rad/s]
    load_factor: float = 1.0  # lift over weight [1]
    gust: float = 0.0  # up [m/s]
    torque: float = 0.0  # of the shaft on one blade, at rest [N m]
    weight_factor: float = 1.0  # of the blade's own weight [1]


@dataclass(frozen=True, slots=True)
class AirLoads:
    """On one blade, per length, at the beam's stations."""

    pitch: float  # collective [rad]
    lift: Floats  # up [N/m]
    drag: Floats  # aft [N/m]
    moment: Floats  # about the quarter chord, nose-up [N m/m]
    ahead: Floats  # quarter chord ahead of the feathering axis [m]
    gust: Floats  # lift for each metre a second of a gust, at normal rotor speed [N s/m^2]
    rotor_speed: float  # they were worked out at [rad/s]


def load_cases(drawing: BladeDrawing) -> tuple[tuple[LoadCase, ...], tuple[Missing, ...]]:
    """Every case whose entries are there, and those that wait for one."""
    gaps = load_gaps(drawing)
    rotor, loads = drawing.rotor, drawing.loads
    if gaps or rotor is None or loads is None:
        return (), gaps
    wanted = tuple(_wanted(rotor, loads))
    return (
        tuple(one for one in wanted if isinstance(one, LoadCase)),
        tuple(one for one in wanted if isinstance(one, Missing)),
    )


def load_gaps(drawing: BladeDrawing) -> tuple[Missing, ...]:
    """What keeps every case from being worked out."""
    needs = tuple(name for name in ("rotor", "loads") if getattr(drawing, name) is None)
    return (*([Missing(LIMITS, needs)] if needs else []), *beam_gaps(drawing))


def _wanted(rotor: Rotor, loads: Loads) -> Iterator[LoadCase | Missing]:
    speeds = rotor.speeds
    on = speeds.power_on_greatest or speeds.normal
    fastest = speeds.power_off_greatest
    pull = loads.limit_load_factor
    yield from _as_if_entered(rotor)
    yield LoadCase("pull-up", f"load factor {pull:g} at the greatest power-on speed", on, load_factor=pull)
    if fastest is None or loads.overspeed_factor is None:
        yield _gap("overspeed", loads.overspeed_factor, "loads.overspeed_factor", "rotor.speeds.power_off_greatest")
    else:
        over = loads.overspeed_factor
        yield LoadCase("overspeed", f"{over:g} times the greatest power-off speed", over * fastest)
    if loads.gust_speed is None:
        yield Missing("gust case", ("loads.gust_speed",))
    else:
        yield LoadCase("gust", f"sharp-edged, {loads.gust_speed:.3g} m/s up, no alleviation", on, gust=loads.gust_speed)
    if fastest is None or loads.flare_factor is None:
        yield _gap("autorotation flare", loads.flare_factor, "loads.flare_factor", "rotor.speeds.power_off_greatest")
    else:
        flare = loads.flare_factor
        why = f"load factor {flare:g} at the greatest power-off speed"
        yield LoadCase("autorotation flare", why, fastest, load_factor=flare)
    if loads.start_torque is None:
        yield Missing("start-up case", ("loads.start_torque",))
    else:
        why = f"{loads.start_torque:.4g} N m at the shaft, the rotor still at rest"
        yield LoadCase("start-up", why, 0.0, 0.0, torque=loads.start_torque / rotor.blades)
    if loads.droop_stop_factor is None:
        yield Missing("droop-stop case", ("loads.droop_stop_factor",))
    else:
        hit = loads.droop_stop_factor
        yield LoadCase("droop-stop", f"{hit:g} times its weight, at rest on its stop", 0.0, 0.0, weight_factor=hit)


def _as_if_entered(rotor: Rotor) -> Iterator[Missing]:
    """What every case goes without where it is not entered; none of it is on the safe side."""
    run = rotor.control
    soft = "rotor.control" if run is None else "" if run.stiffness_low is not None else "rotor.control.stiffness_low"
    if soft:
        yield Missing("loads with the softest control run", (soft,))
    if rotor.speeds.power_on_greatest is None:
        yield Missing("pull-up and gust at the greatest power-on speed", ("rotor.speeds.power_on_greatest",))
    if rotor.precone is None and rotor.hub != "hinged":
        yield Missing("bending by a cone that is built in", ("rotor.precone",))


def _gap(name: str, factor: float | None, entry: str, speed: str) -> Missing:
    return Missing(f"{name} case", (entry if factor is None else speed,))


def air_loads(drawing: BladeDrawing, beam: BladeBeam) -> AirLoads | Missing:
    """The hover at gross mass and normal speed, along the beam."""
    rotor = drawing.rotor
    if rotor is None:
        return Missing(LIMITS, ("rotor",))
    flow, air, speed = section_flow(drawing), standard_air(), rotor.speeds.normal
    try:
        state = hover_state(drawing, rotor, flow, speed, air, rotor.gross_mass * GRAVITY)
    except CannotCarry:
        return Missing(LIMITS, ("a rotor that hovers: it stalls first",))
    except NotConverged as error:
        return Missing(LIMITS, (f"a hover that settles at this mass and speed: {error.what}",))

    def along(values: Floats) -> Floats:
        return np.interp(beam.y, state.parts.y, values, left=0.0)

    lifting = beam.y >= drawing.planform.airfoil_start
    stations = drawing.planform.stations
    chord = np.interp(beam.y, [s.radius for s in stations], [s.chord for s in stations])
    return AirLoads(
        pitch=state.collective,
        lift=along(state.lift_per_length) * lifting,
        drag=along(state.drag_per_length) * lifting,
        moment=along(state.moment_per_length) * lifting,
        ahead=(drawing.planform.feathering_axis - QUARTER) * chord,
        gust=0.5 * air.density * flow.lift_slope * chord * speed * beam.y * lifting,
        rotor_speed=speed,
    )
