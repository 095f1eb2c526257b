"""Keys for programs as the desk asks for them and shows them, once."""

import datetime
from collections.abc import Callable, Iterable
from typing import Any, Self

from django import forms
from django.http import HttpResponse
from django.urls import reverse

from bladewright.records import tokens
from bladewright.web.asking import DeskRequest
from bladewright.web.forms import DayField, PlainForm, SignedForm, written
from bladewright.web.showing import page

_SAYS = {
    tokens.May.READ: "read verdicts and evidence",
    tokens.May.TRACE: "trace lots, runs and serials",
    tokens.May.ADD: "add evidence in your name, as far as you may; it never signs",
}


class KeyForm(SignedForm):
    """A key: which program, what for, until when."""

    name = forms.CharField(label="Which program, on which computer", max_length=200)
    may = forms.MultipleChoiceField(
        label="What it may do",
        choices=[(item, _SAYS[item]) for item in tokens.May],
        widget=forms.CheckboxSelectMultiple,
    )
    last = DayField(
        label="Its last day",
        help_text=f"At most {tokens.LONGEST_DAYS} days from now; a new one can be made then.",
    )
    reason = None  # type: ignore[assignment]
    field_order = ("name", "may", "last", "secret")

    def without_adding(self) -> Self:
        """For another person: evidence in somebody's name is theirs to give."""
        choices = [(item, _SAYS[item]) for item in tokens.May if item is not tokens.May.ADD]
        self.fields["may"].choices = choices  # type: ignore[attr-defined]
        return self


class WithdrawKeyForm(PlainForm):
    """The end of a key. It asks for no secret: ending one must be quick, and a new one can be made."""

    key = forms.ChoiceField(label="Which key")

    def among(self, keys: Iterable[tokens.Key]) -> Self:
        """Offer these."""
        self.fields["key"].choices = [(key.name, key.name) for key in keys]  # type: ignore[attr-defined]
        return self


def to_end(keys: Iterable[tokens.Key], day: datetime.date) -> WithdrawKeyForm | None:
    """The form that ends one of the keys that hold; none where none does."""
    hold = [key for key in keys if key.holds(day)]
    return WithdrawKeyForm.shown().among(hold) if hold else None


def make_key(request: DeskRequest, form: KeyForm, person: str, *, again: Callable[[Any], HttpResponse]) -> HttpResponse:
    """Make a key and show it, this once: it goes into no message, no address and no cookie."""
    told: list[tuple[tokens.Key, str]] = []

    def made(act: Any) -> None:
        asked = form.cleaned_data
        told.append(tokens.make_token(act, asked["name"], person, tuple(asked["may"]), asked["last"]))

    back = reverse("own") if person == request.person else reverse("person", args=[person])
    answer = written(request, form, made, to=back, said="The key is made; it is shown this once.", again=again)
    if not told:
        return answer
    key, text = told[0]
    return page(request, "desk/key.html", {"here": "people", "key": key, "text": text, "back": back})
