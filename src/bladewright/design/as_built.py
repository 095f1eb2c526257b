"""The one door from a measured departure to its flight effect.

The measured values go into the drawing, the same questions are asked of both, and the differences are the effects.
"""

import dataclasses
from collections.abc import Sequence

import numpy as np

from bladewright.design.answers import MassOf, flight_answers
from bladewright.design.departed import departed, departed_fields
from bladewright.design.records import AsBuilt, Departure
from bladewright.design.reflex_bend import ANGLE, slope_doubt
from bladewright.design.spanwise import span_mass
from bladewright.drawing.entries import number_at
from bladewright.drawing.file import BladeDrawing
from bladewright.figures import Figure, Missing

CHANGE = "change of "
NOTHING = 1e-12  # of a unit: below this a change is rounding
METHOD = "recomputed with the measured values; uncertainty by half the difference at plus and minus U, root sum square"
THEORIES = "with how far the theories differ in what reflex brings"
OF_THE_MOMENT = ("handle force", "section moment")  # answers that rest on what reflex brings


def as_built(drawing: BladeDrawing, departures: Sequence[Departure], *, mass_of: MassOf = span_mass) -> AsBuilt:
    """The blade with its measured values in place, and what each change comes to in flight.

    ``mass_of`` tells the mass along the span of a drawing; where nothing does, mass effects are missing. Departures
    that are dimensions of the drawing's own list have no known effect and come back as missing.
    """
    known, missing = departed_fields(drawing, departures)
    built = departed(drawing, known)
    before, gaps = flight_answers(drawing, mass_of)
    after, _ = flight_answers(built, mass_of)
    common = [name for name in before if name in after]
    spread = dict.fromkeys(common, 0.0)
    doubted: set[str] = set()
    unknown = any(departure.uncertainty is None for departure in known)
    for at, departure in enumerate(known):
        moved = _moved(drawing, known, at, mass_of) if departure.uncertainty else None
        touched = False
        for name in common:
            half = 0.5 * abs(moved[0][name].value - moved[1][name].value) if moved else 0.0
            spread[name] = float(np.hypot(spread[name], half))
            touched = touched or half > NOTHING
        alone = flight_answers(departed(drawing, [departure]), mass_of)[0]
        doubt = slope_doubt(drawing) if departure.field == ANGLE else None
        for name in common:
            if doubt is not None and name in alone and name.startswith(OF_THE_MOMENT):
                doubted.add(name)
                spread[name] = float(np.hypot(spread[name], doubt * (alone[name].value - before[name].value)))
        touched = touched or any(abs(alone[n].value - before[n].value) > NOTHING for n in common if n in alone)
        if not touched and departure.value != number_at(drawing, departure.field):
            missing = (*missing, Missing(f"flight effect of {departure.field}", ("a model of what it does",)))
    effects = tuple(
        dataclasses.replace(
            after[name],
            name=CHANGE + name,
            value=after[name].value - before[name].value,
            uncertainty=None if unknown else spread[name],
            method="; ".join((METHOD, *([THEORIES] if name in doubted else ()), after[name].method)),
        )
        for name in common
    )
    return AsBuilt(drawing=built, departures=tuple(departures), effects=effects, missing=(*missing, *gaps))


def _moved(
    drawing: BladeDrawing, known: Sequence[Departure], at: int, mass_of: MassOf
) -> tuple[dict[str, Figure], dict[str, Figure]]:
    """The answers with one departure at the upper and at the lower end of its uncertainty."""
    ends = []
    for sign in (1.0, -1.0):
        departure = known[at]
        moved = dataclasses.replace(departure, value=departure.value + sign * (departure.uncertainty or 0.0))
        ends.append(flight_answers(departed(drawing, [*known[:at], moved, *known[at + 1 :]]), mass_of)[0])
    return ends[0], ends[1]
