"""What a drawing, or a change of it, comes to while somebody waits: the same numbers as the commands give, kept."""

import dataclasses
import functools
from collections.abc import Mapping
from dataclasses import dataclass

from bladewright.design.answers import design_answers, whole_name
from bladewright.design.compared import Compared, Comparison, side_by_side
from bladewright.design.flutter_margin import FlutterMargin, flutter_as_drawn
from bladewright.design.handle_force import named_cases
from bladewright.design.handle_range import judged_case
from bladewright.design.section_flow import section_flow
from bladewright.design.section_tables import ANGLES_APART
from bladewright.design.spanwise import span_mass
from bladewright.drawing.editing import Value, drawn_with
from bladewright.drawing.file import BladeDrawing
from bladewright.errors import OutsideValidity
from bladewright.figures import Figure, Finding, Missing

KEPT = 64  # drawings whose answers stay at hand
MARGIN = "flutter and divergence: mass centre may move aft, as drawn"
LOOSE = ", within the slack"
HELD = ", held,"  # in the rule of a finding about a blade whose pitch the control run holds
#: what a change is judged by first, in this order; the words of ``design_answers``
HEADLINES = (
    whole_name("hover"),
    whole_name("lowest collective, greatest power-off speed"),
    MARGIN,
    MARGIN + LOOSE,
    "effective pitch",
    "mass",
    "span moment",
    "chordwise centre of mass, aft of the feathering axis",
    "flapping inertia",
    "feathering inertia",
    "power of the hover, sea level, standard day",
    "power margin, sea level, standard day",
    "hover-time index",
)
#: those that stay in sight while an entry is changed, in a few words
AT_A_GLANCE = {
    whole_name("hover"): "handle force, hover",
    whole_name("lowest collective, greatest power-off speed"): "handle force, lowest collective",
    MARGIN: "flutter margin as drawn",
    "mass": "mass",
    "power of the hover, sea level, standard day": "hover power",
}


@dataclass(frozen=True, slots=True)
class DrawnAnswers:
    """Every answer of one drawing, and what its limits say to those they are entered for."""

    drawing: BladeDrawing
    answers: Mapping[str, Figure]
    findings: Mapping[str, Finding]  # by the answer they judge
    missing: tuple[Missing, ...]


@dataclass(frozen=True, slots=True)
class Headline:
    """One of the first answers, before and after, and its finding after; None where nothing is entered to judge by."""

    row: Compared
    finding: Finding | None

    @property
    def words(self) -> str:
        """A few words for a strip that stays in sight."""
        return AT_A_GLANCE.get(self.row.name, self.row.name)


def answers_of(drawing: BladeDrawing) -> DrawnAnswers:
    """The answers of ``compare-change``, the margins of ``flutter`` of the blade as drawn, both judged."""
    answers, missing = design_answers(drawing)
    cases = named_cases(drawing, mass=span_mass(drawing))
    findings = {whole_name(case.case): finding for case in cases for finding in judged_case(drawing, case)}
    try:
        flutter = flutter_as_drawn(drawing)
    except OutsideValidity as error:
        flutter = FlutterMargin(
            (), None, (), (), (Missing(f"flutter and divergence: {error.what}", (error.fix or "",)),)
        )
    for finding in flutter.findings:
        findings[MARGIN if HELD in finding.rule else MARGIN + LOOSE] = finding
    gaps = tuple(dict.fromkeys((*missing, *flutter.missing)))
    return DrawnAnswers(drawing, answers | _margins(flutter), findings, gaps)


@functools.lru_cache(maxsize=KEPT)
def answers_with(data: bytes, changes: tuple[tuple[str, Value], ...] = (), file: str = "") -> DrawnAnswers:
    """The same of a drawing file with some fields changed; asked twice it is at hand."""
    return answers_of(drawn_with(data, dict(changes), file))


def against(before: DrawnAnswers, after: DrawnAnswers) -> Comparison:
    """Every answer of two drawings side by side."""
    return side_by_side(before.answers, after.answers, after.missing)


def headlines(before: DrawnAnswers, after: DrawnAnswers) -> tuple[Headline, ...]:
    """The first answers, those that either drawing gives."""
    return tuple(
        Headline(Compared(name, old, new), after.findings.get(name))
        for name in HEADLINES
        for old, new in ((before.answers.get(name), after.answers.get(name)),)
        if old is not None or new is not None
    )


def at_a_glance(before: DrawnAnswers, after: DrawnAnswers) -> tuple[Headline, ...]:
    """The few that stay in sight."""
    return tuple(one for one in headlines(before, after) if one.row.name in AT_A_GLANCE)


def _margins(flutter: FlutterMargin) -> dict[str, Figure]:
    """By names that do not tell what begins first, so that two drawings can be compared."""
    figures = flutter.figures[-len(flutter.cases) :] if flutter.cases else ()
    names = (MARGIN + (LOOSE if case.slack else "") for case in flutter.cases)
    return {name: dataclasses.replace(figure, name=name) for name, figure in zip(names, figures, strict=True)}


def make_ready(drawing: BladeDrawing) -> None:
    """Work out the section's flow for reflexes around the drawn one, so that trying them does not wait for it."""
    section_flow(drawing)
    if drawing.reflex is None:
        return
    for way in (-ANGLES_APART, ANGLES_APART):
        bent = drawing.reflex.model_copy(update={"angle": drawing.reflex.angle + way})
        section_flow(drawing.model_copy(update={"reflex": bent}))
