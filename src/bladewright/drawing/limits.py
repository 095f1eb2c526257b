"""What the process and the finished blade must hold: cure, coupons, matching, and the proofs a blade needs."""

from typing import Annotated, Self

from pydantic import Field, model_validator

from bladewright.drawing.damage_limits import DamageLimits
from bladewright.drawing.order import require_order, require_told_apart
from bladewright.drawing.quantities import (
    Angle,
    AreaDensity,
    Force,
    ForcePerWidth,
    Fraction,
    Inside,
    Length,
    Pressure,
    Record,
    SpanMoment,
    Temperature,
    TemperatureDifference,
    TemperatureRate,
    Time,
)


class CureHold(Record):
    """A stay on the way up, where the process asks for one: the film flows, and cold zones catch up."""

    temperature: Temperature  # [K]
    least: Time = Field(gt=0.0)  # [s]


class CureLimits(Record):
    """Limits on the mould's temperature history. Judged on mould sensors; heaters only for over-temperature and lag."""

    target: Temperature  # [K]
    below: TemperatureDifference  # [K] how far under the target still counts as in
    above: TemperatureDifference  # [K]
    dwell_least: Time  # [s]
    dwell_greatest: Time | None = None  # [s]
    ramp_greatest: TemperatureRate  # [K/s]
    ramp_least: TemperatureRate | None = None  # [K/s]
    ramp_window: Time = 300.0  # [s]
    ramp_from: Temperature | None = None  # [K] least ramp is asked between here and the band
    spread_greatest: TemperatureDifference  # [K] hottest minus coldest mould sensor during the dwell
    overshoot_greatest: Temperature | None = None  # [K] no mould sensor ever above
    heater_greatest: Temperature | None = None  # [K]
    heater_lag_greatest: TemperatureDifference | None = None  # [K] heater minus its mould sensor
    sample_interval: Time  # [s] the logger's nominal interval
    cool_greatest: TemperatureRate | None = None  # [K/s] fastest fall, as a positive rate
    release: Temperature | None = None  # [K] pressure stays on until the mould is below this
    pressure_least: Pressure | None = None  # [Pa] gauge
    pressure_greatest: Pressure | None = None  # [Pa] gauge
    gel_temperature: Temperature | None = None  # [K] pressure lost before the mould was ever here is a wetting fault
    heat_begins: Temperature | None = None  # [K] pressure must be on before any mould sensor is above this
    frozen_samples: int = Field(default=6, ge=2)  # so many identical readings while another channel moves is "frozen"
    frozen_movement: TemperatureDifference = 1.0  # [K]
    sensor_uncertainty: TemperatureDifference | None = None  # [K] k = 2, of a calibrated mould sensor
    hold: CureHold | None = None
    degree_of_cure_least: Inside | None = None  # of the film, everywhere along the blade
    source: str | None = None


class PeelLimits(Record):
    """Trailing-edge seam peel: the coupon that is torn apart."""

    mean_least: ForcePerWidth  # [N/m]
    skip: Length  # [m] of peel after the start that is not judged
    length: Length  # [m] of peel over which the mean is taken
    adhesion_greatest: Fraction = 0.0  # share of adhesion failure allowed on either face
    void_greatest: Fraction | None = None
    travel_per_peel: float = 2.0  # crosshead travel per length peeled: 2 in a T-peel
    uncertainty: Fraction | None = None  # k = 2, of the mean, from load cell and width
    source: str | None = None


class MatchLimits(Record):
    """How alike the blades of one set must be."""

    span_moment: SpanMoment  # [kg m] difference between mates
    chordwise_centre: Length  # [m]
    section_moment: float | None = None  # difference of the section's moment coefficient
    effective_pitch: Angle | None = None  # [rad]
    track: Length | None = None  # [m] tip path difference
    handle_force: Force | None = None  # [N] contribution difference that a pilot would notice
    source: str | None = None


class WeighLimits(Record):
    """The finished blade against the master blade of the rig."""

    span_moment: SpanMoment  # [kg m] greatest difference either way
    chordwise_centre: Length  # [m] greatest difference either way
    source: str | None = None


class AddedMass(Record):
    """Mass that a blade in service may take on: a coat, water, tape. Spread over both faces between two places."""

    name: str
    area_density: AreaDensity  # [kg/m^2] of each face
    front: Fraction = Field(default=0.0, ge=0.0, le=1.0)  # of the chord
    back: Fraction = Field(default=1.0, ge=0.0, le=1.0)
    inner: Length | None = None  # [m] radius; None: the blade's inner end
    outer: Length | None = None  # [m] radius; None: its tip
    source: str | None = None

    @model_validator(mode="after")
    def _has_an_extent(self) -> Self:
        require_order("back", self.front, self.back, "behind the front")
        require_order("outer", self.inner, self.outer, "further out than the inner end")
        return self


#: states every flutter answer names itself; one of them is judged by another limit
STATES = ("as drawn", "tip weight lost", "never-exceed speed, advancing blade", "the repaint")


class FlutterLimits(Record):
    """How far from flutter and divergence the blade must stay, and what it may take on in service."""

    speed_factor: float = Field(ge=1.0, le=2.0)  # on the greatest rotor speed, power off included
    centre_margin: Annotated[Length, Field(ge=0.0)]  # [m] the mass centre must be able to move aft at least so far
    changes: tuple[AddedMass, ...] = ()
    source: str | None = None

    @model_validator(mode="after")
    def _told_apart(self) -> Self:
        require_told_apart("changes", (change.name for change in self.changes), STATES)
        return self


class HandDimension(Record):
    """A dimension to be measured on every blade that is not already a field of the drawing."""

    name: str
    nominal: Length
    minus: Length
    plus: Length


class Limits(Record):
    """All limits of the drawing, each table optional; a rule whose limit is not entered says so."""

    cure: CureLimits | None = None
    peel: PeelLimits | None = None
    match: MatchLimits | None = None
    weighing: WeighLimits | None = None
    flutter: FlutterLimits | None = None
    damage: DamageLimits | None = None
    twist_tolerance: Angle | None = None  # [rad]
    chord_tolerance: Length | None = None  # [m]
    thickness_tolerance: Length | None = None  # [m] of the finished section
    dimensions: tuple[HandDimension, ...] = ()


#: What a blade needs on record unless its drawing says otherwise (DESIGN: required proofs).
REQUIRED_PROOFS = (
    "material lots",
    "adhesive out-time",
    "surface treatment",
    "lay-up",
    "cure",
    "coupon",
    "retained coupon",
    "void map",
    "dimensions",
    "hole positions",
    "weighing",
    "final inspection",
)
