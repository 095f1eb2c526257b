"""Field types of the drawing: written as text with a unit, kept as an SI float."""

from typing import Annotated

from bladewright.typed import Record, of_kind

__all__ = ["Record"]

Length = Annotated[float, *of_kind("length")]
Mass = Annotated[float, *of_kind("mass")]
Time = Annotated[float, *of_kind("time")]
Temperature = Annotated[float, *of_kind("temperature")]
TemperatureDifference = Annotated[float, *of_kind("temperature difference")]
TemperatureRate = Annotated[float, *of_kind("temperature rate")]
Angle = Annotated[float, *of_kind("angle")]
Fraction = Annotated[float, *of_kind("fraction")]
Force = Annotated[float, *of_kind("force")]
Pressure = Annotated[float, *of_kind("pressure")]
Modulus = Annotated[float, *of_kind("stiffness modulus")]
Density = Annotated[float, *of_kind("density")]
Area = Annotated[float, *of_kind("area")]
Power = Annotated[float, *of_kind("power")]
AreaDensity = Annotated[float, *of_kind("area density")]
Speed = Annotated[float, *of_kind("speed")]
RotorSpeed = Annotated[float, *of_kind("rotor speed")]
Moment = Annotated[float, *of_kind("moment")]
SpanMoment = Annotated[float, *of_kind("span moment")]
ForcePerWidth = Annotated[float, *of_kind("force per width")]
LineStiffness = Annotated[float, *of_kind("line stiffness")]
TurningStiffness = Annotated[float, *of_kind("turning stiffness")]
Expansion = Annotated[float, *of_kind("expansion")]
