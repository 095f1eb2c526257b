"""Hover by blade elements that each meet the momentum of their own ring, with the sections' own polars."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Bools, Floats
from bladewright.engine.flow.polar import SectionForces
from bladewright.engine.rotor.atmosphere import Air
from bladewright.engine.rotor.root_finding import first_bracket, root_between
from bladewright.engine.rotor.rotor_blade import Elements, RotorBlade, element_forces, elements
from bladewright.engine.rotor.tip_loss import tip_loss
from bladewright.errors import BadInput, CannotCarry, NotConverged

SEARCHED = np.deg2rad(np.linspace(-10.0, 40.0, 51))  # [rad] collectives looked through for a thrust
ZERO_LIFT_WITHIN = 0.2  # [rad] no section of ours has its zero-lift angle further from its chord line
PARTS = 16  # of the angles of attack looked through for the first that fits
FINE = 1e-12  # [rad]
JUMP = 1e-3  # [1] of the thrust: what a ring may jump by when it stalls


@dataclass(frozen=True, slots=True)
class Hover:
    """One steady hover; what stands along the blade does so at the elements."""

    collective: float  # pitch of the section whose twist is zero [rad]
    thrust: float  # of all blades [N]
    induced_power: float  # [W]
    profile_power: float  # [W]
    figure_of_merit: float  # [1]
    computed_share: float  # of the blade's length, where the polar was computed and not extrapolated [1]
    parts: Elements
    inflow: Floats  # (e,) down through the disc at the blade [m/s]
    angle_of_attack: Floats  # (e,) [rad]
    lift_per_length: Floats  # (e,) of one blade [N/m]
    drag_per_length: Floats  # (e,) [N/m]
    moment_per_length: Floats  # (e,) about the quarter chord, nose-up positive [N m/m]
    computed: Bools  # (e,)

    @property
    def power(self) -> float:
        """At the rotor shaft. [W]"""
        return self.induced_power + self.profile_power

    @property
    def induced_factor(self) -> float:
        """Induced power over the ideal, which stands in for unevenness where the inflow is taken as even. [1]"""
        return self.induced_power / (self.figure_of_merit * self.power)


@dataclass(frozen=True, slots=True)
class _Rotor:
    """What turns in which air."""

    parts: Elements
    blades: int
    rotor_speed: float  # [rad/s]
    air: Air
    ground: float  # [1]
    lossy: bool

    def forces(self, angle: Floats) -> SectionForces:
        speed = self.rotor_speed * self.parts.y
        reynolds = self.air.density * speed * self.parts.chord / self.air.viscosity
        return element_forces(self.parts, angle, reynolds, speed / self.air.sound_speed)


def hover_sweep(
    blade: RotorBlade,
    blades: int,
    rotor_speed: float,
    air: Air,
    collectives: Floats,
    *,
    ground: float = 1.0,
    lossy_tip: bool = True,
) -> tuple[Hover, ...]:
    """Hover at each of several collectives.

    In every ring ``4 pi rho F y v |v| = N (rho/2) (W y)**2 c cl(p - k v/(W y))``; thrust is the integral of the right
    side, induced power that of it times ``k v``, profile power ``N (rho/2) (W y)**3 c cd``.

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
    collectives : (k,) array
        Pitch of the section whose twist is zero. [rad]
    ground : float
        k, induced velocity at the blade over that far from the ground: ``ground_inflow``. [1]
    lossy_tip : bool
        Whether Prandtl's factor F counts, or is one. [-]

    Returns
    -------
    tuple of Hover
        One for each collective. Where several angles of attack fit, that furthest from stall.

    Raises
    ------
    BadInput
        If the rotor speed is not positive, or the ground factor not between 0 and 1.
    NotConverged
        If an inflow is not found.

    Notes
    -----
    Sections meet the air at ``W y``, and inflow angles are small: with 10 degrees, 1.5 % of the local force. The wake
    neither turns nor contracts, and blades do not meet each other's tip vortices, so thrust at a collective comes out
    high: by a few percent for slender blades, by 20 to 35 % for an aspect ratio of 6 (see ``bladewright selfcheck``).

    Source: A. Gessow, NACA TN 1542, 1948; A. Gessow, G. C. Myers, Aerodynamics of the Helicopter, 1952 (from memory).
    """
    if not rotor_speed > 0.0:
        raise BadInput("must be positive", field="rotor_speed", value=rotor_speed, allowed="more than 0")
    if not 0.0 < ground <= 1.0:
        raise BadInput("no such ground", field="ground", value=ground, allowed="more than 0, at most 1")
    parts = elements(blade)
    rotor = _Rotor(parts, blades, rotor_speed, air, ground, lossy_tip)
    pitch = np.asarray(collectives, dtype=float)[:, None] + parts.twist
    low, high = np.minimum(pitch, 0.0) - ZERO_LIFT_WITHIN, np.maximum(pitch, 0.0) + ZERO_LIFT_WITHIN

    def too_much_air(angle: Floats) -> Floats:
        """Momentum of the ring over what the blades push, in units of the speed's square."""
        inflow = rotor_speed * parts.y * (pitch - angle) / ground
        pushed = blades * rotor_speed**2 * parts.y * parts.chord * rotor.forces(angle).lift / (8.0 * np.pi)
        return _loss(rotor, inflow) * inflow * np.abs(inflow) - pushed

    angle = root_between(too_much_air, *first_bracket(too_much_air, low, high, PARTS), FINE, "angle of attack")
    return tuple(_hover(rotor, *row) for row in zip(np.asarray(collectives, dtype=float), pitch, angle, strict=True))


