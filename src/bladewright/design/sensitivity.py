"""How far each drawn dimension moves an answer: where tolerances come from. Finite differences, verified by halving.

Moved are the blade's own dimensions; those of the aircraft it flies on, and materials, are not the shop's to hold.
"""

import dataclasses
import math
from collections.abc import Iterator
from dataclasses import dataclass

from bladewright.design.answers import effective_pitch, whole_name
from bladewright.design.departed import departed
from bladewright.design.handle_force import named_cases
from bladewright.design.hover_power import hover_power
from bladewright.design.level_case import never_exceed_case
from bladewright.design.records import Departure
from bladewright.design.spanwise import span_mass
from bladewright.drawing.entries import number_at
from bladewright.drawing.fields import field_names
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.kinds import kind_of
from bladewright.drawing.tolerances import tolerance_field
from bladewright.engine.rotor.rotor import Modelled
from bladewright.errors import BladewrightError
from bladewright.figures import Figure
from bladewright.units import si_unit

AGREE = 0.05  # of the larger: how far the slopes of the whole and the half step may differ; our own choice
NOTHING = 1e-9  # of the answer: an effect below this is rounding
OF_THE_BLADE = ("planform", "reflex", "skin", "spar", "doubler", "tip_weight", "adhesive", "trim", "finish")
NOT_FLOWN = ("tolerance", "limit", "loose_skin", "mould", "pockets", "extrusion_allowance", "fillable_gap", "out_time")
BONDLINE = "adhesive.bondline"
BOTH_ENDS = ("adhesive.bondline_least", "adhesive.bondline_greatest")
USUAL_ANGLE = math.radians(0.1)  # [rad] where the drawing gives no tolerance
USUAL_SHARE = 0.01  # of the drawn value, likewise
COARSE = Modelled(azimuths=24, along=16)  # slopes within 0.1 % of the usual model's
FROM_ZERO = 1e-4  # [m] likewise, for a length drawn as nought


@dataclass(frozen=True, slots=True)
class Step:
    """How far a dimension is moved either way, SI, and why so far."""

    field: str
    kind: str
    drawn: float
    by: float
    entered: bool  # whether the drawing's own tolerance is the reason
    reason: str


@dataclass(frozen=True, slots=True)
class Sensitivity:
    """One dimension's hold on one answer."""

    step: Step
    slope: float  # unit of the answer per SI unit of the dimension
    slope_unit: str
    effect: Figure  # of the dimension moved up by its step
    smooth: bool  # the slopes of two step sizes agree
    disagreement: float  # of the two slopes, of the larger [1]


@dataclass(frozen=True, slots=True)
class Ranking:
    """Everything that moves one answer, the strongest first."""

    answer: Figure
    rows: tuple[Sensitivity, ...]
    together: Figure  # all entered tolerances at once, as if independent


@dataclass(frozen=True, slots=True)
class Sensitivities:
    """Every answer's ranking, and dimensions that could not be moved, with the reason."""

    rankings: tuple[Ranking, ...]
    unmoved: tuple[tuple[str, str], ...]


def sensitivities(drawing: BladeDrawing) -> Sensitivities:
    """Handle force in each case, power, coning and effective pitch (track) against every dimension of the blade."""
    answers = _answers(drawing)
    found: dict[str, list[Sensitivity]] = {name: [] for name in answers}
    unmoved = []
    for step in steps(drawing):
        try:
            slopes = [_slopes(drawing, step, size) for size in (step.by, 0.5 * step.by)]
        except BladewrightError as error:
            unmoved.append((step.field, error.what))
            continue
        for name in found:
            if name in slopes[0] and name in slopes[1]:
                found[name].append(_sensitivity(answers[name], step, slopes[0][name], slopes[1][name]))
    return Sensitivities(tuple(_ranking(answers[name], rows) for name, rows in found.items()), tuple(unmoved))


