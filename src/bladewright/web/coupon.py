"""Torn coupons: the run of results, one coupon with curve and faces, and outlining failure modes on a photograph."""

from http import HTTPStatus
from typing import Any, Final

from django import forms
from django.http import HttpResponse
from django.urls import path, reverse

from bladewright.errors import BladewrightError
from bladewright.evidence.outlined_text import areas_text, corners_text, marks_text, typed_outlines
from bladewright.proof.outlined import MODE_WORDS, face_rows
from bladewright.proof.peel_charts import peel_run_chart, pull_curve_chart
from bladewright.records.acts import Scope
from bladewright.records.coupons import CouponSeen, coupon_named, coupon_page, photograph
from bladewright.records.peel_results import all_series, peel_run
from bladewright.records.photographs import Drawn, add_photograph, measure, outline_photograph, photographed
from bladewright.web.asking import DeskRequest
from bladewright.web.charts import chart_answer
from bladewright.web.doors import door
from bladewright.web.forms import DeskForm, written
from bladewright.web.showing import page
from bladewright.web.uploads import received

#: a photograph is looked at and never run, whatever is in it
_ONLY_A_PICTURE: Final = "default-src 'none'; sandbox"
_TOOLS: Final = (
    ("whole", "The whole face"),
    ("mark", "A known length"),
    *((m, f"{m}: {w}") for m, w in MODE_WORDS.items()),
)
_FIRST_BY: Final = "adhesive lot"
_CORNERS = forms.Textarea(attrs={"rows": 2, "spellcheck": "false"})
_LINES = forms.Textarea(attrs={"rows": 5, "spellcheck": "false"})


class PhotographForm(DeskForm):
    """A photograph of one torn face."""

    field_order = ("face", "photograph", "reason")

    face = forms.ChoiceField(label="Which face", choices=(("top", "top"), ("bottom", "bottom")))
    photograph = forms.FileField(
        label="The photograph, JPEG or PNG",
        widget=forms.ClearableFileInput(attrs={"accept": "image/png,image/jpeg"}),
        help_text="Taken square to the face, all of it in the picture, its width to be seen at both ends.",
    )


class OutlineForm(DeskForm):
    """What is outlined on a photograph."""

    field_order = ("outline", "marks", "areas", "placing", "reason")

    outline = forms.CharField(
        label="The whole face", widget=_CORNERS, max_length=4000,
        help_text="Its corners in order, pixels across and down from the upper left: 30,30 998,30 998,182 30,182",
    )  # fmt: skip
    marks = forms.CharField(
        label="Known lengths", widget=_CORNERS, max_length=4000, required=False,
        help_text="One a line with its two ends: 1.000 in: 54,30 54,182. Mark the width at both ends, if you can.",
    )  # fmt: skip
    areas = forms.CharField(
        label="Areas by failure mode", widget=_LINES, max_length=40000,
        help_text="One a line: AF: 372,30 425,78 380,126. The film may go over the whole face and the rest upon it.",
    )  # fmt: skip
    placing = forms.FloatField(
        label="How far off a corner lands when it is placed again, in pixels", min_value=0.3, max_value=50.0,
        help_text="One standard deviation. Place one corner five times and look; two is usual on a sharp photograph.",
    )  # fmt: skip

    def drawn(self) -> Drawn:
        """What was typed or drawn, as outlines; ``SeveralBadInputs`` names everything that is none."""
        told = self.cleaned_data
        typed = typed_outlines(told["outline"], told["marks"], told["areas"])
        return Drawn(typed.outline, typed.marks, typed.areas, told["placing"])


@door()
def coupons(request: DeskRequest) -> HttpResponse:
    """Every coupon, the newest first, and what the run of one drawing and end says."""
    before, text = request.GET.get("before", ""), request.GET.get("serial", "").strip()
    series = all_series()
    asked = (request.GET.get("drawing", ""), request.GET.get("end", ""))
    chosen = next((one for one in series if (one.drawing, one.label) == asked), series[0] if series else None)
    run = peel_run(chosen.drawing, chosen.label) if chosen else None
    by = tuple(dict.fromkeys(what for result in run.results for what, _ in result.ran_with)) if run else ()
    shown_by = request.GET.get("by", _FIRST_BY)
    shown_by = shown_by if shown_by in by else _FIRST_BY
    return page(
        request, "desk/coupons.html",
        {
            "here": "coupons", "list": coupon_page(int(before) if before.isdecimal() and len(before) < 18 else 0, text),
            "text": text, "series": series, "chosen": chosen, "run": run, "ways": by,
            "by": shown_by, "rows": [(one, one.figure, one.which(shown_by)) for one in run.results] if run else (),
        },
    )  # fmt: skip


@door()
def peel_run_picture(request: DeskRequest) -> HttpResponse:
    """The run as a chart."""
    run = peel_run(request.GET.get("drawing", ""), request.GET.get("end", ""))
    return chart_answer(peel_run_chart(run, request.GET.get("by", _FIRST_BY), request.system))


