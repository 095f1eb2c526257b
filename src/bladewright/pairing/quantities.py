"""What mates are compared by: each quantity, its limit, and the unit it is shown in."""

from collections.abc import Callable
from dataclasses import dataclass

from bladewright.drawing.limits import MatchLimits
from bladewright.figures import Figure
from bladewright.pairing.records import Candidate
from bladewright.units import from_si

Read = Callable[[Candidate], float | None]


@dataclass(frozen=True, slots=True)
class Quantity:
    """One thing two blades may differ in."""

    name: str
    kind: str  # see bladewright.units
    unit: str  # shown in
    value: Read
    uncertainty: Read
    limit: Callable[[MatchLimits], float | None]
    method: str
    effect: str  # what a difference does in flight
    validated: Callable[[Candidate], bool] = lambda _: True  # whether all it rests on has a source

    def shown(self, value: float) -> float:
        """An SI value in the unit it is shown in."""
        return from_si(value, self.unit, self.kind) if self.unit else value


SPAN_MOMENT = Quantity(
    "span moment", "span moment", "kg m",
    lambda c: c.span_moment, lambda c: c.span_moment_uncertainty, lambda limits: limits.span_moment,
    "difference of two comparisons with one master", "shakes the hub once a revolution",
)  # fmt: skip
CHORDWISE_CENTRE = Quantity(
    "chordwise centre", "length", "mm",
    lambda c: c.chordwise_centre, lambda c: c.chordwise_uncertainty, lambda limits: limits.chordwise_centre,
    "difference of two comparisons with one master", "twists the blades unlike and splits the track with speed",
)  # fmt: skip
SECTION_MOMENT = Quantity(
    "section moment", "fraction", "",
    lambda c: c.section_moment, lambda c: c.section_moment_uncertainty, lambda limits: limits.section_moment,
    "from the measured sections", "loads the pitch links unlike",
)  # fmt: skip
EFFECTIVE_PITCH = Quantity(
    "effective pitch", "angle", "deg",
    lambda c: c.effective_pitch, lambda c: c.effective_pitch_uncertainty, lambda limits: limits.effective_pitch,
    "from the measured sections", "splits the track",
)  # fmt: skip
HANDLE_SHARE = Quantity(
    "handle force, one blade's share", "force", "N",
    lambda c: c.handle_force, lambda c: c.handle_force_uncertainty, lambda limits: limits.handle_force,
    "estimate of each blade's share", "is felt at the handle",
    lambda c: c.handle_force_validated,
)  # fmt: skip

TRACK = "track"  # follows from effective pitch and section moment; see bladewright.pairing.track
#: every quantity mates are compared by, in the order they are reported
QUANTITIES = (SPAN_MOMENT, CHORDWISE_CENTRE, SECTION_MOMENT, EFFECTIVE_PITCH, HANDLE_SHARE)
#: those that balance weight can change
BALANCE = (SPAN_MOMENT, CHORDWISE_CENTRE)


def limit_figures(limits: MatchLimits) -> tuple[Figure, ...]:
    """The entered limits as figures, named and in units as the differences they bound."""
    found = [(q.name, q.unit, q.shown(limit)) for q in QUANTITIES if (limit := q.limit(limits)) is not None]
    if limits.track is not None:
        found.append((TRACK, "mm", from_si(limits.track, "mm", "length")))
    sourced = bool(limits.source)
    return tuple(
        Figure(name, value, unit, 0.0, "entered", source=limits.source or "", validated=sourced)
        for name, unit, value in found
    )
