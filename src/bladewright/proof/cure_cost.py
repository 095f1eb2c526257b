"""What a fault in a cure took, and what would settle it. It never makes a fail a pass: at best a person may decide."""

from dataclasses import dataclass

import numpy as np

from bladewright.design.cure_model import Rests, validated
from bladewright.drawing.cure_entries import CureKinetics, OvenEntries
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.limits import CureLimits
from bladewright.engine.arrays import Floats
from bladewright.engine.cure.glass_transition import glass_transition
from bladewright.errors import MissingInput
from bladewright.figures import Figure, Finding, Missing, Outcome
from bladewright.proof.cured import DECIDES, PLACES, Ends, PlaceCure, film_cured, place_cures
from bladewright.proof.second_dwell import second_dwell, time_needed

#: the drawing's entries without which nothing can be said
NEEDED = ("adhesive.kinetics", "limits.cure", "limits.cure.sensor_uncertainty")


@dataclass(frozen=True, slots=True)
class CureCost:
    """The answer: a sentence, the film under each zone, what was judged, what would settle it and who decides."""

    happened: str
    told: str
    places: tuple[PlaceCure, ...]
    findings: tuple[Finding, ...]
    settles: tuple[str, ...]
    would_speak: tuple[Figure, ...]  # what a measurement would have to show
    authority: str
    rests: tuple[Rests, ...]
    missing: tuple[Missing, ...]

    @property
    def figures(self) -> tuple[Figure, ...]:
        """Every figure of every place, and those a measurement would have to show."""
        along = (f for s in self.places for f in (s.lowest, s.middle, s.highest, s.lost) if f is not None)
        return (*along, *self.would_speak)


@dataclass(frozen=True, slots=True)
class Reckoned:
    """Drawn runs reckoned to their end."""

    happened: str
    ends: Ends
    each: Floats  # (runs, 6) degree of cure at the end [1]
    pace: Floats  # (runs, 1) [1]
    film: tuple[float, float]  # coldest and hottest it was in any run [K]
    whole: bool  # a log in which nothing went wrong
    wetting: Finding | None
    missing: tuple[Missing, ...] = ()
    settles: tuple[str, ...] = ()


def answered(
    drawing: BladeDrawing, oven: OvenEntries, kinetics: CureKinetics, rests: tuple[Rests, ...], run: Reckoned
) -> CureCost:
    """The runs as the shop's answer."""
    limits = drawing.limits.cure
    assert limits is not None
    assert limits.sensor_uncertainty is not None
    places = place_cures(run.ends, rests, kinetics.inside(*run.film))
    cured = film_cured(places, limits, run.whole)
    needed = time_needed(kinetics, run.each, run.pace, limits, limits.sensor_uncertainty)
    again = second_dwell(needed, kinetics, run.wetting, validated(rests))
    findings = [cured, *([run.wetting] if run.wetting else []), *([] if cured.outcome is Outcome.PASS else [again])]
    worst = int(np.argmin(run.ends.lowest))
    speak, gaps = _would_speak(kinetics, limits, worst, run.ends)
    return CureCost(
        happened=run.happened,
        told=_told(findings, cured),
        places=places,
        findings=tuple(findings),
        settles=(*run.settles, *_settles(worst, oven, rests, run.wetting)),
        would_speak=speak,
        authority=f"{DECIDES[0].upper()}{DECIDES[1:]} decides; a second dwell needs the adhesive maker's entered "
        "permission as well; neither this answer nor a sample changes a finding on the log.",
        rests=rests,
        missing=(*run.missing, *gaps),
    )


def _told(findings: list[Finding], cured: Finding) -> str:
    wetting = next((finding for finding in findings if finding.rule.endswith("wetting")), None)
    if wetting is not None and wetting.outcome is Outcome.FAIL:
        return f"Not settled by any degree of cure. {wetting.sentence}"
    words = {
        Outcome.PASS: "By heat the film cured.",
        Outcome.REFER: "Not proven: hold the blade.",
        Outcome.FAIL: "No: the film did not cure everywhere.",
        Outcome.MISSING: "Not judged.",
    }
    return f"{words[cured.outcome]} {cured.sentence}"


def _settles(worst: int, oven: OvenEntries, rests: tuple[Rests, ...], wetting: Finding | None) -> tuple[str, ...]:
    """What would, and what would not."""
    name, end = PLACES[worst]
    found = []
    if wetting is not None and wetting.outcome is Outcome.FAIL:
        found.append(
            "For the wetting: only bonds torn apart. Coupons speak for the ends they were cut from; no inspection "
            "measures strength, and no cure mends it."
        )
    if end:
        found.append(
            f"The retained coupon of the {end} end lies at the worst place (under {name}): measure its film's glass "
            "transition."
        )
    else:
        found.append(
            f"The worst place is under {name}: no end coupon lies there, and one from an end speaks for its end only. "
            "Film taken from there costs the blade."
        )
    if oven.fit is None:
        found.append("The oven fitted to a survey (fit-oven) narrows the bounds.")
    found += [
        f"A source for {rest.on}: without it every figure is unvalidated data." for rest in rests if not rest.source
    ]
    return tuple(found)


def _would_speak(
    kinetics: CureKinetics, limits: CureLimits, worst: int, ends: Ends
) -> tuple[tuple[Figure, ...], tuple[Missing, ...]]:
    """The glass transition a sample would have to show, and the one it may show."""
    entered, asked = kinetics.glass_transition, limits.degree_of_cure_least
    gaps = {"adhesive.kinetics.glass_transition": entered, "limits.cure.degree_of_cure_least": asked}
    if entered is None or asked is None:
        needs = tuple(field for field, value in gaps.items() if value is None)
        return (), (Missing("what a measured glass transition would settle", needs),)
    places = (
        ("glass transition that speaks for the degree of cure asked", asked),
        (f"glass transition at the lowest credible degree of cure, zone {worst + 1}", float(ends.lowest[worst])),
    )
    return tuple(
        Figure(
            name, float(glass_transition(entered.curve, np.array(degree))) - 273.15, "degC",
            method="entered curve of glass transition against degree of cure", validity="dry film",
            source=entered.source or "", validated=bool(entered.source),
        )
        for name, degree in places
    ), ()  # fmt: skip


def oven_asked(drawing: BladeDrawing, fitted: OvenEntries | None) -> OvenEntries:
    """The oven an answer rests on: a fitted one, or the drawing's."""
    oven = fitted or drawing.oven
    if oven is None:
        raise MissingInput("is needed for this answer and not entered", field="oven", fix="enter it, or fit a survey")
    return oven
