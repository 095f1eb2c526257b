"""One set: what it waits for, weighing again, signing out, its papers, the aircraft it flies on."""

from django import forms
from django.http import Http404, HttpResponse
from django.urls import path, reverse

from bladewright.records.about_sets import AboutSet, about_set
from bladewright.records.acts import Act, Scope
from bladewright.records.evidence import EvidenceFiled
from bladewright.records.judging import judge
from bladewright.records.ownership import add_aircraft, add_owner, install, remove
from bladewright.records.reweighing import weigh_again
from bladewright.records.set_papers import kept_paper_of_set
from bladewright.records.sets import sign_out
from bladewright.web import clock
from bladewright.web.asking import DeskRequest
from bladewright.web.charts import chart_answer
from bladewright.web.doors import door
from bladewright.web.forms import DayField, DeskForm, PlainForm, SignedForm, written
from bladewright.web.showing import page
from bladewright.web.showing import paper as as_paper
from bladewright.web.uploads import received


class Weigh(PlainForm):
    """The rig's file."""

    file = forms.FileField(label="Weighing file", help_text="The rig's file of one of these blades, weight fitted.")


class SignOut(SignedForm):
    """The release of a set, signed."""

    mark = forms.CharField(widget=forms.HiddenInput, max_length=64)  # of what was shown


class Install(PlainForm):
    """Which aircraft, and when."""

    aircraft = forms.CharField(
        label="Aircraft", max_length=200, help_text="Its mark, as it is in the book.",
        widget=forms.TextInput(attrs={"list": "marks", "autocomplete": "off"}),
    )  # fmt: skip
    on = DayField(label="Put on, on the day")


class Remove(DeskForm):
    """When it came off."""

    on = DayField(label="Taken off, on the day")


class Owner(PlainForm):
    """Whose aircraft, and how to reach them."""

    name = forms.CharField(label="Owner", max_length=200)
    contact = forms.CharField(label="How to reach them", max_length=200)


class Aircraft(PlainForm):
    """An aircraft and its owner."""

    mark = forms.CharField(label="Aircraft mark", max_length=200)
    owner = forms.CharField(label="Owner, as in the book", max_length=200)


@door()
def one_set(request: DeskRequest, name: str) -> HttpResponse:
    """Everything about one set."""
    return _page(request, name)


@door()
def shares(request: DeskRequest, name: str, case: int) -> HttpResponse:  # noqa: ARG001
    """What each blade adds at the handle, as bars."""
    found = about_set(name).shares
    if case >= len(found):
        raise Http404
    return chart_answer(found[case])


@door()
def paper(request: DeskRequest, name: str) -> HttpResponse:  # noqa: ARG001
    """The set record as PDF, as it was kept or made now."""
    kept = kept_paper_of_set(name)
    return as_paper(kept.name, kept.read_bytes())


@door(writes=(Scope.MAKE, Scope.INSPECT))
def weigh(request: DeskRequest, name: str) -> HttpResponse:
    """File the weighing of a blade that took trim weight."""
    sent = Weigh(request.POST, request.FILES)

    def file(act: Act) -> EvidenceFiled:
        with received(sent.cleaned_data["file"]) as place:
            return weigh_again(act, name, place)

    return written(
        request, sent, file, to=_to(name), said="The weighing is on file. Judge that blade again.",
        again=lambda sent: _page(request, name, weigh=sent),
    )  # fmt: skip


@door(writes=(Scope.INSPECT,))
def judge_again(request: DeskRequest, name: str, serial: str) -> HttpResponse:
    """Judge one blade of the set on everything that is on file for it now."""
    sent = PlainForm(request.POST)
    return written(
        request, sent, lambda act: judge(act, serial), to=_to(name),
        said=lambda kept: f"{serial} is judged: {kept.verdict.word.value}.",
        again=lambda sent: _page(request, name, judge=sent),
    )  # fmt: skip


@door(writes=(Scope.RELEASE,))
def release(request: DeskRequest, name: str) -> HttpResponse:
    """Sign the set out."""
    sent = SignOut(request.POST)
    return written(
        request, sent, lambda act: sign_out(act, name, shown=sent.cleaned_data["mark"]), to=_to(name),
        said=lambda out: f"Set {out.name} is signed out. Its papers can be printed.",
        again=lambda sent: _page(request, name, sign_out=sent),
    )  # fmt: skip


