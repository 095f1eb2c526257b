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
from bladewright.engine.dynamics.blade_beam import BladeBeam, Root
from bladewright.engine.dynamics.held_shape import BentBlade, held_shape
from bladewright.engine.rotor.atmosphere import GRAVITY, standard_air
from bladewright.errors import CannotCarry, NotConverged
from bladewright.figures import Figure, Finding, Missing, Outcome

PROOF = "dimensions"
METHOD = "beam under its own weight or the hover's lift, stiffened by its pull; docs/theory/rotating-beam"
VALIDITY = "small angles; hub taken as rigid; a teetering pair level, both blades alike; still air"
SOURCE = "J. C. Houbolt, G. W. Brooks, NACA Report 1346, 1958 (from memory)"
CLEAR = 0.8  # of a stop's angle: what is nearer is for a person, because nobody has said how well it is known
DROOP, CONING = "droop at rest", "coning in the hover"
MILLI = 1e3
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
        _figure(drawing, f"{DROOP}: tip above level", MILLI * hanging * float(beam.y[-1]), "mm"),
        _figure(drawing, f"{DROOP}: angle above level, seen from the rotor axis", float(np.degrees(hanging)), "deg"),
    ]
    angles = {DROOP: (-hanging, figures[-1])}
    missing = []
    if isinstance(coned, Missing):
        missing.append(coned)
    else:
        words = f"{CONING}, {RPM * slowest_speed(rotor):.0f} rpm: angle above level, seen from the rotor axis"
        figures.append(_figure(drawing, words, float(np.degrees(coned)), "deg"))
        angles[CONING] = (coned, figures[-1])
    findings = []
    for words, (angle, figure) in angles.items():
        stop = getattr(rotor, STOPS[words])
        if words == DROOP and rotor.hub == "hinged":
            continue  # at rest it lies on its stop: that is what the stop is for
        if stop is None:
            missing.append(Missing(f"{words} against its stop", (f"rotor.{STOPS[words]}",)))
        else:
            findings.append(_judged(words, angle, stop, figure))
    return Droop(tuple(figures), tuple(findings), tuple(missing))


def at_rest(beam: BladeBeam, rotor: Rotor) -> float:
    """Angle of the tip above level by its own weight, rotor standing [rad]; a hinged blade lies on its stop."""
    none = np.zeros_like(beam.y)
    stops = (-(rotor.droop_stop or 0.0), rotor.flap_stop or np.inf)
    pitch = rotor.collective_least or 0.0
    return _tip_angle(rotor, held_shape(beam, _root(rotor), "collective", 0.0, none, none, none, pitch, GRAVITY, stops))


def in_hover(drawing: BladeDrawing, beam: BladeBeam, rotor: Rotor) -> float | Missing:
    """Angle of the tip above level at the slowest allowed rotor speed, carrying the gross mass [rad], or why none."""
    speed, flow, none = slowest_speed(rotor), section_flow(drawing), np.zeros_like(beam.y)
    try:
        state = hover_state(drawing, rotor, flow, speed, standard_air(), rotor.gross_mass * GRAVITY)
    except CannotCarry:
        return Missing(CONING, ("a rotor that carries the gross mass at its slowest speed",))
    except NotConverged as error:
        return Missing(CONING, (f"a hover that settles at this mass and speed: {error.what}",))
    lift = np.interp(beam.y, state.parts.y, state.lift_per_length, left=0.0, right=0.0)
    bent = held_shape(beam, _root(rotor), "collective", speed, lift, none, none, state.collective, GRAVITY)
    return _tip_angle(rotor, bent)


def _root(rotor: Rotor) -> Root:
    return blade_root(rotor, control_runs(rotor)[-1].stiffness)


def _tip_angle(rotor: Rotor, bent: BentBlade) -> float:
    """Of the tip above level, seen from the rotor axis; the shape is told from the hub's cone. [rad]"""
    cone = 0.0 if rotor.hub == "hinged" else rotor.precone or 0.0
    return cone + float(bent.flap[-1] / bent.y[-1])


def _judged(words: str, angle: float, stop: float, figure: Figure) -> Finding:
    """On its stop, near it, or clear of it; angle and stop toward that stop [rad]."""
    way, other = ("below", "above") if words == DROOP else ("above", "below")
    lies = f"{abs(np.degrees(angle)):.2g} deg {way if angle > 0.0 else other} level"
    shown = f"{np.degrees(stop):.3g} deg {way} level"
    if angle >= stop:
        outcome, told = Outcome.FAIL, "it lies on its stop"
    elif angle > CLEAR * stop:
        outcome, told = Outcome.REFER, "nearer to its stop than a fifth of the stop's angle"
    else:
        outcome, told = Outcome.PASS, "it is clear of its stop"
    return Finding(
        f"{words} against its stop",
        outcome,
        f"The tip lies {lies} where the stop stands at {shown}: {told}.",
        PROOF,
        worst=figure,
        limit=f"short of {shown}",
        limit_source=f"rotor.{STOPS[words]} of the drawing; a fifth of it kept for what is not known: our own choice",
        deviable=False,
        next_step="" if outcome is Outcome.PASS else "measure the blade on its hub, at rest",
        would_change="a measured droop; another stop; another stiffness at the root",
    )


def _figure(drawing: BladeDrawing, name: str, value: float, unit: str) -> Figure:
    sound = drawing.materials_validated
    return Figure(name, value, unit, method=METHOD, validity=VALIDITY, source=SOURCE, validated=sound)
