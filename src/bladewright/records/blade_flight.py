"""What the dimensions measured on one blade do in flight. Worked out once for the same measurements."""

import functools
from dataclasses import dataclass, field

from bladewright.design.contributions import InFlight, in_flight
from bladewright.design.records import Departure
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.words import in_words
from bladewright.evidence.dimension_sheet import read_dimension_sheet
from bladewright.evidence.records import Measured
from bladewright.figures import Missing
from bladewright.records import evidence
from bladewright.records.blades import blade_named
from bladewright.records.candidates import departures_of
from bladewright.records.drawings import read_filed as read_drawing
from bladewright.records.keeping import kept


@dataclass(frozen=True, slots=True)
class _AsMeasured:
    drawing_sha256: str
    rows: tuple[Measured, ...]
    drawing: BladeDrawing = field(compare=False)


def flight_of(serial: str) -> InFlight | None:
    """None for a blade nobody measured."""
    blade = blade_named(serial)
    rows = tuple(
        row
        for filed in evidence.filed_for(blade)
        if filed.kind == evidence.DIMENSIONS
        for row in read_dimension_sheet(kept(filed.file), filed.file.name).rows
    )
    return _worked_out(_AsMeasured(blade.drawing.file.sha256, rows, read_drawing(blade.drawing))) if rows else None


@functools.lru_cache(maxsize=256)
def _worked_out(measured: _AsMeasured) -> InFlight:
    found: list[tuple[str, Departure]] = []
    missing: list[Missing] = []
    for row in measured.rows:
        known = departures_of(measured.drawing, [row])
        found += [(_words(row), departure) for departure in known]
        missing += [] if known else [Missing(f"flight effect of {row.feature}", ("a model of what it does",))]
    flight = in_flight(measured.drawing, found)
    return InFlight(flight.together, flight.alone, tuple(dict.fromkeys((*missing, *flight.missing))))


def _words(row: Measured) -> str:
    at = "" if row.station is None else f" at {row.station:.2f} m"
    return f"{in_words(row.feature)}{at}: {row.text}"
