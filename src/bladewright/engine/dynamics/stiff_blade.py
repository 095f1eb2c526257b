"""The drawn blade as if it neither bent nor twisted: the numbers the quick screen asks for."""

import numpy as np

from bladewright.engine.arrays import require_finite
from bladewright.engine.dynamics.along_span import span_points
from bladewright.engine.dynamics.blade_beam import BladeBeam
from bladewright.engine.dynamics.changed_mass import span_weighted_offset
from bladewright.engine.dynamics.pitch_flap import PitchFlap
from bladewright.engine.dynamics.strip_air import StripAir, met
from bladewright.errors import BadInput


def as_stiff_blade(
    beam: BladeBeam, air: StripAir, control_stiffness: float, rotor_speed: float
) -> tuple[PitchFlap, float]:
    """Pitch and flap of the blade, hinged at the rotor axis, and its mass offset as they take it.

    Parameters
    ----------
    beam : BladeBeam
        [-]
    air : StripAir
        [-]
    control_stiffness : float
        About the feathering axis. [N m/rad]
    rotor_speed : float
        [rad/s]

    Returns
    -------
    tuple of PitchFlap and float
        The offset is the integral of mass, place aft and radius over flap inertia. [1]

    Raises
    ------
    BadInput
        If the rotor does not turn, or a number is not finite.

    Notes
    -----
    Integrals along the blade stand for those of a uniform one: the Lock number is eight times the damping of flap over
    flap inertia and speed. A flat blade: the inertia of its thickness is left out. A held control has no screen.

    Source: W. Johnson, Helicopter Theory, 1980, ch. 12 (from memory); docs/theory/flutter.
    """
    require_finite(np.array([control_stiffness]), "control_stiffness")
    require_finite(np.array([rotor_speed]), "rotor_speed")
    if rotor_speed <= 0.0:
        raise BadInput("the rotor does not turn", field="rotor_speed", value=rotor_speed, allowed="more than zero")
    y, length = span_points(np.union1d(beam.y, air.y[(air.y > beam.y[0]) & (air.y < beam.y[-1])]))
    chord, slope, centre = (np.interp(y, air.y, one) for one in (air.chord, air.lift_slope, air.aerodynamic_centre))
    mass, inertia = (np.interp(y, beam.y, one) for one in (beam.mass_per_length, beam.chordwise_inertia))
    chord = chord * met(air, y)
    lift, weights = 0.5 * air.density * slope * chord, beam.masses
    flap = float(mass * y**2 @ length) + sum(one.mass * one.y**2 for one in weights)
    span_moment = float(mass * y @ length) + sum(one.mass * one.y for one in weights)
    pitch = float(inertia @ length) + sum(one.mass * one.x**2 for one in weights)
    lock_number = 8.0 * float(lift * y**3 @ length) / flap
    model = PitchFlap(
        lock_number=lock_number,
        flap_frequency=1.0,
        pitch_inertia=pitch / flap,
        pitch_damping=float(np.pi * air.density * chord**3 * y / 8.0 @ length) / flap,
        control_frequency=float(np.sqrt(control_stiffness / pitch)) / rotor_speed,
        aerodynamic_centre=6.0 * float(lift * centre * y**2 @ length) / flap / lock_number,
    )
    return model, span_weighted_offset(beam) * span_moment / flap
