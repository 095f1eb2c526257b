"""The oven in which the mould is heated: six zones, the controller a simulation assumes, and what the shop sets.

Zones 1 to 3 are the top half of the mould from root to tip, 4 to 6 the bottom half; stations 1 to 3 lie between them.
A number that is the same for all may stand alone, else there is one for each.
"""

from pathlib import Path
from typing import Annotated, Any, Self

from pydantic import BeforeValidator, Field, model_validator

from bladewright.drawing.quantities import (
    Conductance,
    HeatCapacity,
    Power,
    Record,
    Share,
    Temperature,
    TemperatureDifference,
    TemperatureRate,
    Time,
)
from bladewright.errors import BadInput
from bladewright.typed import as_custom, toml_table, validated


def _alone_or_each(value: Any) -> Any:
    return value if isinstance(value, list | tuple) else (value,)


_EACH = BeforeValidator(_alone_or_each)
Capacities = Annotated[tuple[HeatCapacity, ...], _EACH]
Conductances = Annotated[tuple[Conductance, ...], _EACH]
Powers = Annotated[tuple[Power, ...], _EACH]

#: entry -> how many there are, where it does not stand alone
COUNTS = {
    "heater_capacity": 6,
    "mould_capacity": 6,
    "bondline_capacity": 3,
    "heater_to_mould": 6,
    "mould_to_bondline": 6,
    "along": 4,
    "across": 3,
    "bondline_along": 2,
    "heater_loss": 6,
    "mould_loss": 6,
    "greatest_power": 6,
}


class OvenFit(Record):
    """How well a survey told the entries: logarithms of the factors on them, and what they leave unexplained."""

    survey: str  # the survey's file
    survey_sha256: str
    unknowns: tuple[str, ...]  # like "mould_loss 4"; without a number one factor on all zones
    covariance: tuple[tuple[float, ...], ...]  # of the logarithms [1]
    coverage: float = Field(gt=0.0)  # factor for k = 2 [1]
    misfit: TemperatureDifference = Field(ge=0.0)  # [K] root mean square

    @model_validator(mode="after")
    def _square(self) -> Self:
        count = len(self.unknowns)
        if len(self.covariance) != count or any(len(row) != count for row in self.covariance):
            allowed = f"{count} rows of {count}"
            raise as_custom(BadInput("is not as large as the unknowns are many", allowed=allowed, fix="fit again"))
        return self


class OvenEntries(Record):
    """What each zone weighs, passes on and loses."""

    heater_capacity: Capacities  # [J/K]
    mould_capacity: Capacities  # [J/K]
    bondline_capacity: Capacities  # [J/K] skins, film and spar of a station
    heater_to_mould: Conductances  # [W/K]
    mould_to_bondline: Conductances  # [W/K]
    along: Conductances  # [W/K] mould to mould: zones 1-2, 2-3, 4-5, 5-6
    across: Conductances  # [W/K] mould to mould past the blade: zones 1-4, 2-5, 3-6
    bondline_along: Conductances  # [W/K] stations 1-2, 2-3
    heater_loss: Conductances  # [W/K] to the room
    mould_loss: Conductances  # [W/K] to the room
    greatest_power: Powers  # [W] of each heater
    room: Temperature  # [K] where everything begins
    uncertainty: Share | None = None  # k = 2, of each entry that no survey told
    fit: OvenFit | None = None
    source: str | None = None

    @model_validator(mode="after")
    def _counted(self) -> Self:
        for name, count in COUNTS.items():
            if len(getattr(self, name)) not in (1, count):
                what = f"{name} has {len(getattr(self, name))} values"
                raise as_custom(BadInput(what, allowed=f"one for all, or {count}", fix="give one for each, in order"))
        return self


class AssumedControl(Record):
    """The controller that simulations assume: an assumption, not the shop's. Nothing here commands a heater."""

    gain: Conductance  # [W/K] power asked for each kelvin that is missing
    reset: Time = Field(gt=0.0)  # [s]


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


class FittedOven(Record):
    """The file that fitting a survey writes: an oven table that stands in for the drawing's."""

    format: int = Field(ge=1, le=1)
    oven: OvenEntries


def read_oven(path: Path) -> OvenEntries:
    """The oven in a fitted file."""
    return parse_oven(path.read_bytes(), path.name)


def parse_oven(data: bytes, file: str) -> OvenEntries:
    """The oven in the bytes of a fitted file."""
    return validated(FittedOven, toml_table(data, file), file, "a fitted oven").oven
