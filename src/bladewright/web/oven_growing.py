"""A cure while it runs: zones against limits, clocks, what is wrong and what to do. It reads the log, nothing else."""

import json
from typing import Any

from django import forms
from django.http import HttpResponse, JsonResponse
from django.urls import path, reverse

from bladewright.evidence.log_folder import LogFile
from bladewright.figures import Outcome
from bladewright.making.cure_plan import CurePlan
from bladewright.making.plan_beside import PlanBeside, plan_beside
from bladewright.papers.cure_chart import cure_chart
from bladewright.papers.records import CureChart
from bladewright.papers.screen_cure import screen_cure
from bladewright.proof.cure_drawn import LIVE, cure_drawn
from bladewright.proof.cure_following import Followed
from bladewright.proof.cure_watch import READS_ONLY
from bladewright.proof.spoken import limit_of, rate_of, reading_of, spoken
from bladewright.proof.watched_clocks import soonest
from bladewright.proof.watched_dwell import Stage
from bladewright.records.acts import Scope
from bladewright.records.cure_inputs import CureDrawing, cure_drawings
from bladewright.records.growing_cures import file_growing_cure
from bladewright.records.oven_on_file import oven_on_file
from bladewright.web import clock, following
from bladewright.web.asking import DeskRequest
from bladewright.web.doors import door
from bladewright.web.forms import DeskForm, written
from bladewright.web.kept import Kept
from bladewright.web.planned import plan_for
from bladewright.web.showing import page


class FileForm(DeskForm):
    """Which blades were in the mould."""

    serials = forms.CharField(
        label="Serials in the mould", max_length=400, help_text="All of them, with commas between: one log, one run."
    )


_laid: Kept[PlanBeside | None] = Kept(4)
_figures: Kept[bytes] = Kept(8)


def laid_beside(plan: CurePlan, followed: Followed) -> PlanBeside | None:
    """The plan beside the log as it stands; worked out once for each look."""
    log = followed.log
    return None if log is None else _laid.of((plan, followed), lambda: plan_beside(plan, log))


def figure_of(followed: Followed, by: CureDrawing, system: str, plan: CurePlan | None) -> bytes:
    """The chart of one look, made once."""

    def made() -> bytes:
        assert followed.log is not None
        laid = None if plan is None else laid_beside(plan, followed)
        behind = () if laid is None else laid.curves
        return json.dumps(screen_cure(cure_drawn(followed.log, by.limits, system, behind=behind, pixels=LIVE))).encode()

    return _figures.of((followed, by.sha256, system, plan), made)


def _standing(request: DeskRequest, file: LogFile) -> dict[str, Any]:
    """What the part of the page shows that is drawn anew at each look."""
    asked = request.GET.get("drawing", "")
    by = following.held_to(asked)
    followed = following.state_of(file, by)
    watch = followed.watch
    plan = plan_for(by).answer
    told: dict[str, Any] = {
        "file": file, "by": by, "asked": f"{by.name} {by.revision}", "followed": followed, "watch": watch,
        "growing": following.is_growing(file), "reads_only": READS_ONLY,
    }  # fmt: skip
    if watch is None:
        return told
    clocks, system = watch.clocks, request.system
    return told | {
        "channels": [
            (one, reading_of(one, system), rate_of(one, system), limit_of(one, system)) for one in watch.channels
        ],
        "in_band": {one.channel: one for one in clocks.in_band},
        "alarm": watch.broken or watch.stage is Stage.SHORT,
        "ramp": spoken(clocks.ramp, "temperature rate", system),
        "ramp_greatest": spoken(clocks.ramp_greatest, "temperature rate", system),
        "release_below": spoken(clocks.release_below, "temperature", system),
        "soonest": soonest(watch.channels),
        "plan": None if plan is None else laid_beside(plan, followed),
    }


@door()
def growing(request: DeskRequest, name: str) -> HttpResponse:
    """The page of one growing log."""
    file = following.file_named(name)
    return _page(request, file, FileForm.shown())


def _page(request: DeskRequest, file: LogFile, form: FileForm) -> HttpResponse:
    drawings = [f"{one.name} {one.revision}" for one in cure_drawings()]
    context = {"here": "oven", "form": form, "drawings": drawings, "may_file": Scope.CURE in request.may}
    context["unfit"] = [one for one in oven_on_file(clock.now()) if one.outcome is not Outcome.PASS]
    return page(request, "desk/oven_growing.html", context | _standing(request, file))


@door()
def growing_now(request: DeskRequest, name: str) -> HttpResponse:
    """The part of it that changes. A page that asks by itself is nobody at the tablet: it keeps nobody signed in."""
    response = page(request, "desk/oven_now.html", _standing(request, following.file_named(name)) | {"again": True})
    response.asked_by_itself = True  # type: ignore[attr-defined]
    return response


@door()
def growing_chart(request: DeskRequest, name: str) -> HttpResponse:
    """The chart so far, as data; with no row yet there is nothing to draw."""
    by = following.held_to(request.GET.get("drawing", ""))
    followed = following.state_of(following.file_named(name), by)
    if followed.log is None:
        return JsonResponse({"data": [], "layout": {}})
    figure = figure_of(followed, by, request.system, plan_for(by).answer)
    return HttpResponse(figure, content_type="application/json")


@door()
def growing_picture(request: DeskRequest, name: str) -> HttpResponse:
    """The chart so far as it is printed, and where no script runs."""
    by = following.held_to(request.GET.get("drawing", ""))
    followed = following.state_of(following.file_named(name), by)
    if followed.log is None or followed.rows < 2:
        return HttpResponse(b'<svg xmlns="http://www.w3.org/2000/svg"/>', content_type="image/svg+xml")
    return HttpResponse(cure_chart(CureChart(followed.log, by.limits)), content_type="image/svg+xml")


@door(writes=(Scope.CURE,))
def file_growing(request: DeskRequest, name: str) -> HttpResponse:
    """File the finished log for the blades that were in the mould."""
    file = following.file_named(name)
    form = FileForm(request.POST)
    return written(
        request,
        form,
        lambda act: file_growing_cure(
            act, [one.strip() for one in form.cleaned_data["serials"].split(",") if one.strip()], file.path,
            following.described_beside(),
        ),
        to=lambda filed: reverse("cure", args=[filed.sha256]) if filed else reverse("oven"),
        said=lambda filed: f"{filed.file} is filed for {', '.join(filed.serials)}. Judge each blade now.",
        again=lambda form: _page(request, file, form),
    )  # fmt: skip


urls = [
    path("oven/growing/<name:name>/", growing, name="growing"),
    path("oven/growing/<name:name>/now/", growing_now, name="growing-now"),
    path("oven/growing/<name:name>/chart/", growing_chart, name="growing-chart"),
    path("oven/growing/<name:name>/picture/", growing_picture, name="growing-picture"),
    path("oven/growing/<name:name>/file/", file_growing, name="file-growing"),
]
