"""What a shop enters of an adhesive's cure and of its oven. Without a source all that rests on it is unvalidated."""

from collections.abc import Callable
from typing import Annotated, TypeVar

import numpy as np
from pydantic import BeforeValidator, Field, model_validator

from bladewright.drawing.quantities import (
    Fraction,
    Inside,
    Length,
    Power,
    Record,
    Temperature,
    TemperatureDifference,
    Time,
)
from bladewright.engine.cure.control import AssumedControl
from bladewright.engine.cure.glass_transition import GlassTransition
from bladewright.engine.cure.kinetics import Branch, Diffusion, Kinetics, Term
from bladewright.engine.cure.oven import Oven, oven_network
from bladewright.errors import BadInput
from bladewright.typed import as_custom, of_kind, toml_table, validated

Rate = Annotated[float, *of_kind("rate")]
Energy = Annotated[float, *of_kind("activation energy"), Field(ge=0.0)]
PerKelvin = Annotated[float, *of_kind("expansion")]
HeatCapacity = Annotated[float, *of_kind("heat capacity"), Field(gt=0.0)]
Conductance = Annotated[float, *of_kind("heat conductance"), Field(ge=0.0)]
Scatter = Annotated[float, *of_kind("fraction"), Field(ge=0.0, lt=1.0)]
Share = Annotated[float, *of_kind("fraction"), Field(ge=0.0, le=1.0)]
#: one value for all zones, or one for each
_OneOrEach = BeforeValidator(lambda value: value if isinstance(value, list | tuple) else (value,))
Capacities = Annotated[tuple[HeatCapacity, ...], _OneOrEach]
Conductances = Annotated[tuple[Conductance, ...], _OneOrEach]
Powers = Annotated[tuple[Power, ...], _OneOrEach]
Made = TypeVar("Made")
SMALL = 1e-9  # of a logarithm's variance; what writing a matrix out can take from it


class RateTerm(Record):
    """One activated rate times a power of the degree of cure."""

    prefactor: Rate  # [1/s] negative in some published forms
    energy: Energy  # [J/mol]
    power: float = Field(default=0.0, ge=0.0)


class CureBranch(Record):
    """The form of the rate up to a degree of cure."""

    terms: tuple[RateTerm, ...]
    order: float = Field(ge=0.0)
    upto: Fraction = 1.0
    ceiling: Fraction = 1.0
    ceiling_order: float = Field(default=0.0, ge=0.0)


class CureDiffusion(Record):
    """Slowing by diffusion as the film turns to glass."""

    steepness: float = Field(gt=0.0)
    at_zero: float
    per_kelvin: PerKelvin  # [1/K]


class TransitionCurve(Record):
    """Glass transition against degree of cure, dry."""

    uncured: Temperature  # [K]
    cured: Temperature  # [K]
    ratio: float = Field(gt=0.0, le=1.0)
    source: str | None = None

    @model_validator(mode="after")
    def _in_order(self) -> "TransitionCurve":
        _made(lambda: self.curve)
        return self

    @property
    def curve(self) -> GlassTransition:
        """For the engine."""
        return GlassTransition(self.uncured, self.cured, self.ratio)


class CureKinetics(Record):
    """How one adhesive cures, over the temperatures it was measured at."""

    adhesive: str
    branches: tuple[CureBranch, ...]
    diffusion: CureDiffusion | None = None
    delivered: Fraction = Field(default=0.0, ge=0.0, lt=1.0)  # degree of cure it comes out of the freezer with
    lot_scatter: Scatter | None = None  # standard uncertainty of a lot's rate, as a part of it
    valid_from: Temperature | None = None  # [K] coldest and warmest it was measured at
    valid_to: Temperature | None = None  # [K]
    gel: Inside | None = None  # degree of cure at gel
    glass_transition: TransitionCurve | None = None
    counted_energy: Energy | None = None  # [J/mol] for counting equivalent minutes by one energy
    second_dwell_longest: Time | None = None  # [s] None: the maker permits no second dwell
    second_dwell_source: str | None = None  # where the maker says so
    source: str | None = None  # None marks every result "unvalidated data"

    @model_validator(mode="after")
    def _can_be(self) -> "CureKinetics":
        _made(lambda: self.kinetics)
        if self.kinetics.least_power >= 1.0 and self.delivered == 0.0:
            raise as_custom(
                BadInput("would never begin from a degree of cure of zero", allowed="delivered above 0",
                         fix="enter the degree of cure it is delivered with")
            )  # fmt: skip
        if self.second_dwell_longest is not None and not self.second_dwell_source:
            raise as_custom(
                BadInput("permits a second dwell without saying who does", allowed="second_dwell_source",
                         fix="name the maker's document, or take the second dwell out")
            )  # fmt: skip
        return self

    @property
    def kinetics(self) -> Kinetics:
        """For the engine."""
        slow = self.diffusion
        return Kinetics(
            tuple(
                Branch(
                    tuple(Term(term.prefactor, term.energy, term.power) for term in branch.terms),
                    branch.order, branch.upto, branch.ceiling, branch.ceiling_order,
                )
                for branch in self.branches
            ),
            Diffusion(slow.steepness, slow.at_zero, slow.per_kelvin) if slow else None,
        )  # fmt: skip

    @property
    def validated(self) -> bool:
        """Whether somebody entered where the constants come from."""
        return bool(self.source)

    def inside(self, coldest: float, warmest: float) -> bool:
        """Whether a history [K] stays where the constants were measured; never, where nobody entered that."""
        if self.valid_from is None or self.valid_to is None:
            return False
        return self.valid_from <= coldest and warmest <= self.valid_to


