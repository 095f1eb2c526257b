"""What stands around every page, and the pages that say no."""

from http import HTTPStatus
from typing import Any, Final
from urllib.parse import quote

from django.http import HttpResponse, JsonResponse
from django.shortcuts import render
from django.utils.http import content_disposition_header

from bladewright.errors import (
    BadInput,
    BladewrightError,
    BookBusy,
    BookDamaged,
    ComputerRefused,
    MissingInput,
    NotAuthorised,
    Outdated,
    SeveralBadInputs,
)
from bladewright.records.book import opened
from bladewright.web import clock, pages
from bladewright.web.asking import DeskRequest

#: the narrower error first
_STATUS: Final = (
    (NotAuthorised, HTTPStatus.FORBIDDEN),
    (Outdated, HTTPStatus.CONFLICT),
    (BookBusy, HTTPStatus.SERVICE_UNAVAILABLE),
    (BookDamaged, HTTPStatus.SERVICE_UNAVAILABLE),
    (ComputerRefused, HTTPStatus.INSUFFICIENT_STORAGE),
    (BadInput, HTTPStatus.UNPROCESSABLE_ENTITY),
)


def page(
    request: DeskRequest, template: str, context: dict[str, Any] | None = None, status: int = HTTPStatus.OK
) -> HttpResponse:
    """A page of the desk."""
    return render(request, template, context or {}, status=status)


def as_it_came(name: str, data: bytes) -> HttpResponse:
    """A kept file's own bytes: to be saved, never shown as a page and never run."""
    response = HttpResponse(data, content_type="application/octet-stream")
    response.headers["Content-Disposition"] = f"attachment; filename*=UTF-8''{quote(name, safe='')}"
    return response


def paper(name: str, data: bytes) -> HttpResponse:
    """A PDF, shown under the name it is saved by."""
    shown = content_disposition_header(False, name)
    return HttpResponse(data, content_type="application/pdf", headers={"Content-Disposition": shown})


def around(request: DeskRequest) -> dict[str, Any]:
    """What every template may use."""
    book = opened()
    return {
        "person": getattr(request, "person", ""),
        "may": getattr(request, "may", frozenset()),
        "system": getattr(request, "system", "metric"),
        "theme": getattr(request, "theme", ""),
        "shop": book.shop,
        "demo": book.demo,
        "demo_clock": book.clock(clock.now()) if clock.is_moved() else None,
        "places": pages.SHOWN,
    }


def status_of(error: BladewrightError) -> HTTPStatus:
    """The HTTP status that fits one of our errors."""
    if isinstance(error, MissingInput) and "not in the book" in error.what:
        return HTTPStatus.NOT_FOUND
    return next((status for kind, status in _STATUS if isinstance(error, kind)), HTTPStatus.UNPROCESSABLE_ENTITY)


def refused(request: DeskRequest, error: BladewrightError) -> HttpResponse:
    """The error in its fields: what, where, what is allowed, how to mend it."""
    errors = error.errors if isinstance(error, SeveralBadInputs) else (error,)
    return page(request, "desk/refused.html", {"errors": errors}, status_of(error))


def nothing_here(request: DeskRequest, exception: Exception) -> HttpResponse:  # noqa: ARG001
    """An address the desk does not have."""
    return page(request, "desk/nothing.html", status=HTTPStatus.NOT_FOUND)


def not_readable(request: DeskRequest, exception: Exception | None = None) -> HttpResponse:  # noqa: ARG001
    """A request torn on the way, or made so that nobody can read it; answered without asking who sent it."""
    told = {"what": "could not be read as a request; nothing was changed", "fix": "send it again, whole"}
    return JsonResponse({"errors": [told]}, status=HTTPStatus.BAD_REQUEST)


def came_from_elsewhere(request: DeskRequest, reason: str = "") -> HttpResponse:  # noqa: ARG001
    """A form that this desk did not give out, or gave out before it was started anew."""
    error = BadInput(
        "was not given out by this desk, or before it was started anew; nothing was changed",
        field="form",
        allowed="a form of this desk",
        fix="open the page again and send it from there",
    )
    response = refused(request, error)
    response.status_code = HTTPStatus.FORBIDDEN
    return response


def our_fault(request: DeskRequest) -> HttpResponse:  # noqa: ARG001
    """Something we did not foresee. Nothing half-written stays: each act is one transaction."""
    return HttpResponse(
        "The desk failed at this; it is our fault, not yours. Nothing was half-written. "
        "Go back and try again; if it stays, run check-book and report it.",
        content_type="text/plain; charset=utf-8",
        status=HTTPStatus.INTERNAL_SERVER_ERROR,
    )
