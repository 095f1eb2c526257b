"""What the shop keeps about itself: gauges, calibrations, ovens, counting rules, descriptions; and how each stands."""

import typing
from typing import Any

from django import forms
from django.http import Http404, HttpResponse
from django.urls import path, reverse

from bladewright.evidence.gauge_file import Found
from bladewright.records.gauges import keep_calibrated
from bladewright.records.materials import shelf_bytes
from bladewright.records.oven_on_file import gauges_on_file, oven_on_file
from bladewright.records.shop_files import ShopFileLine, history, keep_shop_file, shelf, standing
from bladewright.records.shop_kinds import GAUGE, KINDS, LOGGER, ROLL
from bladewright.web import clock
from bladewright.web.asking import DeskRequest
from bladewright.web.doors import door
from bladewright.web.forms import DayField, DeskForm, written
from bladewright.web.links import to_place
from bladewright.web.showing import page
from bladewright.web.uploads import received

_ANY = tuple(sorted({scope for kind in KINDS.values() for scope in kind.needs}))
_SHOWN_AS_TEXT = 20_000  # [byte] of a file about the shop, in its page


class KeepForm(DeskForm):
    """A file about the shop."""

    field_order = ("kind", "file", "described", "beside", "reason")
    kind = forms.ChoiceField(label="What it is", choices=lambda: [(name, name) for name in KINDS])
    file = forms.FileField(label="The file")
    described = forms.ChoiceField(
        label="Its logger's description, if it is on file", required=False,
        choices=lambda: [("", "none"), *((line.about, line.about) for line in standing(LOGGER))],
        help_text="An oven, a zone survey and a freezer log are read by one.",
    )  # fmt: skip
    beside = forms.FileField(label="Or the description's own file", required=False)


class GaugeForm(DeskForm):
    """A gauge that came back from its calibration."""

    field_order = ("gauge", "measures", "on", "due", "calibrated_by", "found", "set_aside", "reason")
    gauge = forms.CharField(label="Gauge", max_length=200, help_text="As the dimension sheets call it.")
    measures = forms.CharField(label="What it measures", max_length=200)
    on = DayField(label="Calibrated on")
    due = DayField(label="Due again")
    calibrated_by = forms.CharField(label="Calibrated by", required=False, max_length=200, help_text="Left empty: you.")
    found = forms.ChoiceField(
        label="How it was found, before it was set right", choices=[(word, word) for word in typing.get_args(Found)]
    )
    set_aside = forms.BooleanField(label="It is set aside: nobody measures with it any more", required=False)


@door()
def whole_shelf(request: DeskRequest) -> HttpResponse:
    """Everything on file about the shop, and how it stands today."""
    return _shelf(request)


@door(writes=_ANY)
def keep_file(request: DeskRequest) -> HttpResponse:
    """Keep a file about the shop: whole, or not at all."""
    form = KeepForm(request.POST, request.FILES)

    def keep(act: Any) -> ShopFileLine:
        told = form.cleaned_data
        with received(told["file"]) as file:
            if told["beside"] is None:
                return keep_shop_file(act, told["kind"], file, described=told["described"])
            with received(told["beside"], "beside") as beside:
                return keep_shop_file(act, told["kind"], file, beside, described=told["described"])

    return written(
        request, form, keep, to=lambda line: _of(line) if line else reverse("shelf"),
        said=lambda line: f"On file: {line.kind} {line.about}.", again=lambda form: _shelf(request, form=form),
    )  # fmt: skip


@door(writes=KINDS[GAUGE].needs)
def keep_gauge(request: DeskRequest) -> HttpResponse:
    """Enter a gauge's calibration."""
    form = GaugeForm(request.POST)

    def keep(act: Any) -> ShopFileLine:
        told = form.cleaned_data
        return keep_calibrated(
            act, told["gauge"], told["measures"], told["on"], told["due"], told["found"], by=told["calibrated_by"],
            set_aside=told["set_aside"],
        )  # fmt: skip

    return written(
        request, form, keep, to=reverse("shelf"), said=lambda line: f"On file: gauge {line.about}.",
        again=lambda form: _shelf(request, gauge_form=form),
    )  # fmt: skip


@door()
def one_of_shelf(request: DeskRequest, kind: str) -> HttpResponse:
    """Every file of one name, the newest first, and what the newest says."""
    about = request.GET.get("about", "")
    lines = history(kind, about)[::-1] if kind in KINDS else ()
    if not lines:
        raise Http404
    _, data = shelf_bytes(lines[0].sha256)
    text = data[:_SHOWN_AS_TEXT].decode("utf-8", "replace")
    return page(
        request,
        "desk/shelf_one.html",
        {
            "here": "shelf", "kind": KINDS[kind], "about": about, "lines": lines, "text": text,
            "cut": len(data) > _SHOWN_AS_TEXT, "roll": to_place("roll", about) if kind == ROLL else "",
        },
    )  # fmt: skip


def _of(line: ShopFileLine) -> str:
    return reverse("shelf-one", args=[line.kind], query={"about": line.about})


def _shelf(request: DeskRequest, **shown: DeskForm) -> HttpResponse:
    now = clock.now()
    day = now.date()
    on_shelf = shelf(day)
    kinds = [
        (kind, [(line, _of(line)) for line in on_shelf.get(name, ())])
        for name, kind in KINDS.items()
        if name not in (GAUGE, ROLL)
    ]
    gauges = gauges_on_file(now, on_shelf=on_shelf)
    return page(
        request,
        "desk/shelf.html",
        {
            "here": "shelf",
            "kinds": kinds,
            "gauges": [(one, _of(one.file)) for one in gauges],
            "ovens": [(one, _of(one.file)) for one in oven_on_file(now, on_shelf=on_shelf)],
            "may_keep": bool(request.may.intersection(_ANY)),
            "may_gauge": bool(request.may.intersection(KINDS[GAUGE].needs)),
            "form": KeepForm.shown(),
            "gauge_form": GaugeForm.shown(),
            **shown,
        },
    )


urls = [
    path("shelf/", whole_shelf, name="shelf"),
    path("shelf/keep/", keep_file, name="keep-file"),
    path("shelf/gauge/", keep_gauge, name="keep-gauge"),
    path("shelf/of/<str:kind>/", one_of_shelf, name="shelf-one"),
]