class OvenFit(Record):
    """How well a survey told an oven's entries: logarithms of the factors on them, and what they leave unexplained."""

    survey: str  # the survey's file
    survey_sha256: str
    unknowns: tuple[str, ...]  # like "mould_loss 4"; without a number one factor on all zones
    covariance: tuple[tuple[float, ...], ...]  # of the logarithms
    coverage: float = Field(gt=0.0)  # factor of an expanded uncertainty
    misfit: TemperatureDifference = Field(ge=0.0)  # [K] root mean square

    @model_validator(mode="after")
    def _can_be(self) -> "OvenFit":
        count = len(self.unknowns)
        square = len(self.covariance) == count and {len(row) for row in self.covariance} == {count}
        matrix = np.array(self.covariance) if square else np.zeros((0, 0))
        if not square or not np.allclose(matrix, matrix.T) or np.linalg.eigvalsh(matrix)[0] < -SMALL:
            allowed = f"{count} rows of {count}, symmetric, not negative"
            raise as_custom(
                BadInput("is no covariance of the unknowns", allowed=allowed, fix="fit the survey again")
            )  # fmt: skip
        return self


class OvenEntries(Record):
    """A mould of six zones, 1 to 3 on top from root to tip and 4 to 6 below, as weighed, reckoned or identified."""

    name: str
    stations: tuple[Length, Length, Length]  # [m] radii of the zones' middles, outward
    heater_capacity: Capacities  # [J/K]
    mould_capacity: Capacities  # [J/K]
    bondline_capacity: Capacities  # [J/K] of each of three stations
    heater_to_mould: Conductances  # [W/K]
    mould_to_bondline: Conductances  # [W/K]
    film_share: Share | None = None  # of the resistance from mould to bondline body on the mould's side of the film
    along: Conductances  # [W/K] zones 1-2, 2-3, 4-5, 5-6
    across: Conductances  # [W/K] zones 1-4, 2-5, 3-6
    bondline_along: Conductances  # [W/K] stations 1-2, 2-3
    heater_loss: Conductances  # [W/K]
    mould_loss: Conductances  # [W/K]
    greatest_power: Powers  # [W]
    assumed_gain: Conductances  # [W/K] of the controller that simulations assume
    assumed_reset: Time = Field(gt=0.0)  # [s]
    sensor_uncertainty: TemperatureDifference | None = None  # [K] k = 2, of a mould sensor in the survey
    room: Temperature | None = None  # [K] where everything begins
    scatter: Scatter | None = None  # standard uncertainty of each entry that no survey told, as a part of it
    fit: OvenFit | None = None
    source: str | None = None  # the survey, or whoever reckoned it; None marks every result "unvalidated data"

    @model_validator(mode="after")
    def _can_be(self) -> "OvenEntries":
        _made(lambda: oven_network(self.oven))
        if not self.stations[0] < self.stations[1] < self.stations[2]:
            raise as_custom(BadInput("stations do not go outward", allowed="increasing radii"))
        for name in ("greatest_power", "assumed_gain"):
            if len(getattr(self, name)) not in (1, 6):
                raise as_custom(BadInput(f"{name} has another number of zones", allowed="1 or 6"))
        return self

    @property
    def oven(self) -> Oven:
        """For the engine."""
        names = Oven.__slots__
        return Oven(**{name: np.array(getattr(self, name), dtype=np.float64) for name in names})

    @property
    def control(self) -> AssumedControl:
        """For simulation only: nothing says that the shop's controller does the same."""
        return AssumedControl(np.array(self.assumed_gain), self.assumed_reset)

    @property
    def validated(self) -> bool:
        """Whether somebody entered where the figures come from."""
        return bool(self.source)


class CureEntries(Record):
    """A file of what the shop knows of its adhesives' cure and its ovens."""

    format: int = Field(ge=1, le=1)
    kinetics: dict[str, CureKinetics] = Field(default_factory=dict)
    ovens: dict[str, OvenEntries] = Field(default_factory=dict)


def parse_cure_entries(data: bytes, file: str) -> CureEntries:
    """The entries in the bytes of a TOML file; ``SeveralBadInputs`` names everything wrong at once."""
    return validated(CureEntries, toml_table(data, file), file, "the cure entries")


def _made(make: Callable[[], Made]) -> Made:
    """What the engine makes of the entries, its refusal in the words of the file."""
    try:
        return make()
    except BadInput as error:
        named = BadInput(f"{error.field or 'it'} {error.what}", allowed=error.allowed, fix=error.fix)
        raise as_custom(named) from error
