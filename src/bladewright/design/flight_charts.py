"""The pictures of a flight report, as plain data: whoever draws them, for screen or paper, draws the same."""

from collections.abc import Iterator

import numpy as np

from bladewright.design.at_the_handle import HandleForce
from bladewright.design.hover_power import Place, hover_power
from bladewright.design.level_case import level_gap, level_state
from bladewright.design.reflex_bend import bend_of
from bladewright.design.reflex_effects import ReflexEffects
from bladewright.design.section_charts import CHORD, plain
from bladewright.design.section_flow import section_flow
from bladewright.design.sensitivity import Ranking, Sensitivities
from bladewright.design.spanwise import span_mass
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.words import in_words, shown_in
from bladewright.engine.rotor.level_flight import SteadyFlight
from bladewright.errors import NotConverged
from bladewright.figures import Axis, Bars, Chart, Curve, Level

BARS = 10  # of a ranking
KILO = 1e3
SLOWEST, FLIGHTS = 0.5, 15  # [m/s] and how many speeds
HEIGHTS = tuple(250.0 * step for step in range(13))  # [m]
FORCE = Axis("handle force, pull up positive", "N")


def force_over_collective(drawing: BladeDrawing, effects: ReflexEffects) -> Chart | None:
    """What the hand holds from lowest to greatest collective, and in each judged condition."""
    found = effects.range
    if not found.collective.size:
        return None
    line = Curve("normal rotor speed, carrying the gross mass", plain(np.degrees(found.collective)), plain(found.force))
    points = [
        Curve(case.case, (at,), (case.total.value,), points=True)
        for case in found.cases
        if case.total is not None and (at := _collective(case)) is not None
    ]
    note = (
        "Steady climb or descent at each collective. Between band and friction the lever stays where it is put; below "
        "the friction line it rises by itself. An estimate until flown."
    )
    collective = Axis("collective at three quarters of the radius", "deg")
    title = "Handle force against collective"
    levels = list(_limits(drawing))
    if found.engine_ends is not None:
        levels.append(Level("all the engine has, sea level", float(np.degrees(found.engine_ends)), upright=True))
    return Chart("force-collective", title, collective, FORCE, (line, *points), tuple(levels), note)


def force_over_reflex(drawing: BladeDrawing, effects: ReflexEffects) -> Chart:
    """What other reflexes would do, condition by condition."""
    angles = tuple(float(np.degrees(angle)) for angle, _ in effects.tried)
    curves = tuple(
        Curve(case, angles, tuple(forces[case] for _, forces in effects.tried)) for case in effects.tried[0][1]
    )
    drawn = Level("as drawn", float(np.degrees(bend_of(drawing).angle)), True)
    note = "Each point is the whole handle force worked out again, hover trimmed to the gross mass."
    reflex = Axis("reflex of the finished blade", "deg")
    return Chart("force-reflex", "Handle force against reflex", reflex, FORCE, curves, (*_limits(drawing), drawn), note)


def centre_of_pressure_chart(effects: ReflexEffects) -> Chart:
    """Where the lift acts."""
    lifts, places = zip(*effects.centre_of_pressure, strict=True)
    curve = Curve("centre of pressure", lifts, places)
    note = "A quarter of the chord less moment over lift. It runs away where the lift goes to nothing."
    title = "Centre of pressure against lift"
    return Chart("centre-of-pressure", title, Axis("lift coefficient"), CHORD, (curve,), (), note)


