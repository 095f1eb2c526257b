"""How quickly the film cures, when it gels and what its glass transition says, as entered for one adhesive."""

from pydantic import Field

from bladewright.drawing.quantities import MolarEnergy, RateConstant, Record, Share, SharePerKelvin, Temperature


class KineticTerm(Record):
    """One activated rate: ``A exp(-E/RT) a**m``."""

    prefactor: RateConstant  # [1/s] negative in some published forms
    energy: MolarEnergy  # [J/mol]
    power: float = Field(default=0.0, ge=0.0)  # m [1]


class KineticBranch(Record):
    """The form up to a degree of cure: ``(sum of terms) (1 - a)**n (B - a)**p``."""

    terms: tuple[KineticTerm, ...] = Field(min_length=1)
    order: float = Field(ge=0.0)  # n [1]
    upto: float = Field(default=1.0, gt=0.0, le=1.0)  # degree of cure where the next branch takes over [1]
    ceiling: float = Field(default=1.0, gt=0.0)  # B [1]
    ceiling_order: float = Field(default=0.0, ge=0.0)  # p [1]


class DiffusionEnd(Record):
    """Slowing near the end: the rate is divided by ``1 + exp(C (a - (a_0 + a_T T)))``."""

    steepness: float  # C [1]
    at_zero: float  # a_0 [1]
    per_kelvin: SharePerKelvin  # a_T [1/K]


class AdhesiveKinetics(Record):
    """The film's kinetics. Without a source every answer that leans on them says "unvalidated data"."""

    branches: tuple[KineticBranch, ...] = Field(min_length=1)
    diffusion: DiffusionEnd | None = None
    delivered: Share = 0.0  # degree of cure after the worst storage that is allowed
    rate_uncertainty: Share | None = None  # k = 2, from lot to lot
    gel: Share | None = None  # degree of cure at which the film no longer flows
    source: str | None = None


class AdhesiveTransition(Record):
    """Glass transition against degree of cure, dry: what a retained sample's measured one speaks for."""

    uncured: Temperature  # [K]
    cured: Temperature  # [K]
    ratio: float = Field(gt=0.0, le=1.0)  # lambda [1]
    source: str | None = None
