"""What every answer of the desk passes: strict headers, the person who asks, and our errors as pages."""

from collections.abc import Callable
from typing import Final, cast

from django.conf import settings
from django.db import Error
from django.http import HttpRequest, HttpResponse

from bladewright.errors import BladewrightError
from bladewright.records import secrets
from bladewright.records.authority import scopes_of
from bladewright.records.book import opened
from bladewright.records.writing import said
from bladewright.web import clock, preferences, seats, showing
from bladewright.web.asking import DeskRequest

Answer = Callable[[HttpRequest], HttpResponse]

#: nothing from anywhere but this desk, and no script or style that stands in a page
POLICY: Final = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' data: blob:",
        "font-src 'self'",
        "connect-src 'self'",
        "manifest-src 'self'",
        "form-action 'self'",
        "frame-ancestors 'none'",
        "base-uri 'none'",
    )
)


def headers(answer: Answer) -> Answer:
    """The policy and its fellows on everything that leaves, files of the desk included."""

    def with_headers(request: HttpRequest) -> HttpResponse:
        response = answer(request)
        response.headers.setdefault("Content-Security-Policy", POLICY)
        response.headers.setdefault("Referrer-Policy", "same-origin")
        response.headers.setdefault("X-Content-Type-Options", "nosniff")
        response.headers.setdefault("X-Frame-Options", "DENY")
        response.headers.setdefault("Cross-Origin-Opener-Policy", "same-origin")
        if getattr(response, "asked_by_itself", False):
            response.cookies.pop(settings.SESSION_COOKIE_NAME, None)  # only a person keeps a session alive
        if not request.path.startswith("/static/"):
            response.headers.setdefault("Cache-Control", "no-store")
        return response

    return with_headers


class Desk:
    """Who asks, what they may do today, how they want to see it; an error on purpose becomes a page that says it."""

    def __init__(self, answer: Answer) -> None:
        self.answer = answer

    def __call__(self, plain: HttpRequest) -> HttpResponse:
        """Name the person for whoever answers."""
        request = cast(DeskRequest, plain)
        if "%00" in request.META.get("QUERY_STRING", "") or "\0" in request.path:  # no text of ours, nor of PostgreSQL
            return showing.not_readable(request)
        try:
            request.person = name = signed_in(request)
            request.may = scopes_of(name, opened().day(clock.now())) if name else frozenset()
        except Error as error:
            return showing.refused(request, said(error, opened().tables))
        chosen = preferences.of(name)
        request.system, request.theme = chosen.system, chosen.theme
        return self.answer(request)

    def process_exception(self, request: DeskRequest, error: Exception) -> HttpResponse | None:
        """One of ours is an answer, and what the database says becomes one; anything else is our fault and goes on."""
        if isinstance(error, Error):
            error = said(error, opened().tables)
        return showing.refused(request, error) if isinstance(error, BladewrightError) else None


def signed_in(request: HttpRequest) -> str:
    """The person of this session, as long as their secret is the one they came in with."""
    name, mark = request.session.get("person", ""), request.session.get("mark", "")
    if not name or seats.is_left(request.session.get("seat", "")) or secrets.secret_mark(name) != mark:
        return ""
    return str(name)
