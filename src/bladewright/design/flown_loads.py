"""What the blade bears in each manoeuvre of the flight profile: steadily, and in what goes round with the rotor."""

from dataclasses import dataclass

import numpy as np

from bladewright.design.inner_loads import InnerLoads, along_the_span, at_rest, in_flight, softest_root
from bladewright.design.load_cases import AirLoads, LoadCase
from bladewright.drawing.loads import Manoeuvre
from bladewright.drawing.rotor import Rotor
from bladewright.engine.arrays import Complexes, Floats
from bladewright.engine.dynamics.blade_beam import BladeBeam, Pattern
from bladewright.engine.dynamics.forced_response import Damping, Response, SwingingLoads, forced_response

HOUR = 3600.0  # [s]


@dataclass(frozen=True, slots=True)
class FlownLoads:
    """One manoeuvre: steady, and the amplitudes of what goes round, whose phases to each other nobody knows."""

    manoeuvre: Manoeuvre
    cycles_per_hour: float  # while it lasts [1/h]
    steady: InnerLoads
    swinging: tuple[InnerLoads, ...]  # real and imaginary part: from the lift, and from flapping against a cone

    def pairs(self) -> tuple[tuple[InnerLoads, InnerLoads], ...]:
        """Real and imaginary part of each cause."""
        return tuple(zip(self.swinging[::2], self.swinging[1::2], strict=True))


def flown_loads(manoeuvre: Manoeuvre, beam: BladeBeam, air: AirLoads, rotor: Rotor) -> FlownLoads:
    """At the greatest rotor speed of its kind, each cause answered by the blade's modes, damped by the air alone.

    The force aft of a blade that flaps by a at a cone b is ``2 W**2 a m (b y - u)`` per length (Coriolis; closed form);
    u, how far the teeter axis lies above the blades' own, takes most of it away: nought where it is not entered.
    """
    speeds = rotor.speeds
    greatest = speeds.power_on_greatest if manoeuvre.rotor == "power on" else speeds.power_off_greatest
    speed = greatest or speeds.normal
    case = LoadCase(manoeuvre.name, "flight profile", speed, load_factor=manoeuvre.load_factor)
    nothing: Complexes = np.zeros(len(beam.y), dtype=np.complex128)
    lift: Complexes = nothing + manoeuvre.lift_amplitude * manoeuvre.load_factor * air.lift
    above = (rotor.precone or 0.0) * beam.y - (rotor.teeter_undersling or 0.0)
    aft: Complexes = nothing + 2.0 * speed**2 * manoeuvre.flap_amplitude * beam.mass_per_length * above
    swinging: list[InnerLoads] = []
    for loads, harmonic in (
        (SwingingLoads(lift, nothing, nothing + lift * air.ahead), manoeuvre.harmonic),
        (SwingingLoads(nothing, aft, nothing), 1),
    ):
        answered = _answered(beam, rotor, air, speed, harmonic, loads)
        swinging += (_part(case, beam, air, answered, real) for real in (True, False))
    return FlownLoads(
        manoeuvre, speed / (2.0 * np.pi) * HOUR * manoeuvre.harmonic, in_flight(case, beam, air, rotor), tuple(swinging)
    )


def _answered(
    beam: BladeBeam, rotor: Rotor, air: AirLoads, speed: float, harmonic: int, loads: SwingingLoads
) -> Response:
    """Two blades in turn at odd harmonics and alike at even ones; the air damps flapping, nothing else is assumed."""
    pattern: Pattern = "collective" if harmonic % rotor.blades == 0 else "cyclic"
    damping = Damping(flap=air.gust * speed / air.rotor_speed)
    return forced_response(beam, softest_root(rotor), pattern, speed, harmonic, loads, damping, air.pitch)


def _part(case: LoadCase, beam: BladeBeam, air: AirLoads, answered: Response, real: bool) -> InnerLoads:
    def part(values: Complexes) -> Floats:
        return np.asarray(values.real if real else values.imag, dtype=np.float64)

    moments = (part(answered.flap_moment), part(answered.chord_moment), part(answered.torsion_moment))
    return along_the_span(case, beam, np.zeros_like(beam.y), *moments, beam.twist + air.pitch)


def standing_still(beam: BladeBeam) -> InnerLoads:
    """At rest on its stop, under its own weight."""
    return at_rest(LoadCase("at rest", "its weight on its stop", 0.0, 0.0), beam)
