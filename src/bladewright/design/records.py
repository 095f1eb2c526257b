"""What leaves the design room: a departure measured on a blade, and the as-built blade with its effects."""

from dataclasses import dataclass

from bladewright.drawing.file import BladeDrawing
from bladewright.figures import Figure, Missing


@dataclass(frozen=True, slots=True)
class Departure:
    """One measured value that is not the drawing's: the field, what was measured (SI) and its uncertainty."""

    field: str  # a dotted field of the drawing, like "reflex.angle"
    value: float  # as measured, SI
    uncertainty: float | None = None  # k = 2, SI
    station: float | None = None  # radius [m]; None: the whole blade


@dataclass(frozen=True, slots=True)
class AsBuilt:
    """The blade as it came out, and what each departure does in flight against the drawing."""

    drawing: BladeDrawing  # with the measured values in place
    departures: tuple[Departure, ...]
    effects: tuple[Figure, ...]  # changes against the drawing: "handle force [N]", "section moment", ...
    missing: tuple[Missing, ...]