def hover_with_thrust(
    blade: RotorBlade,
    blades: int,
    rotor_speed: float,
    air: Air,
    thrust: float,
    *,
    ground: float = 1.0,
    lossy_tip: bool = True,
) -> Hover:
    """The least collective at which the rotor hovers with a thrust.

    Parameters
    ----------
    blade : RotorBlade
        One of the blades. [-]
    blades : int
        How many. [-]
    rotor_speed : float
        More than zero. [rad/s]
    air : Air
        Around it. [-]
    thrust : float
        More than zero. [N]
    ground : float
        Induced velocity at the blade over that far from the ground. [1]
    lossy_tip : bool
        Whether Prandtl's factor counts. [-]

    Returns
    -------
    Hover

    Raises
    ------
    BadInput
        If rotor speed or thrust are not positive.
    CannotCarry
        If the rotor stalls first: with the greatest thrust and the collective it comes at.
    NotConverged
        If the collective is not found, or thrust jumps over the one asked for by more than 0.1 %.

    Notes
    -----
    As ``hover_sweep``. Thrust is met to 1e-9 but in the last of its rise, where ring after ring stalls: to 0.1 %.

    Source: as ``hover_sweep``.
    """
    if not thrust > 0.0:
        raise BadInput("must be positive", field="thrust", value=thrust, allowed="more than 0")

    def at(collectives: Floats) -> tuple[Hover, ...]:
        return hover_sweep(blade, blades, rotor_speed, air, collectives, ground=ground, lossy_tip=lossy_tip)

    looked = at(SEARCHED)
    if max(one.thrust for one in looked) < thrust:
        best = _greatest(at, looked)
        if best.thrust < thrust:
            raise CannotCarry(thrust, best.thrust, best.collective)
        looked = (looked[0], best)
    after = next(place for place, one in enumerate(looked) if one.thrust >= thrust)
    bounds = looked[max(after - 1, 0)].collective, looked[after].collective

    def short(collectives: Floats) -> Floats:
        return np.array([thrust - one.thrust for one in at(collectives)])

    (found,) = at(root_between(short, np.array(bounds[:1]), np.array(bounds[1:]), 1e-11, "collective"))
    if abs(found.thrust - thrust) > JUMP * thrust:
        raise NotConverged("rings stall one after another about this thrust", field="thrust", value=found.thrust)
    return found


def greatest_hover(
    blade: RotorBlade, blades: int, rotor_speed: float, air: Air, *, ground: float = 1.0, lossy_tip: bool = True
) -> Hover:
    """The hover with the greatest thrust before the rotor stalls.

    Parameters
    ----------
    blade : RotorBlade
        One of the blades. [-]
    blades : int
        How many. [-]
    rotor_speed : float
        More than zero. [rad/s]
    air : Air
        Around it. [-]
    ground : float
        Induced velocity at the blade over that far from the ground. [1]
    lossy_tip : bool
        Whether Prandtl's factor counts. [-]

    Returns
    -------
    Hover

    Raises
    ------
    BadInput
        If the rotor speed is not positive.
    NotConverged
        If an inflow is not found.

    Notes
    -----
    As good as the polars are about their greatest lift. Collectives from -10 to 40 degrees are looked through.

    Source: as ``hover_sweep``.
    """

    def at(collectives: Floats) -> tuple[Hover, ...]:
        return hover_sweep(blade, blades, rotor_speed, air, collectives, ground=ground, lossy_tip=lossy_tip)

    return _greatest(at, at(SEARCHED))


def _greatest(at: Callable[[Floats], tuple[Hover, ...]], looked: tuple[Hover, ...]) -> Hover:
    most = int(np.argmax([one.thrust for one in looked]))
    around = looked[max(most - 1, 0)].collective, looked[min(most + 1, len(looked) - 1)].collective
    return max(at(np.linspace(*around, 41)), key=lambda one: one.thrust)


def _loss(rotor: _Rotor, inflow: Floats) -> Floats | float:
    if not rotor.lossy:
        return 1.0
    tip_speed = rotor.rotor_speed * rotor.parts.radius
    return tip_loss(rotor.blades, 1.0 - rotor.parts.y / rotor.parts.radius, inflow / tip_speed)


def _hover(rotor: _Rotor, collective: float, pitch: Floats, angle: Floats) -> Hover:
    parts, density = rotor.parts, rotor.air.density
    forces = rotor.forces(angle)
    speed = rotor.rotor_speed * parts.y
    pressure = 0.5 * density * speed**2 * parts.chord
    inflow = speed * (pitch - angle)
    lift, drag = pressure * forces.lift, pressure * forces.drag
    thrust = rotor.blades * float(lift @ parts.length)
    induced = rotor.blades * float((lift * inflow) @ parts.length)
    profile = rotor.blades * float((drag * speed) @ parts.length)
    ideal = max(thrust, 0.0) ** 1.5 / np.sqrt(2.0 * density * np.pi * parts.radius**2)
    return Hover(
        collective=float(collective),
        thrust=thrust,
        induced_power=induced,
        profile_power=profile,
        figure_of_merit=float(ideal / (induced + profile)) if induced + profile > 0.0 else 0.0,
        computed_share=float(forces.computed @ parts.length / parts.length.sum()),
        parts=parts,
        inflow=inflow,
        angle_of_attack=angle,
        lift_per_length=lift,
        drag_per_length=drag,
        moment_per_length=pressure * parts.chord * forces.moment,
        computed=forces.computed,
    )
