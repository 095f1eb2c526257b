"""Why a blade is left over, in a sentence: what it failed with its nearest mate, or that it is the odd one out."""

from collections.abc import Sequence
from itertools import combinations

from bladewright.pairing.choosing import Possible
from bladewright.pairing.judging import fails, judged, share, spreads
from bladewright.pairing.records import Candidate, Leftover
from bladewright.pairing.rules import accepts
from bladewright.pairing.terms import Terms


def leftovers(
    blades: Sequence[Candidate], taken: set[str], possible: Possible, size: int, terms: Terms
) -> tuple[Leftover, ...]:
    """Each blade no set took, with its reason."""
    return tuple(
        Leftover(blade.serial, _reason(blade, blades, possible, size, terms))
        for blade in blades
        if blade.serial not in taken
    )


def _reason(blade: Candidate, blades: Sequence[Candidate], possible: Possible, size: int, terms: Terms) -> str:
    if len(blades) < size:
        return f"Too few blades: a set needs {size}, and {len(blades)} {'is' if len(blades) == 1 else 'are'} here."
    mates = _mates_that_pass(blade, blades, possible, terms)
    if mates:
        return (
            f"Odd one out: it may fly with {mates}, but the best sets use "
            f"{'that blade' if size == 2 else 'those blades'} elsewhere."
        )
    agreed = [other for other in blades if other is not blade and accepts(blade, other) and accepts(other, blade)]
    if len(agreed) < size - 1:
        bound = "" if blade.only_with is None else f" It is accepted only with {', '.join(blade.only_with)}."
        return f"No allowed mate: conditions of acceptance leave no set it could be in.{bound}"
    nearest = _nearest(blade, agreed, size, terms)
    names = " and ".join(other.serial for other in nearest)
    why = " ".join(finding.sentence for finding in fails(judged(_in_order((blade, *nearest)), terms)))
    return f"No allowed mate: nearest {'is' if size == 2 else 'are'} {names}. {why}"


def _mates_that_pass(blade: Candidate, blades: Sequence[Candidate], possible: Possible, terms: Terms) -> str:
    """The mates of the cheapest set it could be in, trim weight counted; empty if there is none."""
    place = list(blades).index(blade)
    rows = (possible.sets == place).any(axis=1).nonzero()[0]
    for row in sorted(rows.tolist(), key=lambda row: float(possible.cost[row])):
        members = [blades[i] for i in possible.sets[row]]
        if not fails(judged(members, terms)):
            return " and ".join(other.serial for other in members if other is not blade)
    return ""


def _nearest(blade: Candidate, others: Sequence[Candidate], size: int, terms: Terms) -> tuple[Candidate, ...]:
    """The mates that differ least, whatever fails."""
    return min(
        combinations(others, size - 1),
        key=lambda mates: sum(share(apart, terms.limits) for apart in spreads((blade, *mates), terms.limits)),
    )


def _in_order(blades: Sequence[Candidate]) -> list[Candidate]:
    return sorted(blades, key=lambda blade: blade.serial)
