"""One set looked at whole: its differences, its trim weight, both tests, and what it costs to choose it."""

import dataclasses
from collections.abc import Sequence

from bladewright.drawing.limits import MatchLimits
from bladewright.figures import Figure, Finding, Outcome
from bladewright.pairing.differences import Spread, spread, values
from bladewright.pairing.felt import at_the_hub
from bladewright.pairing.handle import CASES, force_in_band, force_of_set
from bladewright.pairing.quantities import CHORDWISE_CENTRE, QUANTITIES
from bladewright.pairing.records import BladeSet, Candidate, TrimWeight
from bladewright.pairing.rules import bound_to_each_other, mates_alike
from bladewright.pairing.terms import Terms
from bladewright.pairing.track import in_track, track_figure, track_spreads
from bladewright.pairing.trim import after, trim_weights, trim_weights_of_each

WEIGHED_AGAIN = "; less the trim weight, weigh again to know"


def judged(blades: Sequence[Candidate], terms: Terms) -> BladeSet:
    """These blades as a set, good or not: the findings say."""
    return _judged(blades, trim_weights(blades, terms), terms)


def judged_each(sets: Sequence[Sequence[Candidate]], terms: Terms) -> tuple[BladeSet, ...]:
    """Many sets, each by itself; their trim weights are worked out together, which is quicker."""
    weights = trim_weights_of_each(sets, terms)
    return tuple(_judged(blades, some, terms) for blades, some in zip(sets, weights, strict=True))


def _judged(blades: Sequence[Candidate], weights: tuple[TrimWeight, ...], terms: Terms) -> BladeSet:
    before = spreads(blades, terms.limits)
    track = track_spreads(blades, terms.track, terms.limits)
    flown = () if (height := track_figure(track)) is None else (height,)
    trimmed = spreads(after(blades, weights, terms.places), terms.limits) if weights else before
    return BladeSet(
        serials=tuple(blade.serial for blade in blades),
        cost=sum(share(apart, terms.limits) for apart in before),
        differences=(*_figures(before), *flown),
        after_trim=(
            *(dataclasses.replace(f, method=f.method + WEIGHED_AGAIN) if weights else f for f in _figures(trimmed)),
            *flown,
        ),
        trim=weights,
        handle_force=force_of_set(blades),
        findings=(
            bound_to_each_other(blades),
            *(_alike(apart, bare, terms, weights) for apart, bare in zip(trimmed, before, strict=True)),
            in_track(track, terms.limits),
            *(force_in_band(blades, case, terms.handle_band, terms.friction) for case in CASES),
        ),
    )


def _figures(apart: Sequence[Spread]) -> tuple[Figure, ...]:
    return tuple(figure for one in apart if (figure := one.figure()) is not None)


def fails(judged_set: BladeSet) -> tuple[Finding, ...]:
    """The findings that forbid the set."""
    return tuple(finding for finding in judged_set.findings if finding.outcome is Outcome.FAIL)


def spreads(blades: Sequence[Candidate], limits: MatchLimits) -> tuple[Spread, ...]:
    """The worst pair of the set in every quantity."""
    return tuple(spread(values(blades, q), q, q.limit(limits)) for q in QUANTITIES)


def share(apart: Spread, limits: MatchLimits) -> float:
    """A difference in units of its limit; what is not known counts as the whole limit, no limit as nothing."""
    limit = apart.quantity.limit(limits)
    if not limit:
        return 0.0
    known = 0.0 if apart.difference is None else apart.difference / limit
    return max(known, 1.0) if apart.unknown else known


def _alike(apart: Spread, before: Spread, terms: Terms, weights: tuple[TrimWeight, ...]) -> Finding:
    finding = mates_alike(apart, terms.limits)
    if apart.quantity is CHORDWISE_CENTRE and weights and apart.unknown and not before.unknown:
        return dataclasses.replace(
            finding,
            sentence="How far the trim weight moves the chordwise centre is not known: the blade's mass is not given.",
            next_step="fit the trim weight and weigh again, chordwise too",
            would_change="the mass and mass centre of the blade as drawn",
        )
    trimmed = "With trim weight: " if weights and apart.difference != before.difference else ""
    return dataclasses.replace(finding, sentence=f"{trimmed}{finding.sentence}{at_the_hub(apart, terms)}")
