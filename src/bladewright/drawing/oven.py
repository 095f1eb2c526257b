"""The schedule a shop sets, and an oven fitted to a survey, read from and written to a file of entries."""

from pathlib import Path
from typing import Self

from pydantic import Field, model_validator

from bladewright.drawing.cure_entries import OvenEntries, parse_cure_entries
from bladewright.drawing.quantities import Record, Temperature, TemperatureRate, Time
from bladewright.errors import BadInput
from bladewright.typed import as_custom

#: unit in which an entry is written out; what is not here has none
_UNITS = {
    "heater_capacity": "J/K", "mould_capacity": "J/K", "bondline_capacity": "J/K",
    "heater_to_mould": "W/K", "mould_to_bondline": "W/K", "along": "W/K", "across": "W/K", "bondline_along": "W/K",
    "heater_loss": "W/K", "mould_loss": "W/K", "assumed_gain": "W/K", "greatest_power": "W", "assumed_reset": "s",
    "stations": "m", "room": "K", "sensor_uncertainty": "K", "film_share": "", "scatter": "",
}  # fmt: skip


class CureSchedule(Record):
    """What the shop sets: up at a rate, held at the target from when the set point is there, down at a rate."""

    ramp: TemperatureRate = Field(gt=0.0)  # [K/s]
    hold_temperature: Temperature | None = None  # [K]
    hold: Time | None = Field(default=None, gt=0.0)  # [s]
    target: Temperature  # [K]
    dwell: Time = Field(gt=0.0)  # [s] of the set point; the mould's own is shorter
    cool: TemperatureRate = Field(gt=0.0)  # [K/s] as a positive rate
    source: str | None = None

    @model_validator(mode="after")
    def _whole_hold(self) -> Self:
        if (self.hold is None) != (self.hold_temperature is None):
            raise as_custom(
                BadInput("a hold needs its temperature and its time", allowed="both or neither", fix="enter both")
            )
        return self


def read_oven(path: Path) -> OvenEntries:
    """The one oven in a file of entries."""
    return parse_oven(path.read_bytes(), path.name)


def parse_oven(data: bytes, file: str) -> OvenEntries:
    """The one oven in the bytes of a file of entries."""
    ovens = parse_cure_entries(data, file).ovens
    if len(ovens) != 1:
        raise BadInput(
            "does not hold one oven", file=file, field="ovens", value=len(ovens), allowed="one [ovens.name] table",
            fix="leave only the oven that is meant",
        )  # fmt: skip
    return next(iter(ovens.values()))


def oven_file(name: str, oven: OvenEntries) -> bytes:
    """An oven as the bytes of a file of entries, units written out; the same oven makes the same bytes."""
    import tomlkit

    table = tomlkit.table()
    for field in type(oven).model_fields:
        value = getattr(oven, field)
        if value is not None and field != "fit":
            table[field] = _written(value, _UNITS.get(field))
    if oven.fit is not None:
        fit = tomlkit.table()
        fit["survey"], fit["survey_sha256"] = oven.fit.survey, oven.fit.survey_sha256
        fit["coverage"], fit["misfit"] = oven.fit.coverage, f"{oven.fit.misfit:.6g} K"
        fit["unknowns"] = list(oven.fit.unknowns)
        fit["covariance"] = [list(row) for row in oven.fit.covariance]
        table["fit"] = fit
    document = tomlkit.document()
    document.add(tomlkit.comment("An oven fitted to a survey. It stands in for the drawing's: fit anew, do not edit."))
    document["format"] = 1
    document["ovens"] = {name: table}
    return tomlkit.dumps(document).encode()


def _written(value: object, unit: str | None) -> object:
    if unit is None:
        return value
    if isinstance(value, tuple):
        return [_written(one, unit) for one in value]
    return f"{value:.9g} {unit}".strip()
