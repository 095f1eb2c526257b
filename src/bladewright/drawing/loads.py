"""What the blade must bear: the loads it is designed to, and the flights its life is worked out for."""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from bladewright.drawing.order import require_told_apart
from bladewright.drawing.quantities import BladeAngle, Record, Speed, Torque, Unit


class Loads(Record):
    """Limit loads as entered, and the factor from limit to ultimate."""

    limit_load_factor: Annotated[float, Field(ge=1.0, le=10.0)]  # lift over weight in the pull-up
    ultimate_factor: Annotated[float, Field(ge=1.0, le=5.0)]
    overspeed_factor: Annotated[float, Field(ge=1.0, le=2.0)] | None = None  # on the greatest power-off rotor speed
    gust_speed: Speed | None = None  # [m/s] sharp-edged, up, at never-exceed speed
    flare_factor: Annotated[float, Field(ge=1.0, le=10.0)] | None = None  # lift over weight in an autorotation flare
    start_torque: Torque | None = None  # [N m] at the rotor shaft, all blades together
    droop_stop_factor: Annotated[float, Field(ge=1.0, le=20.0)] | None = None  # a blade's weight falling on its stop
    source: str | None = None


class Manoeuvre(Record):
    """A part of the flying: for how long, how hard, and what goes round with the rotor."""

    name: str
    share: Unit  # of the flying time
    load_factor: Annotated[float, Field(ge=0.0, le=10.0)]  # mean lift over weight
    lift_amplitude: Unit  # of the mean lift, at the harmonic
    flap_amplitude: Annotated[BladeAngle, Field(ge=0.0)] = 0.0  # [rad] once per revolution, against the shaft
    harmonic: Annotated[int, Field(ge=1, le=12)] = 1  # per revolution
    rotor: Literal["power on", "power off"] = "power on"


class KnockDown(Record):
    """Something that shortens a life, as an entered, cited factor."""

    name: str
    acts_on: Literal["stress", "life"]
    factor: Annotated[float, Field(ge=1.0, le=100.0)]  # stress is multiplied, life is divided
    source: str | None = None


class FlightProfile(Record):
    """The flying a life is worked out for."""

    starts_per_hour: Annotated[float, Field(gt=0.0, le=60.0)]
    manoeuvres: tuple[Manoeuvre, ...]
    knock_downs: tuple[KnockDown, ...] = ()
    reliability: Annotated[float, Field(gt=0.5, lt=1.0)]  # share of blades that outlive the estimate
    confidence: Annotated[float, Field(gt=0.5, lt=1.0)]
    source: str | None = None

    @model_validator(mode="after")
    def _told_apart(self) -> Self:
        require_told_apart("manoeuvres", (one.name for one in self.manoeuvres), ("start and stop",))
        require_told_apart("knock_downs", (one.name for one in self.knock_downs))
        return self
