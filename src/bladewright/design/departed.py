"""A frozen drawing with measured values put in along their dotted fields; nothing else of it changes."""

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from pydantic import BaseModel

from bladewright.design.records import Departure
from bladewright.drawing.blade import Planform, Station
from bladewright.drawing.file import BladeDrawing
from bladewright.errors import BadInput
from bladewright.figures import Missing

#: measured at a radius, these become stations of the planform
ALONG_THE_SPAN = {"planform.twist": "twist", "planform.chord": "chord"}
SAME_RADIUS = 1e-6  # [m]


def departed_fields(
    drawing: BladeDrawing, departures: Sequence[Departure]
) -> tuple[tuple[Departure, ...], tuple[Missing, ...]]:
    """Departures of fields of the drawing, several readings of one taken together; and those nobody has a model for.

    Readings of one field at several stations become their mean, with the greatest of their uncertainties: a gauge's
    error is not averaged away.
    """
    named = {dimension.name for dimension in drawing.limits.dimensions}
    missing = [
        Missing(f"flight effect of {departure.field}", ("a model of what it does",))
        for departure in departures
        if departure.field in named
    ]
    readings: dict[tuple[str, float | None], list[Departure]] = {}
    for departure in departures:
        if not math.isfinite(departure.value) or not _is_spread(departure.uncertainty):
            raise BadInput(
                "a measured value and its uncertainty must be finite numbers",
                field=departure.field,
                value=departure.value,
                allowed="finite numbers, the uncertainty not negative",
            )
        if departure.field not in named:
            station = departure.station if departure.field in ALONG_THE_SPAN else None
            readings.setdefault((departure.field, station), []).append(departure)
    taken = []
    for same in readings.values():
        spreads = [reading.uncertainty for reading in same]
        widest = None if None in spreads else max(spread for spread in spreads if spread is not None)
        taken.append(replace(same[0], value=sum(r.value for r in same) / len(same), uncertainty=widest))
    return tuple(taken), tuple(missing)


def departed(drawing: BladeDrawing, departures: Sequence[Departure]) -> BladeDrawing:
    """The drawing with every departure in place; ``BadInput`` names a field it does not have."""
    for departure in departures:
        if departure.field in ALONG_THE_SPAN:
            plan = _with_station(drawing.planform, departure)
            drawing = drawing.model_copy(update={"planform": plan})
        else:
            changed = _put(drawing, departure.field.split("."), departure)
            assert isinstance(changed, BladeDrawing)
            drawing = changed
    return drawing


def _is_spread(uncertainty: float | None) -> bool:
    return uncertainty is None or (math.isfinite(uncertainty) and uncertainty >= 0.0)


def _unknown(departure: Departure, allowed: str) -> BadInput:
    return BadInput(
        f"{departure.field!r} is not a measured field of this drawing",
        field=departure.field,
        value=departure.value,
        allowed=allowed,
        fix="check the spelling, or enter the dimension under limits.dimensions",
    )


def _put(record: object, path: list[str], departure: Departure) -> object:
    """A copy of a record, or of a list counted from one, with the value at the end of the path replaced."""
    name, *rest = path
    if isinstance(record, tuple):
        if not name.isdecimal() or not 1 <= int(name) <= len(record):
            raise _unknown(departure, f"a number from 1 to {len(record)}")
        at = int(name) - 1
        return (*record[:at], _put(record[at], rest, departure) if rest else departure.value, *record[at + 1 :])
    if not isinstance(record, BaseModel) or name not in type(record).model_fields:
        fields = sorted(type(record).model_fields) if isinstance(record, BaseModel) else []
        raise _unknown(departure, f"one of {', '.join(fields)}" if fields else "no field below this one")
    old = getattr(record, name)
    if rest:
        return record.model_copy(update={name: _put(old, rest, departure)})
    if not isinstance(old, float):
        raise _unknown(departure, "a field with a measured number in it")
    return record.model_copy(update={name: departure.value})


def _with_station(plan: Planform, departure: Departure) -> Planform:
    """The planform with the measured twist or chord at a radius, made a station if it was none."""
    radius = departure.station
    if radius is None or not plan.stations[0].radius <= radius <= plan.stations[-1].radius:
        raise BadInput(
            "twist and chord are measured at a radius of the blade",
            field=departure.field,
            value=radius,
            allowed=f"{plan.stations[0].radius:g} m to {plan.stations[-1].radius:g} m",
            fix="enter the station",
        )
    radii = [station.radius for station in plan.stations]
    there = Station.model_construct(
        radius=radius,
        chord=float(np.interp(radius, radii, [s.chord for s in plan.stations])),
        twist=float(np.interp(radius, radii, [s.twist for s in plan.stations])),
    ).model_copy(update={ALONG_THE_SPAN[departure.field]: departure.value})
    others = [station for station in plan.stations if abs(station.radius - radius) > SAME_RADIUS]
    stations = sorted([*others, there], key=lambda station: station.radius)
    return plan.model_copy(update={"stations": tuple(stations)})
