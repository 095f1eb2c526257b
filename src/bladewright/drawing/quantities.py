"""Field types of the drawing: written as text with a unit, kept as an SI float."""

import math
from typing import Annotated

from pydantic import AfterValidator, Field

from bladewright.errors import BadInput
from bladewright.typed import Record, as_custom, of_kind

__all__ = ["Record"]

#: [deg] no blade is pitched, slack or stopped so far, and a radian written for a degree is seen; our own choice
GREATEST_ANGLE = 30.0
#: [deg] nor coned so far; what is linear in the cone ends soon after; our own choice
GREATEST_CONE = 10.0


def _within(degrees: float) -> AfterValidator:
    def check(angle: float) -> float:
        if abs(angle) > math.radians(degrees):
            allowed = f"-{degrees:g} deg to {degrees:g} deg"
            raise as_custom(BadInput("is further than a blade goes", allowed=allowed, fix="check the unit"))
        return angle

    return AfterValidator(check)


Length = Annotated[float, *of_kind("length")]
#: of what is there, like a wall or a chord; a place may be zero or below, a size may not
Size = Annotated[float, *of_kind("length"), Field(gt=0.0)]
Mass = Annotated[float, *of_kind("mass"), Field(ge=0.0)]
Time = Annotated[float, *of_kind("time")]
Temperature = Annotated[float, *of_kind("temperature")]
TemperatureDifference = Annotated[float, *of_kind("temperature difference")]
TemperatureRate = Annotated[float, *of_kind("temperature rate")]
Angle = Annotated[float, *of_kind("angle")]
#: of the blade against its hub, all small
BladeAngle = Annotated[float, *of_kind("angle"), _within(GREATEST_ANGLE)]
Cone = Annotated[float, *of_kind("angle"), _within(GREATEST_CONE)]
Fraction = Annotated[float, *of_kind("fraction")]
#: a place on the chord itself
Inside = Annotated[float, *of_kind("fraction"), Field(gt=0.0, lt=1.0)]
Force = Annotated[float, *of_kind("force")]
Pressure = Annotated[float, *of_kind("pressure")]
#: nothing is stiffer than diamond, 1.2 TPa, nor denser than osmium, 22.6 t/m^3; handbooks, from memory
Modulus = Annotated[float, *of_kind("stiffness modulus"), Field(gt=0.0, le=1.2e12)]
Density = Annotated[float, *of_kind("density"), Field(gt=0.0, le=2.3e4)]
AreaDensity = Annotated[float, *of_kind("area density"), Field(ge=0.0)]
Area = Annotated[float, *of_kind("area"), Field(gt=0.0)]
Power = Annotated[float, *of_kind("power"), Field(gt=0.0)]
Speed = Annotated[float, *of_kind("speed"), Field(gt=0.0)]
RotorSpeed = Annotated[float, *of_kind("rotor speed"), Field(gt=0.0)]
Moment = Annotated[float, *of_kind("moment")]
SpanMoment = Annotated[float, *of_kind("span moment")]
ForcePerWidth = Annotated[float, *of_kind("force per width")]
LineStiffness = Annotated[float, *of_kind("line stiffness")]
#: held as fast as anything can be: beyond it the rest is lost in the last digits; our own choice
TurningStiffness = Annotated[float, *of_kind("turning stiffness"), Field(ge=0.0, le=1e9)]
Expansion = Annotated[float, *of_kind("expansion")]
#: what a material or a film bears
Strength = Annotated[float, *of_kind("pressure"), Field(gt=0.0)]
Intensity = Annotated[float, *of_kind("stress intensity"), Field(gt=0.0)]
Torque = Annotated[float, *of_kind("moment"), Field(gt=0.0)]
#: a share of a whole
Unit = Annotated[float, *of_kind("fraction"), Field(ge=0.0, le=1.0)]
