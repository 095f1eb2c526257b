"""The typed forms of evidence. Each carries the file it came from and that file's SHA-256."""

import datetime
import zoneinfo
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from bladewright.figures import clock_text

Floats = NDArray[np.float64]

#: what a logger channel measures, as the logger description declares it
Role = Literal["mould", "heater", "air", "pressure", "bondline", "power", "other"]
#: ISO 10365 designations used on a torn bond, and void for area never bonded
FailureMode = Literal["CF", "SCF", "AF", "void"]


@dataclass(frozen=True, slots=True)
class Source:
    """The file a piece of evidence was read from."""

    file: str
    sha256: str


@dataclass(frozen=True, slots=True)
class Channel:
    """One column of a log."""

    name: str
    role: Role
    zone: str = ""  # like "4"; a heater and a mould sensor of one zone share it
    side: str = ""  # "top" or "bottom" half of the mould


@dataclass(frozen=True, slots=True)
class Remark:
    """Something about a file a judge must know that is not an error: a repeated local hour, an unreadable sensor."""

    what: str
    row: int | None = None
    column: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class CureLog:
    """A cure as logged: strictly increasing UTC times and SI values; a reading that is not there is NaN."""

    source: Source
    description: str  # name of the logger description used
    start: datetime.datetime | None  # UTC of row 0; None for a log that only counts seconds
    seconds: Floats  # (n,) since the first row [s]
    channels: tuple[Channel, ...]
    values: Floats  # (n, m) [K] or, for pressure, [Pa] gauge
    rows: NDArray[np.int64]  # (n,) line number in the file, as an editor counts
    remarks: tuple[Remark, ...] = ()
    zone: str = "UTC"  # IANA name: by whose clock a person reads its times
    order_certain: bool = True  # False: local times repeat and nothing says the file order is the time order

    def time_of(self, index: int) -> str:
        """UTC time of a sample as ISO 8601, or seconds from the start where the log has no clock."""
        if self.start is None:
            return f"{self.seconds[index]:.0f} s"
        moment = self.start + datetime.timedelta(seconds=float(self.seconds[index]))
        return moment.isoformat(timespec="seconds").replace("+00:00", "Z")

    def clock_of(self, index: int) -> str:
        """Time of a sample as the clock on the wall showed it, or seconds from the start where the log has no clock."""
        if self.start is None:
            return self.time_of(index)
        moment = self.start + datetime.timedelta(seconds=float(self.seconds[index]))
        return clock_text(moment.astimezone(zoneinfo.ZoneInfo(self.zone)))

    def with_role(self, role: Role) -> tuple[int, ...]:
        """Column numbers of the channels of one role."""
        return tuple(i for i, channel in enumerate(self.channels) if channel.role == role)


@dataclass(frozen=True, slots=True, eq=False)
class PullCurve:
    """A peel coupon being torn apart."""

    source: Source
    travel: Floats  # (n,) crosshead [m]
    force: Floats  # (n,) [N]
    rows: NDArray[np.int64]
    remarks: tuple[Remark, ...] = ()


@dataclass(frozen=True, slots=True)
class TornFace:
    """What is seen on one face of a torn coupon: areas by failure mode. [m^2]"""

    face: Literal["top", "bottom"]
    areas: tuple[tuple[FailureMode, float], ...]


@dataclass(frozen=True, slots=True)
class Coupon:
    """One torn coupon: which blade and end, its width, the reading of both faces, and its pull curve's file."""

    source: Source
    serial: str
    label: str  # like "root" or "tip"
    width: float  # [m]
    faces: tuple[TornFace, ...]
    torn_by: str
    torn_on: datetime.date
    pull_curve: str = ""  # file name of the pull curve; "" where none was logged


@dataclass(frozen=True, slots=True)
class Measured:
    """One measured dimension, SI, with what was written."""

    feature: str  # a field of the drawing, like "reflex.angle", or a dimension's name
    value: float
    kind: str  # see bladewright.units
    text: str  # as written
    unit: str
    uncertainty: float | None = None  # k = 2, SI; None: the gauge's uncertainty was not entered
    station: float | None = None  # radius [m]
    gauge: str = ""
    row: int | None = None


@dataclass(frozen=True, slots=True)
class DimensionSheet:
    """All measured dimensions of one blade."""

    source: Source
    serial: str
    measured_by: str
    measured_on: datetime.date
    rows: tuple[Measured, ...]


@dataclass(frozen=True, slots=True)
class Weighing:
    """A blade compared with the master blade on one rig: differences, which is what blades are matched by."""

    source: Source
    serial: str
    rig: str
    master: str
    span_moment_difference: float  # [kg m] blade minus master
    span_moment_uncertainty: float  # k = 2 [kg m]
    chordwise_difference: float | None  # [m] mass centre, aft positive
    chordwise_uncertainty: float | None  # k = 2 [m]
    mass: float | None  # [kg]
    weighed_by: str
    weighed_on: datetime.date


@dataclass(frozen=True, slots=True)
class SignedRecord:
    """A proof the program does not yet compute, entered and signed by a person."""

    source: Source
    serial: str
    proof: str  # one of the drawing's required proofs
    result: Literal["conforms", "does not conform"]
    statement: str
    signed_by: str
    signed_on: datetime.date
    details: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class LookedAt:
    """A stretch of one bondline that was looked at, between two radii. [m]"""

    bondline: str
    inner: float
    outer: float


@dataclass(frozen=True, slots=True)
class Void:
    """One void: which bondline, where its middle lies and how large it was found."""

    number: int  # as listed in its map, from 1
    bondline: str
    station: float  # radius [m]
    along: float  # the span [m]
    across: float  # the chord [m]
    chordwise: float | None = None  # of the chord; None: nobody said


@dataclass(frozen=True, slots=True)
class VoidMap:
    """What one person looked at with one method, and the voids found there."""

    source: Source
    serial: str
    found_by: str
    found_on: datetime.date
    method: str
    uncertainty: float | None  # k = 2, of every size and place told [m]; None: not entered
    looked_at: tuple[LookedAt, ...]
    voids: tuple[Void, ...]
