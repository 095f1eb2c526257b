"""People and what they may do until when; who administers the book lets others in here, everybody else looks."""

import datetime
from typing import Any, Final

from django import forms
from django.http import HttpResponse
from django.urls import path, reverse

from bladewright.records import people, secrets, staffing, tokens
from bladewright.records.acts import LETS, Scope
from bladewright.records.authority import State
from bladewright.records.book import opened
from bladewright.web import clock
from bladewright.web.asking import DeskRequest
from bladewright.web.doors import door
from bladewright.web.forms import DayField, DeskForm, PlainForm, SignedForm, told_apart, written
from bladewright.web.keys import KeyForm, WithdrawKeyForm, make_key, to_end
from bladewright.web.showing import page

#: people listed on one page; our own choice
_MOST: Final = 200


class AddForm(PlainForm):
    """Somebody new."""

    name = forms.CharField(
        label="Name", max_length=200, help_text="As it shall stand in the book and on papers; it is never changed."
    )


class AuthoriseForm(SignedForm):
    """One kind of work, from a day until a day."""

    scope = forms.ChoiceField(
        label="For which work", choices=[("", "choose"), *((item, f"{item}: {LETS[item]}") for item in Scope)]
    )
    from_ = DayField(label="From")
    until = DayField(
        label="Until, that day included",
        required=False,
        help_text="Empty: until somebody withdraws it. A day makes you look again in time.",
    )
    field_order = ("scope", "from_", "until", "reason", "secret")


class WithdrawForm(SignedForm):
    """The end of one kind of work, now."""

    scope = forms.ChoiceField(label="Which work they no longer do")
    field_order = ("scope", "reason", "secret")

    def among(self, scopes: list[Scope]) -> "WithdrawForm":
        """Offer what the person was authorised for and nobody has withdrawn."""
        self.fields["scope"].choices = [(item, item) for item in scopes]  # type: ignore[attr-defined]
        return self


class FirstSecretForm(SignedForm):
    """A secret for somebody who has none, or has forgotten it."""

    first_secret = forms.CharField(
        label="A first secret for them",
        strip=False,
        max_length=secrets.LONGEST,
        widget=forms.TextInput({"autocomplete": "off", "spellcheck": "false"}),
        help_text="Tell it only to them. They can look and enter with it, and sign once they have chosen their own.",
    )
    field_order = ("first_secret", "reason", "secret")


class TakeSecretForm(SignedForm):
    """Nobody comes in by this name any more."""

    field_order = ("reason", "secret")


@door()
def everybody(request: DeskRequest) -> HttpResponse:
    """Who may do what today."""
    return _everybody(request)


def _everybody(request: DeskRequest, form: DeskForm | None = None) -> HttpResponse:
    all_of_them = staffing.people_now(_today())
    context = {
        "here": "people",
        "shown": all_of_them[:_MOST],
        "more": max(len(all_of_them) - _MOST, 0),
        "work": staffing.staffed(all_of_them),
        "step": staffing.next_step(all_of_them),
        "administers": Scope.ADMINISTER in request.may,
        "form": form or AddForm.shown(),
    }
    return page(request, "desk/people.html", context)


@door(writes=(Scope.ADMINISTER,))
def add(request: DeskRequest) -> HttpResponse:
    """Enter a person."""
    form = AddForm(request.POST)
    return written(
        request,
        form,
        lambda act: people.add_person(act, form.cleaned_data["name"]),
        to=lambda result: reverse("person", args=[result.name]) if result else reverse("people"),
        said=lambda result: f"{result.name} is in the book. Say what they may do, and give them a first secret.",
        again=lambda form: _everybody(request, form),
    )


@door()
def person(request: DeskRequest, name: str) -> HttpResponse:
    """One person: what they may until when, and since when not."""
    return _person(request, name)


