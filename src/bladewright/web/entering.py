"""Coming in and going out. Nobody has a secret until they chose one; what was typed before a session ended is kept."""

import datetime
import secrets as random
import time
from http import HTTPStatus
from typing import Any, Final

from django import forms
from django.core import signing
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import path

from bladewright.errors import BladewrightError
from bladewright.records import secrets
from bladewright.records.acts import Act, Scope
from bladewright.records.book import opened
from bladewright.records.people import all_people
from bladewright.web import clock, seats
from bladewright.web.asking import DeskRequest
from bladewright.web.doors import door
from bladewright.web.elsewhere import inside
from bladewright.web.showing import page, status_of

#: printed where the desk was started, so that only who stands there can be the first to come in
start_code: Final = [random.token_hex(4)]
_TYPED: Final = "typed before coming in"
_NEVER_KEPT: Final = ("secret", "csrfmiddlewaretoken")  # nor anything that has one of these in its name
_NAME: Final = {"autocomplete": "username"}
_PASSWORD: Final = {"autocomplete": "current-password"}


class EnterForm(forms.Form):
    """Who comes in."""

    name = forms.CharField(label="Your name", max_length=200, widget=forms.TextInput(attrs=_NAME))
    secret = forms.CharField(
        label="Your secret", strip=False, max_length=200, widget=forms.PasswordInput(attrs=_PASSWORD)
    )


class BeginForm(forms.Form):
    """The first person to come in."""

    code = forms.CharField(label="Start code", max_length=40, help_text="Printed where the desk was started.")
    name = forms.CharField(label="Your name", max_length=200, help_text="As it shall stand in the book and on papers.")
    secret = forms.CharField(
        label="A secret of your own", strip=False, max_length=200,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
        help_text="A sentence you remember is best. It is not kept, only what it can be checked by.",
    )  # fmt: skip
    secret_again = forms.CharField(
        label="The same once more", strip=False, max_length=200,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
    )  # fmt: skip

    def clean(self) -> dict[str, Any]:
        """Both are the same, and the code is this start's."""
        told = super().clean() or {}
        if "code" in told and not random.compare_digest(told["code"].strip().encode(), start_code[0].encode()):
            self.add_error("code", "This is not the code of this start. It stands where the desk was started.")
        if told.get("secret") != told.get("secret_again"):
            self.add_error("secret_again", "The two are not the same.")
        return told


def ask(request: DeskRequest) -> HttpResponse:
    """Somebody unknown at a door: let them come in, and keep what they had typed."""
    if not secrets.anybody_has_secret():
        return redirect("begin")
    kept = _typed(request) if request.method == "POST" else ""
    back = request.get_full_path() if request.method != "POST" else ""
    context = {"form": EnterForm(), "back": back, "typed": kept, "was_in": request.method == "POST"}
    return page(request, "desk/enter.html", context, HTTPStatus.UNAUTHORIZED)


def _typed(request: DeskRequest) -> str:
    """What was sent, sealed, so that it can only be what this desk was sent."""
    names = [name for name in request.POST if not any(word in name for word in _NEVER_KEPT)]
    entries = [[name, text] for name in names for text in request.POST.getlist(name)]
    told = {"path": request.path, "entries": entries, "files": list(request.FILES), "signed": "secret" in request.POST}
    return signing.dumps(told, salt=_TYPED, compress=True)


@door(public=True)
def enter(request: DeskRequest) -> HttpResponse:
    """Prove who you are."""
    if not secrets.anybody_has_secret():
        return redirect("begin")
    back, kept = request.POST.get("back", request.GET.get("back", "")), request.POST.get("typed", "")
    form = EnterForm(request.POST if request.method == "POST" else None)
    status = HTTPStatus.OK
    if request.method == "POST" and form.is_valid():
        try:
            secrets.enter(form.cleaned_data["name"], form.cleaned_data["secret"], time.monotonic())
            come_in(request, form.cleaned_data["name"])
            if secrets.given_by(request.person) and not kept:
                return redirect("own")
            return _again(request, kept) if kept else redirect(inside(request, back))
        except BladewrightError as error:
            form.add_error(None, str(error))
            status = status_of(error)
    return page(request, "desk/enter.html", {"form": form, "back": back, "typed": kept, "was_in": bool(kept)}, status)


def _again(request: DeskRequest, kept: str) -> HttpResponse:
    """What was typed before, to be sent in the name of who has come in."""
    try:
        told = signing.loads(kept, salt=_TYPED, max_age=datetime.timedelta(days=1))
    except signing.BadSignature:
        return redirect("/")
    return page(request, "desk/again.html", {"told": told, "named": request.session["person"]})


def come_in(request: DeskRequest, name: str) -> None:
    """Begin a session; it ends with the secret it was begun with."""
    request.session.flush()
    request.session["person"], request.session["mark"] = name, secrets.secret_mark(name)
    request.session["seat"] = seats.new()
    request.person = name


@door(writes=())
def leave(request: DeskRequest) -> HttpResponse:
    """Go out; a copy of the cookie opens nothing any more."""
    seats.leave(request.session.get("seat", ""))
    request.session.flush()
    return redirect("enter")


@door(public=True)
def begin(request: DeskRequest) -> HttpResponse:
    """The first start: whoever stands at the machine becomes the first to administer, or proves to be one who does."""
    if secrets.anybody_has_secret():
        return redirect("enter")
    form = BeginForm(request.POST if request.method == "POST" else None, initial={"code": request.GET.get("code", "")})
    status = HTTPStatus.OK
    if request.method == "POST" and form.is_valid():
        told = form.cleaned_data
        try:
            secrets.begin_with(Act(told["name"], clock.now(), "first start of the desk"), told["name"], told["secret"])
            come_in(request, told["name"])
            return redirect("/")
        except BladewrightError as error:
            form.add_error(error.field if error.field in form.fields else None, str(error))
            status = status_of(error)
    administrators = [line.name for line in all_people(opened().day(clock.now())) if Scope.ADMINISTER in line.scopes]
    return page(request, "desk/begin.html", {"form": form, "administrators": administrators}, status)


urls = [
    path("enter/", enter, name="enter"),
    path("leave/", leave, name="leave"),
    path("begin/", begin, name="begin"),
]
