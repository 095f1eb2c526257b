"""Pressure against the film's gel: late or lost before it, the film may never have wetted, and no cure settles that."""

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.cure.gel import time_reached
from bladewright.engine.statistics.order import lower_by_order
from bladewright.figures import Finding, Outcome
from bladewright.proof.cure_pressure import WETTING
from bladewright.proof.wording import minutes, ruled

WET = "cure cost: wetting"


def pressure_late(after: float) -> Finding:
    """Pressure that came on so long [s] after heat did: whatever the film did meanwhile, it flowed without it."""
    return ruled(
        WET, Outcome.FAIL, f"Pressure came on {minutes(after):.4g} min after heat did. {WETTING}", proof="cure",
        limit="pressure before heat", limit_source="the order of the process", deviable=False,
        next_step="Hold the blade and tear both coupons: adhesion failure on either stops the line.",
        would_change="a second pressure record of that run",
    )  # fmt: skip


def pressure_lost(at: float, gelled: float | None) -> Finding:
    """Pressure lost so long [s] after heat began; ``gelled`` is when the slowest credible film had, None: not known."""
    before = gelled is None or at < gelled
    when = f"Pressure was lost {minutes(at):.4g} min after the start."
    if gelled is None:
        told = f"When the film gelled is not known, so this counts as before gel. {WETTING}"
    elif before:
        told = f"The slowest credible film gelled after {minutes(gelled):.0f} min. {WETTING}"
    else:
        told = f"The slowest credible film had gelled after {minutes(gelled):.0f} min, so it had flowed under pressure."
    return ruled(
        WET, Outcome.FAIL if before else Outcome.REFER, f"{when} {told}", proof="cure",
        limit="pressure until release", limit_source="the order of the process", deviable=not before,
        next_step="Hold the blade and tear both coupons: adhesion failure on either stops the line.",
        would_change="a second pressure record of that run",
    )  # fmt: skip


def pressure_unknown(why: str) -> Finding:
    """Nobody can say from the log whether the film wetted, which counts as the worst case."""
    return ruled(
        WET, Outcome.MISSING, f"Whether pressure was on is not known: {why}.", proof="cure",
        limit="pressure from before heat until release", limit_source="the order of the process", deviable=False,
        next_step="Find the pressure record of that run; enter what the process asks.",
        would_change="a pressure log of that run",
    )  # fmt: skip


def latest_gel(seconds: Floats, cured: Floats, gel: float | None) -> float | None:
    """When the slowest credible film of any zone gelled [s]; None where that is not known. (runs, 6, t)"""
    if gel is None:
        return None
    when = time_reached(seconds, cured, gel)
    if np.isnan(when).any():
        return None
    return float((-lower_by_order(-when)).max())
