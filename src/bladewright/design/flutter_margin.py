"""How far aft the mass centre may move before the drawn blade flutters or twists off, as drawn and in service."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from bladewright.design.blade_air import FASTEST
from bladewright.design.blade_air import METHOD as AIR
from bladewright.design.blade_beam import beam_gaps, blade_beam
from bladewright.design.control_runs import root_gaps, taken_for_want
from bladewright.design.elastic_blade import LOOKED_THROUGH, Turning, lift_may_move_ahead
from bladewright.design.flutter_cases import (
    AS_DRAWN,
    LOST,
    MarginCase,
    State,
    airs_of,
    cases_of,
    held_and_loose,
    states_of,
    turning_of,
)
from bladewright.design.section_flow import section_flow
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.limits import AddedMass, FlutterLimits
from bladewright.drawing.rotor import Rotor
from bladewright.engine.dynamics.strip_air import StripAir
from bladewright.figures import Figure, Finding, Missing, Outcome, in_both_units

PROOF = "weighing"  # the proof that the mass lies where the drawing says
ANSWER = "margin against flutter and divergence"
MILLI = 1e3
PLACES = 2  # figures that say where mass and lift are, ahead of the margins
METHOD = (
    f"turning beam in strip air, roots of its lowest shapes; {AIR}, as at the greatest rotor speed; uncertainty: "
    "difference to a stiff blade that only flaps and turns against its control run; docs/theory/flutter"
)
VALIDITY = (
    "hover, sea level, attached flow, lift in step with the motion, structural damping not counted, chordwise "
    "bending held; a screen: of forward flight only the advancing blade as if it stayed there, and not in the slack"
)
SOURCE = "T. Theodorsen, NACA Report 496, 1935; W. Johnson, Helicopter Theory, 1980, ch. 12 (from memory)"
NEXT = "mass ahead (nose, tip weight), a stiffer control run, or a person with design authority and a test"


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
    rotor, gaps = drawing.rotor, margin_gaps(drawing)
    if gaps or rotor is None:
        return FlutterMargin((), None, (), (), gaps)
    states = tuple(states_of(drawing, rotor, coats))
    found, airs = _asked(drawing, rotor, states)
    turning = turning_of(rotor, states[0], held_and_loose(rotor)[0], airs)
    places, margins = found.figures[:PLACES], found.figures[PLACES:]
    missing = [*found.missing, *taken_for_want(rotor, ANSWER)]
    if not coats and not any(state.forward for state in states):
        missing.append(_why_not_fast(rotor))
    return replace(found, figures=(*places, _lift_ahead(drawing, turning), *margins), missing=tuple(missing))


def flutter_as_drawn(drawing: BladeDrawing) -> FlutterMargin:
    """Only the blade as drawn, a sixth of the work: service adds and takes what is not asked here, so it says less."""
    rotor, gaps = drawing.rotor, margin_gaps(drawing)
    if gaps or rotor is None:
        return FlutterMargin((), None, (), (), gaps)
    found, _ = _asked(drawing, rotor, (next(states_of(drawing, rotor, ())),))
    return replace(found, missing=(*found.missing, *taken_for_want(rotor, ANSWER)))


def margin_gaps(drawing: BladeDrawing) -> tuple[Missing, ...]:
    """What keeps the margin from being asked."""
    return (*beam_gaps(drawing), *root_gaps(drawing, ANSWER))


def _asked(
    drawing: BladeDrawing, rotor: Rotor, states: Sequence[State]
) -> tuple[FlutterMargin, tuple[tuple[float, StripAir], ...]]:
    """Some states of the blade, the first as drawn; and the air they were asked in."""
    limits, runs = drawing.limits.flutter, held_and_loose(rotor)
    airs = tuple(airs_of(drawing, rotor, limits))
    found = (case for state in states for case in cases_of(drawing, rotor, state, runs, airs))
    cases = tuple(sorted(found, key=lambda case: case.slack))  # held first
    figures = (*_places(drawing, cases[0], airs[-1][1]), *(_figure_of(drawing, case) for case in cases))
    missing = [] if limits else [Missing("judgement of flutter and divergence", ("limits.flutter",))]
    if rotor.control is not None and rotor.control.backlash is None:
        missing.append(Missing("flutter with slack in the control run, taken as loose", ("rotor.control.backlash",)))
    findings = tuple(_judged(drawing, case, limits) for case in sorted(cases, key=_nearness)) if limits else ()
    asked = limits.centre_margin if limits else None
    return FlutterMargin(cases, asked, figures, findings, tuple(missing)), airs


def as_drawn(found: FlutterMargin) -> str:
    """The margin of the blade as drawn, its pitch held, in a sentence; empty where there is none."""
    aft = found.cases[0].aft if found.cases else None
    if aft is None:
        return ""
    case = found.cases[0]
    known = "not quantified" if case.spread is None else f"{MILLI * case.spread:.2g} mm"
    return f"As drawn the mass centre may move aft by {MILLI * aft:.2g} mm (+/- {known}) before {case.first}. "


def _why_not_fast(rotor: Rotor) -> Missing:
    slow = rotor.never_exceed_speed is None
    return Missing(
        "flutter with the advancing blade frozen at never-exceed speed",
        ("rotor.never_exceed_speed",) if slow else (f"a lift slope beyond a tip at Mach {FASTEST:g}",),
    )


def _lift_ahead(drawing: BladeDrawing, turning: Turning) -> Figure:
    """The other offset's margin: how far ahead of where it is the lift may act, the blade as drawn."""
    ahead, flow = lift_may_move_ahead(blade_beam(drawing), turning), section_flow(drawing)
    words = "before anything begins" if ahead is not None else "at least; nothing begins that far"
    return Figure(
        f"{AS_DRAWN}: aerodynamic centre may move ahead {words}",
        MILLI * (LOOKED_THROUGH if ahead is None else ahead),
        "mm",
        method=METHOD.partition("; uncertainty")[0],
        validity=VALIDITY,
        inside_validity=flow.inside,
        source=SOURCE,
        validated=drawing.materials_validated and flow.validated,
    )


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
