"""A cure on file: its log with each finding at its place, what was planned, and what a fault in it took."""

import json
from dataclasses import dataclass
from typing import Any, Final

from django.http import HttpResponse
from django.urls import path, reverse

from bladewright import __version__
from bladewright.figures import Finding, Outcome, worst_of
from bladewright.making.cure_plan import CurePlan
from bladewright.making.plan_beside import PlanBeside, plan_beside
from bladewright.papers.cure_chart import cure_chart, cure_words
from bladewright.papers.records import CureChart
from bladewright.papers.screen_cure import screen_cure
from bladewright.papers.wording import worst_first
from bladewright.proof.cure_course import cost_of_log
from bladewright.proof.cure_drawn import cure_drawn
from bladewright.proof.dwell import dwell_of
from bladewright.proof.finding_places import Place, finding_places
from bladewright.proof.oven_ready import PRACTICE
from bladewright.records.cure_inputs import cure_drawing
from bladewright.records.cures import FiledCure, JudgedBy, filed_cure
from bladewright.records.oven_then import ovens_then
from bladewright.web.asking import DeskRequest
from bladewright.web.doors import door
from bladewright.web.kept import Kept
from bladewright.web.planned import plan_for
from bladewright.web.showing import page
from bladewright.web.working_out import Work, worked_out

#: letters of a finding's number; a log has no thousand rules
LONGEST: Final = 4


@dataclass(frozen=True, slots=True, eq=False)
class Shown:
    """What the page of a cure shows that only depends on its log, a drawing and the plan."""

    numbered: tuple[tuple[int, Finding, tuple[Place, ...]], ...]  # the worst first
    places: tuple[Place, ...]
    plan: PlanBeside | None
    dwell: tuple[float, float] | None  # [s]
    words: str  # the chart, for those who cannot see it


_shown: Kept[Shown] = Kept(16)
_figures: Kept[bytes] = Kept(16)


def judged_by(cure: FiledCure, asked: str) -> JudgedBy:
    """The drawing asked for, or the first that the run's blades were made to."""
    return next((one for one in cure.judged if f"{one.drawing} {one.revision}" == asked), cure.judged[0])


def planned(by: JudgedBy) -> Work | None:
    """The plan for a drawing, as far as it has been worked out."""
    return None if by.limits is None else plan_for(cure_drawing(by.drawing, by.revision))


def shown(cure: FiledCure, by: JudgedBy, plan: CurePlan | None) -> Shown:
    """What the page shows, worked out once for the same log, drawing and plan."""

    def made() -> Shown:
        findings = worst_first(by.findings)
        places = finding_places(cure.log, findings)
        numbered = tuple(
            (number, finding, tuple(place for place in places if place.number == number))
            for number, finding in enumerate(findings, start=1)
        )
        found = None if by.limits is None else dwell_of(cure.log, by.limits)
        dwell = None if found is None else (found.start, found.end)
        words = cure_words(CureChart(cure.log, by.limits, dwell))[0]
        return Shown(numbered, places, None if plan is None else plan_beside(plan, cure.log), dwell, words)

    return _shown.of((cure.log, by.drawing_sha256, plan), made)


@door()
def run(request: DeskRequest, sha256: str) -> HttpResponse:
    """One cure whole."""
    cure = filed_cure(sha256)
    by = judged_by(cure, request.GET.get("drawing", ""))
    work = planned(by)
    told = shown(cure, by, work.answer if work else None)
    worst = worst_of(by.findings)
    context = {
        "here": "oven",
        "cure": cure,
        "line": cure.line,
        "by": by,
        "open": [one for one in told.numbered if one[1].outcome is not Outcome.PASS],
        "passed": [one for one in told.numbered if one[1].outcome is Outcome.PASS],
        "numbered": told.numbered,
        "worst": worst,
        "passes": bool(by.findings) and worst is Outcome.PASS,
        "ovens": ovens_then(cure.log),
        "practice": PRACTICE,
        "work": work,
        "plan": told.plan,
        "began": cure.log.clock_of(0),
        "ended": cure.log.clock_of(len(cure.log.rows) - 1),
        "look_at": request.GET.get("look_at", ""),
        "drawn": told.words,
    }
    return page(request, "desk/oven_run.html", context)


@door()
def run_chart(request: DeskRequest, sha256: str) -> HttpResponse:
    """The chart of a cure, as data."""
    cure = filed_cure(sha256)
    by = judged_by(cure, request.GET.get("drawing", ""))
    asked = request.GET.get("look_at", "")
    look_at = int(asked) if asked.isdecimal() and len(asked) < LONGEST else None
    work = planned(by)
    plan = work.answer if work else None

    def made() -> bytes:
        told = shown(cure, by, plan)
        behind = () if told.plan is None else told.plan.curves
        drawn = cure_drawn(cure.log, by.limits, request.system, told.places, behind, look_at)
        return json.dumps(screen_cure(drawn)).encode()

    figure = _figures.of((cure.log, by.drawing_sha256, plan, request.system, look_at), made)
    return HttpResponse(figure, content_type="application/json")


@door()
def run_picture(request: DeskRequest, sha256: str) -> HttpResponse:
    """The whole log as it is printed."""
    cure = filed_cure(sha256)
    by = judged_by(cure, request.GET.get("drawing", ""))
    drawing = cure_chart(CureChart(cure.log, by.limits, shown(cure, by, None).dwell))
    return HttpResponse(drawing, content_type="image/svg+xml")


@door()
def run_cost(request: DeskRequest, sha256: str) -> HttpResponse:
    """What a fault in this cure took, and what would settle it."""
    cure = filed_cure(sha256)
    by = judged_by(cure, request.GET.get("drawing", ""))
    drawing = cure_drawing(by.drawing, by.revision)
    inputs = ["cost of a log", cure.line.sha256, cure.log.description, by.drawing_sha256, __version__]
    work = worked_out(inputs, lambda _: cost_of_log(drawing.drawing, cure.log))
    return page(request, "desk/oven_cost.html", cost_context(work) | {"cure": cure, "line": cure.line, "by": by})


def cost_context(work: Work) -> dict[str, Any]:
    """What every answer on the cost of a fault shows."""
    return {"here": "oven", "work": work, "cost": work.answer, "wrong": work.error}


def address_of_run(sha256: str) -> str:
    """Where a filed cure is shown."""
    return reverse("cure", args=[sha256])


urls = [
    path("oven/runs/<str:sha256>/", run, name="cure"),
    path("oven/runs/<str:sha256>/chart/", run_chart, name="cure-chart"),
    path("oven/runs/<str:sha256>/picture/", run_picture, name="cure-picture"),
    path("oven/runs/<str:sha256>/cost/", run_cost, name="cure-cost"),
]
