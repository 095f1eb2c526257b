"""Whether heating again could settle it: by heat, by the maker's word, and never for a film that did not wet."""

import math

import numpy as np

from bladewright.drawing.cure_entries import CureKinetics
from bladewright.drawing.limits import CureLimits
from bladewright.engine.arrays import Floats
from bladewright.engine.cure.dwell import dwell_to
from bladewright.engine.statistics.order import lower_by_order
from bladewright.figures import Figure, Finding, Outcome
from bladewright.proof.cured import DECIDES
from bladewright.proof.wording import minutes, ruled

AGAIN = "cure cost: second dwell"
MOST = 0.999  # a degree of cure next to one is taken as this: the kinetics are known no better


def time_needed(kinetics: CureKinetics, ends: Floats, pace: Floats, limits: CureLimits, sensor: float) -> float | None:
    """The dwell [s] at the band's cold edge that brings every credible run to the degree of cure asked, or None.

    ``ends`` (runs, 6) [1], ``pace`` (runs, 1) [1], ``sensor`` expanded uncertainty [K].
    """
    asked = limits.degree_of_cure_least
    if asked is None:
        return None
    coldest = limits.target - limits.below - sensor
    needed = dwell_to(kinetics.kinetics, np.minimum(ends, MOST), coldest, asked, math.inf) / pace
    if not np.isfinite(needed).all():
        return None
    return float((-lower_by_order(-needed)).max())


def second_dwell(needed: float | None, kinetics: CureKinetics, wetting: Finding | None, known: bool) -> Finding:
    """The maker's permission first, then the time [s]. At best a person may decide for it: it is a new process.

    ``known``: all that the time rests on has a source.
    """
    longest, source = kinetics.second_dwell_longest, kinetics.second_dwell_source
    worst = None
    if needed is not None:
        worst = Figure(
            "second dwell needed", minutes(needed), "min",
            method="entered kinetics at the band's cold edge less the sensors' uncertainty, from the lowest credible "
            "degree of cure", source=source or "", validated=known and bool(source),
        )  # fmt: skip
    unwetted = wetting is not None and wetting.outcome is Outcome.FAIL
    outcome, said = _may(needed, longest, unwetted)
    return ruled(
        AGAIN, outcome, said, proof="cure", worst=worst, limit="the adhesive maker's entered permission",
        limit_source=source, deviable=not unwetted,
        next_step=f"{DECIDES[0].upper()}{DECIDES[1:]} decides, with the maker's permission in hand.",
        would_change="the maker's permission, entered with its source",
    )  # fmt: skip


def _may(needed: float | None, longest: float | None, unwetted: bool) -> tuple[Outcome, str]:
    if unwetted:
        return Outcome.FAIL, "A second dwell settles nothing here: it cannot make a film wet the metal."
    if longest is None:
        return Outcome.MISSING, (
            "Nobody may count on a second dwell: adhesive.kinetics.second_dwell_longest, which the maker permits, is "
            "not entered."
        )
    if needed is None:
        return Outcome.MISSING, "How long a second dwell would take cannot be said."
    if needed == 0.0:
        return Outcome.REFER, (
            "By the entered kinetics no second dwell is needed for the heat; the findings on the log stay as they are."
        )
    time = math.ceil(minutes(needed))
    if needed > longest:
        return Outcome.FAIL, f"It would take {time} min; the maker permits {minutes(longest):.4g} min."
    return Outcome.REFER, (
        f"By heat a second dwell of {time} min could bring the film there, and the maker permits up to "
        f"{minutes(longest):.4g} min. It is a new process that needs its own proof, and it takes back no finding on "
        "the first."
    )
