"""Every two blades as they would fly together: the word, the rule that decides it, how much of its limit is used."""

import functools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.figures import WORST_FIRST, Finding, Outcome
from bladewright.pairing.choosing import possible_sets
from bladewright.pairing.judging import judged_each
from bladewright.pairing.quantities import limit_figures
from bladewright.pairing.records import BladeSet, Candidate, TrimWeight
from bladewright.pairing.rules import CONDITIONS, accepts
from bladewright.pairing.terms import Terms

KEPT = 4096  # pairs; a few kilobytes each


class PairWord(StrEnum):
    """What two blades come to as mates, trim weight counted."""

    PASSES = "passes"
    REFERS = "refers"
    UNKNOWN = "cannot be judged"
    FAILS = "fails"
    BOUND = "accepted for other mates only"


_WORDS = {
    Outcome.PASS: PairWord.PASSES,
    Outcome.REFER: PairWord.REFERS,
    Outcome.MISSING: PairWord.UNKNOWN,
    Outcome.FAIL: PairWord.FAILS,
}


@dataclass(frozen=True, slots=True)
class Pair:
    """Two blades as mates."""

    serials: tuple[str, str]  # rising
    word: PairWord
    cost: float  # differences in units of their limits, summed, before trim weight
    governing: Finding  # the rule nearest to forbidding it
    used: float | None  # share of its limit that the governing quantity uses, its uncertainty left aside [1]
    trim: tuple[TrimWeight, ...]

    @property
    def mismatch(self) -> str:
        """The cost as a figure to read: 0 is alike, 1 is one whole limit."""
        return f"{self.cost:.2f}"

    @property
    def alike(self) -> str:
        """How alike the two are, in a word: less than one limit in all, less than three, or more."""
        return "near" if self.cost < 1.0 else "between" if self.cost < 3.0 else "far"

    @property
    def quantity(self) -> str:
        """What the governing rule looks at."""
        return self.governing.rule.partition(": ")[2]

    @property
    def told(self) -> str:
        """The governing quantity and how much of its limit is used, in a few words."""
        return self.quantity if self.used is None else f"{self.quantity}, {100.0 * self.used:.0f} % of its limit"


@dataclass(frozen=True, slots=True)
class Row:
    """One blade and its mates: all of them in the table's order, or only the nearest."""

    serial: str
    only_with: tuple[str, ...] | None
    pairs: tuple[Pair | None, ...]  # None: the blade itself


def square(blades: Sequence[Candidate], terms: Terms) -> tuple[Row, ...]:
    """Every blade with every other, by serial."""
    ordered = _by_serial(blades)
    return _table(ordered, [ordered] * len(ordered), terms)


def nearest(
    blades: Sequence[Candidate], terms: Terms, mates: int, *, first: int = 0, rows: int | None = None
) -> tuple[Row, ...]:
    """Some of the blades, by serial, each with those it is most alike: first the ones nothing rules out."""
    ordered = _by_serial(blades)
    cost = _costs(ordered, terms)
    places = range(first, len(ordered) if rows is None else min(len(ordered), first + rows))
    near = [[int(at) for at in np.argsort(cost[place], kind="stable") if at != place][:mates] for place in places]
    return _table([ordered[place] for place in places], [[ordered[at] for at in some] for some in near], terms)


def _by_serial(blades: Sequence[Candidate]) -> list[Candidate]:
    return sorted(blades, key=lambda blade: blade.serial)


def _table(blades: list[Candidate], mates: list[list[Candidate]], terms: Terms) -> tuple[Row, ...]:
    asked = [tuple(_by_serial((one, other))) for one, some in zip(blades, mates, strict=True) for other in some]
    found = pairs([two for two in asked if two[0] is not two[1]], terms)
    return tuple(
        Row(one.serial, one.only_with, tuple(found.get(frozenset((one.serial, other.serial))) for other in some))
        for one, some in zip(blades, mates, strict=True)
    )


def pairs(asked: Sequence[tuple[Candidate, ...]], terms: Terms) -> dict[frozenset[str], Pair]:
    """Pairs by their two serials; those looked at before are remembered, the others are worked out together."""
    kept = _remembered(terms)
    found = {two: kept.get(two) for two in asked}
    new = [two for two, known in found.items() if known is None]
    made = {two: _pair(two, match, terms) for two, match in zip(new, judged_each(new, terms), strict=True)}
    if len(kept) + len(made) > KEPT:
        kept.clear()
    kept.update(made)
    return {frozenset(blade.serial for blade in two): known or made[two] for two, known in found.items()}


@functools.lru_cache(maxsize=8)
def _remembered(terms: Terms) -> dict[tuple[Candidate, ...], Pair]:  # noqa: ARG001  one store for each terms
    return {}


def _costs(blades: Sequence[Candidate], terms: Terms) -> Floats:
    """Cost of each pair that could be formed; infinite for the others and for a blade with itself."""
    cost = np.full((len(blades), len(blades)), np.inf)
    possible = possible_sets(blades, 2, terms)
    first, second = possible.sets.T
    cost[first, second] = cost[second, first] = possible.cost
    return cost


def _pair(blades: tuple[Candidate, ...], match: BladeSet, terms: Terms) -> Pair:
    one, other = blades
    allowed = accepts(one, other) and accepts(other, one)
    finding = max(match.findings, key=lambda found: (-WORST_FIRST.index(found.outcome), _nearness(found, terms)))
    word = _WORDS[finding.outcome]
    if not allowed:
        word, finding = PairWord.BOUND, next(found for found in match.findings if found.rule == CONDITIONS)
    return Pair((one.serial, other.serial), word, match.cost, finding, used(finding, terms), match.trim)


def used(finding: Finding, terms: Terms, *, unsure: bool = False) -> float | None:
    """How much of its limit a finding of a set uses, with its uncertainty or without; None where that is not known."""
    worst, band = finding.worst, terms.handle_band
    if worst is None:
        return None
    reach = (math.inf if worst.uncertainty is None else worst.uncertainty) if unsure else 0.0
    limit = {figure.name: figure.value for figure in limit_figures(terms.limits)}.get(worst.name)
    if limit:
        return (worst.value + reach) / limit
    if worst.unit != "N" or band is None or band.greatest <= band.least:
        return None
    middle, half = 0.5 * (band.greatest + band.least), 0.5 * (band.greatest - band.least)
    return (abs(worst.value - middle) + reach) / half


def _nearness(finding: Finding, terms: Terms) -> float:
    share = used(finding, terms, unsure=True)
    return -1.0 if share is None else share
