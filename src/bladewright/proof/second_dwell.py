"""Whether heating again could settle it: by heat, by the maker's word, and never for a film that did not wet."""

import math

import numpy as np

from bladewright.drawing.limits import CureLimits
from bladewright.engine.arrays import Floats
from bladewright.engine.cure.dwell import dwell_to
from bladewright.engine.cure.kinetics import Kinetics
from bladewright.engine.statistics.order import lower_by_order
from bladewright.figures import Figure, Finding, Outcome
from bladewright.proof.cured import DECIDES
from bladewright.proof.wording import minutes, ruled

AGAIN = "cure cost: second dwell"
MOST = 0.999  # a degree of cure next to one is taken as this: the kinetics are known no better


def time_needed(kinetics: Kinetics, ends: Floats, pace: Floats, limits: CureLimits, sensor: float) -> float | None:
    """The dwell [s] at the band's cold edge that brings every credible run to the degree of cure asked, or None.

    ``ends`` (runs, 3) [1], ``pace`` (runs, 1) [1], ``sensor`` expanded uncertainty [K].
    """
    asked = limits.degree_of_cure_least
    if asked is None:
        return None
    coldest = limits.target - limits.below - sensor
    needed = dwell_to(kinetics, np.minimum(ends, MOST), coldest, asked, math.inf) / pace
    if not np.isfinite(needed).all():
        return None
    return float((-lower_by_order(-needed)).max())


def second_dwell(needed: float | None, limits: CureLimits, wetting: Finding | None, kinetics_known: bool) -> Finding:
    """The maker's permission first, then the time. At best a person may decide for it: it is a new process."""
    entered, source = limits.second_dwell, limits.second_dwell.source if limits.second_dwell else None
    limit = "the adhesive maker's entered permission"
    worst = None
    if needed is not None:
        worst = Figure(
            "second dwell needed", minutes(needed), "min", method="entered kinetics at the band's cold edge less the "
            "sensors' uncertainty, from the lowest credible degree of cure", source=source or "",
            validated=bool(source) and kinetics_known,
        )  # fmt: skip
    outcome, said = Outcome.REFER, ""
    if wetting is not None and wetting.outcome is Outcome.FAIL:
        outcome, said = Outcome.FAIL, "A second dwell settles nothing here: it cannot make a film wet the metal."
    elif entered is None:
        outcome, said = (
            Outcome.MISSING,
            ("Nobody may count on a second dwell: the drawing does not say what the adhesive's maker permits."),
        )
    elif not entered.permitted:
        outcome, said = Outcome.FAIL, "The adhesive's maker does not permit a second dwell."
    elif needed is None:
        outcome, said = Outcome.MISSING, "How long a second dwell would take cannot be said."
    elif needed == 0.0:
        said = (
            "By the entered kinetics no second dwell is needed for the heat; the findings on the log stay as they are."
        )
    elif entered.longest is not None and needed > entered.longest:
        outcome, said = (
            Outcome.FAIL,
            (f"It would take {math.ceil(minutes(needed))} min; the maker permits {minutes(entered.longest):.4g} min."),
        )
    else:
        said = (
            f"By heat a second dwell of {math.ceil(minutes(needed))} min could bring the film there, and the maker "
            "permits one. It is a new process that needs its own proof, and it takes back no finding on the first."
        )
        if entered.longest is None:
            said += " The longest permitted is not entered."
    return ruled(
        AGAIN, outcome, said, proof="cure", worst=worst, limit=limit, limit_source=source,
        deviable=not (wetting is not None and wetting.outcome is Outcome.FAIL),
        next_step=f"{DECIDES[0].upper()}{DECIDES[1:]} decides, with the maker's permission in hand.",
        would_change="the maker's permission, entered with its source",
    )  # fmt: skip
