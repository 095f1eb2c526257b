"""The stores: adhesive rolls with their clocks, lots with their certificates, receiving, a roll out and back in."""

from typing import Any

from django import forms
from django.http import HttpResponse
from django.urls import path, reverse

from bladewright.records import lots, roll_log
from bladewright.records.acts import Scope
from bladewright.records.adhesive_on_file import adhesive_on_file, roll_on_file
from bladewright.records.book import opened
from bladewright.records.materials import about_lot, lots_page, materials_known, shelf_bytes
from bladewright.records.shop_files import history
from bladewright.records.shop_kinds import KINDS, ROLL
from bladewright.records.writing import newest_about
from bladewright.web import clock
from bladewright.web.asking import DeskRequest
from bladewright.web.doors import door
from bladewright.web.forms import DayField, DeskForm, PlainForm, written
from bladewright.web.links import to_place
from bladewright.web.showing import as_it_came, page
from bladewright.web.uploads import received

_OF_ROLLS = KINDS[ROLL].needs


class ReceiveForm(PlainForm):
    """One lot as it comes in."""

    lot = forms.CharField(
        label="The shop's name for it", max_length=200, help_text="One for each sheet, roll, bar or box."
    )
    material = forms.CharField(label="Material, as the drawing calls it", max_length=200)
    maker = forms.CharField(label="Maker", required=False, max_length=200)
    maker_lot = forms.CharField(label="The maker's lot", required=False, max_length=200)
    expires_on = DayField(
        label="Last day it may be used", required=False,
        help_text="Year-month-day. Left empty: it has no such day.",
    )  # fmt: skip
    certificate = forms.FileField(label="Certificate", required=False, help_text="Kept as it came.")


class BeginLogForm(PlainForm):
    """A roll's log, begun when it comes."""

    before_receipt = forms.CharField(
        label="Hours out before it came", required=False, max_length=40,
        help_text="With maker and carrier, like 9 h. Left empty: nobody knows, and the roll may not be used.",
    )  # fmt: skip


class OutForm(PlainForm):
    """A roll goes out of the freezer."""

    since = forms.DateTimeField(
        label="Out since, by the clock on the wall", widget=forms.DateTimeInput(attrs={"type": "datetime-local"}),
        input_formats=["%Y-%m-%dT%H:%M", "%Y-%m-%d %H:%M"],
    )  # fmt: skip


class BackForm(PlainForm):
    """A roll comes back into the freezer."""

    warmest = forms.CharField(
        label="The warmest the room was meanwhile", required=False, max_length=40,
        help_text="Like 72 degF or 22 degC. Left empty: the hours are for a person to decide on.",
    )  # fmt: skip


@door()
def materials(request: DeskRequest) -> HttpResponse:
    """Rolls with their clocks, and lots by the page."""
    search = request.GET.get("text", "").strip()[:200]
    before = request.GET.get("before", "")
    lots_shown = lots_page(clock.now(), search=search, before=int(before) if before.isdecimal() else 0)
    adhesive = adhesive_on_file(clock.now())
    return page(
        request,
        "desk/materials.html",
        {"here": "materials", "search": search, "page_of": lots_shown, "adhesive": adhesive},
    )


@door()
def receive(request: DeskRequest) -> HttpResponse:
    """The form a lot is received by."""
    return _receiving(request, ReceiveForm.shown())


@door(writes=(Scope.RECEIVE,))
def receive_lot(request: DeskRequest) -> HttpResponse:
    """Receive a lot, with its certificate."""
    form = ReceiveForm(request.POST, request.FILES)

    def enter(act: Any) -> lots.LotLine:
        told = form.cleaned_data
        entries = {name: told[name] for name in ("maker", "maker_lot", "expires_on")}
        if told["certificate"] is None:
            return lots.receive_lot(act, told["lot"], told["material"], **entries)
        with received(told["certificate"], "certificate") as paper:
            return lots.receive_lot(act, told["lot"], told["material"], certificate=paper, **entries)

    return written(
        request, form, enter,
        to=lambda line: to_place("lot", line.lot) if line else reverse("materials"),
        said=lambda line: f"Received: {line.lot}, {line.material}.",
        again=lambda form: _receiving(request, form),
    )  # fmt: skip


