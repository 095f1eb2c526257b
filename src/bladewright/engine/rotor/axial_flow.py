"""A rotor carrying a thrust at a given collective, in steady axial climb or descent, with the sections' own polars."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Bools, Floats
from bladewright.engine.rotor.atmosphere import Air
from bladewright.engine.rotor.root_finding import first_bracket, root_between
from bladewright.engine.rotor.rotor_blade import Elements, RotorBlade, element_forces, elements
from bladewright.errors import BadInput, CannotCarry

STEEPEST = 0.5  # of the tip speed: inflow looked through either way; far beyond any steady descent
PARTS = 200  # of that, looked through from descent to climb for the first that fits
FINE = 1e-12  # of the tip speed


@dataclass(frozen=True, slots=True)
class AxialFlow:
    """One steady axial condition; what stands along the blade does so at the elements."""

    collective: float  # pitch of the section whose twist is zero [rad]
    inflow: float  # uniform, down through the disc; negative in descent [m/s]
    thrust: float  # of all blades [N]
    power: float  # at the rotor shaft; negative where the air drives it [W]
    computed_share: float  # of the blade's length, where the polar was computed and not extrapolated [1]
    parts: Elements
    angle_of_attack: Floats  # (e,) [rad]
    lift_per_length: Floats  # (e,) of one blade [N/m]
    drag_per_length: Floats  # (e,) [N/m]
    moment_per_length: Floats  # (e,) about the quarter chord, nose-up positive [N m/m]
    computed: Bools  # (e,)


def axial_flow(
    blade: RotorBlade, blades: int, rotor_speed: float, air: Air, thrust: float, collective: float
) -> AxialFlow:
    """The uniform inflow at which a rotor carries a thrust at a collective.

    ``T = N integral of (rho/2) (W y)**2 c cl(p - v/(W y)) dy``; power
    ``N integral of (rho/2) (W y)**2 c (cl v/(W y) + cd) W y dy``.

    Parameters
    ----------
    blade : RotorBlade
        One of the blades. [-]
    blades : int
        N. [-]
    rotor_speed : float
        W, more than zero. [rad/s]
    air : Air
        Around it. [-]
    thrust : float
        T, more than zero. [N]
    collective : float
        Pitch of the section whose twist is zero. [rad]

    Returns
    -------
    AxialFlow

    Raises
    ------
    BadInput
        If rotor speed or thrust are not positive.
    CannotCarry
        If no inflow lets the blades lift that much: with the greatest thrust found.

    Notes
    -----
    Blade elements only, so it holds where momentum theory does not; the rotor speed is given, and power says what it
    takes to hold it there. Inflow is alike all over the disc, inflow angles are small, no tip loss. Of several inflows
    that fit, the one furthest from stall.

    Source: A. Gessow, G. C. Myers, Aerodynamics of the Helicopter, 1952, ch. 4 (from memory).
    """
    for field, value in (("rotor_speed", rotor_speed), ("thrust", thrust)):
        if not (np.isfinite(value) and value > 0.0):
            raise BadInput("must be positive", field=field, value=value, allowed="more than 0")
    parts = elements(blade)
    speed = rotor_speed * parts.y
    reynolds, mach = air.density * speed * parts.chord / air.viscosity, speed / air.sound_speed
    pressure = 0.5 * air.density * speed**2 * parts.chord
    tip_speed = rotor_speed * parts.radius

    def lacking(share: Floats) -> Floats:
        """Lift that is short of the thrust over it, at inflows as shares of the tip speed, climb counted first."""
        angle = collective + parts.twist + share[..., None] * tip_speed / speed
        forces = element_forces(parts, angle, reynolds, mach)
        lacks: Floats = 1.0 - blades * (pressure * forces.lift) @ parts.length / thrust
        return lacks

    low, high = np.array([-STEEPEST]), np.array([STEEPEST])
    bracket = first_bracket(lacking, low, high, PARTS)
    if lacking(bracket[1])[0] > 0.0:
        share = np.linspace(-STEEPEST, STEEPEST, PARTS + 1)
        raise CannotCarry(thrust, float((1.0 - lacking(share)).max() * thrust), collective)
    up = root_between(lacking, *bracket, FINE, "inflow")[0]
    angle = collective + parts.twist + up * tip_speed / speed
    forces = element_forces(parts, angle, reynolds, mach)
    lift, drag = pressure * forces.lift, pressure * forces.drag
    inflow = float(-up * tip_speed)
    return AxialFlow(
        collective=collective,
        inflow=inflow,
        thrust=blades * float(lift @ parts.length),
        power=blades * float((lift * inflow + drag * speed) @ parts.length),
        computed_share=float(forces.computed @ parts.length / parts.length.sum()),
        parts=parts,
        angle_of_attack=angle,
        lift_per_length=lift,
        drag_per_length=drag,
        moment_per_length=pressure * parts.chord * forces.moment,
        computed=forces.computed,
    )