def steps(drawing: BladeDrawing) -> Iterator[Step]:
    """Every dimension of the blade that is drawn, with how far it may be off."""
    adhesive = drawing.adhesive
    for field in field_names(drawing):
        table, *inner = field.split(".")
        if table not in OF_THE_BLADE or field in BOTH_ENDS or any(word in ".".join(inner) for word in NOT_FLOWN):
            continue
        drawn, kind = number_at(drawing, field), kind_of(drawing, field)
        if drawn is not None and kind is not None:
            yield _step(drawing, field, kind, drawn)
    if adhesive is not None:
        half = 0.5 * (adhesive.bondline_greatest - adhesive.bondline_least)
        if half > 0.0:
            yield Step(BONDLINE, "length", adhesive.bondline, half, True, "half its band")


def _step(drawing: BladeDrawing, field: str, kind: str, drawn: float) -> Step:
    holder = tolerance_field(field)
    tolerance = number_at(drawing, holder) if holder else None
    if tolerance:
        return Step(field, kind, drawn, tolerance, True, "its tolerance")
    if kind == "angle":
        return Step(field, kind, drawn, USUAL_ANGLE, False, "no tolerance: 0.1 deg")
    if drawn == 0.0:
        return Step(field, kind, drawn, FROM_ZERO, False, "no tolerance: 0.1 mm")
    return Step(field, kind, drawn, abs(USUAL_SHARE * drawn), False, "no tolerance: 1 %")


def _answers(drawing: BladeDrawing) -> dict[str, Figure]:
    """What a tolerance is there to hold."""
    mass = span_mass(drawing)
    hover, lowest = named_cases(drawing, mass=mass)
    cases = (hover, lowest, never_exceed_case(drawing, mass=mass, model=COARSE))
    found = {whole_name(case.case): case.total for case in cases if case.total is not None}
    found |= {f"hover: {figure.name}": figure for figure in hover.figures if figure.name == "free coning"}
    if power := hover_power(drawing).figures:
        found["power of the hover"] = power[0]
    found["effective pitch (track)"] = effective_pitch(drawing)
    return {name: dataclasses.replace(figure, name=name) for name, figure in found.items()}


def _slopes(drawing: BladeDrawing, step: Step, size: float) -> dict[str, float]:
    """Central differences of every answer."""
    up, down = (_answers(_moved(drawing, step, sign * size)) for sign in (1.0, -1.0))
    return {name: (up[name].value - down[name].value) / (2.0 * size) for name in up if name in down}


def _moved(drawing: BladeDrawing, step: Step, by: float) -> BladeDrawing:
    fields = BOTH_ENDS if step.field == BONDLINE else (step.field,)
    return departed(drawing, [Departure(name, (number_at(drawing, name) or 0.0) + by) for name in fields])


def _sensitivity(answer: Figure, step: Step, whole: float, half: float) -> Sensitivity:
    larger = max(abs(whole), abs(half))
    apart = abs(whole - half) / larger if larger * step.by > NOTHING * max(abs(answer.value), 1.0) else 0.0
    effect = Figure(
        step.field,
        half * step.by,
        answer.unit,
        method=f"slope by central differences times {step.reason}; {answer.method}",
        validity=answer.validity,
        inside_validity=answer.inside_validity and apart <= AGREE,
        source=answer.source,
        validated=answer.validated,
    )
    return Sensitivity(step, half, f"{answer.unit}/({si_unit(step.kind)})", effect, apart <= AGREE, apart)


def _ranking(answer: Figure, rows: list[Sensitivity]) -> Ranking:
    ranked = sorted(rows, key=lambda row: -abs(row.effect.value))
    entered = [row.effect.value for row in ranked if row.step.entered]
    together = Figure(
        "all entered tolerances together",
        math.hypot(*entered) if entered else 0.0,
        answer.unit,
        method="root sum square of the effects, as if independent",
        validity=answer.validity,
        inside_validity=answer.inside_validity,
        validated=answer.validated,
    )
    return Ranking(answer, tuple(ranked), together)