def _person(request: DeskRequest, name: str, **forms_: Any) -> HttpResponse:
    found = staffing.about_person(name, _today())
    context: dict[str, Any] = {"here": "people", "one": found, "administers": Scope.ADMINISTER in request.may}
    if context["administers"]:
        ended = {item.held.scope for item in found.held if item.state in (State.HOLDS, State.LATER)}
        open_ = [scope for scope in Scope if scope in ended]
        context |= {
            "authorise_form": AuthoriseForm.shown(name, from_=_today()),
            "withdraw_form": WithdrawForm.shown(name).among(open_) if open_ else None,
            "secret_form": FirstSecretForm.shown(name) if name != request.person else None,
            "take_form": TakeSecretForm.shown(name) if found.now.has_secret and name != request.person else None,
            "key_form": KeyForm.shown().without_adding() if name != request.person else None,
            "end_key_form": to_end(found.keys, _today()),
        }
    return page(request, "desk/person.html", told_apart(context | forms_))


@door(writes=(Scope.ADMINISTER,))
def authorise(request: DeskRequest, name: str) -> HttpResponse:
    """Let a person do one kind of work."""
    form = AuthoriseForm(request.POST)
    return written(
        request,
        form,
        lambda act: people.authorise(
            act, name, form.cleaned_data["scope"], form.cleaned_data["from_"], form.cleaned_data["until"]
        ),
        to=reverse("person", args=[name]),
        said=lambda done: (
            f'{name} may do "{done.scope}" from {done.from_}{f" until {done.until}" if done.until else ""}.'
        ),
        again=lambda form: _person(request, name, authorise_form=form),
    )


@door(writes=(Scope.ADMINISTER,))
def withdraw(request: DeskRequest, name: str) -> HttpResponse:
    """End one kind of work for a person."""
    form = WithdrawForm(request.POST).among(list(Scope))
    return written(
        request,
        form,
        lambda act: people.withdraw(act, name, form.cleaned_data["scope"]),
        to=reverse("person", args=[name]),
        said=lambda done: f'{name} may no longer do "{done.scope}". What they did before stays done.',
        again=lambda form: _person(request, name, withdraw_form=form),
    )


@door(writes=(Scope.ADMINISTER,))
def give_secret(request: DeskRequest, name: str) -> HttpResponse:
    """A first secret for somebody else."""
    form = FirstSecretForm(request.POST)
    return written(
        request,
        form,
        lambda act: secrets.set_secret(act, name, form.cleaned_data["first_secret"], "first_secret"),
        to=reverse("person", args=[name]),
        said=f"{name} can sign in with the secret you chose. They choose their own before they sign anything.",
        again=lambda form: _person(request, name, secret_form=form),
    )


@door(writes=(Scope.ADMINISTER,))
def take_secret(request: DeskRequest, name: str) -> HttpResponse:
    """Nobody comes in by this name any more."""
    form = TakeSecretForm(request.POST)
    return written(
        request,
        form,
        lambda act: secrets.take_secret(act, name),
        to=reverse("person", args=[name]),
        said=f"{name} can no longer sign in, nor can programs with their keys. What they did stays done.",
        again=lambda form: _person(request, name, take_form=form),
    )


@door(writes=(Scope.ADMINISTER,))
def make_key_for(request: DeskRequest, name: str) -> HttpResponse:
    """A key for a program that reads in a person's name."""
    form = KeyForm(request.POST).without_adding()
    return make_key(request, form, name, again=lambda form: _person(request, name, key_form=form))


@door(writes=(Scope.ADMINISTER,))
def end_key_of(request: DeskRequest, name: str) -> HttpResponse:
    """End a program's key."""
    form = WithdrawKeyForm(request.POST).among(tokens.all_tokens(name))
    return written(
        request,
        form,
        lambda act: tokens.withdraw_token(act, form.cleaned_data["key"]),
        to=reverse("person", args=[name]),
        said=lambda key: f'The key "{key.name}" no longer holds.',
        again=lambda form: _person(request, name, end_key_form=form),
    )


def _today() -> datetime.date:
    return opened().day(clock.now())


urls = [
    path("people/", everybody, name="people"),
    path("people/add/", add, name="add-person"),
    path("people/of/<path:name>/", person, name="person"),
    path("people/authorise/<path:name>/", authorise, name="authorise"),
    path("people/withdraw/<path:name>/", withdraw, name="withdraw"),
    path("people/secret/<path:name>/", give_secret, name="give-secret"),
    path("people/take-secret/<path:name>/", take_secret, name="take-secret"),
    path("people/key/<path:name>/", make_key_for, name="make-key-for"),
    path("people/end-key/<path:name>/", end_key_of, name="end-key-of"),
]
