"""How far aft the mass centre may move before the drawn blade flutters or twists off, as drawn and in service."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from bladewright.design.added_mass import AddedAlong, added_along
from bladewright.design.blade_air import METHOD as AIR
from bladewright.design.blade_air import blade_air
from bladewright.design.blade_beam import beam_gaps, blade_beam
from bladewright.design.blade_root import blade_root
from bladewright.design.control_runs import (
    LOOSE,
    RPM,
    ControlRun,
    control_runs,
    greatest_speed,
    root_gaps,
    slowest_speed,
)
from bladewright.design.elastic_blade import LOOKED_THROUGH, elastic_blade_onsets, with_added
from bladewright.design.section_flow import section_flow
from bladewright.design.spanwise import spanwise
from bladewright.design.stiff_blade import Onset, stiff_blade_onsets
from bladewright.design.turning_mass import TurningMass, turning_mass
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.limits import AddedMass, FlutterLimits
from bladewright.drawing.rotor import Rotor
from bladewright.engine.dynamics.blade_beam import BladeBeam
from bladewright.engine.dynamics.strip_air import StripAir
from bladewright.figures import Figure, Finding, Missing, Outcome, in_both_units

PROOF = "weighing"  # the proof that the mass lies where the drawing says
ANSWER = "margin against flutter and divergence"
MILLI = 1e3
SPEEDS = 9  # looked at, from the slowest to the greatest times the factor
USUAL_FACTOR = 1.15  # of the greatest rotor speed, where none is entered; common practice, no source
AS_DRAWN, LOST = "as drawn", "tip weight lost"
METHOD = (
    f"turning beam in strip air, roots of its lowest shapes; {AIR}, as at the greatest rotor speed; uncertainty: "
    "difference to a stiff blade that only flaps and turns against its control run; docs/theory/flutter"
)
VALIDITY = (
    "hover, sea level, attached flow, lift in step with the motion, structural damping not counted; a screen: forward "
    "flight is not in it"
)
SOURCE = "T. Theodorsen, NACA Report 496, 1935; W. Johnson, Helicopter Theory, 1980, ch. 12 (from memory)"
NEXT = "mass ahead (nose, tip weight), a stiffer control run, or a person with design authority and a test"


@dataclass(frozen=True, slots=True)
class State:
    """The blade as drawn, or as service leaves it."""

    name: str
    mass: TurningMass
    beam: BladeBeam

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


@dataclass(frozen=True, slots=True)
class FlutterMargin:
    """The blade as drawn first, then with what it may take on or lose, each judged."""

    cases: tuple[MarginCase, ...]
    asked: float | None  # least the mass centre must be able to move aft [m]
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]
    missing: tuple[Missing, ...]


def flutter_margin(drawing: BladeDrawing, coats: Sequence[AddedMass] = ()) -> FlutterMargin:
    """The blade as drawn and in every state the drawing names; where coats are asked about, with those instead."""
    gaps = (*beam_gaps(drawing), *root_gaps(drawing, ANSWER))
    rotor = drawing.rotor
    if gaps or rotor is None:
        return FlutterMargin((), None, (), (), gaps)
    limits, runs = drawing.limits.flutter, held_and_loose(rotor)
    airs = tuple(_airs(drawing, rotor, limits))
    states = tuple(_states(drawing, coats))
    cases = tuple(_case(rotor, state, run, airs) for run in runs for state in states)
    figures = (*_places(drawing, cases[0], airs[-1][1]), *(_figure_of(drawing, case) for case in cases))
    missing = [] if limits else [Missing("judgement of flutter and divergence", ("limits.flutter",))]
    if rotor.control is not None and rotor.control.backlash is None:
        missing.append(Missing("flutter with slack in the control run, taken as loose", ("rotor.control.backlash",)))
    findings = tuple(_judged(drawing, case, limits) for case in sorted(cases, key=_nearness)) if limits else ()
    return FlutterMargin(cases, limits.centre_margin if limits else None, figures, findings, tuple(missing))


def as_drawn(found: FlutterMargin) -> str:
    """The margin of the blade as drawn, its pitch held, in a sentence; empty where there is none."""
    if not found.cases or found.cases[0].aft is None:
        return ""
    case = found.cases[0]
    known = "not quantified" if case.spread is None else f"{MILLI * case.spread:.2g} mm"
    return f"As drawn the mass centre may move aft by {MILLI * case.aft:.2g} mm (+/- {known}) before {case.first}. "


def held_and_loose(rotor: Rotor) -> tuple[tuple[ControlRun, ...], ...]:
    """Soft and stiff; and loose within its slack, unless the drawing says there is none."""
    no_slack = rotor.control is not None and rotor.control.backlash == 0.0
    return (control_runs(rotor),) if no_slack else (control_runs(rotor), (ControlRun(LOOSE, 0.0),))


def _airs(drawing: BladeDrawing, rotor: Rotor, limits: FlutterLimits | None) -> Iterator[tuple[float, StripAir]]:
    factor = limits.speed_factor if limits else USUAL_FACTOR
    greatest = greatest_speed(rotor)
    for speed in np.union1d(np.linspace(slowest_speed(rotor), factor * greatest, SPEEDS), [greatest]):
        yield float(speed), blade_air(drawing, float(speed), rotor.blades)


def _states(drawing: BladeDrawing, coats: Sequence[AddedMass]) -> Iterator[State]:
    """As drawn; then with each coat asked about, or with each change the drawing names and with its tip weight lost."""
    drawn = State(AS_DRAWN, turning_mass(spanwise(drawing).mass), blade_beam(drawing))
    yield drawn
    for coat in coats:
        yield drawn.with_added(added_along(drawing, coat, "paint"))
    if coats:
        return
    for number, change in enumerate(drawing.limits.flutter.changes if drawing.limits.flutter else (), start=1):
        yield drawn.with_added(added_along(drawing, change, f"limits.flutter.changes.{number}"))
    if drawing.tip_weight is not None:
        bare = drawing.model_copy(update={"tip_weight": None})
        yield State(LOST, turning_mass(spanwise(bare).mass), blade_beam(bare))


def _case(rotor: Rotor, state: State, runs: Sequence[ControlRun], airs: Sequence[tuple[float, StripAir]]) -> MarginCase:
    """The first to begin with any of these control runs, of the blade as it bends, and of a stiff one beside it."""
    if state.name == LOST:  # it has failed already: asked is only that nothing begins where it may turn
        airs = [(speed, air) for speed, air in airs if speed <= greatest_speed(rotor)]
    ends = airs[0][0], airs[-1][0]
    root, pitch = blade_root(rotor, runs[0].stiffness), rotor.collective_least or 0.0
    onsets = elastic_blade_onsets(state.beam, root, airs[-1][1], runs, ends, pitch)
    first, stiff = _first(onsets), _first(tuple(stiff_blade_onsets(state.mass, runs, airs)))
    offset = state.mass.offset
    bound = (state.mass.pitch_inertia * state.mass.flap_inertia) ** 0.5 / state.mass.span_moment - offset
    aft = None if stiff is None or stiff.offset is None else stiff.offset - offset
    return MarginCase(state.name, runs[0].words == LOOSE, offset, first, onsets, min(bound, LOOKED_THROUGH), aft)


def _first(onsets: Sequence[Onset]) -> Onset | None:
    """The one that needs the least of the mass aft; None where nothing begins."""
    begun = [(onset.offset, at) for at, onset in enumerate(onsets) if onset.offset is not None]
    return onsets[min(begun)[1]] if begun else None


def _nearness(case: MarginCase) -> float:
    """The nearest to its onset first; where nothing begins, last. [m]"""
    return np.inf if case.aft is None else case.aft


def _places(drawing: BladeDrawing, case: MarginCase, air: StripAir) -> tuple[Figure, ...]:
    """The two offsets that flutter turns on, apart from each other."""
    weights = air.lift_slope * air.chord * air.y**2
    centre = float(np.trapezoid(weights * air.aerodynamic_centre, air.y) / np.trapezoid(weights, air.y))
    flow = section_flow(drawing)
    return (
        Figure(
            "centre of mass weighted by radius, aft of the feathering axis", MILLI * case.offset, "mm",
            method="integral of m x r over integral of m r, drawn parts",
            source="entered dimensions and materials", validated=drawing.materials_validated,
        ),
        Figure(
            "aerodynamic centre, aft of the feathering axis", MILLI * centre, "mm",
            method=f"slope of moment over lift of the section, weighted by chord and radius squared; {flow.method}",
            validity=flow.validity, inside_validity=flow.inside, source=flow.source, validated=flow.validated,
        ),
    )  # fmt: skip


def _figure_of(drawing: BladeDrawing, case: MarginCase) -> Figure:
    """The margin of one state; where nothing begins, as far as all of a blade's mass could lie."""
    flow = section_flow(drawing)
    return Figure(
        f"{case.name}: mass centre may move aft before {case.first}",
        MILLI * (case.bound if case.aft is None else case.aft),
        "mm",
        None if case.spread is None else MILLI * case.spread,
        method=METHOD,
        validity=VALIDITY,
        inside_validity=flow.inside,
        source=SOURCE,
        validated=drawing.materials_validated and flow.validated,
    )


