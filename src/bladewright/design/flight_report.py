"""The questions a shop asks of a drawing before metal is rolled, each answered in a sentence and in figures."""

from dataclasses import dataclass

import numpy as np

from bladewright.design.batch import OffBatch, off_batch
from bladewright.design.flight_charts import (
    centre_of_pressure_chart,
    contribution_bars,
    force_over_collective,
    force_over_reflex,
    power_over_height,
    power_over_speed,
    sensitivity_bars,
)
from bladewright.design.handle_force import POWER
from bladewright.design.hover_power import HIGH_AND_WARM, INDEX, SEA_LEVEL, hover_power, hover_time
from bladewright.design.level_case import CASE as LEVEL
from bladewright.design.reflex_bend import bend_of
from bladewright.design.reflex_effects import ReflexEffects, reflex_effects
from bladewright.design.section_charts import polar_charts, pressure_chart, section_chart
from bladewright.design.section_flow import section_flow
from bladewright.design.sensitivity import sensitivities
from bladewright.drawing.file import BladeDrawing
from bladewright.figures import Answered, Bars, Chart, Figure, Finding, Missing, in_both_units, rounded

OFF = float(np.radians(0.3))  # [rad] the batch that came out different; the question's own figure


@dataclass(frozen=True, slots=True)
class FlightReport:
    """Everything the report tells, as plain data."""

    answers: tuple[Answered, ...]
    findings: tuple[Finding, ...]
    pictures: tuple[Chart | Bars, ...]
    missing: tuple[Missing, ...]


def flight_report(drawing: BladeDrawing) -> FlightReport:
    """The drawing's flight report; ``MissingInput`` where there is no reflex or no handle force to speak of."""
    effects = reflex_effects(drawing)
    batch = off_batch(drawing, OFF)
    answers = (
        _held(effects),
        _nothing_to_hold(effects),
        _worth_of_a_degree(drawing, effects),
        _power(drawing),
        _stored(drawing),
        _batch(batch),
        _lowest(effects),
        _fast(effects),
    )
    return FlightReport(
        answers=answers,
        findings=effects.range.findings,
        pictures=tuple(_pictures(drawing, effects)),
        missing=tuple(dict.fromkeys((*effects.range.missing, *batch.missing))),
    )


def _pictures(drawing: BladeDrawing, effects: ReflexEffects) -> list[Chart | Bars]:
    along = force_over_collective(drawing, effects)
    return [
        section_chart(drawing),
        pressure_chart(drawing),
        *([along] if along else []),
        force_over_reflex(drawing, effects),
        *(contribution_bars(case) for case in effects.range.cases if case.contributions),
        centre_of_pressure_chart(effects),
        *polar_charts(section_flow(drawing)),
        power_over_height(drawing),
        *([flight] if (flight := power_over_speed(drawing)) else []),
        *sensitivity_bars(sensitivities(drawing)),
    ]


def _held(effects: ReflexEffects) -> Answered:
    hover = effects.range.cases[0]
    total = hover.total
    assert total is not None
    strongest = max(hover.contributions, key=lambda part: abs(part.value))
    told = f"{said(total)}. The greatest part is the {strongest.name} with {in_both_units(strongest)}."
    crossing = effects.range.crosses_zero
    told += f" The curve crosses nothing at {said(crossing)} of collective." if crossing else ""
    figures = (total, *hover.contributions, *hover.figures, *([crossing] if crossing else []))
    return Answered("What does the hand hold in the hover?", told, figures)


def _nothing_to_hold(effects: ReflexEffects) -> Answered:
    question = "Which reflex leaves the hand nothing to hold in the hover?"
    least, greatest = effects.window
    band = [figure for figure in (least, greatest) if figure is not None]
    told = f"{said(effects.zero_force)}." if effects.zero_force else "None that can be built."
    if least is not None and greatest is not None:
        kept = f"from {in_both_units(least)} to {in_both_units(greatest)}"
        nothing = "no reflex does" if least.value > greatest.value else kept
        told += f" Every condition inside the band, and no lever that rises by itself: {nothing}."
    return Answered(question, told, (*([effects.zero_force] if effects.zero_force else []), *band))


