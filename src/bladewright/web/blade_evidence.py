"""Evidence of one serial: dropped, looked at, then filed; a void map typed row by row; the original bytes again."""

from contextlib import ExitStack
from http import HTTPStatus

from django import forms
from django.core.files.uploadedfile import UploadedFile
from django.http import HttpResponse
from django.urls import path, reverse

from bladewright.errors import BladewrightError, SeveralBadInputs
from bladewright.records import previews, void_maps
from bladewright.records.acts import Act, Scope
from bladewright.records.book import opened
from bladewright.records.holding import Handed
from bladewright.records.previews import Preview, Unread
from bladewright.records.stored import original
from bladewright.web import clock
from bladewright.web.asking import DeskRequest
from bladewright.web.blade import FILERS, drop_form, names_in
from bladewright.web.blade_forms import DropForm, FileForm, SignAndFileForm, VoidMapForm
from bladewright.web.doors import door
from bladewright.web.forms import DeskForm, written
from bladewright.web.showing import as_it_came, page
from bladewright.web.uploads import received

_ROWS, _MORE = 4, 4


@door(writes=FILERS)
def look_at(request: DeskRequest, serial: str) -> HttpResponse:
    """Read dropped files as they would be filed. Nothing is written."""
    form = DropForm(request.POST, request.FILES)
    form.offer(previews.descriptions_on_file("cure"), previews.descriptions_on_file("coupon"))
    if not form.is_valid():
        return _dropping(request, serial, form)
    told = form.cleaned_data
    act = Act(request.person, clock.now())
    try:
        handed = _handed(told["handed"])
        found = previews.look(
            act, serial, handed, mates=names_in(told["mates"]), logger=told["logger"], machine=told["machine"]
        )
    except BladewrightError as error:
        _blame(form, error)
        return _dropping(request, serial, form)
    return _looked(request, serial, found)


def _handed(uploads: list[UploadedFile]) -> list[Handed]:
    with ExitStack() as kept:
        paths = [kept.enter_context(received(upload, "handed")) for upload in uploads]
        return [Handed(path.name, path.read_bytes()) for path in paths]


def _dropping(request: DeskRequest, serial: str, form: DropForm) -> HttpResponse:
    context = {"serial": serial, "drop_form": form}
    return page(request, "desk/blade_drop.html", context, HTTPStatus.UNPROCESSABLE_ENTITY)


def _looked(request: DeskRequest, serial: str, found: tuple[Preview | Unread, ...]) -> HttpResponse:
    """What was read of each, and a form to file each that can be."""
    good = [(one, _filing(serial, one)) for one in found if isinstance(one, Preview)]
    bad = [one for one in found if isinstance(one, Unread)]
    status = HTTPStatus.OK if good else HTTPStatus.UNPROCESSABLE_ENTITY
    context = {"serial": serial, "found": good, "unread": bad, "drop_form": drop_form()}
    return page(request, "desk/blade_looked.html", context, status)


def _filing(serial: str, one: Preview) -> tuple[DeskForm, str] | None:
    """The form that files it and where it goes; None for what is on file already."""
    if not one.key:
        return None
    signed = one.kind in previews.SIGNED_FOR
    form = SignAndFileForm if signed else FileForm
    return form.shown(held=one.key), reverse("sign-and-file" if signed else "file-evidence", args=[serial])


@door(writes=FILERS)
def file_evidence(request: DeskRequest, serial: str) -> HttpResponse:
    """File what was looked at."""
    return _file(request, serial, FileForm(request.POST))


@door(writes=FILERS)
def sign_and_file(request: DeskRequest, serial: str) -> HttpResponse:
    """File what was looked at, where filing it is signing it."""
    return _file(request, serial, SignAndFileForm(request.POST))


def _file(request: DeskRequest, serial: str, form: DeskForm) -> HttpResponse:
    return written(
        request,
        form,
        lambda act: previews.file_looked_at(act, form.cleaned_data["held"], signed=form.signed),
        to=reverse("blade", args=[serial]) + "#evidence",
        said=lambda done: f"Filed: {done.kind}{f', {done.about}' if done.about else ''} ({done.file}).",
        again=lambda form: _once_more(request, serial, form),
    )


