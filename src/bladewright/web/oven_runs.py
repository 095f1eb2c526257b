"""A cure on file: its log with each finding at its place, what was planned, and what a fault in it took."""

from typing import Any

from django.http import HttpResponse, JsonResponse
from django.urls import path, reverse

from bladewright import __version__
from bladewright.figures import Outcome, worst_of
from bladewright.making.plan_beside import PlanBeside, plan_beside
from bladewright.papers.cure_chart import cure_chart, cure_words
from bladewright.papers.records import CureChart
from bladewright.papers.screen_cure import screen_cure
from bladewright.papers.wording import worst_first
from bladewright.proof.cure_course import cost_of_log
from bladewright.proof.cure_drawn import cure_drawn
from bladewright.proof.dwell import dwell_of
from bladewright.proof.finding_places import finding_places
from bladewright.records.cure_inputs import cure_drawing
from bladewright.records.cures import FiledCure, JudgedBy, filed_cure
from bladewright.web.asking import DeskRequest
from bladewright.web.doors import door
from bladewright.web.planned import plan_for
from bladewright.web.showing import page
from bladewright.web.working_out import Work, worked_out


def judged_by(cure: FiledCure, asked: str) -> JudgedBy:
    """The drawing asked for, or the first that the run's blades were made to."""
    return next((one for one in cure.judged if f"{one.drawing} {one.revision}" == asked), cure.judged[0])


def beside(by: JudgedBy, cure: FiledCure) -> tuple[Work | None, PlanBeside | None]:
    """The plan laid beside the log, as far as it has been worked out."""
    if by.limits is None:
        return None, None
    work = plan_for(cure_drawing(by.drawing, by.revision))
    return work, None if work.answer is None else plan_beside(work.answer, cure.log)


@door()
def run(request: DeskRequest, sha256: str) -> HttpResponse:
    """One cure whole."""
    cure = filed_cure(sha256)
    by = judged_by(cure, request.GET.get("drawing", ""))
    findings = worst_first(by.findings)
    places = finding_places(cure.log, findings)
    numbered = [
        (number, finding, [place for place in places if place.number == number])
        for number, finding in enumerate(findings, start=1)
    ]
    work, plan = beside(by, cure)
    number = request.GET.get("look_at", "")
    context = {
        "here": "oven",
        "cure": cure,
        "line": cure.line,
        "by": by,
        "open": [one for one in numbered if one[1].outcome is not Outcome.PASS],
        "passed": [one for one in numbered if one[1].outcome is Outcome.PASS],
        "numbered": numbered,
        "worst": worst_of(findings),
        "passes": bool(findings) and worst_of(findings) is Outcome.PASS,
        "work": work,
        "plan": plan,
        "began": cure.log.clock_of(0),
        "ended": cure.log.clock_of(len(cure.log.rows) - 1),
        "look_at": number,
        "drawn": cure_words(CureChart(cure.log, by.limits, dwell=_dwell(cure, by)))[0],
    }
    return page(request, "desk/oven_run.html", context)


def _dwell(cure: FiledCure, by: JudgedBy) -> tuple[float, float] | None:
    found = None if by.limits is None else dwell_of(cure.log, by.limits)
    return None if found is None else (found.start, found.end)


@door()
def run_chart(request: DeskRequest, sha256: str) -> HttpResponse:
    """The chart of a cure, as data."""
    cure = filed_cure(sha256)
    by = judged_by(cure, request.GET.get("drawing", ""))
    look_at = request.GET.get("look_at", "")
    _, plan = beside(by, cure)
    places = finding_places(cure.log, worst_first(by.findings))
    drawn = cure_drawn(
        cure.log,
        by.limits,
        request.system,
        places,
        () if plan is None else plan.curves,
        int(look_at) if look_at.isdecimal() and len(look_at) < 6 else None,
    )
    return JsonResponse(screen_cure(drawn))


@door()
def run_picture(request: DeskRequest, sha256: str) -> HttpResponse:
    """The whole log as it is printed."""
    cure = filed_cure(sha256)
    by = judged_by(cure, request.GET.get("drawing", ""))
    drawing = cure_chart(CureChart(cure.log, by.limits, dwell=_dwell(cure, by)))
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
