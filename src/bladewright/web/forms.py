"""Forms that write once, know what was seen, and say what is wrong beside the entry."""

import secrets as random
import time
from collections.abc import Callable
from http import HTTPStatus
from typing import Any, ClassVar, Self, TypeVar

from django import forms
from django.contrib import messages
from django.http import HttpResponse, HttpResponseRedirect

from bladewright.errors import AlreadyEntered, BladewrightError, SeveralBadInputs
from bladewright.records import secrets
from bladewright.records.acts import Act
from bladewright.records.writing import newest_about
from bladewright.web import clock
from bladewright.web.asking import DeskRequest
from bladewright.web.showing import status_of

Result = TypeVar("Result")


class DayField(forms.DateField):
    """A day as year-month-day, which every browser's calendar sends: month and day are never guessed."""

    input_formats = ("%Y-%m-%d",)
    widget = forms.DateInput({"type": "date"}, "%Y-%m-%d")
    default_error_messages: ClassVar = {"invalid": "is not a day; type year-month-day, like 2026-05-28"}


class DeskForm(forms.Form):
    """One act in the book: its token, what its writer had before them, and why they do it."""

    once = forms.CharField(widget=forms.HiddenInput, max_length=64)
    seen = forms.IntegerField(widget=forms.HiddenInput, required=False)
    reason = forms.CharField(label="Why, in a sentence", required=False, max_length=500)

    signed = False
    use_required_attribute = True

    @classmethod
    def shown(cls, subject: str = "", **initial: Any) -> Self:
        """A fresh form: its token unused; with a subject, it is refused once something newer was written about that."""
        seen = newest_about(subject) if subject else None
        return cls(initial={"once": random.token_urlsafe(18), "seen": seen, **initial})

    def blame(self, error: BladewrightError) -> None:
        """Put an error beside the field it is about, or on top where the form has no such field."""
        for one in error.errors if isinstance(error, SeveralBadInputs) else (error,):
            field = one.field if one.field in self.fields and not self.fields[one.field].widget.is_hidden else None
            self.add_error(field, forms.ValidationError(str(one), code="refused"))  # no params: a % in it stays a %


class PlainForm(DeskForm):
    """An act whose reason is plain, so that none is asked: a form leaves an entry of its base out by naming it None."""

    reason = None  # type: ignore[assignment]


class SignedForm(DeskForm):
    """An act that is signed: the person proves themselves again, at this very moment."""

    secret = forms.CharField(
        label="Your secret, to sign",
        strip=False,
        max_length=200,
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
    )
    signed = True


def told_apart(context: dict[str, Any]) -> dict[str, Any]:
    """Several forms on one page: each entry's id begins with the name its form has on the page."""
    for name, held in context.items():
        if isinstance(held, DeskForm):
            held.auto_id = f"{name}_%s"
    return context


def written(
    request: DeskRequest,
    form: DeskForm,
    service: Callable[[Act], Result],
    *,
    to: str | Callable[[Result | None], str],
    said: str | Callable[[Result], str],
    again: Callable[[Any], HttpResponse],
) -> HttpResponse:
    """Do what a form asks, once. ``again`` shows the page with the form and its errors; else it goes on ``to``."""
    if not form.is_valid():
        return _with_status(again(form), HTTPStatus.UNPROCESSABLE_ENTITY)
    told = form.cleaned_data
    act = Act(request.person, clock.now(), told.get("reason", ""), told["once"], told.get("seen"))
    result: Result | None = None
    try:
        if isinstance(form, SignedForm):
            secrets.prove_to_sign(act.by, told["secret"], time.monotonic())
        result = service(act)
    except AlreadyEntered as error:
        messages.info(request, f"Nothing was entered twice: {error.what}.")
    except BladewrightError as error:
        form.blame(error)
        return _with_status(again(form), status_of(error))
    else:
        already = getattr(result, "already", False)
        sentence = said if isinstance(said, str) else said(result)
        messages.success(request, f"In the book already; nothing changed. {sentence}" if already else sentence)
    return HttpResponseRedirect(to if isinstance(to, str) else to(result), status=HTTPStatus.SEE_OTHER)


def _with_status(response: HttpResponse, status: int) -> HttpResponse:
    response.status_code = status
    return response
