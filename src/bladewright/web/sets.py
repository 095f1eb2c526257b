"""Whom the finished blades fly with: every pair, the best sets, any other set tried, and forming one."""

from collections.abc import Mapping, Sequence

from django import forms
from django.http import Http404, HttpResponse, QueryDict
from django.urls import path, reverse

from bladewright.errors import BladewrightError
from bladewright.records.about_sets import set_page
from bladewright.records.acts import Scope
from bladewright.records.matching_now import TriedSet, matching_now, try_set, work_out_one
from bladewright.records.sets import form_set
from bladewright.web.asking import DeskRequest
from bladewright.web.charts import chart_answer
from bladewright.web.doors import door
from bladewright.web.forms import DeskForm, written
from bladewright.web.showing import page


class Asked(forms.Form):
    """What of the blades is looked at; whatever does not read is taken as not asked."""

    size = forms.IntegerField(required=False, min_value=2, max_value=4)
    drawing = forms.CharField(required=False, max_length=200)
    revision = forms.CharField(required=False, max_length=200)
    first = forms.IntegerField(required=False, min_value=0, max_value=1_000_000)
    sets_from = forms.IntegerField(required=False, min_value=0, max_value=1_000_000)


class FormSet(DeskForm):
    """Forms the set that was looked at."""

    name = forms.CharField(label="Name of the set", max_length=200)
    serials = forms.CharField(widget=forms.HiddenInput, max_length=1000)
    mark = forms.CharField(widget=forms.HiddenInput, max_length=64)  # of what was shown
    field_order = ("name", "reason")


@door()
def sets(request: DeskRequest) -> HttpResponse:
    """The table of pairs and the best sets; with ``try`` in the address, a set tried beside them."""
    return _page(request, request.GET.getlist("try"))


@door()
def working(request: DeskRequest) -> HttpResponse:
    """Work out what one more blade does in flight; the page asks again until none waits."""
    left = work_out_one(request.GET.get("drawing", ""), request.GET.get("revision", ""))
    answer = page(request, "desk/sets_working.html", {"waiting": left, "kept": request.GET.urlencode()})
    if not left:
        answer.headers["HX-Refresh"] = "true"
    return answer


@door(writes=(Scope.MATCH,))
def form(request: DeskRequest) -> HttpResponse:
    """Form a set as it was tried."""
    sent = FormSet(request.POST)
    serials = request.POST.get("serials", "").splitlines()
    return written(
        request,
        sent,
        lambda act: form_set(act, sent.cleaned_data["name"], serials, shown=sent.cleaned_data["mark"]),
        to=lambda formed: reverse("set", args=[formed.name]) if formed else reverse("sets"),
        said=lambda formed: f"Set {formed.name} is formed of {' and '.join(formed.match.serials)}.",
        again=lambda sent: _page(request, serials, sent),
    )


@door()
def shares(request: DeskRequest, case: int) -> HttpResponse:
    """What each blade of a tried set adds at the handle, as bars."""
    found = try_set(request.GET.getlist("try")).shares
    if case >= len(found):
        raise Http404
    return chart_answer(found[case])


def _page(request: DeskRequest, wanted: Sequence[str], sent: FormSet | None = None) -> HttpResponse:
    asked = Asked(request.GET)
    asked.is_valid()
    told = asked.cleaned_data
    wanted = [serial.strip() for serial in wanted if serial.strip()]
    now = matching_now(
        told.get("size") or 0,
        drawing=told.get("drawing", ""),
        revision=told.get("revision", ""),
        first=told.get("first") or 0,
        at_most=0,
    )
    tried, refused = _tried(wanted)
    asked_for = {name: request.GET[name] for name in ("drawing", "revision", "size") if told.get(name)}
    return page(
        request,
        "desk/sets.html",
        {
            "here": "sets",
            "now": now,
            "formed": set_page(told.get("sets_from") or 0),
            "wanted": wanted,
            "slots": now.slots(wanted),
            "tried": tried,
            "tried_query": _query(wanted),
            "refused": refused,
            "form": _form_of(tried, sent) if tried else sent,
            "may_match": Scope.MATCH in request.may,
            "asked": asked_for,
            "kept": _kept(asked_for),
        },
    )


def _tried(wanted: Sequence[str]) -> tuple[TriedSet | None, BladewrightError | None]:
    """The tried set, or what is wrong with asking for it."""
    if not wanted:
        return None, None
    try:
        return try_set(wanted), None
    except BladewrightError as error:
        return None, error


def _form_of(tried: TriedSet, sent: FormSet | None) -> FormSet:
    """A fresh form; one that was refused keeps what was typed, and goes with what is shown now."""
    if sent is None:
        serials = tried.beside.tried.serials
        return FormSet.shown(name=tried.name, serials="\n".join(serials), mark=tried.mark)
    sent.data = {**sent.data.dict(), "mark": tried.mark} if isinstance(sent.data, QueryDict) else sent.data
    return sent


def _query(serials: Sequence[str]) -> str:
    query = QueryDict(mutable=True)
    query.setlist("try", list(serials))
    return query.urlencode()


def _kept(asked: Mapping[str, str]) -> str:
    """What is looked at, to stand before the rest of each link of the page."""
    query = QueryDict(mutable=True)
    query.update(asked)
    return f"{query.urlencode()}&" if asked else ""


urls = [
    path("sets/", sets, name="sets"),
    path("sets/-/working/", working, name="sets-working"),
    path("sets/-/form/", form, name="form-set"),
    path("sets/-/shares/<int:case>/", shares, name="sets-shares"),
]
