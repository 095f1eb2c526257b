"""Coupon after coupon in the order torn: do they drift though each passes, since when, and what changed near then.

What changed near then is a candidate, never a cause; what nobody wrote down cannot be ruled out.
"""

import datetime
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.statistics.change_point import (
    FEWEST,
    change_shares,
    likely_places,
    normal_scores,
    rank_change,
)
from bladewright.engine.statistics.drift import Drift, drift, step_over_drift
from bladewright.figures import Figure, Finding, Outcome, counted
from bladewright.proof.peel import METHOD, UNIT
from bladewright.proof.wording import ruled
from bladewright.units import from_si

FOUND: Final = 0.05  # chance below which a change is found (common practice, no source)
CONTENT: Final = 0.95  # of the places named
RESOLUTION: Final = 1e-3  # of the level, or of a rank's score: results so near are not told apart (our own choice)
MAD_TO_DEVIATION: Final = 1.4826  # median departure to standard deviation, normal: 1 / Phi^-1(3/4)
OF_A_MEDIAN: Final = 1.2533  # standard deviation of a median over that of a mean, normal: sqrt(pi / 2)
OFTEN: Final = 1.0 / 3.0  # of all steps: what changes so often can explain any change (our own choice)
LEAST_SHARE: Final = 0.05  # of the likelihood: candidates at less likely places are left out (our own choice)
WORTH: Final = 2.0  # a difference of explanations below is not worth mentioning
SEEN: Final = 4.0  # a step in the middle so many deviations high is found in four of five runs; drawn runs, ours
SOURCE: Final = "A. N. Pettitt 1979; A. F. M. Smith 1975 (both from memory)"
ENOUGH: Final = 10  # with nine a step must be the plainest there is; drawn runs, ours
UNSAID: Final = "not on record"


@dataclass(frozen=True, slots=True)
class PeelResult:
    """One torn coupon in the run, and everything on record about how its bond was made and torn."""

    serial: str
    label: str
    torn_on: datetime.date
    sha256: str  # of the coupon's file
    mean: float | None  # [N/m] None: no judged part on file
    uncertainty: float | None  # k = 2 [N/m]
    least: float | None  # limit [N/m]
    adhesion: float  # share of the bonded area, the worse face
    ran_with: tuple[tuple[str, str], ...]  # what, which: "adhesive", "R-118"

    @property
    def figure(self) -> Figure | None:
        """The mean as a figure."""
        if self.mean is None:
            return None
        return Figure("mean peel", self.mean, "N/m", self.uncertainty, method=METHOD, source=self.sha256)

    def which(self, what: str) -> str:
        """The lot, batch or person; ``UNSAID`` where the book has none."""
        return dict(self.ran_with).get(what, UNSAID)


@dataclass(frozen=True, slots=True)
class Candidate:
    """Something that changed where the results may have changed. Not a cause."""

    what: str
    before: str
    after: str
    since: str  # serial of the first coupon with the new one
    share: float  # of the likelihood of all places for the change to stand just there
    elsewhere: int  # how often it changed besides

    @property
    def percent(self) -> int:
        """The share, in whole per cent."""
        return round(100.0 * self.share)


@dataclass(frozen=True, slots=True)
class PeelRun:
    """The run and what it says."""

    results: tuple[PeelResult, ...]  # those with a mean, in the order torn
    left_out: tuple[PeelResult, ...]  # no mean on file
    finding: Finding
    chance: float | None  # of such a run without any change
    before: int = 0  # coupons before the likeliest change; 0: none found
    places: tuple[int, ...] = ()  # coupons before it, every place named
    levels: tuple[Figure, ...] = ()  # median before, median after, step [N/m]
    smallest: Figure | None = None  # step such a run could show [N/m]
    drift: Drift | None = None  # [N/m] from coupon to coupon
    candidates: tuple[Candidate, ...] = ()
    always: tuple[str, ...] = ()  # changes all along, so it can explain anything
    unsaid: tuple[str, ...] = ()  # not on record for some coupon


