"""An invented blade with everything on file, whole and good; each test spoils one thing."""

import dataclasses
import datetime
from collections.abc import Callable
from pathlib import Path

import numpy as np

from bladewright.drawing.file import read_drawing
from bladewright.drawing.limits import CureLimits
from bladewright.evidence.records import (
    Channel,
    Coupon,
    CureLog,
    DimensionSheet,
    Floats,
    Measured,
    PullCurve,
    Role,
    SignedRecord,
    Source,
    TornFace,
    Weighing,
)
from bladewright.proof.records import BladeEvidence
from bladewright.units import to_si

FM31 = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"
DRAWING = read_drawing(FM31)
SERIAL = "FM31-0007"
DAY = datetime.date(2026, 3, 4)
PSI, INCH, POUND = 6894.757293168361, 0.0254, 4.4482216152605
SIGNED = (
    "material lots", "adhesive out-time", "surface treatment", "lay-up", "retained coupon", "void map",
    "hole positions", "final inspection",
)  # fmt: skip


def kelvin(fahrenheit: float | Floats) -> Floats:
    """Degrees Fahrenheit as kelvin."""
    return (np.asarray(fahrenheit, dtype=float) + 459.67) / 1.8


def a_log(
    minutes: Floats | list[float], columns: dict[str, Floats | list[float]], role: Role = "mould", unit: str = "degC"
) -> CureLog:
    """A log from a table as it is printed: minutes, and a column of readings a sensor."""
    names = tuple(columns)
    readings = np.column_stack([np.asarray(columns[name], dtype=float) for name in names])
    values = readings + 273.15 if unit == "degC" else kelvin(readings)
    return CureLog(
        source=Source("log.csv", "0" * 64),
        description="by hand",
        start=datetime.datetime(2026, 3, 2, 8, 0, tzinfo=datetime.UTC),
        seconds=np.asarray(minutes, dtype=float) * 60.0,
        channels=tuple(Channel(name, role, name[1:]) for name in names),
        values=values,
        rows=np.arange(2, len(minutes) + 2),
    )


def some_limits(**entries: str) -> CureLimits:
    """Limits at 121 degC within 3 K for 60 min, an hour's common practice, changed where a test says so."""
    usual = {
        "target": "121 degC", "below": "3 K", "above": "3 K", "dwell_least": "60 min", "ramp_greatest": "2.8 K/min",
        "ramp_window": "10 min", "spread_greatest": "5 K", "sample_interval": "5 min",
    }  # fmt: skip
    return CureLimits.model_validate({**usual, **entries})


def good_cure() -> CureLog:
    """Six zones, a sample a minute: 3.6 degF/min up to 250, an hour and a half there, 4 degF/min down; pressure on."""
    minutes = np.arange(0.0, 200.0)
    mould = np.interp(minutes, [0.0, 8.0, 58.0, 148.0, 186.0], [70.0, 70.0, 250.0, 250.0, 98.0])
    channels, columns = [], []
    for zone in range(1, 7):
        wave = 0.2 * np.sin(minutes / 3.0 + zone)
        channels.append(Channel(f"M{zone}", "mould", str(zone)))
        columns.append(kelvin(mould + 0.4 * (zone - 3.5) + wave))
    for zone in range(1, 7):
        channels.append(Channel(f"H{zone}", "heater", str(zone)))
        columns.append(kelvin(mould + 12.0 * (mould > 80.0) + 0.3 * np.cos(minutes + zone)))
    channels.append(Channel("bladder", "pressure"))
    columns.append(PSI * np.where((minutes >= 3.0) & (minutes < 184.0), 42.0, 0.0))
    return CureLog(
        source=Source("cure.csv", "1" * 64),
        description="tool 2 logger",
        start=datetime.datetime(2026, 3, 2, 13, 0, tzinfo=datetime.UTC),
        seconds=minutes * 60.0,
        channels=tuple(channels),
        values=np.column_stack(columns),
        rows=np.arange(4, len(minutes) + 4),
    )