@door()
def coupon(request: DeskRequest, sha256: str) -> HttpResponse:
    """One torn coupon."""
    seen = coupon_named(sha256)
    return _coupon(request, seen, PhotographForm.shown(subject=seen.coupon.serial))


def _coupon(request: DeskRequest, seen: CouponSeen, form: DeskForm) -> HttpResponse:
    faces = [
        (face.face, own := [one for one in seen.photographs if one.photo.face == face.face], face_rows(face, own))
        for face in seen.coupon.faces
    ]
    context = {"here": "coupons", "seen": seen, "faces": faces, "form": form, "next": _next(seen)}
    return page(request, "desk/coupon.html", context)


def _next(seen: CouponSeen) -> str:
    against = next((found for found in seen.findings if found.next_step), None)
    return against.next_step if against else ""


@door()
def pull_curve_picture(request: DeskRequest, sha256: str) -> HttpResponse:
    """The pull curve as a chart."""
    seen = coupon_named(sha256)
    if seen.curve is None:
        return HttpResponse(status=HTTPStatus.NOT_FOUND)
    return chart_answer(pull_curve_chart(seen.coupon.label, seen.curve, seen.coupon.width, seen.limits, request.system))


@door(writes=(Scope.INSPECT,))
def add_coupon_photograph(request: DeskRequest, sha256: str) -> HttpResponse:
    """File a photograph of one face, and go on to outlining it."""
    form = PhotographForm(request.POST, request.FILES)

    def filed(act: Any) -> Any:
        with received(form.cleaned_data["photograph"], "photograph") as place:
            return add_photograph(act, sha256, form.cleaned_data["face"], place)

    return written(
        request, form, filed,
        to=reverse("coupon", args=[sha256]),
        said="The photograph is on file. Outline the failure modes on it next.",
        again=lambda bad: _coupon(request, coupon_named(sha256), bad),
    )  # fmt: skip


@door()
def show_photograph(request: DeskRequest, sha256: str) -> HttpResponse:  # noqa: ARG001
    """The photograph's own bytes, as a picture and as nothing else."""
    data, kind = photograph(sha256)
    answer = HttpResponse(data, content_type=kind)
    answer["Content-Security-Policy"] = _ONLY_A_PICTURE
    answer["Content-Disposition"] = "inline"
    answer["Cache-Control"] = "private, max-age=86400, immutable"
    return answer


@door()
def outline(request: DeskRequest, sha256: str) -> HttpResponse:
    """Outline failure modes on a photograph, beginning from what was outlined last."""
    photo = photographed(sha256).photo
    form = OutlineForm.shown(
        subject=photo.serial,
        outline=corners_text(photo.outline),
        marks=marks_text(photo.marks),
        areas=areas_text(photo.areas),
        placing=photo.placing or 2.0,
    )
    return _outlining(request, sha256, form)


def _outlining(request: DeskRequest, sha256: str, form: OutlineForm, **more: Any) -> HttpResponse:
    of = photographed(sha256)
    context = {
        "here": "coupons", "photo": of.photo, "sha256": sha256, "coupon": of.coupon, "width": of.width, "form": form,
        "tools": _TOOLS,
    }  # fmt: skip
    return page(request, "desk/outline.html", context | more)


@door(writes=())
def measure_outline(request: DeskRequest, sha256: str) -> HttpResponse:
    """What the outlines come to, before anything is filed."""
    form = OutlineForm(request.POST)
    measured = None
    if form.is_valid():
        try:
            measured = measure(sha256, form.drawn())
        except BladewrightError as error:
            form.blame(error)
    if request.htmx:
        return page(request, "desk/measured.html", {"measured": measured, "form": form, "words": MODE_WORDS})
    return _outlining(request, sha256, form, measured=measured)


@door(writes=(Scope.INSPECT,))
def file_outline(request: DeskRequest, sha256: str) -> HttpResponse:
    """File what was outlined."""
    form = OutlineForm(request.POST)
    return written(
        request, form, lambda act: outline_photograph(act, sha256, form.drawn()),
        to=lambda _: reverse("coupon", args=[photographed(sha256).coupon]),
        said="The outlines are on file. Judge the blade again: they count with everything else.",
        again=lambda bad: _outlining(request, sha256, bad),
    )  # fmt: skip


urls = [
    path("coupons/", coupons, name="coupons"),
    path("coupons/run/", peel_run_picture, name="peel-run-chart"),
    path("coupons/photographs/<str:sha256>/", show_photograph, name="photograph"),
    path("coupons/photographs/<str:sha256>/outline/", outline, name="outline"),
    path("coupons/photographs/<str:sha256>/measure/", measure_outline, name="measure-outline"),
    path("coupons/photographs/<str:sha256>/file/", file_outline, name="file-outline"),
    path("coupons/<str:sha256>/", coupon, name="coupon"),
    path("coupons/<str:sha256>/curve/", pull_curve_picture, name="pull-curve-chart"),
    path("coupons/<str:sha256>/photograph/", add_coupon_photograph, name="add-photograph"),
]