def run_of_results(results: Sequence[PeelResult]) -> PeelRun:
    """What a run of coupons says, in the order torn."""
    ordered = sorted(results, key=lambda result: (result.torn_on, result.serial, result.label))
    run = tuple(result for result in ordered if result.mean is not None)
    out = tuple(result for result in ordered if result.mean is None)
    if len(run) < FEWEST:
        said = (
            f"{counted(len(run), 'coupon')} with a judged pull curve: too few to tell a change; {FEWEST} are the least."
        )
        return PeelRun(run, out, _finding(Outcome.MISSING, said, None), None)
    values = np.array([result.mean for result in run], dtype=np.float64)
    changed, fallen = rank_change(values), drift(values)
    visible = _visible(float(values.std(ddof=1)), len(values))
    smallest = _figure("smallest step such a run could show", visible, None)
    chance = min(1.0, 2.0 * min(changed.chance, fallen.chance))  # two tests were asked: no picking of the kinder one
    if chance <= FOUND:
        return _changed(run, out, values, fallen, chance, smallest)
    said = (
        f"No change is resolved over {len(run)} coupons: chance alone orders them so in {_percent(chance)} of cases. "
        f"A step below about {_shown(smallest.value):.2g} {UNIT} could not be seen in so few."
    )
    if len(run) < ENOUGH:
        said = f"{len(run)} coupons show no drift; a step, however large, is found from {ENOUGH} coupons on."
    outcome = Outcome.PASS if len(run) >= ENOUGH else Outcome.MISSING
    return PeelRun(run, out, _finding(outcome, said, None), chance, smallest=smallest, drift=fallen)


def _changed(
    run: tuple[PeelResult, ...],
    out: tuple[PeelResult, ...],
    values: Floats,
    fallen: Drift,
    chance: float,
    smallest: Figure,
) -> PeelRun:
    """The likeliest change: where, how much, by a step or a drift, and what changed near it."""
    scores = normal_scores(values)
    shares = change_shares(scores, RESOLUTION)
    before, places = int(np.argmax(shares)) + 1, likely_places(shares, CONTENT)
    levels = _levels(values[:before], values[before:])
    candidates, always, unsaid = _near(run, shares, places)
    said = " ".join(
        (
            _since(run, before, places, levels),
            f"Chance alone makes such a run in {_percent(chance)} of cases.",
            _shape(scores, fallen),
            _until_limit(run, values, fallen) if step_over_drift(scores, RESOLUTION) < WORTH else "",
        )
    ).strip()
    finding = _finding(Outcome.REFER, said, levels[2], f"{100.0 * FOUND:.0f} % chance, two tests asked")
    return PeelRun(
        run, out, finding, chance, before, places, levels, smallest, fallen, candidates, always, unsaid
    )  # fmt: skip


def _since(run: Sequence[PeelResult], before: int, places: Sequence[int], levels: Sequence[Figure]) -> str:
    first, step = run[before], _shown(levels[2].value)
    told = [
        run[begin].serial if begin == end else f"{run[begin].serial} to {run[end].serial}"
        for begin, end in spans(places)
    ]
    within = f"; with {100.0 * CONTENT:.0f} % since one of {' or '.join(told)}" if len(places) > 1 else ""
    passed = sum(result.least is not None and (result.mean or 0.0) >= result.least for result in run)
    each = "Every one passes, and yet" if passed == len(run) else f"{passed} of {len(run)} reach their limit, and"
    return (
        f"{each} since {first.serial}, torn {first.torn_on.isoformat()}, they peel {abs(step):.2g} +/- "
        f"{_shown(levels[2].uncertainty or 0.0):.2g} {UNIT} {'lower' if step < 0.0 else 'higher'}: "
        f"{_shown(levels[0].value):.1f} before, {_shown(levels[1].value):.1f} after{within}."
    )


def _levels(first: Floats, second: Floats) -> tuple[Figure, Figure, Figure]:
    """Medians before and after, and the step; their scatter from the median departure, which one wild result leaves."""
    middle = float(np.median(first)), float(np.median(second))
    apart = np.abs(np.concatenate((first - middle[0], second - middle[1])))
    scatter = max(MAD_TO_DEVIATION * float(np.median(apart)), RESOLUTION * abs(middle[0]))
    known = tuple(2.0 * OF_A_MEDIAN * scatter / math.sqrt(len(part)) for part in (first, second))
    return (
        _figure("median before", middle[0], known[0]),
        _figure("median after", middle[1], known[1]),
        _figure("step", middle[1] - middle[0], math.hypot(*known)),
    )