def power_over_height(drawing: BladeDrawing) -> Chart:
    """What the hover takes and what the engine gives, over pressure height, on a standard and on a warm day."""
    curves = []
    for words, warmer in (("standard day", 0.0), ("20 degC warmer", 20.0)):
        found = [hover_power(drawing, Place("", height, warmer)) for height in HEIGHTS]
        rows = [{figure.name.rstrip(", "): figure.value for figure in one.figures} for one in found]
        for name in ("power of the hover", "power available"):
            values = tuple(row.get(name) for row in rows)
            if any(value is not None for value in values):
                kilowatts = tuple(None if value is None else value / KILO for value in values)
                curves.append(Curve(f"{name}, {words}", HEIGHTS, kilowatts))
    note = "Hover out of ground effect at the gross mass; the rotor alone. A gap: the rotor stalls first."
    height, power = Axis("pressure height", "m"), Axis("power", "kW")
    return Chart("power-height", "Power of the hover", height, power, tuple(curves), (), note)


def power_over_speed(drawing: BladeDrawing) -> Chart | None:
    """What level flight takes, from hover to never-exceed speed; None where the drawing does not tell it."""
    mass, rotor = span_mass(drawing), drawing.rotor
    if level_gap(drawing, mass) or mass is None or rotor is None or rotor.never_exceed_speed is None:
        return None
    speeds = np.linspace(SLOWEST, rotor.never_exceed_speed, FLIGHTS)
    flow = section_flow(drawing)
    states: list[SteadyFlight | None] = []
    for speed in speeds:
        try:
            states.append(level_state(drawing, rotor, flow, mass, float(speed)))
        except NotConverged:
            states.append(None)
    parts = {
        "all together": "power", "induced": "induced_power", "profile": "profile_power", "parasite": "parasite_power",
    }  # fmt: skip
    curves = [
        Curve(name, plain(speeds), tuple(None if one is None else getattr(one, field) / KILO for one in states))
        for name, field in parts.items()
    ]
    given = rotor.power_available
    levels = (Level("power available, sea level", given / KILO),) if given is not None else ()
    note = "Gross mass, sea level, normal rotor speed; the rotor alone. A gap: no steady state, the rotor stalls first."
    title = "Power of level flight"
    return Chart("power-speed", title, Axis("flight speed", "m/s"), Axis("power", "kW"), tuple(curves), levels, note)


def contribution_bars(case: HandleForce) -> Bars:
    """What the handle force of one condition is made of."""
    rows = [(part.name, part.value) for part in case.contributions]
    if case.total is not None:
        rows.append(("all together", case.total.value))
    name = f"contributions-{_hyphened(case.case)}"
    return Bars(name, f"What the hand holds: {case.case}", FORCE, tuple(rows), "All blades together, alike.")


def sensitivity_bars(found: Sensitivities) -> Iterator[Bars]:
    """The strongest dimensions on each answer."""
    for number, ranking in enumerate(found.rankings, start=1):
        yield _ranking_bars(ranking, number)


def _ranking_bars(ranking: Ranking, number: int) -> Bars:
    rows = []
    for row in ranking.rows[:BARS]:
        rough = "" if row.smooth else ", not smooth"
        rows.append((f"{in_words(row.step.field)} +{shown_in(row.step.by, row.step.kind)}{rough}", row.effect.value))
    assumed = any(not row.step.entered for row in ranking.rows[:BARS])
    note = "Each dimension moved up by its own tolerance" + (
        ", or by 1 % or 0.1 deg where the drawing gives none." if assumed else "."
    )
    title = f"What moves the {ranking.answer.name}"
    return Bars(f"sensitivity-{number}", title, Axis("change", ranking.answer.unit), tuple(rows), note)


def _limits(drawing: BladeDrawing) -> tuple[Level, ...]:
    rotor = drawing.rotor
    if rotor is None:
        return ()
    band, run = rotor.handle_band, rotor.control
    found = [Level("greatest of the band", band.greatest), Level("least of the band", band.least)] if band else []
    if run is not None and run.friction is not None:
        found.append(Level("held by friction down to here", -run.friction))
    return tuple(found)


def _collective(case: HandleForce) -> float | None:
    return next((figure.value for figure in case.figures if figure.name == "collective"), None)


def _hyphened(words: str) -> str:
    return "-".join(words.replace(",", " ").split())
