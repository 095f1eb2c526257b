"""Drawings: a change tried and seen, a draft filed, another person's approval, and what a departure does in flight."""

from collections.abc import Mapping
from dataclasses import dataclass
from http import HTTPStatus
from typing import Any

from django import forms
from django.http import HttpResponse
from django.urls import path, reverse
from django.utils.http import content_disposition_header

from bladewright.design.changeable import Changeable, Group, changeable
from bladewright.design.drawn_answers import DrawnAnswers, against, answers_with, at_a_glance, headlines, make_ready
from bladewright.design.flutter_margin import flutter_margin
from bladewright.design.measured_off import measured_fields, measured_off
from bladewright.design.sensitivity import sensitivities
from bladewright.design.to_scale import planform_to_scale, section_to_scale
from bladewright.drawing.differing import differing, written_entries
from bladewright.drawing.editing import drawn_with, typed_in
from bladewright.drawing.fields import field_names
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.kinds import kind_of
from bladewright.drawing.words import in_words
from bladewright.errors import BladewrightError, SeveralBadInputs
from bladewright.figures import Figure, worst_of
from bladewright.pairing.came_out import came_out
from bladewright.papers.scaled_picture import scaled_picture
from bladewright.records.acts import Act, Scope
from bladewright.records.drawings import DrawingLine, approve_drawing, file_draft, file_drawing
from bladewright.records.revisions import Revision, revision_of, revisions
from bladewright.units import si_unit
from bladewright.web import beside
from bladewright.web.asking import DeskRequest
from bladewright.web.doors import door
from bladewright.web.forms import DeskForm, SignedForm, written
from bladewright.web.showing import page
from bladewright.web.uploads import received

AT_ONCE = 0.15  # [s] a page waits this long for answers, then shows itself and looks again
WAITED_FOR = 8.0  # [s] where somebody without JavaScript asked for a change
CHANGED = 1.0  # [s] where the page itself asks


class FileForm(DeskForm):
    """A drawing file handed in as a revision."""

    file = forms.FileField(label="The blade's TOML file")
    revision = forms.CharField(label="Revision", max_length=40, help_text="A letter or number no revision has yet.")
    field_order = ("file", "revision", "reason")


class DraftForm(DeskForm):
    """A tried change filed as a draft; the changes ride along hidden."""

    revision = forms.CharField(label="Its revision", max_length=40, help_text="A letter or number no revision has yet.")
    field_order = ("revision", "reason")


class ApproveForm(SignedForm):
    """Another person's yes."""


@dataclass(frozen=True, slots=True)
class Typed:
    """One entry as the page shows it: what stands in it, and what is wrong with that."""

    entry: Changeable
    text: str
    errors: tuple[BladewrightError, ...]

    @property
    def id(self) -> str:
        """Its name in the page, where a point would begin a class."""
        return self.entry.field.replace(".", "-")

    @property
    def changed(self) -> bool:
        """Whether it is not what the drawing says."""
        return self.text != self.entry.drawn


@door()
def drawings(request: DeskRequest) -> HttpResponse:
    """Every drawing and its revisions."""
    return _list(request, FileForm.shown())


def _list(request: DeskRequest, form: FileForm) -> HttpResponse:
    lines = revisions()
    first = next((line for line in lines if line.standing == "released"), None)
    return page(request, "desk/drawings.html", {"lines": lines, "first": first, "form": form, "here": "drawings"})


@door(writes=(Scope.DRAW,))
def file_revision(request: DeskRequest) -> HttpResponse:
    """File a drawing handed in."""
    form = FileForm(request.POST, request.FILES)

    def file(act: Act) -> DrawingLine:
        with received(form.cleaned_data["file"]) as place:
            return file_drawing(act, place, form.cleaned_data["revision"])

    return written(
        request,
        form,
        file,
        to=lambda line: _address(line.name, line.revision) if line else reverse("drawings"),
        said=lambda line: f"{line.name} revision {line.revision} is filed as a draft. Another person approves it.",
        again=lambda form: _list(request, form),
    )


@door()
def drawing(request: DeskRequest, name: str, revision: str) -> HttpResponse:
    """One revision: change an entry and see."""
    shown = revision_of(name, revision)
    changes = _changes(request.GET, shown)
    if request.htmx and request.htmx.target == "answers":
        return page(request, "desk/drawing_answers.html", _answered(request, shown, changes, CHANGED))
    return _whole(request, shown, _answered(request, shown, changes, WAITED_FOR if changes else AT_ONCE))


def _whole(request: DeskRequest, shown: Revision, tried: dict[str, Any], **forms_shown: DeskForm) -> HttpResponse:
    beside.asked(("ready", shown.line.name, shown.data), lambda: make_ready(shown.drawing), 0.0, pool="after")
    base: Revision = tried["base"]
    context = tried | {
        "here": "drawings",
        "lines": revisions(shown.line.name),
        "fields": field_names(shown.drawing),
        "measured": _measured(shown),
        "differing": differing(base.data, shown.data) if base is not shown else (),
        "approve_form": ApproveForm.shown(f"{shown.line.name} {shown.line.revision}"),
    }
    return page(request, "desk/drawing.html", context | forms_shown)


