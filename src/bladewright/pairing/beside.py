"""A set somebody tries, beside the best: what the hand and the hub feel of each, and what becomes of the others."""

import dataclasses
import math
from collections.abc import Sequence
from dataclasses import dataclass

from bladewright.figures import Axis, Bars, Figure, Outcome
from bladewright.pairing.felt import felt
from bladewright.pairing.handle import CASES, Case
from bladewright.pairing.judging import judged
from bladewright.pairing.match import best_within
from bladewright.pairing.records import BladeSet, Candidate, Matching
from bladewright.pairing.terms import Terms
from bladewright.pairing.trim import after

LESS = "difference of two predictions; uncertainties as independent"


@dataclass(frozen=True, slots=True)
class Felt:
    """One figure of the tried set, of each of the best sets beside it, and what the tried one has more."""

    name: str
    tried: Figure | None
    best: tuple[Figure | None, ...]
    more: tuple[Figure | None, ...]

    @property
    def columns(self) -> tuple[tuple[Figure | None, Figure | None], ...]:
        """Each of the best sets and what the tried one has more than it."""
        return tuple(zip(self.best, self.more, strict=True))


@dataclass(frozen=True, slots=True)
class Beside:
    """A tried set, with its trim weight in, and the best sets that would have had its blades."""

    tried: BladeSet
    best: tuple[BladeSet, ...]
    felt: tuple[Felt, ...]
    sets_best: int  # how many sets the whole batch gives at best
    sets_with: int  # how many with the tried one formed
    cost_best: float
    cost_with: float
    rest: Matching  # the best of the other blades, with the tried set formed

    @property
    def total_best(self) -> str:
        """Mismatch of the best sets together, to read."""
        return f"{self.cost_best:.2f}"

    @property
    def total_with(self) -> str:
        """The same with the tried set formed."""
        return f"{self.cost_with:.2f}"

    @property
    def is_best(self) -> bool:
        """Whether the best choice holds this very set."""
        return self.tried.serials in [one.serials for one in self.best]


def beside_the_best(blades: Sequence[Candidate], tried: Sequence[str], terms: Terms) -> Beside:
    """These serials as a set, good or not, beside the best sets of all the blades there are."""
    batch = tuple(sorted(blades, key=lambda blade: blade.serial))
    chosen = [blade for blade in batch if blade.serial in tried]
    one = judged(chosen, terms)
    whole = best_within(batch, len(chosen), terms)
    rest = best_within(tuple(blade for blade in batch if blade.serial not in tried), len(chosen), terms)
    best = tuple(other for other in whole.sets if set(other.serials) & set(tried))
    flies = 0 if any(finding.outcome is Outcome.FAIL for finding in one.findings) else 1
    return Beside(
        tried=one,
        best=best,
        felt=_side_by_side(batch, one, best, terms),
        sets_best=len(whole.sets),
        sets_with=len(rest.sets) + flies,
        cost_best=whole.total_cost,
        cost_with=math.fsum((rest.total_cost, one.cost)),
        rest=rest,
    )


def felt_with_trim(blades: Sequence[Candidate], match: BladeSet, terms: Terms) -> tuple[Figure, ...]:
    """What a set does in flight with its trim weight in."""
    members = [blade for blade in blades if blade.serial in match.serials]
    return felt(after(members, match.trim, terms.places), terms)


def shares_at_the_handle(blades: Sequence[Candidate], case: Case = CASES[0]) -> Bars | None:
    """What each blade adds to the force the hand holds, and their sum; None where a share is not known."""
    shares = [case.share(blade) for blade in blades]
    known = [share for share in shares if share is not None]
    if len(known) < len(shares):
        return None
    rows = tuple((blade.serial, share) for blade, share in zip(blades, known, strict=True))
    return Bars(
        f"shares-{'-'.join(case.name.split())}",
        f"{case.name}: what each blade adds",
        Axis("force at the handle, positive: the pilot pulls up", "N"),
        (*rows, ("together", math.fsum(known))),
        "An estimate until flown. What the model leaves open is the same for every blade of the drawing.",
    )


def _side_by_side(
    batch: Sequence[Candidate], one: BladeSet, best: tuple[BladeSet, ...], terms: Terms
) -> tuple[Felt, ...]:
    tried = {figure.name: figure for figure in felt_with_trim(batch, one, terms)}
    others = [{figure.name: figure for figure in felt_with_trim(batch, other, terms)} for other in best]
    names = dict.fromkeys((*tried, *(name for other in others for name in other)))
    return tuple(
        Felt(
            name,
            tried.get(name),
            tuple(other.get(name) for other in others),
            tuple(_more(tried.get(name), other.get(name)) for other in others),
        )
        for name in names
    )


def _more(one: Figure | None, other: Figure | None) -> Figure | None:
    if one is None or other is None:
        return None
    known = one.uncertainty is not None and other.uncertainty is not None
    return dataclasses.replace(
        one,
        value=one.value - other.value,
        uncertainty=math.hypot(one.uncertainty or 0.0, other.uncertainty or 0.0) if known else None,
        method=LESS,
        validated=one.validated and other.validated,
        inside_validity=one.inside_validity and other.inside_validity,
    )
