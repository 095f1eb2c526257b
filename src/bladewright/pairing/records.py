"""What matching needs to know of a blade, and what it answers."""

from dataclasses import dataclass

from bladewright.figures import Figure, Finding, Outcome, worst_of
from bladewright.units import written


@dataclass(frozen=True, slots=True)
class Candidate:
    """An accepted blade as matching sees it: differences from the drawing or from the master, each with k = 2."""

    serial: str
    span_moment: float  # [kg m] against the rig's master
    span_moment_uncertainty: float  # [kg m]
    chordwise_centre: float | None = None  # [m] against the rig's master, aft positive
    chordwise_uncertainty: float | None = None  # [m]
    section_moment: float | None = None  # coefficient, against the drawing
    section_moment_uncertainty: float | None = None
    effective_pitch: float | None = None  # [rad] against the drawing
    effective_pitch_uncertainty: float | None = None  # [rad]
    handle_force: float | None = None  # [N] this blade's share at the handle, at the case the band is checked for
    handle_force_uncertainty: float | None = None  # [N]
    handle_force_lowest: float | None = None  # [N] the same at lowest collective and greatest power-off speed
    handle_force_lowest_uncertainty: float | None = None  # [N]
    #: [N] what the model adds to every blade alike, so that a difference does not see it; None: not quantified
    handle_force_model_uncertainty: float | None = 0.0
    handle_force_validated: bool = True  # False as soon as one input its handle force rests on has no source
    only_with: tuple[str, ...] | None = None  # allowed mates, from a deviation's condition


@dataclass(frozen=True, slots=True)
class Balance:
    """What it takes to know how far a trim weight moves a blade's chordwise centre."""

    mass: float  # [kg] of one blade
    centre: float  # [m] chordwise mass centre aft of the feathering axis
    chord: float  # [m] where the pockets are
    feathering_axis: float  # of the chord, from the leading edge


@dataclass(frozen=True, slots=True)
class TrimWeight:
    """Balance weight that closes a resolved difference."""

    serial: str
    pocket: str
    radius: float  # [m]
    mass: float  # [kg]

    @property
    def told(self) -> str:
        """How much and where, in both systems of units."""
        grams, ounces = written(self.mass, "g", "mass", 3), written(self.mass, "oz", "mass", 2)
        return f"{grams} ({ounces}) in pocket {self.pocket} of {self.serial}"


@dataclass(frozen=True, slots=True)
class BladeSet:
    """Blades that fly together, why they may, and what is left between them."""

    serials: tuple[str, ...]
    cost: float  # worst differences in units of their limits, summed
    differences: tuple[Figure, ...]  # before trim weight
    after_trim: tuple[Figure, ...]
    trim: tuple[TrimWeight, ...]
    handle_force: Figure | None
    findings: tuple[Finding, ...]  # the two tests, one finding a rule

    @property
    def outcome(self) -> Outcome:
        """The worst of the findings."""
        return worst_of(self.findings)

    @property
    def mismatch(self) -> str:
        """The cost as a figure to read: 0 is alike, 1 is one whole limit."""
        return f"{self.cost:.2f}"


@dataclass(frozen=True, slots=True)
class Leftover:
    """A blade no set took, and why."""

    serial: str
    reason: str


@dataclass(frozen=True, slots=True)
class Matching:
    """The best sets of a batch."""

    sets: tuple[BladeSet, ...]
    leftovers: tuple[Leftover, ...]
    total_cost: float
    method: str  # "exact: ..." always says how optimality is known
