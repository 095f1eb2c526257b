"""What the blade bears in each manoeuvre of the flight profile: steadily, and in what goes round with the rotor.

The part that goes round is taken as standing still at its greatest: no amplification by a mode near its harmonic, which
the frequencies are asked about. Where the hub lets the blades flap it lets them flap with it.
"""

import dataclasses
from dataclasses import dataclass

import numpy as np

from bladewright.design.inner_loads import InnerLoads, at_rest, in_flight, in_section_axes
from bladewright.design.load_cases import AirLoads, LoadCase
from bladewright.drawing.loads import Manoeuvre
from bladewright.drawing.rotor import Rotor
from bladewright.engine.dynamics.blade_beam import BladeBeam
from bladewright.engine.dynamics.taut_blade import Held, taut_blade

HOUR = 3600.0  # [s]


@dataclass(frozen=True, slots=True)
class FlownLoads:
    """One manoeuvre: steady, and the amplitudes of what goes round, whose phases nobody knows."""

    manoeuvre: Manoeuvre
    cycles_per_hour: float  # while it lasts [1/h]
    steady: InnerLoads
    flapping: InnerLoads  # lift's amplitude, without pull
    swinging: InnerLoads  # in the plane, from flapping against a cone, without pull


def flown_loads(manoeuvre: Manoeuvre, beam: BladeBeam, air: AirLoads, rotor: Rotor) -> FlownLoads:
    """At the greatest rotor speed of its kind.

    The force aft of a blade that flaps by a at a cone b is ``2 W**2 a b m y`` per length (Coriolis; closed form).
    """
    speeds = rotor.speeds
    greatest = speeds.power_on_greatest if manoeuvre.rotor == "power on" else speeds.power_off_greatest
    speed = greatest or speeds.normal
    case = LoadCase(manoeuvre.name, "flight profile", speed, load_factor=manoeuvre.load_factor)
    none = np.zeros_like(beam.y)
    held = Held(None if _flaps(rotor, manoeuvre.harmonic) else 0.0, 0.0)
    swing = manoeuvre.lift_amplitude * manoeuvre.load_factor * air.lift
    aft = 2.0 * speed**2 * manoeuvre.flap_amplitude * (rotor.precone or 0.0) * beam.mass_per_length * beam.y
    level = np.zeros_like(beam.y)
    plain = _without_offsets(beam)
    parts = []
    for lift, drag in ((swing, level), (level, aft)):
        bent = taut_blade(plain, held, speed, lift, drag, air.pitch)
        parts.append(in_section_axes(case, beam, none, bent.flap_moment, bent.chord_moment, none, air.pitch))
    return FlownLoads(
        manoeuvre, speed / (2.0 * np.pi) * HOUR * manoeuvre.harmonic, in_flight(case, beam, air, rotor), *parts
    )


def _flaps(rotor: Rotor, harmonic: int) -> bool:
    """A teetering hub gives way to what its two blades do in turn, a hinge to everything."""
    return rotor.hub == "hinged" or (rotor.hub == "teetering" and harmonic % 2 == 1)


def standing_still(beam: BladeBeam) -> InnerLoads:
    """At rest on its stop, under its own weight."""
    return at_rest(LoadCase("at rest", "its weight on its stop", 0.0, 0.0), beam)


def _without_offsets(beam: BladeBeam) -> BladeBeam:
    """The same, its pull through its elastic centre: what pulls off it is steady and belongs to the steady part."""
    return dataclasses.replace(
        beam, mass_x=0.0 * beam.y, mass_z=0.0 * beam.y, elastic_x=0.0 * beam.y, elastic_z=0.0 * beam.y
    )