def _judged(drawing: BladeDrawing, case: MarginCase, limits: FlutterLimits) -> Finding:
    """Beyond the onset or short of the margin asked for; else for a person while nobody says how well it is known."""
    figure, asked = _figure_of(drawing, case), 0.0 if case.name == LOST else limits.centre_margin
    outcome, told = _outcome(drawing, case, figure, asked)
    place = "within the slack" if case.slack else "held"
    return Finding(
        f"flutter and divergence, {place}, {case.name}", outcome, told, PROOF, worst=figure,
        limit=f"at least {MILLI * asked:.3g} mm{' up to the greatest rotor speed' if case.name == LOST else ''}",
        limit_source=limits.source or "", deviable=False,
        next_step="" if outcome is Outcome.PASS else NEXT,
        would_change="another mass along the chord; a stiffer or tighter control run; a ground vibration test",
    )  # fmt: skip


def _outcome(drawing: BladeDrawing, case: MarginCase, figure: Figure, asked: float) -> tuple[Outcome, str]:
    shown, needed = in_both_units(figure), f"{MILLI * asked:.3g} mm"
    if case.aft is None:
        return Outcome.REFER, "Nothing begins however far aft the mass lies; it is a screen, so a person looks."
    told = f"The mass centre may move aft by {shown} before {case.first}; at least {needed} is asked"
    if case.aft <= 0.0:
        told = f"The mass centre lies {-figure.value:.2g} mm too far aft: {case.first}"
    if case.spread is not None and case.aft - case.spread >= asked:
        return Outcome.PASS, f"{told}."
    if case.aft >= asked:
        known = "not quantified" if case.spread is None else f"known to {MILLI * case.spread:.2g} mm"
        return Outcome.REFER, f"{told}, but it is {known}."
    slack = drawing.rotor.control.backlash if drawing.rotor and drawing.rotor.control else None
    if case.slack and slack is not None:
        return Outcome.REFER, f"{told}. The motion ends at the ends of the slack, {np.degrees(slack):.2g} deg apart."
    return Outcome.FAIL, f"{told}."
