"""How far the drawn blade hangs at rest and cones in flight, against the stops the drawing enters."""

from dataclasses import dataclass

import numpy as np

from bladewright.design.blade_beam import beam_gaps, blade_beam
from bladewright.design.blade_root import blade_root
from bladewright.design.conditions import hover_state
from bladewright.design.control_runs import RPM, control_runs, slowest_speed
from bladewright.design.section_flow import section_flow
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.rotor import Rotor
from bladewright.engine.dynamics.blade_beam import BladeBeam
from bladewright.engine.dynamics.held_shape import BentBlade, held_shape
from bladewright.engine.rotor.atmosphere import GRAVITY, standard_air
from bladewright.errors import CannotCarry
from bladewright.figures import Figure, Finding, Missing, Outcome, in_both_units

PROOF = "dimensions"
METHOD = "beam under its own weight or the hover's lift, stiffened by its pull; docs/theory/rotating-beam"
VALIDITY = "small angles; hub taken as rigid; a teetering pair level, both blades alike; still air"
SOURCE = "J. C. Houbolt, G. W. Brooks, NACA Report 1346, 1958 (from memory)"
CLEAR = 0.8  # of a stop's angle: what is nearer is for a person, because nobody has said how well it is known
DROOP, CONING = "droop at rest", "coning in the hover"
STOPS = {DROOP: "droop_stop", CONING: "flap_stop"}  # entries of the rotor


@dataclass(frozen=True, slots=True)
class Droop:
    """The blade at rest and in the hover, and whether it clears its stops."""

    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]
    missing: tuple[Missing, ...]


def droop(drawing: BladeDrawing) -> Droop:
    """Droop at rest against its stop; coning at the slowest rotor speed against the flap stop."""
    rotor = drawing.rotor
    gaps = list(beam_gaps(drawing))
    if rotor is None or not control_runs(rotor):
        gaps.append(
            Missing(f"{DROOP} and {CONING}", ("rotor",) if rotor is None else ("rotor.control.stiffness_high",))
        )
    if gaps or rotor is None:
        return Droop((), (), tuple(gaps))
    beam = blade_beam(drawing)
    hanging, coned = at_rest(beam, rotor), in_hover(drawing, beam, rotor)
    figures = [
        _figure(drawing, f"{DROOP}: tip below level", -float(hanging.flap[-1]), "m"),
        _figure(drawing, f"{DROOP}: angle below level, seen from the rotor axis", -_angle(hanging), "rad"),
    ]
    found = {DROOP: figures[-1]}
    missing = []
    if isinstance(coned, Missing):
        missing.append(coned)
    else:
        words = f"{CONING}, {RPM * slowest_speed(rotor):.0f} rpm: angle above level, seen from the rotor axis"
        figures.append(_figure(drawing, words, _angle(coned), "rad"))
        found[CONING] = figures[-1]
    findings = []
    for words, figure in found.items():
        stop = getattr(rotor, STOPS[words])
        if stop is None:
            missing.append(Missing(f"{words} against its stop", (f"rotor.{STOPS[words]}",)))
        else:
            findings.append(_judged(figure, stop, words))
    return Droop(tuple(figures), tuple(findings), tuple(missing))


def at_rest(beam: BladeBeam, rotor: Rotor) -> BentBlade:
    """The blade under its own weight, rotor standing."""
    root = blade_root(rotor, control_runs(rotor)[-1].stiffness)
    none = np.zeros_like(beam.y)
    weight = GRAVITY * beam.mass_per_length
    return held_shape(beam, root, "collective", 0.0, -weight, none, weight * beam.mass_x, rotor.collective_least or 0.0)


def in_hover(drawing: BladeDrawing, beam: BladeBeam, rotor: Rotor) -> BentBlade | Missing:
    """The blade under the hover's lift at the slowest allowed rotor speed, or why there is none."""
    speed, flow = slowest_speed(rotor), section_flow(drawing)
    try:
        state = hover_state(drawing, rotor, flow, speed, standard_air(), rotor.gross_mass * GRAVITY)
    except CannotCarry:
        return Missing(f"{CONING} at the slowest rotor speed", ("a rotor that carries the gross mass there",))
    lift = np.interp(beam.y, state.parts.y, state.lift_per_length, left=0.0, right=0.0)
    root = blade_root(rotor, control_runs(rotor)[-1].stiffness)
    weight, none = GRAVITY * beam.mass_per_length, np.zeros_like(beam.y)
    return held_shape(beam, root, "collective", speed, lift - weight, none, none, state.collective)


def _angle(bent: BentBlade) -> float:
    """Of the tip above level, seen from the rotor axis. [rad]"""
    return float(np.arctan2(bent.flap[-1], bent.y[-1]))


def _judged(figure: Figure, stop: float, words: str) -> Finding:
    """On its stop, near it, or clear of it."""
    shown = in_both_units(Figure("", stop, "rad"))
    if figure.value >= stop:
        outcome, told = Outcome.FAIL, "it lies on its stop"
    elif figure.value > CLEAR * stop:
        outcome, told = Outcome.REFER, "nearer to its stop than a fifth of the stop's angle"
    else:
        outcome, told = Outcome.PASS, "it is clear of its stop"
    return Finding(
        f"{words} against its stop",
        outcome,
        f"{in_both_units(figure)} where the stop stands at {shown}: {told}.",
        PROOF,
        worst=figure,
        limit=f"less than {shown}",
        limit_source=f"rotor.{STOPS[words]} of the drawing; a fifth of it kept for what is not known: our own choice",
        deviable=False,
        next_step="" if outcome is Outcome.PASS else "measure the blade on its hub, at rest",
        would_change="a measured droop; another stop; another stiffness at the root",
    )


def _figure(drawing: BladeDrawing, name: str, value: float, unit: str) -> Figure:
    sound = drawing.materials_validated
    return Figure(name, value, unit, method=METHOD, validity=VALIDITY, source=SOURCE, validated=sound)
