"""Field types of the drawing: written as text with a unit, kept as an SI float."""

from typing import Annotated

from pydantic import Field

from bladewright.typed import Record, of_kind

__all__ = ["Record"]

Length = Annotated[float, *of_kind("length")]
#: of what is there, like a wall or a chord; a place may be zero or below, a size may not
Size = Annotated[float, *of_kind("length"), Field(gt=0.0)]
Mass = Annotated[float, *of_kind("mass"), Field(ge=0.0)]
Time = Annotated[float, *of_kind("time")]
Temperature = Annotated[float, *of_kind("temperature")]
TemperatureDifference = Annotated[float, *of_kind("temperature difference")]
TemperatureRate = Annotated[float, *of_kind("temperature rate")]
Angle = Annotated[float, *of_kind("angle")]
Fraction = Annotated[float, *of_kind("fraction")]
#: a place on the chord itself
Inside = Annotated[float, *of_kind("fraction"), Field(gt=0.0, lt=1.0)]
Force = Annotated[float, *of_kind("force")]
Pressure = Annotated[float, *of_kind("pressure")]
Modulus = Annotated[float, *of_kind("stiffness modulus"), Field(gt=0.0)]
Density = Annotated[float, *of_kind("density"), Field(gt=0.0)]
AreaDensity = Annotated[float, *of_kind("area density"), Field(ge=0.0)]
Area = Annotated[float, *of_kind("area"), Field(gt=0.0)]
Power = Annotated[float, *of_kind("power"), Field(gt=0.0)]
Speed = Annotated[float, *of_kind("speed"), Field(gt=0.0)]
RotorSpeed = Annotated[float, *of_kind("rotor speed"), Field(gt=0.0)]
Moment = Annotated[float, *of_kind("moment")]
SpanMoment = Annotated[float, *of_kind("span moment")]
ForcePerWidth = Annotated[float, *of_kind("force per width")]
LineStiffness = Annotated[float, *of_kind("line stiffness")]
TurningStiffness = Annotated[float, *of_kind("turning stiffness")]
Expansion = Annotated[float, *of_kind("expansion")]
