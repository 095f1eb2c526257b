"""The states a drawn blade may get into, and where flutter or divergence begins in each: numbers, not yet judged."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from bladewright.design.added_mass import AddedAlong, added_along
from bladewright.design.blade_air import FASTEST, blade_air, tip_mach
from bladewright.design.blade_beam import blade_beam
from bladewright.design.blade_root import blade_root
from bladewright.design.control_runs import LOOSE, RPM, ControlRun, control_runs, greatest_speed, slowest_speed
from bladewright.design.elastic_blade import LOOKED_THROUGH, Turning, elastic_blade_onsets, with_added
from bladewright.design.spanwise import spanwise
from bladewright.design.stiff_blade import Onset, stiff_blade_onsets
from bladewright.design.turning_mass import TurningMass, turning_mass
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.limits import AddedMass, FlutterLimits
from bladewright.drawing.rotor import Rotor
from bladewright.engine.dynamics.blade_beam import BladeBeam
from bladewright.engine.dynamics.strip_air import StripAir

SPEEDS = 9  # looked at, from the slowest to the greatest times the factor
USUAL_FACTOR = 1.15  # of the greatest rotor speed, where none is entered; common practice, no source
AS_DRAWN, LOST = "as drawn", "tip weight lost"
FAST = "never-exceed speed, advancing blade"


@dataclass(frozen=True, slots=True)
class State:
    """The blade as drawn, or as service leaves it."""

    name: str
    mass: TurningMass
    beam: BladeBeam
    forward: float = 0.0  # air from ahead [m/s]

    def with_added(self, added: AddedAlong) -> "State":
        """The same blade with a coat, water or tape on it."""
        return State(added.name, self.mass.with_added(added), with_added(self.beam, added))


@dataclass(frozen=True, slots=True)
class MarginCase:
    """One state of the blade: where its mass lies, and what begins first when it moves aft."""

    name: str  # "as drawn", "a second coat of paint", ...
    slack: bool  # within the slack of the control run, not held by it
    offset: float  # centre of mass weighted by radius, aft of the feathering axis [m]
    onset: Onset | None  # the first to begin; None where nothing does within what a blade can have
    onsets: tuple[Onset, ...]  # every control run and speed
    bound: float  # how far aft was looked, or could all of a stiff blade's mass lie, whichever is less [m]
    stiff: float | None  # what it could move aft if it neither bent nor twisted [m]

    @property
    def aft(self) -> float | None:
        """How far the centre may move aft; below zero it is beyond. None: nothing begins. [m]"""
        if self.onset is None or self.onset.offset is None:
            return None
        return self.onset.offset - self.offset

    @property
    def spread(self) -> float | None:
        """How well it is known, k = 2: how far the lesser theory is from it; None where either finds nothing. [m]"""
        return None if self.aft is None or self.stiff is None else abs(self.aft - self.stiff)

    @property
    def first(self) -> str:
        """What begins first, with which control run and at what rotor speed."""
        if self.onset is None:
            return "anything begins, further than was looked"
        return f"{self.onset.motion}, {self.onset.control}, {RPM * self.onset.speed:.0f} rpm"


def held_and_loose(rotor: Rotor) -> tuple[tuple[ControlRun, ...], ...]:
    """Soft and stiff; and loose within its slack, unless the drawing says there is none."""
    no_slack = rotor.control is not None and rotor.control.backlash == 0.0
    return (control_runs(rotor),) if no_slack else (control_runs(rotor), (ControlRun(LOOSE, 0.0),))


def may_be_asked(state: State, runs: Sequence[ControlRun]) -> bool:
    """Not of a blade frozen at one side with a loose run: free blades lean over as a whole, frozen ones cannot."""
    return not (state.forward and runs[0].words == LOOSE)


def airs_of(drawing: BladeDrawing, rotor: Rotor, limits: FlutterLimits | None) -> Iterator[tuple[float, StripAir]]:
    factor = limits.speed_factor if limits else USUAL_FACTOR
    greatest = greatest_speed(rotor)
    for speed in np.union1d(np.linspace(slowest_speed(rotor), factor * greatest, SPEEDS), [greatest]):
        yield float(speed), blade_air(drawing, float(speed), rotor.blades)


def states_of(drawing: BladeDrawing, rotor: Rotor, coats: Sequence[AddedMass]) -> Iterator[State]:
    """As drawn; then with each coat asked about, or fast, with each change the drawing names, its tip weight lost."""
    drawn = State(AS_DRAWN, turning_mass(spanwise(drawing).mass), blade_beam(drawing))
    yield drawn
    for coat in coats:
        yield drawn.with_added(added_along(drawing, coat, "paint"))
    if coats:
        return
    fast = rotor.never_exceed_speed
    if fast is not None and tip_mach(drawing, greatest_speed(rotor), fast) <= FASTEST:
        yield State(FAST, drawn.mass, drawn.beam, fast)
    for number, change in enumerate(drawing.limits.flutter.changes if drawing.limits.flutter else (), start=1):
        yield drawn.with_added(added_along(drawing, change, f"limits.flutter.changes.{number}"))
    if drawing.tip_weight is not None:
        bare = drawing.model_copy(update={"tip_weight": None})
        yield State(LOST, turning_mass(spanwise(bare).mass), blade_beam(bare))


def cases_of(
    drawing: BladeDrawing,
    rotor: Rotor,
    state: State,
    groups: Sequence[tuple[ControlRun, ...]],
    airs: Sequence[tuple[float, StripAir]],
) -> Iterator[MarginCase]:
    """The first to begin with each group of control runs, of the blade as it bends, and of a stiff one beside it."""
    asked = [group for group in groups if may_be_asked(state, group)]
    turning, greatest = turning_of(rotor, state, sum(asked, ()), airs), greatest_speed(rotor)
    if state.forward:
        air = blade_air(drawing, greatest, rotor.blades, state.forward)
        turning = replace(turning, air=air, fastest=greatest, forward=state.forward)
    every, offset = elastic_blade_onsets(state.beam, turning), state.mass.offset
    bound = (state.mass.pitch_inertia * state.mass.flap_inertia) ** 0.5 / state.mass.span_moment - offset
    for group in asked:
        stiff = None  # the stiff blade knows no forward flight
        if not state.forward:
            stiff = _first(tuple(stiff_blade_onsets(state.mass, group, _within(airs, turning.fastest))))
        aft = None if stiff is None or stiff.offset is None else stiff.offset - offset
        words = {run.words for run in group}
        onsets = tuple(onset for onset in every if onset.control in words)
        slack = group[0].words == LOOSE
        yield MarginCase(state.name, slack, offset, _first(onsets), onsets, min(bound, LOOKED_THROUGH), aft)


def turning_of(
    rotor: Rotor, state: State, runs: tuple[ControlRun, ...], airs: Sequence[tuple[float, StripAir]]
) -> Turning:
    """Up to the factor on the greatest rotor speed; a blade that lost its weight has failed: only where it may turn."""
    asked = _within(airs, greatest_speed(rotor)) if state.name == LOST else airs
    (slowest, _), (fastest, air) = asked[0], asked[-1]
    root = blade_root(rotor, runs[0].stiffness)
    return Turning(root, air, runs, slowest, fastest, rotor.collective_least or 0.0)


def _within(airs: Sequence[tuple[float, StripAir]], fastest: float) -> Sequence[tuple[float, StripAir]]:
    return [(speed, air) for speed, air in airs if speed <= fastest]


def _first(onsets: Sequence[Onset]) -> Onset | None:
    """The one that needs the least of the mass aft; None where nothing begins."""
    begun = [(onset.offset, at) for at, onset in enumerate(onsets) if onset.offset is not None]
    return onsets[min(begun)[1]] if begun else None
