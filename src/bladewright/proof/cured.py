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
VALIDITY = "heat alone: it says nothing of wetting, surface or strength; oven as bodies of one temperature"
#: stations from root to tip, and the end whose coupon lies there
STATIONS = (
    ("station 1, root: zones 1 and 4", "root"),
    ("station 2, middle: zones 2 and 5", ""),
    ("station 3, tip: zones 3 and 6", "tip"),
)
DECIDES = "a named person with design authority who did not make the part"


@dataclass(frozen=True, slots=True)
class StationCure:
    """One station of the blade at the end of the run."""

    name: str
    lowest: Figure  # degree of cure, credible
    middle: Figure
    highest: Figure
    lost: Figure | None  # greatest credible loss against the same run without the fault; None: not known


@dataclass(frozen=True, slots=True)
class Ends:
    """Degrees of cure at the end, over drawn runs."""

    lowest: Floats  # (3,) credible [1]
    middle: Floats  # (3,) [1]
    highest: Floats  # (3,) credible [1]
    lost: Floats | None  # (3,) [1]


def bounds(ends: Floats, best: Floats | None = None) -> Ends:
    """Of (runs, 3) degrees of cure; ``best`` are those of the kinder reading of a log, where there are two."""
    return Ends(lower_by_order(ends), np.median(ends, axis=0), -lower_by_order(-(ends if best is None else best)), None)


def station_cures(ends: Ends, rests: tuple[Rests, ...]) -> tuple[StationCure, ...]:
    """Figures in percent, root first."""
    source = "; ".join(str(rest) for rest in rests)

    def shown(what: str, at: int, values: Floats) -> Figure:
        return Figure(
            f"{what}, station {at + 1}", 100.0 * float(values[at]) + 0.0, "%",
            method=METHOD, validity=VALIDITY, source=source, validated=validated(rests),
        )  # fmt: skip

    return tuple(
        StationCure(
            name=name,
            lowest=shown("lowest credible degree of cure", at, ends.lowest),
            middle=shown("middle of the drawn degrees of cure", at, ends.middle),
            highest=shown("highest credible degree of cure", at, ends.highest),
            lost=None if ends.lost is None else shown("greatest credible loss", at, ends.lost),
        )
        for at, (name, _) in enumerate(STATIONS)
    )


def film_cured(stations: tuple[StationCure, ...], limits: CureLimits, whole: bool, rests: tuple[Rests, ...]) -> Finding:
    """The lowest credible degree of cure against the least asked. ``whole``: a log in which nothing went wrong.

    Passes only then, and only on validated data: a fault is never reckoned away.
    """
    asked = limits.degree_of_cure_least
    worst = min(stations, key=lambda station: station.lowest.value)
    low, high = worst.lowest, min(station.highest.value for station in stations)
    said = f"The lowest credible degree of cure is {low.value:.1f} %, at {worst.name}"
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
    elif whole and validated(rests):
        outcome, told = Outcome.PASS, "heat was enough by the entered kinetics"
    else:
        outcome = Outcome.REFER
        told = "heat was enough by the entered kinetics, which takes back no finding on the log"
    return ruled(
        CURED, outcome, f"{said}; {limit} is asked: {told}.", proof="cure", worst=low, limit=limit,
        limit_source=limits.source,
        next_step=f"Hold the blade; {DECIDES} decides.",
        would_change="a sample of that station's film whose glass transition is measured; an oven fitted to a survey",
    )  # fmt: skip
