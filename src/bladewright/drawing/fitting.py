"""Whether the strength entries fit the blade: bolts on the doubler, details on the blade, shares of a whole."""

import math
from collections.abc import Iterator

import numpy as np

from bladewright.drawing.blade import Doubler, Planform, Spar
from bladewright.drawing.fatigue import StressLife
from bladewright.drawing.loads import FlightProfile
from bladewright.errors import BadInput

SHARES_MEET = 1e-6  # shares written as decimals do not always add to one in binary


def strength_complaints(
    plan: Planform,
    spar: Spar | None,
    doubler: Doubler | None,
    profile: FlightProfile | None,
    fatigue: dict[str, StressLife],
    file: str,
) -> list[BadInput]:
    """Everything of the strength entries that does not go together with the rest."""
    return [*_bolts(plan, spar, doubler, file), *_shares(profile, file), *_details(plan, spar, doubler, fatigue, file)]


def _bolts(plan: Planform, spar: Spar | None, doubler: Doubler | None, file: str) -> Iterator[BadInput]:
    if doubler is None or len(plan.stations) < 2:
        return
    radii = [station.radius for station in plan.stations]
    for number, hole in enumerate(doubler.bolts, start=1):
        half = 0.5 * hole.diameter
        if not doubler.inner + half < hole.radius < doubler.outer - half:
            yield _off(file, f"{number}.radius", hole.radius, doubler.inner + half, doubler.outer - half)
        chord = float(np.interp(hole.radius, radii, [station.chord for station in plan.stations]))
        least, greatest = ((place - plan.feathering_axis) * chord for place in (doubler.front, doubler.back))
        if not least + half < hole.chordwise < greatest - half:
            yield _off(file, f"{number}.chordwise", hole.chordwise, least + half, greatest - half)
        yield from _beside(spar, doubler, number, chord, file)


def _beside(spar: Spar | None, doubler: Doubler, number: int, chord: float, file: str) -> Iterator[BadInput]:
    """Holes in each other would share what they cannot bear; a row of them may leave nothing of the width."""
    hole = doubler.bolts[number - 1]
    for earlier, other in enumerate(doubler.bolts[: number - 1], start=1):
        apart = math.hypot(other.radius - hole.radius, other.chordwise - hole.chordwise)
        touching = 0.5 * (other.diameter + hole.diameter)
        if apart <= touching:
            yield BadInput(
                f"the hole runs into hole {earlier}, {1e3 * apart:.4g} mm from it",
                file=file,
                field=f"doubler.bolts.{number}",
                allowed=f"more than {1e3 * touching:.4g} mm between their centres",
                fix="move it, or take out the one entered twice",
            )
    back = doubler.back if spar is None else min(doubler.back, spar.web_place)
    width = (back - doubler.front) * chord
    row = math.fsum(other.diameter for other in doubler.bolts if abs(other.radius - hole.radius) < hole.diameter)
    if row >= width:
        yield BadInput(
            "the holes side by side leave nothing of the width between the doubler's front and the web",
            file=file,
            field=f"doubler.bolts.{number}.diameter",
            value=f"{1e3 * row:.4g} mm together",
            allowed=f"less than {1e3 * width:.4g} mm together",
            fix="fewer, smaller or staggered bolts",
        )


def _off(file: str, field: str, value: float, least: float, greatest: float) -> BadInput:
    return BadInput(
        "the bolt is off the doubler, or breaks out of its edge",
        file=file,
        field=f"doubler.bolts.{field}",
        value=value,
        allowed=f"between {1e3 * least:.4g} mm and {1e3 * greatest:.4g} mm",
        fix="move the bolt inward or make the doubler larger",
    )


def _shares(profile: FlightProfile | None, file: str) -> Iterator[BadInput]:
    if profile is None:
        return
    total = math.fsum(part.share for part in profile.manoeuvres)
    if abs(total - 1.0) > SHARES_MEET:
        yield BadInput(
            f"the manoeuvres' shares add up to {100.0 * total:.4g} %",
            file=file,
            field="flight_profile.manoeuvres",
            value=total,
            allowed="100 %",
            fix="every minute of the flying belongs to one manoeuvre",
        )


def _details(
    plan: Planform, spar: Spar | None, doubler: Doubler | None, fatigue: dict[str, StressLife], file: str
) -> Iterator[BadInput]:
    told: dict[str, str] = {}
    parts = {"spar": spar, "doubler": doubler}
    for name, record in fatigue.items():
        if (earlier := told.setdefault(record.detail, name)) != name:
            yield BadInput(
                f"{record.detail!r} is told of fatigue.{earlier} already",
                file=file,
                field=f"fatigue.{name}.detail",
                value=record.detail,
                allowed="words of its own for each detail",
                fix="say which of the two it is",
            )
        if not plan.root <= record.radius < plan.tip:
            yield BadInput(
                "the detail is not on the blade",
                file=file,
                field=f"fatigue.{name}.radius",
                value=record.radius,
                allowed=f"{plan.root:g} m to {plan.tip:g} m",
                fix="check the radius",
            )
        if record.part == "doubler" and doubler is not None and not doubler.inner <= record.radius <= doubler.outer:
            yield BadInput(
                "the detail is off the doubler",
                file=file,
                field=f"fatigue.{name}.radius",
                value=record.radius,
                allowed=f"{doubler.inner:g} m to {doubler.outer:g} m",
                fix="check the radius, or the part",
            )
        if record.part != "skin" and parts[record.part] is None:
            yield BadInput(
                f"the drawing has no {record.part}",
                file=file,
                field=f"fatigue.{name}.part",
                value=record.part,
                allowed="a part that is drawn",
                fix=f"enter the {record.part} or take the record out",
            )