def _once_more(request: DeskRequest, serial: str, form: DeskForm) -> HttpResponse:
    """What was looked at, shown again with what is wrong; nothing to show once it is gone."""
    action = reverse("sign-and-file" if form.signed else "file-evidence", args=[serial])
    one = previews.looked_at_before(Act(request.person, clock.now()), serial, form.data.get("held", ""))
    context = {"serial": serial, "drop_form": drop_form()}
    if isinstance(one, Preview):
        return page(request, "desk/blade_looked.html", context | {"found": [(one, (form, action))], "unread": []})
    return page(
        request, "desk/blade_looked.html", context | {"found": [], "unread": [one] if one else [], "form": form}
    )


@door()
def map_voids(request: DeskRequest, serial: str) -> HttpResponse:
    """Enter a void map row by row."""
    lines = void_maps.lines_of(serial, request.system)
    today = opened().day(clock.now())
    form = VoidMapForm(initial={"found_on": today}, lines=lines, rows=_ROWS)
    return _mapping(request, serial, form, HTTPStatus.OK)


@door(writes=(Scope.INSPECT,))
def look_at_map(request: DeskRequest, serial: str) -> HttpResponse:
    """Read a typed void map as it would be filed. Nothing is written."""
    lines = void_maps.lines_of(serial, request.system)
    asked = request.POST.get("rows", "")
    rows = min(int(asked), void_maps.MOST_ROWS) if asked.isascii() and asked.isdecimal() else _ROWS
    if "more" in request.POST:
        form = VoidMapForm(initial=_as_typed(request), lines=lines, rows=min(rows + _MORE, void_maps.MOST_ROWS))
        return _mapping(request, serial, form, HTTPStatus.OK)
    form = VoidMapForm(request.POST, lines=lines, rows=rows)
    if not form.is_valid():
        return _mapping(request, serial, form, HTTPStatus.UNPROCESSABLE_ENTITY)
    act = Act(request.person, clock.now())
    try:
        typed, places = void_maps.typed_map(act, serial, form.cleaned_data, rows)
        (found,) = previews.look(act, serial, [typed])
    except BladewrightError as error:
        _blame(form, error)
        return _mapping(request, serial, form, HTTPStatus.UNPROCESSABLE_ENTITY)
    if isinstance(found, Preview):
        return _looked(request, serial, (found,))
    _blame(form, SeveralBadInputs(found.errors), places)
    return _mapping(request, serial, form, HTTPStatus.UNPROCESSABLE_ENTITY)


def _as_typed(request: DeskRequest) -> dict[str, str]:
    return {name: str(request.POST[name]) for name in request.POST if name not in ("csrfmiddlewaretoken", "more")}


def _mapping(request: DeskRequest, serial: str, form: VoidMapForm, status: int) -> HttpResponse:
    context = {"serial": serial, "form": form, "may_map": Scope.INSPECT in request.may}
    return page(request, "desk/blade_void_map.html", context, status)


def _blame(form: forms.Form, error: BladewrightError, places: dict[str, str] | None = None) -> None:
    """Each error beside the entry it is about; ``places`` tells which entry a field of the file was typed in."""
    for one in error.errors if isinstance(error, SeveralBadInputs) else (error,):
        field = (places or {}).get(one.field or "", one.field)
        if field == "description":
            field = "logger"
        form.add_error(field if field in form.fields else None, forms.ValidationError(str(one)))


@door()
def kept_file(request: DeskRequest, sha256: str) -> HttpResponse:  # noqa: ARG001
    """The original bytes of a filed piece of evidence, to keep and never to run."""
    return as_it_came(*original(sha256))


urls = [
    path("blades/<name:serial>/look/", look_at, name="look-at"),
    path("blades/<name:serial>/file/", file_evidence, name="file-evidence"),
    path("blades/<name:serial>/sign-and-file/", sign_and_file, name="sign-and-file"),
    path("blades/<name:serial>/void-map/", map_voids, name="map-voids"),
    path("blades/<name:serial>/void-map/look/", look_at_map, name="look-at-map"),
    path("files/<str:sha256>/", kept_file, name="kept-file"),
]
