"""The rotor the blade flies on and the control run from its pitch horn to the pilot's hand."""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from bladewright.drawing.order import require_order
from bladewright.drawing.quantities import (
    Area,
    BladeAngle,
    Cone,
    Force,
    Fraction,
    Length,
    LineStiffness,
    Mass,
    Moment,
    Power,
    Record,
    RotorSpeed,
    Size,
    Speed,
    TurningStiffness,
)


class Speeds(Record):
    """Rotor speed and its limits."""

    normal: RotorSpeed  # [rad/s]
    power_on_least: RotorSpeed | None = None
    power_on_greatest: RotorSpeed | None = None
    power_off_least: RotorSpeed | None = None
    power_off_greatest: RotorSpeed | None = None

    @model_validator(mode="after")
    def _least_before_greatest(self) -> Self:
        require_order("power_on_greatest", self.power_on_least, self.power_on_greatest, "at or above power_on_least")
        require_order(
            "power_off_greatest", self.power_off_least, self.power_off_greatest, "at or above power_off_least"
        )
        return self


class ControlRun(Record):
    """From pitch horn to collective handle. One line of action per blade."""

    pitch_arm: Size  # [m] feathering axis to pitch-link line
    handle_per_link: float = Field(gt=0)  # handle travel per pitch-link travel
    link_up_is: Literal["nose up", "nose down"]  # what the blade does when its link goes up (leading or trailing horn)
    lever_up_is: Literal["nose up", "nose down"]  # what the blade does when the lever is raised
    stiffness_low: TurningStiffness | None = None  # [N m/rad] at the feathering axis, slack taken out gently
    stiffness_high: TurningStiffness | None = None
    friction: Force | None = None  # [N] at the handle, least value the adjuster can be set to
    trim_spring: Force | None = None  # [N] at the handle with the lever at lowest collective, positive lifts it
    trim_spring_rate: LineStiffness | None = None  # [N/m] how fast that force falls as the lever rises
    counterweight: Moment | None = None  # [N m] per blade at normal speed and 45 deg pitch, nose-up positive
    backlash: Annotated[BladeAngle, Field(ge=0.0)] | None = None  # [rad] at the blade, from stop to stop of the slack

    @model_validator(mode="after")
    def _soft_before_stiff(self) -> Self:
        require_order("stiffness_high", self.stiffness_low, self.stiffness_high, "at or above stiffness_low")
        return self


class HandleBand(Record):
    """What a set of blades may ask of the pilot's hand, pull-up positive."""

    least: Force  # [N]
    greatest: Force  # [N]

    @model_validator(mode="after")
    def _least_before_greatest(self) -> Self:
        require_order("greatest", self.least, self.greatest, "at or above least")
        return self


class Rotor(Record):
    """Hub, speeds, masses and controls of the aircraft this drawing covers."""

    blades: int = Field(ge=2, le=8)
    hub: Literal["teetering", "hinged", "rigid"]
    speeds: Speeds
    gross_mass: Mass = Field(gt=0.0)  # [kg]
    never_exceed_speed: Speed | None = None  # [m/s]
    drag_area: Area | None = None  # [m^2] flat plate that holds the aircraft back as much as all but its rotor
    power_available: Power | None = None  # [W] at the rotor shaft, sea level, standard air, continuous
    power_with_height: Literal["falls", "held"] | None = None  # an aspirated engine's falls with the air's density
    precone: Cone | None = None  # [rad]
    hinge_offset: Length = 0.0  # [m]
    teeter_undersling: Length | None = None  # [m]
    collective_least: BladeAngle | None = None  # [rad] at 0.75 R
    collective_greatest: BladeAngle | None = None
    control: ControlRun | None = None
    handle_band: HandleBand | None = None
    droop_stop: Annotated[BladeAngle, Field(ge=0.0)] | None = None  # [rad] how far below level a blade may hang at rest
    flap_stop: Annotated[BladeAngle, Field(gt=0.0)] | None = None  # [rad] how far above level it may fly
    structural_damping: Annotated[Fraction, Field(ge=0.0, lt=1.0)] | None = None  # of critical, of every mode
    frequency_margin: Annotated[Fraction, Field(gt=0.0, lt=0.5)] | None = None  # a mode keeps from a harmonic, of it

    @model_validator(mode="after")
    def _least_before_greatest(self) -> Self:
        require_order(
            "collective_greatest", self.collective_least, self.collective_greatest, "at or above collective_least"
        )
        return self
