"""How far apart mates would fly in track: pitch and section moment together, for a soft and for a stiff control run.

Nose-up moment winds the control run up and the blade flies higher; how much, the stiffness decides, and it can turn
the sign of the answer. What comes out here is an estimate: track is flown.
"""

import dataclasses
from collections.abc import Sequence
from functools import partial

from bladewright.design.track import TrackModel
from bladewright.drawing.limits import MatchLimits
from bladewright.figures import Figure, Finding, Outcome
from bladewright.pairing.differences import Spread, spread, values
from bladewright.pairing.quantities import TRACK, Quantity
from bladewright.pairing.records import Candidate
from bladewright.pairing.rules import PROOF, mates_alike

RULE = f"mates: {TRACK}"
_WORST_FIRST = (Outcome.FAIL, Outcome.MISSING, Outcome.REFER, Outcome.PASS)


def track_quantities(model: TrackModel | None) -> tuple[Quantity, ...]:
    """Height of the tip as two quantities, for the soft and for the stiff control run."""
    if model is None:
        return ()
    return tuple(
        Quantity(
            TRACK, "length", "mm",
            partial(_height, model, windup), partial(_reach, model, windup), lambda limits: limits.track,
            f"from effective pitch and section moment, control run {word}; an estimate until flown",
            "flies one blade above the other",
        )
        for windup, word in ((model.windup_soft, "at its softest"), (model.windup_stiff, "at its stiffest"))
    )  # fmt: skip


def track_spreads(blades: Sequence[Candidate], model: TrackModel | None, limits: MatchLimits) -> tuple[Spread, ...]:
    """The worst pair, once for each control run."""
    return tuple(spread(values(blades, q), q, q.limit(limits)) for q in track_quantities(model))


def track_figure(apart: Sequence[Spread]) -> Figure | None:
    """The larger of the two."""
    known = [one for one in apart if one.difference is not None]
    return max(known, key=lambda one: one.difference or 0.0).figure() if known else None


def in_track(apart: Sequence[Spread], limits: MatchLimits) -> Finding:
    """The worse of the two answers, and whether it is known which blade flies high."""
    if not apart and limits.track is not None:
        return Finding(
            RULE, Outcome.MISSING, "How the blades would fly in track is not worked out.", PROOF, deviable=False,
            limit=f"{limits.track * 1e3:.4g} mm", limit_source=limits.source or "no source entered",
            next_step="enter the stiffness of the control run and what the mass of the blade waits for",
            would_change="the missing entries",
        )  # fmt: skip
    if not apart:
        return Finding(
            RULE, Outcome.MISSING, "No limit is entered for how far the blades may differ in track.", PROOF,
            deviable=False, next_step="enter limits.match.track in the drawing", would_change="an entered limit",
        )  # fmt: skip
    found = [mates_alike(one, limits) for one in apart]
    worst = min(found, key=lambda finding: (_WORST_FIRST.index(finding.outcome), -_size(finding)))
    if len({one.more for one in apart if one.resolved}) > 1:
        high = "Which blade flies high depends on the control run's stiffness: direction not determined."
        return dataclasses.replace(worst, sentence=f"{worst.sentence} {high}")
    return worst


def _size(finding: Finding) -> float:
    return finding.worst.value if finding.worst is not None else 0.0


def _height(model: TrackModel, windup: float, blade: Candidate) -> float | None:
    if blade.effective_pitch is None or blade.section_moment is None:
        return None
    return model.per_pitch * (blade.effective_pitch + windup * blade.section_moment)


def _reach(model: TrackModel, windup: float, blade: Candidate) -> float | None:
    """Added, not combined as independent: both come from the same measured section."""
    pitch, moment = blade.effective_pitch_uncertainty, blade.section_moment_uncertainty
    return None if pitch is None or moment is None else model.per_pitch * (pitch + windup * moment)
