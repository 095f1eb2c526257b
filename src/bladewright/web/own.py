"""Everybody's own page: what they may, their secret, how they want to see things, their programs' keys."""

import time
from typing import Any

from django import forms
from django.http import HttpResponse
from django.urls import path, reverse

from bladewright.records import secrets, staffing, tokens
from bladewright.records.acts import Act
from bladewright.records.book import opened
from bladewright.web import clock, preferences
from bladewright.web.asking import DeskRequest
from bladewright.web.doors import door
from bladewright.web.entering import come_in
from bladewright.web.forms import DeskForm, told_apart, written
from bladewright.web.keys import KeyForm, WithdrawKeyForm, make_key, to_end
from bladewright.web.showing import page

_NEW = {"autocomplete": "new-password"}


class OwnSecretForm(DeskForm):
    """One's own secret, chosen anew. Never kept on the device, never queued."""

    secret = forms.CharField(
        label="Your secret now",
        strip=False,
        max_length=secrets.LONGEST,
        widget=forms.PasswordInput({"autocomplete": "current-password"}),
    )
    new_secret = forms.CharField(
        label="Your new secret",
        strip=False,
        max_length=secrets.LONGEST,
        widget=forms.PasswordInput(_NEW),
        help_text=f"{secrets.SHORTEST} letters at least, of any kind; a few unrelated words are best.",
    )
    new_secret_again = forms.CharField(
        label="The new one once more", strip=False, max_length=secrets.LONGEST, widget=forms.PasswordInput(_NEW)
    )
    reason = None  # type: ignore[assignment]
    signed = True  # it proves the secret itself, also one that somebody else chose

    def clean(self) -> dict[str, Any]:
        """Both new ones are the same."""
        told = super().clean() or {}
        if told.get("new_secret") != told.get("new_secret_again"):
            self.add_error("new_secret_again", "The two are not the same.")
        return told


@door()
def own(request: DeskRequest) -> HttpResponse:
    """One's own page."""
    return _own(request)


def _own(request: DeskRequest, **forms_: Any) -> HttpResponse:
    day = opened().day(clock.now())
    found = staffing.about_person(request.person, day)
    context = {
        "one": found,
        "secret_form": OwnSecretForm.shown(),
        "key_form": KeyForm.shown(),
        "end_key_form": to_end(found.keys, day),
        "systems": preferences.SYSTEMS.items(),
        "themes": preferences.THEMES.items(),
    }
    return page(request, "desk/own.html", told_apart(context | forms_))


@door(writes=())
def change_secret(request: DeskRequest) -> HttpResponse:
    """Choose one's own secret; the session goes on, every other one of this person ends."""
    form = OwnSecretForm(request.POST)

    def change(act: Act) -> secrets.SecretSet:
        done = secrets.change_secret(
            act, form.cleaned_data["secret"], form.cleaned_data["new_secret"], time.monotonic()
        )
        come_in(request, act.by)
        return done

    return written(
        request,
        form,
        change,
        to=reverse("own"),
        said="Your new secret holds. Wherever else you were signed in, you are not any more.",
        again=lambda form: _own(request, secret_form=form),
    )


@door(writes=())
def make_own_key(request: DeskRequest) -> HttpResponse:
    """A key for a program of one's own."""
    return make_key(request, KeyForm(request.POST), request.person, again=lambda form: _own(request, key_form=form))


@door(writes=())
def end_own_key(request: DeskRequest) -> HttpResponse:
    """End one of one's own keys."""
    form = WithdrawKeyForm(request.POST).among(tokens.all_tokens(request.person))
    return written(
        request,
        form,
        lambda act: tokens.withdraw_token(act, form.cleaned_data["key"]),
        to=reverse("own"),
        said=lambda key: f'The key "{key.name}" no longer holds.',
        again=lambda form: _own(request, end_key_form=form),
    )


urls = [
    path("own/", own, name="own"),
    path("own/secret/", change_secret, name="change-secret"),
    path("own/key/", make_own_key, name="make-own-key"),
    path("own/end-key/", end_own_key, name="end-own-key"),
]