def _changes(typed: Mapping[str, str], shown: Revision) -> dict[str, str]:
    """What was typed that is not what the drawing says."""
    known = {entry.field: entry.drawn for group in changeable(shown.data) for entry in group.entries}
    found = {field: typed[field].strip() for field in known if field in typed}
    if typed.get("other", "").strip():
        found[typed["other"].strip()] = typed.get("other_value", "").strip()
    return {field: text for field, text in found.items() if text != known.get(field, "")}


def _answered(request: DeskRequest, shown: Revision, changes: dict[str, str], patience: float) -> dict[str, Any]:
    base = shown
    if shown.released not in ("", shown.line.revision):
        base = revision_of(shown.line.name, shown.released)
    errors: tuple[BladewrightError, ...] = ()
    before = after = drawn = None
    asker = request.person  # a sealed cookie is another at each answer, so its key tells nobody apart
    try:
        drawn = drawn_with(shown.data, _values(shown, changes))
        after = _answers(shown, changes, patience, asker)
        before = _answers(base, {}, patience) if after else None
    except BladewrightError as error:
        errors = error.errors if isinstance(error, SeveralBadInputs) else (error,)
    groups, name, revision = changeable(shown.data), shown.line.name, shown.line.revision
    found: dict[str, Any] = {
        "shown": shown,
        "base": base,
        "changes": changes,
        "groups": [(group.words, _typed(group, changes, errors)) for group in groups],
        "errors": _elsewhere(groups, errors),
        "shown_fields": [entry.field for group in groups for entry in group.entries],
        "wrong": bool(errors),
        "compares": bool(changes) or base.line.revision != shown.line.revision,
        "in_service": f"{reverse('in-service', args=[name, revision])}?{request.GET.urlencode()}",
        "waiting": not errors and (before is None or after is None),
        "again": f"{_address(name, revision)}?{request.GET.urlencode()}",
        "draft_form": DraftForm.shown(),
    }
    if drawn is not None:
        found |= _pictures(base.drawing if changes or base is not shown else None, drawn)
    if before is not None and after is not None:
        found |= {"headlines": headlines(before, after), "compared": against(before, after), "gaps": after.missing}
        found["glance"] = at_a_glance(before, after)
    return found


def _values(shown: Revision, changes: Mapping[str, str]) -> dict[str, Any]:
    return {field: typed_in(shown.drawing, field, text) for field, text in changes.items()}


def _answers(shown: Revision, changes: dict[str, str], patience: float, asker: str = "") -> DrawnAnswers | None:
    values = tuple(sorted(_values(shown, changes).items()))
    work = lambda: answers_with(shown.data, values)  # noqa: E731
    return beside.asked(("answers", shown.data, values), work, patience, asker=asker)


def _typed(group: Group, changes: Mapping[str, str], errors: tuple[BladewrightError, ...]) -> list[Typed]:
    return [
        Typed(entry, changes.get(entry.field, entry.drawn), tuple(one for one in errors if one.field == entry.field))
        for entry in group.entries
    ]


def _elsewhere(groups: tuple[Group, ...], errors: tuple[BladewrightError, ...]) -> list[BladewrightError]:
    """What is wrong with no entry the page shows."""
    fields = {entry.field for group in groups for entry in group.entries}
    return [error for error in errors if error.field not in fields]


def _pictures(other: BladeDrawing | None, drawn: BladeDrawing) -> dict[str, Any]:
    """Section and planform to scale; where the parts do not fit each other the answers say so already."""
    try:
        section, planform = section_to_scale(drawn), planform_to_scale(drawn)
        others = (section_to_scale(other), planform_to_scale(other)) if other else (None, None)
    except BladewrightError:
        return {}
    return {"section": scaled_picture(section, others[0]), "planform": scaled_picture(planform, others[1])}


@door(writes=(Scope.DRAW,))
def draft_revision(request: DeskRequest, name: str, revision: str) -> HttpResponse:
    """File what was tried as a draft."""
    shown, form = revision_of(name, revision), DraftForm(request.POST)
    changes = _changes(request.POST, shown)

    def again(form: DraftForm) -> HttpResponse:
        return _whole(request, shown, _answered(request, shown, changes, AT_ONCE), draft_form=form)

    return written(
        request,
        form,
        lambda act: file_draft(act, name, revision, changes, form.cleaned_data["revision"]),
        to=lambda line: _address(name, line.revision if line else revision),
        said=lambda line: f"{line.name} revision {line.revision} is filed as a draft. Another person approves it.",
        again=again,
    )


@door(writes=(Scope.APPROVE,))
def approve_revision(request: DeskRequest, name: str, revision: str) -> HttpResponse:
    """Approve a draft that somebody else filed."""
    form = ApproveForm(request.POST)

    def again(form: ApproveForm) -> HttpResponse:
        shown = revision_of(name, revision)
        return _whole(request, shown, _answered(request, shown, {}, AT_ONCE), approve_form=form)

    return written(
        request,
        form,
        lambda act: approve_drawing(act, name, revision),
        to=_address(name, revision),
        said=f"{name} revision {revision} is approved: blades may be made to it.",
        again=again,
    )


