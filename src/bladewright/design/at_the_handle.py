"""From one blade's feathering moments to what the pilot holds, cause by cause, with what is known of each.

Positive: the pilot must pull up ("heavy"). Every contribution is of all blades together, alike.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from bladewright.design.section_flow import SectionFlow
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.rotor import ControlRun, Rotor
from bladewright.engine.rotor import control_loads
from bladewright.figures import Figure, Missing

METHOD = "blade elements, rigid blade; docs/theory/control-loads"
VALIDITY = "limp in bending; an estimate until flown"
COMPUTED = 0.9  # of the blade's length: with less of it inside the section's table a figure is outside validity
NOT_FITTED = "; counterweights, springs and tabs that are not entered are taken as not fitted"
TOTAL = "collective handle force"


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
class BladeMoments:
    """What turns one blade about its feathering axis in one condition, the mean over a turn. Nose-up positive."""

    case: str
    collective: float  # [rad]
    moments: Mapping[str, float]  # by cause [N m]
    of_mass: frozenset[str]  # causes that rest on the blade's own mass
    spreads: Mapping[str, float]  # what the method leaves open, k = 2, by cause [N m]
    computed_share: float  # of the blade where the section's forces were computed [1]
    figures: tuple[Figure, ...]  # the state
    missing: tuple[Missing, ...] = ()


def at_the_handle(drawing: BladeDrawing, rotor: Rotor, flow: SectionFlow, found: BladeMoments) -> HandleForce:
    """The moments of all blades through the control run."""
    control, missing = rotor.control, found.missing
    if control is None:
        gap = Missing(TOTAL, ("rotor.control",))
        return HandleForce(found.case, None, (), None, found.figures, (*missing, gap))
    linkage = linkage_of(control)
    of_mass_sound = flow.validated and drawing.materials_validated  # coning comes from the lift
    per_moment = control_loads.handle_force(float(rotor.blades), linkage)
    inside = flow.inside and found.computed_share >= COMPUTED

    def force(name: str, value: float, sound: bool, spread: float | None) -> Figure:
        return Figure(
            name, value + 0.0, "N", None if spread is None else abs(per_moment) * spread, f"{METHOD}; {flow.method}",
            f"{VALIDITY}{NOT_FITTED}; section: {flow.validity}", inside, "own method", sound,
        )  # fmt: skip

    forces = [
        force(
            name,
            per_moment * moment,
            of_mass_sound if name in found.of_mass else flow.validated,
            found.spreads.get(name),
        )
        for name, moment in found.moments.items()
    ]
    if control.trim_spring is not None:
        rate = control.trim_spring_rate or 0.0
        forces.append(_spring(control.trim_spring, rate, rotor.collective_least, linkage, found.collective))
    figures, total, friction = found.figures, None, None
    if not missing:
        spread = math.hypot(*found.spreads.values()) if flow.moment_spread is not None else None
        total = force(TOTAL, sum(part.value for part in forces), of_mass_sound, spread)
        link = control_loads.pitch_link_force(sum(found.moments.values()), linkage)
        figures = (*figures, force("pitch-link force, push up on the horn", link, of_mass_sound, None))
    if control.trim_spring_rate and rotor.collective_least is None:
        missing = (*missing, Missing("trim spring at this collective", ("rotor.collective_least",)))
        total = None
    if control.friction is None:
        missing = (*missing, Missing("friction band of the handle force", ("rotor.control.friction",)))
    else:
        friction = Figure("friction", control.friction, "N", method="entered: the least the adjuster can be set to")
    return HandleForce(found.case, total, tuple(forces), friction, figures, missing)


def _spring(
    force: float, rate: float, least: float | None, linkage: control_loads.Linkage, collective: float
) -> Figure:
    travel = 0.0 if least is None else (collective - least) / linkage.pitch_per_handle
    value = control_loads.trim_spring_force(force, rate, travel)
    return Figure("trim spring", value, "N", method="entered: force at lowest collective, less rate times travel")


def linkage_of(control: ControlRun) -> control_loads.Linkage:
    """The control run as the engine takes it."""
    return control_loads.Linkage(control.pitch_arm, control.handle_per_link, control.link_up_is, control.lever_up_is)
