"""Handle force over the whole range of the collective, and in the conditions where a lever does what nobody wants."""

from dataclasses import dataclass

import numpy as np

from bladewright.design.at_the_handle import HandleForce
from bladewright.design.handle_force import (
    POWER,
    collective_handle_force,
    hover_case,
    lowest_collective_case,
)
from bladewright.design.level_case import never_exceed_case
from bladewright.design.spanwise import span_mass
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.arrays import Floats
from bladewright.engine.rotor.span_mass import SpanMass
from bladewright.figures import Figure, Finding, Missing, Outcome, in_both_units

PROOF = "dimensions"
RISES = "hands off the collective"
BAND = "force at the collective"
POINTS = 24  # of the curve, from least to greatest collective
SLOWEST = "lowest collective, least power-off speed"
BAND_SOURCE = "rotor.handle_band of the drawing"


@dataclass(frozen=True, slots=True)
class ForceRange:
    """Every condition of one blade, judged, and the curve over the collective at normal rotor speed."""

    cases: tuple[HandleForce, ...]
    findings: tuple[Finding, ...]
    collective: Floats  # (n,) [rad]
    force: Floats  # (n,) [N]; empty where the drawing does not tell the range
    crosses_zero: Figure | None  # collective where the lever asks for nothing, within the range
    engine_ends: float | None  # collective beyond which the entered power does not hold the rotor speed [rad]
    missing: tuple[Missing, ...]


def force_range(drawing: BladeDrawing) -> ForceRange:
    """The force in every condition and along the collective, against the drawing's band and friction."""
    mass = span_mass(drawing)
    cases, gaps = judged_cases(drawing, mass)
    collective, force, power, unknown = _curve(drawing, mass)
    missing = [gap for case in cases for gap in case.missing] + [*gaps, *unknown]
    return ForceRange(
        cases=cases,
        findings=tuple(finding for case in cases for finding in judged_case(drawing, case)),
        collective=collective,
        force=force,
        crosses_zero=_zero(collective, force),
        engine_ends=_engine_ends(drawing, collective, power),
        missing=tuple(dict.fromkeys(missing)),
    )


def judged_cases(
    drawing: BladeDrawing, mass: SpanMass | None = None
) -> tuple[tuple[HandleForce, ...], tuple[Missing, ...]]:
    """Hover, lowest collective in autorotation at least and greatest speed, never-exceed speed; and what is missing."""
    rotor = drawing.rotor
    found = [hover_case(drawing, mass=mass)]
    missing = []
    if rotor is not None and rotor.collective_least is not None and rotor.speeds.power_off_least is not None:
        slow = rotor.speeds.power_off_least
        found.append(collective_handle_force(drawing, rotor.collective_least, slow, mass=mass, case=SLOWEST))
    else:
        missing.append(Missing(f"handle force, {SLOWEST}", ("rotor.collective_least", "rotor.speeds.power_off_least")))
    found.append(lowest_collective_case(drawing, mass=mass))
    found.append(never_exceed_case(drawing, mass=mass))
    return tuple(found), tuple(missing)


def least_allowed(drawing: BladeDrawing, case: str) -> float | None:
    """The lightest the lever may be: hands off, no lighter than friction holds. [N]"""
    rotor = drawing.rotor
    if rotor is None or rotor.control is None:
        return None
    floor = rotor.handle_band.least if rotor.handle_band else None
    if case == "hover":
        return floor
    held = -(rotor.control.friction or 0.0)
    return held if floor is None else max(floor, held)


def judged_case(drawing: BladeDrawing, case: HandleForce) -> tuple[Finding, ...]:
    """Whether the lever stays where it is, and whether the hand can bear it."""
    total, rotor = case.total, drawing.rotor
    if total is None or rotor is None:
        return ()
    band = rotor.handle_band
    floor = least_allowed(drawing, case.case)
    rule = f"{BAND if case.case == 'hover' else RISES}, {case.case}"
    if floor is None:
        return (_unjudged(rule, total),)
    ceiling = band.greatest if band else float("inf")
    reach = total.uncertainty
    limit = f"{_newtons(floor)} to {_newtons(ceiling)}" if band else f"at least {_newtons(floor)}"
    told = f"The set asks for {in_both_units(total)} at the handle; allowed is {limit}"
    if not floor <= total.value <= ceiling:
        outcome = Outcome.FAIL
        rising = "the lever rises by itself, and neither friction nor spring holds it"
        told += f": {rising if total.value < floor else 'too heavy'}."
    elif reach is None or not floor <= total.value - reach <= total.value + reach <= ceiling:
        outcome = Outcome.REFER
        told += ", but how well it is known is not quantified." if reach is None else ", its uncertainty reaches out."
    else:
        outcome, told = Outcome.PASS, f"{told}."
    source = f"{BAND_SOURCE}, and least friction of the control run" if case.case != "hover" else BAND_SOURCE
    return (
        Finding(
            rule, outcome, told, PROOF, worst=total, limit=limit, limit_source=source, deviable=False,
            next_step="" if outcome is Outcome.PASS else "change the reflex or the trim spring, or fly and measure",
            would_change="another reflex, spring or friction; a measured force",
        ),
    )  # fmt: skip


def _unjudged(rule: str, total: Figure) -> Finding:
    return Finding(
        rule, Outcome.MISSING, "No band is entered for the force a set may ask of the hand.", PROOF, worst=total,
        deviable=False, next_step="enter rotor.handle_band in the drawing", would_change="an entered band",
    )  # fmt: skip


def _newtons(force: float) -> str:
    return in_both_units(Figure("", force, "N"))


def _curve(drawing: BladeDrawing, mass: SpanMass | None) -> tuple[Floats, Floats, Floats, tuple[Missing, ...]]:
    """Collective, force and power at normal rotor speed, steady in climb or descent, carrying the gross mass."""
    rotor, nothing = drawing.rotor, np.empty(0)
    if rotor is None or rotor.collective_least is None or rotor.collective_greatest is None:
        gap = Missing("handle force along the collective", ("rotor.collective_least", "rotor.collective_greatest"))
        return nothing, nothing, nothing, (gap,)
    collective = np.linspace(rotor.collective_least, rotor.collective_greatest, POINTS)
    cases = [collective_handle_force(drawing, float(angle), mass=mass) for angle in collective]
    known = [case.total.value for case in cases if case.total is not None]
    if len(known) < len(cases):
        return nothing, nothing, nothing, ()  # the cases say what is missing
    power = [figure.value for case in cases for figure in case.figures if figure.name == POWER]
    return collective, np.array(known), np.array(power), ()


def _engine_ends(drawing: BladeDrawing, collective: Floats, power: Floats) -> float | None:
    """Where the power rises past what is entered, at sea level."""
    given = drawing.rotor.power_available if drawing.rotor is not None else None
    if given is None or not power.size or power[-1] <= given:
        return None
    at = int(np.argmax(power > given))
    if at == 0:
        return float(collective[0])
    return float(np.interp(given, power[at - 1 : at + 1], collective[at - 1 : at + 1]))


def _zero(collective: Floats, force: Floats) -> Figure | None:
    """The first collective at which the force changes its sign."""
    turns = np.flatnonzero(np.diff(np.sign(force)) != 0.0)
    if not turns.size:
        return None
    at = int(turns[0])
    share = force[at] / (force[at] - force[at + 1])
    angle = collective[at] + share * (collective[at + 1] - collective[at])
    method = "straight between two points of the curve over the collective at normal rotor speed"
    return Figure("collective at which the handle asks for nothing", float(np.degrees(angle)), "deg", method=method)