@door()
def in_service(request: DeskRequest, name: str, revision: str) -> HttpResponse:
    """The flutter margin in every state service brings: it takes a second or two, so the page asks for it after."""
    shown = revision_of(name, revision)
    changes = _changes(request.GET, shown)
    values = tuple(sorted(_values(shown, changes).items()))
    patience = CHANGED if request.htmx else WAITED_FOR
    context: dict[str, Any] = {"shown": shown, "changes": changes, "again": request.get_full_path(), "here": "drawings"}
    try:
        work = lambda: flutter_margin(drawn_with(shown.data, dict(values)))  # noqa: E731
        asker = f"in service {request.person}"
        context["margin"] = margin = beside.asked(("in service", shown.data, values), work, patience, asker=asker)
        context["worst"] = worst_of(margin.findings) if margin else None
    except BladewrightError as error:
        context["errors"] = error.errors if isinstance(error, SeveralBadInputs) else (error,)
    return page(
        request, "desk/drawing_in_service.html" if request.htmx else "desk/drawing_in_service_page.html", context
    )


@door()
def ranked(request: DeskRequest, name: str, revision: str) -> HttpResponse:
    """Every dimension ranked by what its tolerance does to each answer."""
    shown = revision_of(name, revision)
    work = lambda: sensitivities(shown.drawing)  # noqa: E731
    patience = CHANGED if request.htmx else WAITED_FOR
    found = beside.asked(("sensitivities", shown.data), work, patience, pool="after")
    context = {"shown": shown, "found": found, "again": request.get_full_path(), "here": "drawings"}
    template = "desk/drawing_sensitivities.html" if request.htmx else "desk/drawing_sensitivities_page.html"
    return page(request, template, context)


@door()
def departure(request: DeskRequest, name: str, revision: str) -> HttpResponse:
    """What blades that came out different do in flight, and which may fly together."""
    shown, typed = revision_of(name, revision), request.GET
    texts = {entry: typed.get(entry, "").strip() for entry in ("value", "off", "uncertainty", "station")}
    field = typed.get("field", "reflex.angle")
    context: dict[str, Any] = {
        "shown": shown,
        "here": "drawings",
        "measured": _measured(shown),
        "departure_field": field,
        "words": in_words(field),
        "again": request.get_full_path(),
    } | {f"departure_{entry}": text for entry, text in texts.items()}
    status = HTTPStatus.OK
    try:
        found = measured_off(shown.drawing, field, **texts)
        context["departure"] = Figure(in_words(field), found.value, si_unit(kind_of(shown.drawing, field) or ""),
                                      found.uncertainty)  # fmt: skip
        work = lambda: came_out(shown.drawing, [found])  # noqa: E731
        context["found"] = answer = beside.asked(("came out", shown.data, found), work, WAITED_FOR)
        if answer is not None:
            context |= {"worst_drawn": worst_of(answer.with_drawn), "worst_alike": worst_of(answer.with_each_other)}
    except BladewrightError as error:
        context["errors"] = error.errors if isinstance(error, SeveralBadInputs) else (error,)
        status = HTTPStatus.UNPROCESSABLE_ENTITY
    return page(request, "desk/drawing_departure.html", context, status)


@door()
def drawing_file(request: DeskRequest, name: str, revision: str) -> HttpResponse:  # noqa: ARG001
    """The file of a revision, byte for byte."""
    shown = revision_of(name, revision)
    answer = HttpResponse(shown.data, content_type="text/plain; charset=utf-8")
    answer.headers["Content-Disposition"] = content_disposition_header(True, shown.file) or "attachment"
    return answer


def _measured(shown: Revision) -> list[dict[str, str]]:
    written = written_entries(shown.data)
    return [
        {"field": field, "words": in_words(field), "drawn": written.get(field, "")}
        for field in measured_fields(shown.drawing)
    ]


def _address(name: str, revision: str) -> str:
    return reverse("drawing", args=[name, revision])


urls = [
    path("drawings/", drawings, name="drawings"),
    path("drawings/file/", file_revision, name="file-revision"),
    path("drawings/<name:name>/<name:revision>/", drawing, name="drawing"),
    path("drawings/<name:name>/<name:revision>/in-service/", in_service, name="in-service"),
    path("drawings/<name:name>/<name:revision>/sensitivities/", ranked, name="sensitivities"),
    path("drawings/<name:name>/<name:revision>/departure/", departure, name="departure"),
    path("drawings/<name:name>/<name:revision>/file/", drawing_file, name="drawing-file"),
    path("drawings/<name:name>/<name:revision>/draft/", draft_revision, name="draft-revision"),
    path("drawings/<name:name>/<name:revision>/approve/", approve_revision, name="approve-revision"),
]
