"""Field types of the drawing: written as text with a unit, kept as an SI float."""

from collections.abc import Callable
from typing import Annotated

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field
from pydantic_core import PydanticCustomError

from bladewright import units
from bladewright.errors import BadInput


def _reader(kind: str) -> Callable[[object], float]:
    def read(value: object) -> float:
        try:
            return units.to_si(value if isinstance(value, str) else str(value), kind)
        except BadInput as error:
            context = {"what": error.what, "allowed": error.allowed or "", "fix": error.fix or ""}
            raise PydanticCustomError("quantity", "{what}", context) from error

    return read


def _of(kind: str) -> tuple[BeforeValidator, object]:
    return BeforeValidator(_reader(kind)), Field(json_schema_extra={"kind": kind, "unit": units.si_unit(kind)})


Length = Annotated[float, *_of("length")]
Mass = Annotated[float, *_of("mass")]
Time = Annotated[float, *_of("time")]
Temperature = Annotated[float, *_of("temperature")]
TemperatureDifference = Annotated[float, *_of("temperature difference")]
TemperatureRate = Annotated[float, *_of("temperature rate")]
Angle = Annotated[float, *_of("angle")]
Fraction = Annotated[float, *_of("fraction")]
Force = Annotated[float, *_of("force")]
Pressure = Annotated[float, *_of("pressure")]
Modulus = Annotated[float, *_of("stiffness modulus")]
Density = Annotated[float, *_of("density")]
AreaDensity = Annotated[float, *_of("area density")]
Speed = Annotated[float, *_of("speed")]
RotorSpeed = Annotated[float, *_of("rotor speed")]
Moment = Annotated[float, *_of("moment")]
SpanMoment = Annotated[float, *_of("span moment")]
ForcePerWidth = Annotated[float, *_of("force per width")]
LineStiffness = Annotated[float, *_of("line stiffness")]
TurningStiffness = Annotated[float, *_of("turning stiffness")]
Expansion = Annotated[float, *_of("expansion")]


class Record(BaseModel):
    """Base of every table of the drawing: nothing unknown gets in, nothing changes afterwards."""

    model_config = ConfigDict(extra="forbid", frozen=True, str_strip_whitespace=True)