@door()
def lot(request: DeskRequest, lot: str) -> HttpResponse:
    """One lot: its certificate, where it went, and for a roll its clocks."""
    return _lot(request, lot)


@door(writes=_OF_ROLLS)
def begin_log(request: DeskRequest, lot: str) -> HttpResponse:
    """Begin a roll's log, from now on."""
    form = BeginLogForm(request.POST)
    return written(
        request, form,
        lambda act: roll_log.begin_roll_log(act, lot, act.at, form.cleaned_data["before_receipt"]),
        to=to_place("lot", lot), said=f"The log of roll {lot} is begun: it is in the freezer from now on.",
        again=lambda form: _lot(request, lot, begin_form=form),
    )  # fmt: skip


@door(writes=_OF_ROLLS)
def take_out(request: DeskRequest, lot: str) -> HttpResponse:
    """A roll goes out of the freezer now."""
    form = OutForm(request.POST)
    return written(
        request, form, lambda act: roll_log.move_roll(act, lot, "out", since=form.cleaned_data["since"]),
        to=to_place("lot", lot),
        said=f"Roll {lot} is out of the freezer. Leave it sealed until it is warmed through.",
        again=lambda form: _lot(request, lot, out_form=form),
    )  # fmt: skip


@door(writes=_OF_ROLLS)
def put_back(request: DeskRequest, lot: str) -> HttpResponse:
    """A roll comes back into the freezer now."""
    form = BackForm(request.POST)
    return written(
        request, form, lambda act: roll_log.move_roll(act, lot, "in", warmest=form.cleaned_data["warmest"]),
        to=to_place("lot", lot), said=f"Roll {lot} is back in the freezer.",
        again=lambda form: _lot(request, lot, back_form=form),
    )  # fmt: skip


@door(writes=_OF_ROLLS)
def used_up(request: DeskRequest, lot: str) -> HttpResponse:
    """The last of a roll is gone."""
    form = PlainForm(request.POST)
    return written(
        request, form, lambda act: roll_log.finish_roll(act, lot), to=to_place("lot", lot),
        said=f"Roll {lot} is used up.", again=lambda form: _lot(request, lot, finish_form=form),
    )  # fmt: skip


@door()
def shelf_file(request: DeskRequest, sha256: str) -> HttpResponse:  # noqa: ARG001
    """A certificate or a file about the shop, as it came: to be saved, never shown as a page."""
    return as_it_came(*shelf_bytes(sha256))


def _receiving(request: DeskRequest, form: DeskForm) -> HttpResponse:
    return page(request, "desk/receive.html", {"here": "materials", "form": form, "known": materials_known()})


def _lot(request: DeskRequest, lot: str, **forms_shown: DeskForm) -> HttpResponse:
    """The page of a lot; a form that was refused stands in its place with its errors."""
    about = about_lot(lot, clock.now())
    roll = roll_on_file(lot, clock.now())
    seen = newest_about(lot)
    fresh = {
        "begin_form": BeginLogForm.shown(seen=seen),
        "out_form": OutForm.shown(seen=seen, since=f"{opened().clock(clock.now()):%Y-%m-%dT%H:%M}"),
        "back_form": BackForm.shown(seen=seen),
        "finish_form": PlainForm.shown(seen=seen),
    }
    uses = [(serial, part, to_place("blade", serial)) for serial, part in about.uses]
    return page(
        request,
        "desk/lot.html",
        {
            "here": "materials",
            "about": about,
            "roll": roll,
            "uses": uses,
            "trace": to_place("trace", lot),
            "log": history(ROLL, lot)[::-1],
            "may_move": bool(request.may.intersection(_OF_ROLLS)),
            **fresh,
            **forms_shown,
        },
    )


urls = [
    path("materials/", materials, name="materials"),
    path("materials/receive/", receive, name="receive"),
    path("materials/receive/enter/", receive_lot, name="receive-lot"),
    path("materials/lots/<path:lot>/", lot, name="lot"),
    path("materials/log/<path:lot>/", begin_log, name="begin-log"),
    path("materials/out/<path:lot>/", take_out, name="take-out"),
    path("materials/back/<path:lot>/", put_back, name="put-back"),
    path("materials/used-up/<path:lot>/", used_up, name="used-up"),
    path("materials/files/<str:sha256>/", shelf_file, name="shelf-file"),
]