def changed(log: CureLog, channel: str, change: Callable[[Floats, Floats], Floats]) -> CureLog:
    """The log with one channel's readings changed: ``change(minutes, readings)``."""
    column = [c.name for c in log.channels].index(channel)
    values = log.values.copy()
    values[:, column] = change(log.seconds / 60.0, values[:, column].copy())
    return dataclasses.replace(log, values=values)


def a_coupon(**areas: float) -> Coupon:
    """A coupon an inch wide; areas in square millimetres on both faces."""
    entered = {"CF": 880.0, "SCF": 20.0, "AF": 0.0, "void": 9.0, **areas}
    tuples = tuple((mode, area * 1e-6) for mode, area in entered.items())
    faces = tuple(TornFace(face, tuples) for face in ("top", "bottom"))  # type: ignore[arg-type]
    return Coupon(Source("tip.toml", "2" * 64), SERIAL, "tip", INCH, faces, "R. Vane", DAY, "tip.csv")


def a_curve(pounds: float = 21.0) -> PullCurve:
    """A pull curve of steady force after a first peak, to 14 in of crosshead travel."""
    travel = np.linspace(0.0, 14.0, 281) * INCH
    force = np.where(travel < 0.5 * INCH, 1.4, 1.0) * pounds * POUND
    return PullCurve(Source("tip.csv", "3" * 64), travel, force, np.arange(2, 283))


def measured(
    feature: str, text: str, kind: str, uncertainty: str | None = None, station: float | None = None
) -> Measured:
    """A row of a sheet as a person writes it."""
    spread = None if uncertainty is None else to_si(uncertainty, kind)
    unit = text.split(" ", 1)[1]
    return Measured(feature, to_si(text, kind), kind, text, unit, spread, station, "gauge G-1", 2)


def good_rows() -> tuple[Measured, ...]:
    """Every dimension the drawing asks for, well inside."""
    return (
        measured("reflex.angle", "2.03 deg", "angle", "0.05 deg"),
        measured("reflex.loose_skin.angle", "2.35 deg", "angle", "0.05 deg"),
        measured("planform.twist", "-0.78 deg", "angle", "0.05 deg", 3.2),
        measured("planform.chord", "200.1 mm", "length", "0.05 mm", 2.0),
        measured("section.thickness", "24.02 mm", "length", "0.02 mm", 2.0),
        measured("length root to tip", "3.3001 m", "length", "0.2 mm"),
    )


def a_sheet(*rows: Measured) -> DimensionSheet:
    """The good sheet with some rows put in the place of those of the same feature."""
    new = {row.feature for row in rows}
    kept = tuple(row for row in good_rows() if row.feature not in new)
    return DimensionSheet(Source("dims.csv", "4" * 64), SERIAL, "R. Vane", DAY, (*kept, *rows))


def a_weighing(difference: float = 0.012, day: datetime.date = DAY) -> Weighing:
    """Span moment difference in kg m against the master."""
    return Weighing(
        Source(f"weighing-{day}.toml", "5" * 64), SERIAL, "rig W-1", "M-1", difference, 0.004, 0.0003, 0.0001, 9.65,
        "R. Vane", day,
    )  # fmt: skip


def signed(proof: str, result: str = "conforms", by: str = "") -> SignedRecord:
    """A signed record of one proof; who made the blade does not look at it last."""
    by = by or ("L. Orme" if proof == "final inspection" else "R. Vane")
    source = Source(f"{proof}.toml", "6" * 64)
    return SignedRecord(source, SERIAL, proof, result, "As the sheet asks.", by, DAY)  # type: ignore[arg-type]


def everything() -> BladeEvidence:
    """A whole good blade."""
    return BladeEvidence(
        cures=(good_cure(),),
        coupons=((a_coupon(), a_curve()),),
        sheets=(a_sheet(),),
        weighings=(a_weighing(),),
        signed=tuple(signed(proof) for proof in SIGNED),
    )