def _worth_of_a_degree(drawing: BladeDrawing, effects: ReflexEffects) -> Answered:
    question, tolerance = "What is a degree of reflex worth, and what its tolerance?", bend_of(drawing).tolerance
    told = f"{said(effects.per_degree)}."
    if tolerance is not None and effects.bands:
        told += f" Within +/-{np.degrees(tolerance):.2g} deg the force is {said(effects.bands[0])} either way."
    return Answered(question, told, (effects.per_degree, *effects.bands))


def _lowest(effects: ReflexEffects) -> Answered:
    cases = [case for case in effects.range.cases[1:] if case.total is not None and case.case != LEVEL]
    figures = [figure for case in cases for figure in (case.total, *case.contributions) if figure is not None]
    rising = [case.case for case in cases if case.rises_by_itself]
    told = "; ".join(f"{case.case}: {said(case.total)}" for case in cases if case.total is not None) or "Not known"
    told += f". THE LEVER RISES BY ITSELF: {'; '.join(rising)}." if rising else ". Friction and spring hold the lever."
    missing = tuple(gap for case in effects.range.cases[1:] if case.case != LEVEL for gap in case.missing)
    return Answered("What does the lever do at lowest collective in autorotation?", told, tuple(figures), missing)


def _power(drawing: BladeDrawing) -> Answered:
    found = [hover_power(drawing, place) for place in (SEA_LEVEL, HIGH_AND_WARM)]
    told = []
    for one in found:
        if one.short is not None:
            told.append(f"{one.place.words}: IT CANNOT HOVER, {in_both_units(one.short)} short")
            continue
        power, *rest = one.figures
        margin = next((figure for figure in rest if figure.name.startswith("power margin")), None)
        left = f", {said(margin)} to spare" if margin is not None and margin.value >= 0.0 else ""
        left = f", {in_both_units(margin)}: TOO LITTLE" if margin is not None and margin.value < 0.0 else left
        told.append(f"{one.place.words}: {said(power)}{left}")
    figures = tuple(figure for one in found for figure in (*one.figures, *([one.short] if one.short else [])))
    missing = tuple(gap for one in found for gap in one.missing)
    return Answered("How much power does the hover take, and what is left?", f"{'; '.join(told)}.", figures, missing)


def _stored(drawing: BladeDrawing) -> Answered:
    question, found = "How long could it hover on what the turning blades have stored?", hover_time(drawing)
    if isinstance(found, Missing):
        return Answered(question, "Not known.", (), (found,))
    return Answered(question, f"{said(found)}: {INDEX}.", (found,))


def _fast(effects: ReflexEffects) -> Answered:
    question = "What does the hand hold at never-exceed speed?"
    case = next(case for case in effects.range.cases if case.case == LEVEL)
    if case.total is None:
        return Answered(question, "Not known.", (), case.missing)
    told = f"{said(case.total)}." + (" THE LEVER RISES BY ITSELF." if case.rises_by_itself else "")
    named = {figure.name: figure for figure in case.figures}
    shaking = next((figure for name, figure in named.items() if name.startswith("shaking")), None)
    told += f" It shakes by {in_both_units(shaking)}." if shaking else ""
    tip, power = named["Mach number of the advancing tip"], named[POWER]
    told += f" The advancing tip is at Mach {tip.value:.2f}; the flight takes {in_both_units(power)}."
    return Answered(question, told, (case.total, *case.contributions, *case.figures), case.missing)


def _batch(batch: OffBatch) -> Answered:
    question = f"A batch came out {batch.off.value:+.1f} deg of reflex: what will the pilot feel?"
    told = "; ".join(f"{figure.name}: {said(figure)}" for figure in (*batch.both[:1], *batch.one[:1]))
    if batch.track:
        reach = " to ".join(f"{figure.value:.1f}" for figure in batch.track)
        who = "" if batch.direction_known else "; who flies high is not determined: it depends on the control run"
        told += f". One mate alone: its tip {reach} mm above the other's, soft to stiff control run{who}"
    return Answered(question, f"{told}.", (*batch.both, *batch.one, *batch.track), batch.missing)


def said(figure: Figure) -> str:
    """A figure in a sentence."""
    reach = figure.uncertainty
    known = "not quantified" if reach is None else f"{rounded(reach, reach)} {figure.unit}"
    return f"{in_both_units(figure)} (+/- {known})"
