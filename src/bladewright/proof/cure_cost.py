"""What a fault in a cure took, and what would settle it. It never makes a fail a pass: at best a person may decide."""

from dataclasses import dataclass

import numpy as np

from bladewright.design.cure_model import Rests, validated
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.oven import OvenEntries
from bladewright.engine.arrays import Floats
from bladewright.engine.cure.glass_transition import GlassTransition, glass_transition
from bladewright.engine.cure.kinetics import Kinetics
from bladewright.errors import MissingInput
from bladewright.figures import Figure, Finding, Missing, Outcome
from bladewright.proof.cured import DECIDES, STATIONS, Ends, StationCure, film_cured, station_cures
from bladewright.proof.second_dwell import second_dwell, time_needed

#: the drawing's entries without which nothing can be said
NEEDED = ("adhesive.kinetics", "limits.cure", "limits.cure.sensor_uncertainty")


@dataclass(frozen=True, slots=True)
class CureCost:
    """The answer: a sentence, the stations from root to tip, what was judged, what would settle it and who decides."""

    happened: str
    told: str
    stations: tuple[StationCure, ...]
    findings: tuple[Finding, ...]
    settles: tuple[str, ...]
    would_speak: tuple[Figure, ...]  # what a measurement would have to show
    authority: str
    rests: tuple[Rests, ...]
    missing: tuple[Missing, ...]

    @property
    def figures(self) -> tuple[Figure, ...]:
        """Every figure of every station, and those a measurement would have to show."""
        along = (f for s in self.stations for f in (s.lowest, s.middle, s.highest, s.lost) if f is not None)
        return (*along, *self.would_speak)


@dataclass(frozen=True, slots=True)
class Reckoned:
    """Drawn runs reckoned to their end."""

    happened: str
    ends: Ends
    each: Floats  # (runs, 3) degree of cure at the end [1]
    pace: Floats  # (runs, 1) [1]
    whole: bool  # a log in which nothing went wrong
    wetting: Finding | None
    missing: tuple[Missing, ...] = ()
    settles: tuple[str, ...] = ()


def answered(
    drawing: BladeDrawing, oven: OvenEntries, kinetics: Kinetics, rests: tuple[Rests, ...], run: Reckoned
) -> CureCost:
    """The runs as the shop's answer."""
    limits = drawing.limits.cure
    assert limits is not None
    assert limits.sensor_uncertainty is not None
    stations = station_cures(run.ends, rests)
    cured = film_cured(stations, limits, run.whole, rests)
    needed = time_needed(kinetics, run.each, run.pace, limits, limits.sensor_uncertainty)
    again = second_dwell(needed, limits, run.wetting, validated(rests))
    findings = [cured, *([run.wetting] if run.wetting else []), *([] if cured.outcome is Outcome.PASS else [again])]
    worst = int(np.argmin(run.ends.lowest))
    speak, gaps = _would_speak(drawing, worst, run.ends)
    return CureCost(
        happened=run.happened,
        told=_told(findings, cured),
        stations=stations,
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
    name, end = STATIONS[worst]
    found = []
    if wetting is not None and wetting.outcome is Outcome.FAIL:
        found.append(
            "For the wetting: only bonds torn apart. Coupons speak for the ends they were cut from; no inspection "
            "measures strength, and no cure mends it."
        )
    if end:
        found.append(f"The retained coupon of the {end} end lies at the worst place ({name}): measure its film's glass "
                     "transition.")  # fmt: skip
    else:
        found.append(
            f"The worst place is {name}: no end coupon lies there, and one from an end speaks for its end only. "
            "Film taken from there costs the blade."
        )
    if oven.fit is None:
        found.append("The oven fitted to a survey (fit-oven) narrows the bounds.")
    found += [
        f"A source for {rest.on}: without it every figure is unvalidated data." for rest in rests if not rest.source
    ]
    return tuple(found)


def _would_speak(drawing: BladeDrawing, worst: int, ends: Ends) -> tuple[tuple[Figure, ...], tuple[Missing, ...]]:
    """The glass transition a sample would have to show, and the one it may show."""
    entered, limits = drawing.adhesive.transition if drawing.adhesive else None, drawing.limits.cure
    asked = limits.degree_of_cure_least if limits else None
    gaps = [
        field
        for field, value in (("adhesive.transition", entered), ("limits.cure.degree_of_cure_least", asked))
        if value is None
    ]
    if entered is None or asked is None:
        return (), (Missing("what a measured glass transition would settle", tuple(gaps)),)
    curve = GlassTransition(entered.uncured, entered.cured, entered.ratio)
    places = (
        ("glass transition that speaks for the degree of cure asked", asked),
        (f"glass transition at the lowest credible degree of cure, station {worst + 1}", float(ends.lowest[worst])),
    )
    return tuple(
        Figure(
            name, float(glass_transition(curve, np.array(degree))) - 273.15, "degC",
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
