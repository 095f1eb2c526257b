"""The desk for programs: read verdicts, trace, hand in evidence. A key acts for a person, and never signs.

The services behind it are those behind the pages, and what they refuse is answered in the same fields.
"""

import contextlib
import json
from collections.abc import Iterator
from http import HTTPStatus
from typing import Annotated, Any, Final

from django.db import Error
from django.http import HttpRequest, HttpResponse
from django.urls import path
from ninja import File, Form, Header, NinjaAPI, Query, Schema
from ninja.errors import AuthenticationError, ValidationError
from ninja.files import UploadedFile as Upload
from ninja.security import HttpBearer
from pydantic import Field

from bladewright.errors import AlreadyEntered, BadInput, BladewrightError, MissingInput, SeveralBadInputs
from bladewright.figures import plain
from bladewright.records import blades, evidence, judging, trace
from bladewright.records.acts import Act
from bladewright.records.book import opened
from bladewright.records.tokens import Key, May, require_may, token_holder
from bladewright.records.writing import said
from bladewright.web import clock
from bladewright.web.asking import DeskRequest
from bladewright.web.doors import door
from bladewright.web.showing import page, status_of
from bladewright.web.uploads import received

#: blades told in one answer; our own choice
MOST: Final = 500
VERSION: Final = "1"


class Wrong(Schema):
    """One thing that was wrong; entries that do not apply are left out."""

    what: str
    file: str | None = None
    row: int | None = None
    column: str | None = None
    field: str | None = None
    value: Any = None
    allowed: str | None = None
    fix: str | None = None


class Refused(Schema):
    """Nothing was changed."""

    errors: list[Wrong]


class Line(Schema):
    """One serial at a glance; ``word`` is empty until it is judged."""

    serial: str
    drawing: str
    revision: str
    word: str
    set_name: str


class Lines(Schema):
    """Serials in order; ``next`` begins the next answer, empty at the end."""

    blades: list[Line]
    next: str


class VerdictAnswer(Schema):
    """The newest verdict as it is kept: the record whose canonical JSON has this SHA-256."""

    serial: str
    word: str
    at: str
    by: str
    sha256: str
    standing: str = "shop acceptance record; not an airworthiness release"
    verdict: dict[str, Any]


class Place(Schema):
    """Where one serial is."""

    serial: str
    part: str
    lot: str
    word: str
    set_name: str
    signed_out: bool
    aircraft: str
    owner: str
    contact: str


class Places(Schema):
    """Every place something went."""

    of: str
    places: list[Place]


class Handed(Schema):
    """Evidence on file. ``already``: it was, by its hash, or this very request was answered before."""

    kind: str
    about: str
    serials: list[str]
    file: str
    sha256: str
    remarks: list[str]
    already: bool


REFUSALS: Final = {
    HTTPStatus.BAD_REQUEST: Refused,
    HTTPStatus.UNAUTHORIZED: Refused,
    HTTPStatus.FORBIDDEN: Refused,
    HTTPStatus.NOT_FOUND: Refused,
    HTTPStatus.CONFLICT: Refused,
    HTTPStatus.UNPROCESSABLE_ENTITY: Refused,
    HTTPStatus.SERVICE_UNAVAILABLE: Refused,
    HTTPStatus.INSUFFICIENT_STORAGE: Refused,
}


class Bearer(HttpBearer):
    """A key in the header ``Authorization: Bearer ...``, made on that person's own page, until a day."""

    def authenticate(self, request: HttpRequest, token: str) -> Key:  # noqa: ARG002
        """Whom the program acts for."""
        return token_holder(token, clock.now())


programs = NinjaAPI(
    title="The shop desk for programs",
    version=VERSION,
    description="A program reads, traces and hands in; it never signs. Nothing here is an airworthiness release.",
    auth=Bearer(),
    docs_url=None,
    openapi_url=None,
    urls_namespace="programs",
)

Serial = Annotated[str, Field(max_length=200)]
OnceHeader = Annotated[
    str, Header(alias="Once", max_length=64, description="A text of your own: the same one never writes twice.")
]


def _key(request: HttpRequest, may: May) -> Key:
    key: Key = request.auth  # type: ignore[attr-defined]
    require_may(key, may)
    return key