def spans(places: Sequence[int]) -> tuple[tuple[int, int], ...]:
    """Places that stand side by side, as first and last."""
    found: list[tuple[int, int]] = []
    for place in places:
        if found and place == found[-1][1] + 1:
            found[-1] = (found[-1][0], place)
        else:
            found.append((place, place))
    return tuple(found)


def _shape(scores: Floats, fallen: Drift) -> str:
    better = step_over_drift(scores, RESOLUTION)
    ends = f"{_shown(fallen.least):+.2g} to {_shown(fallen.greatest):+.2g}"
    slope = f"{_shown(fallen.slope):+.2g} {UNIT} from one to the next ({ends})"
    if abs(better) < WORTH:
        return f"A step and a steady drift of {slope} explain it alike."
    return (
        "One step explains it better than a steady drift."
        if better > 0.0
        else f"A steady drift of {slope} explains it better than a step."
    )


def _until_limit(run: Sequence[PeelResult], values: Floats, fallen: Drift) -> str:
    """How many more coupons until the median slope meets the newest limit, if it goes on so."""
    least = run[-1].least
    if least is None or not fallen.greatest < 0.0:
        return ""
    places = np.arange(len(values))
    level = float(np.median(values - fallen.slope * places)) + fallen.slope * (len(values) - 1)
    if level <= least:
        return "The run has reached its limit."
    soon, late = (math.floor((level - least) / -slope) for slope in (fallen.least, fallen.greatest))
    return f"Going on like this it meets the limit after {soon} to {late} more coupons."


def _near(
    run: Sequence[PeelResult], shares: Floats, places: Sequence[int]
) -> tuple[tuple[Candidate, ...], tuple[str, ...], tuple[str, ...]]:
    """What changed at one of the places; what changes all the time; what is not on record for every coupon."""
    found, always, unsaid = [], [], []
    for what in dict.fromkeys(name for result in run for name, _ in result.ran_with):
        held = [result.which(what) for result in run]
        turns = [place for place in range(1, len(held)) if held[place] != held[place - 1]]
        if UNSAID in held:
            unsaid.append(what)
        if len(turns) > OFTEN * (len(held) - 1):
            always.append(what)
            continue
        found += [
            Candidate(what, held[p - 1], held[p], run[p].serial, float(shares[p - 1]), len(turns) - 1)
            for p in turns
            if p in places and shares[p - 1] >= LEAST_SHARE
        ]
    return tuple(sorted(found, key=lambda one: (-one.share, one.elsewhere))), tuple(always), tuple(unsaid)


def _visible(scatter: float, count: int) -> float:
    half = count // 2
    return SEEN * scatter * math.hypot(half**-0.5, (count - half) ** -0.5)


def _finding(outcome: Outcome, said: str, worst: Figure | None, limit: str = "") -> Finding:
    return ruled(
        rule="peel results: no change over serials",
        outcome=outcome,
        sentence=said,
        proof="coupon",
        limit=limit,
        limit_source="common practice, no source" if limit else "",
        worst=worst,
        next_step="Tear retained coupons from before and after side by side; look at what changed near then."
        if outcome is Outcome.REFER
        else "Tear more coupons.",
        would_change="retained coupons torn on one day by one person",
    )


def _figure(name: str, value: float, uncertainty: float | None) -> Figure:
    return Figure(name, value, "N/m", uncertainty, method="medians about the likeliest place", source=SOURCE,
                  validity="independent results of one method")  # fmt: skip


def _shown(force_per_width: float) -> float:
    return from_si(force_per_width, UNIT, "force per width")


def _percent(chance: float) -> str:
    if chance < 1e-4:
        return "less than 0.01 %"
    return f"{100.0 * chance:.0f} %" if chance >= 0.1 else f"{100.0 * chance:.2g} %"
