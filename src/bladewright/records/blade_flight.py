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
class AsMeasured:
    """What was measured of a blade of one drawing revision: the same measurements do the same in flight."""

    drawing_sha256: str
    rows: tuple[Measured, ...]
    drawing: BladeDrawing = field(compare=False)

    @property
    def inputs(self) -> list[object]:
        """What tells it from any other."""
        return ["what measured dimensions do in flight", self.drawing_sha256, self.rows]


def measured_of(serial: str) -> AsMeasured | None:
    """Every dimension on file for a blade; None where nobody measured it."""
    blade = blade_named(serial)
    rows = tuple(
        row
        for filed in evidence.filed_for(blade)
        if filed.kind == evidence.DIMENSIONS
        for row in read_dimension_sheet(kept(filed.file), filed.file.name).rows
    )
    return AsMeasured(blade.drawing.file.sha256, rows, read_drawing(blade.drawing)) if rows else None


@functools.lru_cache(maxsize=256)
def flight_as_measured(measured: AsMeasured) -> InFlight:
    """What the measured dimensions do in flight, together and one by one. Takes seconds the first time."""
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