@door(writes=(Scope.RELEASE,))
def put_on(request: DeskRequest, name: str) -> HttpResponse:
    """Record that the set was put on an aircraft."""
    sent = Install(request.POST)
    return written(
        request, sent, lambda act: install(act, name, sent.cleaned_data["aircraft"], sent.cleaned_data["on"]),
        to=_to(name), said=lambda done: f"Set {name} is on {done.mark} since {done.on}.",
        again=lambda sent: _page(request, name, install=sent),
    )  # fmt: skip


@door(writes=(Scope.RELEASE,))
def take_off(request: DeskRequest, name: str) -> HttpResponse:
    """Record that the set was taken off its aircraft."""
    sent = Remove(request.POST)
    return written(
        request, sent, lambda act: remove(act, name, sent.cleaned_data["on"]), to=_to(name),
        said=lambda done: f"Set {name} is off {done.mark} since {done.on}.",
        again=lambda sent: _page(request, name, remove=sent),
    )  # fmt: skip


@door(writes=(Scope.RELEASE,))
def enter_owner(request: DeskRequest, name: str) -> HttpResponse:
    """Enter an owner."""
    sent = Owner(request.POST)
    return written(
        request, sent, lambda act: add_owner(act, sent.cleaned_data["name"], sent.cleaned_data["contact"]),
        to=_to(name), said=lambda done: f"{done.name} is in the book.",
        again=lambda sent: _page(request, name, owner=sent),
    )  # fmt: skip


@door(writes=(Scope.RELEASE,))
def enter_aircraft(request: DeskRequest, name: str) -> HttpResponse:
    """Enter an aircraft, or its new owner."""
    sent = Aircraft(request.POST)
    return written(
        request, sent, lambda act: add_aircraft(act, sent.cleaned_data["mark"], sent.cleaned_data["owner"]),
        to=_to(name), said=lambda done: f"{done.mark} is in the book, owner {done.owner}.",
        again=lambda sent: _page(request, name, aircraft=sent),
    )  # fmt: skip


def _to(name: str) -> str:
    return reverse("set", args=[name])


def _page(request: DeskRequest, name: str, **sent: DeskForm) -> HttpResponse:
    """The page, with a form that was refused in the place of its fresh one."""
    about = about_set(name)
    return page(
        request,
        "desk/one_set.html",
        {
            "here": "sets",
            "about": about,
            "trim": about.formed.trim,
            "forms": _forms(request, about) | sent,
            "judging": {
                blade.serial: PlainForm.shown(subject=blade.serial) for blade in about.blades if blade.unjudged
            },
            "steps": _steps(about),
        },
    )


def _forms(request: DeskRequest, about: AboutSet) -> dict[str, DeskForm]:
    """What this person may do with the set as it stands."""
    name, today = about.line.name, clock.now().date()
    found: dict[str, DeskForm] = {}
    releases = Scope.RELEASE in request.may
    if about.signed_out_at is None:
        if about.formed.trim and request.may & {Scope.MAKE, Scope.INSPECT}:
            found["weigh"] = Weigh.shown()
        if releases and not about.stops:
            found["sign_out"] = SignOut.shown(subject=name, mark=about.mark)
    elif releases and about.line.aircraft:
        found["remove"] = Remove.shown(subject=name, on=today)
    elif releases:
        found |= {
            "install": Install.shown(subject=name, on=today),
            "owner": Owner.shown(),
            "aircraft": Aircraft.shown(),
        }
    return found


def _steps(about: AboutSet) -> tuple[tuple[str, bool], ...]:
    """The way of a set, and how far this one is."""
    trimmed = [blade for blade in about.blades if blade.trim]
    return (
        ("formed", True),
        (
            "trim weight fitted and weighed" if trimmed else "no trim weight needed",
            all(b.weighed_since for b in trimmed),
        ),
        ("signed out", about.signed_out_at is not None),
        ("on an aircraft", bool(about.line.aircraft)),
    )


urls = [
    path("sets/<path:name>/paper.pdf", paper, name="set-paper"),
    path("sets/<path:name>/shares/<int:case>/", shares, name="set-shares"),
    path("sets/<path:name>/weigh/", weigh, name="weigh-set"),
    path("sets/<path:name>/judge/<name:serial>/", judge_again, name="judge-in-set"),
    path("sets/<path:name>/sign-out/", release, name="sign-out-set"),
    path("sets/<path:name>/install/", put_on, name="install-set"),
    path("sets/<path:name>/remove/", take_off, name="remove-set"),
    path("sets/<path:name>/owner/", enter_owner, name="set-owner"),
    path("sets/<path:name>/aircraft/", enter_aircraft, name="set-aircraft"),
    path("sets/<path:name>/", one_set, name="set"),
]