def _act(request: HttpRequest, once: str) -> Act:
    key = _key(request, May.ADD)
    return Act(key.person, clock.now(), f"handed in by a program, key {key.name}", once)


@programs.get("/blades", response={200: Lines, **REFUSALS}, operation_id="blades")
def all_blades(
    request: HttpRequest,
    after: Annotated[str, Query(max_length=200, description="The last serial of the answer before.")] = "",
    most: Annotated[int, Query(ge=1, le=MOST, description="How many at most.")] = MOST,
) -> Lines:
    """Serials in order, from after one of them; any key that may read."""
    _key(request, May.READ)
    found = blades.blades_after(after, most)
    return Lines(
        blades=[Line(**{name: getattr(one, name) for name in Line.model_fields}) for one in found],
        next=found[-1].serial if len(found) == most else "",
    )


@programs.get("/verdict", response={200: VerdictAnswer, **REFUSALS}, operation_id="verdict")
def verdict(request: HttpRequest, serial: Annotated[str, Query(max_length=200)]) -> VerdictAnswer:
    """The newest verdict on a serial, whole; any key that may read."""
    _key(request, May.READ)
    kept = judging.latest_verdict(serial)
    if kept is None:
        raise MissingInput(
            "was never judged; it is not in the book as a verdict",
            field="serial",
            value=serial,
            allowed="a judged serial",
            fix="an inspector judges it first",
        )
    return VerdictAnswer(
        serial=serial,
        word=kept.verdict.word.value,
        at=kept.at.isoformat(),
        by=kept.by,
        sha256=kept.sha256,
        verdict=plain(kept.verdict),
    )


@programs.get("/trace", response={200: Places, **REFUSALS}, operation_id="trace")
def where(
    request: HttpRequest,
    lot: Annotated[str, Query(max_length=200, description="The shop's name for it, or the maker's.")] = "",
    file: Annotated[str, Query(max_length=200, description="A filed file's name, or its SHA-256.")] = "",
) -> Places:
    """Every serial a lot (the shop's name or the maker's) or a filed file (name or SHA-256) went into; who has it."""
    _key(request, May.TRACE)
    if bool(lot) == bool(file):
        raise BadInput("is one of two", field="lot", value=lot, allowed="a lot or a file, not both", fix="give one")
    found = trace.where_lot(lot) if lot else trace.where_evidence(file)
    return Places(of=found.of, places=[Place(**plain(place)) for place in found.places])


@programs.post("/evidence/cure", response={200: Handed, **REFUSALS}, operation_id="add_cure")
def add_cure(
    request: HttpRequest,
    once: OnceHeader,
    serials: Annotated[list[Serial], Form(min_length=1, max_length=100)],
    log: File[Upload],
    description: File[Upload],
) -> Handed:
    """The log of one oven run, with its logger description, for every serial that was in it."""
    act = _act(request, once)
    with received(log, "log") as data, received(description, "description") as how:
        return _handed(evidence.file_cure(act, serials, data, how))


@programs.post("/evidence/coupon", response={200: Handed, **REFUSALS}, operation_id="add_coupon")
def add_coupon(
    request: HttpRequest,
    once: OnceHeader,
    coupon: File[Upload],
    pull: File[Upload | None] = None,
    description: File[Upload | None] = None,
) -> Handed:
    """A torn coupon, with its pull curve and the machine's description where one was logged."""
    act = _act(request, once)
    with contextlib.ExitStack() as held:
        taken = held.enter_context(received(coupon, "coupon"))
        curve = held.enter_context(received(pull, "pull")) if pull else None
        how = held.enter_context(received(description, "description")) if description else None
        return _handed(evidence.file_coupon(act, taken, curve, how))


@programs.post("/evidence/dimensions", response={200: Handed, **REFUSALS}, operation_id="add_dimensions")
def add_dimensions(request: HttpRequest, once: OnceHeader, sheet: File[Upload]) -> Handed:
    """A dimension sheet."""
    act = _act(request, once)
    with received(sheet, "sheet") as data:
        return _handed(evidence.file_dimensions(act, data))


