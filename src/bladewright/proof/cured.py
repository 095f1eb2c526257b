"""Degree of cure along the blade with bounds: whether the film can have cured, never that it bonds."""

from dataclasses import dataclass

import numpy as np

from bladewright.design.cure_model import Rests, validated
from bladewright.drawing.limits import CureLimits
from bladewright.engine.arrays import Floats
from bladewright.engine.statistics.order import lower_by_order
from bladewright.figures import Figure, Finding, Outcome
from bladewright.proof.wording import ruled

CURED = "cure cost: degree of cure"
METHOD = "entered kinetics along drawn bondline temperatures; bounds hold for 95 % of what is possible, 19 times in 20"
VALIDITY = (
    "heat alone: it says nothing of wetting, surface or strength; bodies of one temperature; the ends of the mould "
    "beyond the last sensors are not seen; temperatures at which the kinetics were measured"
)
#: the film under each zone, and the end whose coupon lies there
PLACES = (
    ("zone 1, top, root", "root"),
    ("zone 2, top, middle", ""),
    ("zone 3, top, tip", "tip"),
    ("zone 4, bottom, root", "root"),
    ("zone 5, bottom, middle", ""),
    ("zone 6, bottom, tip", "tip"),
)
DECIDES = "a named person with design authority who did not make the part"


@dataclass(frozen=True, slots=True)
class PlaceCure:
    """The film under one zone at the end of the run."""

    name: str
    lowest: Figure  # degree of cure, credible
    middle: Figure
    highest: Figure
    lost: Figure | None  # greatest credible loss against the same run without the fault; None: not known


@dataclass(frozen=True, slots=True)
class Ends:
    """Degrees of cure at the end, over drawn runs."""

    lowest: Floats  # (6,) credible [1]
    middle: Floats  # (6,) [1]
    highest: Floats  # (6,) credible [1]
    lost: Floats | None  # (6,) [1]


def bounds(ends: Floats, best: Floats | None = None) -> Ends:
    """Of (runs, 6) degrees of cure; ``best`` are those of the kinder reading of a log, where there are two."""
    return Ends(lower_by_order(ends), np.median(ends, axis=0), -lower_by_order(-(ends if best is None else best)), None)


def place_cures(ends: Ends, rests: tuple[Rests, ...], measured_there: bool) -> tuple[PlaceCure, ...]:
    """Figures in percent. ``measured_there``: the kinetics were measured at the temperatures of these runs."""
    source = "; ".join(str(rest) for rest in rests)

    def shown(what: str, at: int, values: Floats) -> Figure:
        return Figure(
            f"{what}, zone {at + 1}", 100.0 * float(values[at]) + 0.0, "%",
            method=METHOD, validity=VALIDITY, inside_validity=measured_there, source=source, validated=validated(rests),
        )  # fmt: skip

    return tuple(
        PlaceCure(
            name=name,
            lowest=shown("lowest credible degree of cure", at, ends.lowest),
            middle=shown("middle of the drawn degrees of cure", at, ends.middle),
            highest=shown("highest credible degree of cure", at, ends.highest),
            lost=None if ends.lost is None else shown("greatest credible loss", at, ends.lost),
        )
        for at, (name, _) in enumerate(PLACES)
    )


def film_cured(places: tuple[PlaceCure, ...], limits: CureLimits, whole: bool) -> Finding:
    """The lowest credible degree of cure against the least asked. ``whole``: a log in which nothing went wrong.

    Passes only then, and only on validated data: a fault is never reckoned away.
    """
    asked = limits.degree_of_cure_least
    worst = min(places, key=lambda place: place.lowest.value)
    low, high = worst.lowest, min(place.highest.value for place in places)
    said = f"The lowest credible degree of cure is {low.value:.1f} %, under {worst.name}"
    if asked is None:
        return ruled(
            CURED, Outcome.MISSING, f"{said}. Not judged: the drawing does not say limits.cure.degree_of_cure_least.",
            proof="cure", worst=low, next_step="Enter it with its source in a drawing revision.",
            would_change="the limit entered in the drawing",
        )  # fmt: skip
    limit = f"at least {100.0 * asked:.4g} %"
    if high < 100.0 * asked:
        outcome, told = Outcome.FAIL, "even the highest credible one is less than that: the film did not cure there"
    elif low.value < 100.0 * asked:
        outcome, told = Outcome.REFER, "nobody knows from this whether the film cured there"
    elif whole and low.validated and low.inside_validity:
        outcome, told = Outcome.PASS, "heat was enough by the entered kinetics"
    else:
        outcome = Outcome.REFER
        told = "heat was enough by the entered kinetics, which takes back no finding on the log"
    return ruled(
        CURED, outcome, f"{said}; {limit} is asked: {told}.", proof="cure", worst=low, limit=limit,
        limit_source=limits.source,
        next_step=f"Hold the blade; {DECIDES} decides.",
        would_change="a sample of that place's film whose glass transition is measured; an oven fitted to a survey",
    )  # fmt: skip