@programs.post("/evidence/weighing", response={200: Handed, **REFUSALS}, operation_id="add_weighing")
def add_weighing(request: HttpRequest, once: OnceHeader, weighing: File[Upload]) -> Handed:
    """A weighing against the master."""
    act = _act(request, once)
    with received(weighing, "weighing") as data:
        return _handed(evidence.file_weighing(act, data))


def _handed(filed: evidence.EvidenceFiled) -> Handed:
    told = plain(filed)
    return Handed(**told | {"remarks": [_remark(remark) for remark in filed.remarks]})


def _remark(remark: Any) -> str:
    return "; ".join(f"{name}: {value}" for name, value in plain(remark).items() if value not in (None, "", []))


@programs.exception_handler(BladewrightError)
def refused(request: HttpRequest, error: BladewrightError) -> HttpResponse:
    """Our errors in their fields. A request answered before is no error: what it did stands."""
    errors = error.errors if isinstance(error, SeveralBadInputs) else (error,)
    status = HTTPStatus.CONFLICT if isinstance(error, AlreadyEntered) else status_of(error)
    return _answer(request, [plain(one.fields()) for one in errors], status)


@programs.exception_handler(Error)
def database_said(request: HttpRequest, error: Error) -> HttpResponse:
    """A server that does not answer, a full disk."""
    return refused(request, said(error, opened().tables))


@programs.exception_handler(ValidationError)
def not_understood(request: HttpRequest, error: ValidationError) -> HttpResponse:
    """An entry that is missing, too long or of another kind."""
    told = [{"what": str(one.get("msg")), "field": str((*one.get("loc", ()), "")[-2])} for one in error.errors]
    return _answer(request, told, HTTPStatus.UNPROCESSABLE_ENTITY)


@programs.exception_handler(AuthenticationError)
def no_key(request: HttpRequest, error: AuthenticationError) -> HttpResponse:  # noqa: ARG001
    """Nobody without a key."""
    told = {"what": "no key was given", "field": "Authorization", "allowed": "Bearer and a key of this book"}
    return _answer(request, [told], HTTPStatus.UNAUTHORIZED)


def _answer(request: HttpRequest, errors: list[Any], status: HTTPStatus) -> HttpResponse:
    return programs.create_response(request, {"errors": errors}, status=status)


def schema() -> dict[str, Any]:
    """The interface in OpenAPI, made from the functions above."""
    told = programs.get_openapi_schema(path_prefix=f"/programs/{VERSION}/")
    found: dict[str, Any] = json.loads(json.dumps(told, default=str))
    return found


@door()
def described(request: DeskRequest) -> HttpResponse:
    """How a program talks to the desk, on a page."""
    return page(request, "desk/programs.html", {"lines": list(_lines(schema()))})


def _lines(told: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """Each thing a program can ask, for the page."""
    for where, verbs in told["paths"].items():
        for verb, one in verbs.items():
            given = [*map(_parameter, one.get("parameters", ())), *_sent(one, told)]
            yield {"where": where, "verb": verb.upper(), "told": one.get("description", ""), "given": given}


def _parameter(one: dict[str, Any]) -> tuple[str, str, str, bool]:
    return one["name"], one.get("description", ""), one["in"], one.get("required", False)


def _sent(one: dict[str, Any], told: dict[str, Any]) -> Iterator[tuple[str, str, str, bool]]:
    """What goes in the body: files and texts of a form."""
    for body in one.get("requestBody", {}).get("content", {}).values():
        form = body["schema"]
        if "$ref" in form:
            form = told["components"]["schemas"][form["$ref"].rsplit("/", 1)[-1]]
        yield from ((name, "", "form", name in form.get("required", ())) for name in form.get("properties", {}))


@door()
def openapi(request: DeskRequest) -> HttpResponse:  # noqa: ARG001
    """The same for programs."""
    return HttpResponse(json.dumps(schema(), indent=1), content_type="application/json")


urls: list[Any] = [
    path(f"programs/{VERSION}/", described, name="programs"),
    path(f"programs/{VERSION}/openapi.json", openapi, name="programs-openapi"),
    path(f"programs/{VERSION}/", programs.urls),
]
