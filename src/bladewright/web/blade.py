"""One serial: where it stands, the next action, its verdict and its sign-off."""

from collections.abc import Callable
from typing import Any, Final

from django.http import HttpResponse
from django.urls import path, reverse

from bladewright.design.contributions import TOLD, bars, told
from bladewright.errors import MissingInput
from bladewright.papers.blade import blade_record
from bladewright.records import blades, deviations, judging, signing
from bladewright.records.acts import Scope
from bladewright.records.blade_flight import flight_as_measured, measured_of
from bladewright.records.blade_page import BladePage, blade_page
from bladewright.records.book import opened
from bladewright.records.drawings import all_drawings
from bladewright.records.hands import may_sign
from bladewright.records.holders import any_of, holders
from bladewright.records.previews import descriptions_on_file
from bladewright.records.printing import paper_of_blade
from bladewright.web import clock
from bladewright.web.asking import DeskRequest
from bladewright.web.blade_forms import (
    BETWEEN,
    DeviationForm,
    DropForm,
    JudgeForm,
    LotForm,
    SignForm,
    StartForm,
)
from bladewright.web.charts import chart_answer
from bladewright.web.doors import door
from bladewright.web.forms import DeskForm, written
from bladewright.web.showing import page, paper
from bladewright.web.working_out import worked_out

#: who may sign any proof at all; the service asks again which
SIGNERS: Final = (Scope.MAKE, Scope.BOND, Scope.CURE, Scope.INSPECT, Scope.LOOK_LAST)
FILERS: Final = (Scope.CURE, Scope.INSPECT, Scope.LOOK_LAST, Scope.MAKE, Scope.BOND)


@door()
def new_blade(request: DeskRequest) -> HttpResponse:
    """Begin a serial."""
    return _beginning(request, StartForm.shown())


@door(writes=(Scope.MAKE,))
def start_blade(request: DeskRequest) -> HttpResponse:
    """Open a serial to an approved drawing revision."""
    form = StartForm(request.POST)
    form.offer(_approved())
    return written(
        request,
        form,
        lambda act: blades.start_blade(act, form.cleaned_data["serial"], *form.cleaned_data["drawing"].split(BETWEEN)),
        to=lambda _: reverse("blade", args=[form.cleaned_data["serial"]]),
        said=lambda done: f"{done.serial} is started to {done.drawing} revision {done.revision}.",
        again=lambda form: _beginning(request, form),
    )


def _beginning(request: DeskRequest, form: StartForm) -> HttpResponse:
    approved = _approved()
    form.offer(approved)
    who = any_of(holders(opened().day(clock.now())), (Scope.MAKE,))
    return page(request, "desk/blade_new.html", {"form": form, "approved": approved, "who": who})


def _approved() -> list[tuple[str, str]]:
    """The approved revisions, the newest first."""
    return [(line.name, line.revision) for line in reversed(all_drawings()) if line.approved_by]


@door()
def blade(request: DeskRequest, serial: str) -> HttpResponse:
    """Everything about one serial, the next action on top."""
    return shown(request, serial)


def shown(request: DeskRequest, serial: str, **forms: DeskForm) -> HttpResponse:
    """The page, with fresh forms or the ones that were refused."""
    found = blade_page(serial, request.system)
    held = holders(opened().day(clock.now()))
    return page(
        request,
        "desk/blade.html",
        {
            "blade": found,
            "steps": [(step, any_of(held, step.needs), bool(request.may & set(step.needs))) for step in found.steps],
            "who_next": any_of(held, found.next.needs),
            "may_next": bool(request.may & set(found.next.needs)),
            "who": {
                "judge": any_of(held, (Scope.INSPECT,)),
                "decide": any_of(held, (Scope.DESIGN,)),
                "file": any_of(held, FILERS),
                "sign": any_of(held, SIGNERS),
                "make": any_of(held, (Scope.MAKE,)),
                "inspect": any_of(held, (Scope.INSPECT,)),
            },
            "signers": [(proof, any_of(held, may_sign(proof))) for proof in signing.signable_of(found.proofs)],
            **_fresh(request, found),
            **forms,
        },
    )


def _fresh(request: DeskRequest, found: BladePage) -> dict[str, Any]:
    """The forms this person may send."""
    may = request.may
    forms: dict[str, Any] = {}
    if Scope.MAKE in may:
        forms["lot_form"] = LotForm.shown()
    if Scope.INSPECT in may:
        forms["judge_form"] = JudgeForm.shown(found.serial)
    if may & set(FILERS):
        forms["drop_form"] = drop_form()
    proofs = signing.signable_of(found.proofs, may)
    if proofs:
        asked = request.GET.get("sign", "")
        first = asked if asked in proofs else next((s.name for s in found.steps if s.is_open and s.name in proofs), "")
        today = opened().day(clock.now())
        forms["sign_form"] = _offered(SignForm.shown(found.serial, proof=first, signed_on=today), proofs)
    rules = [one.finding.rule for one in found.findings if one.may_be_accepted]
    if Scope.DESIGN in may and rules and not found.since:
        forms["deviation_form"] = _offered(DeviationForm.shown(found.serial), rules)
    return forms


def drop_form() -> DropForm:
    """A fresh place to drop files, the last used descriptions chosen."""
    loggers, machines = descriptions_on_file("cure"), descriptions_on_file("coupon")
    first = {name: known[0].sha256 for name, known in (("logger", loggers), ("machine", machines)) if known}
    form = DropForm(initial=first)
    form.offer(loggers, machines)
    return form


def _offered(form: Any, choices: Any) -> Any:
    form.offer(choices)
    return form


@door(writes=(Scope.MAKE,))
def use_lot(request: DeskRequest, serial: str) -> HttpResponse:
    """Say which lot went into a part."""
    form = LotForm(request.POST)
    return written(
        request,
        form,
        lambda act: blades.use_lot(act, serial, form.cleaned_data["part"], form.cleaned_data["lot"]),
        to=_to(serial, "lots"),
        said=lambda done: f"Lot {done.lot} is built in as {done.part}.",
        again=_again(request, serial, "lot_form"),
    )


@door(writes=(Scope.INSPECT,))
def judge_blade(request: DeskRequest, serial: str) -> HttpResponse:
    """Judge the blade by everything on file."""
    return written(
        request,
        JudgeForm(request.POST),
        lambda act: judging.judge(act, serial),
        to=_to(serial, "verdict"),
        said=lambda done: f"Judged: {done.verdict.word}. {done.verdict.first_reason}",
        again=_again(request, serial, "judge_form"),
    )


@door(writes=SIGNERS)
def sign_proof(request: DeskRequest, serial: str) -> HttpResponse:
    """Sign for a proof."""
    form = SignForm(request.POST)
    form.offer(signing.signable(serial))
    return written(
        request,
        form,
        lambda act: signing.sign_here(
            act,
            serial,
            signing.Signature(
                **{name: form.cleaned_data[name] for name in ("proof", "result", "statement", "signed_on", "details")}
            ),
        ),
        to=_to(serial),
        said=lambda done: f"Signed: {done.about}.",
        again=_again(request, serial, "sign_form"),
    )


@door(writes=(Scope.DESIGN,))
def accept_deviation(request: DeskRequest, serial: str) -> HttpResponse:
    """Accept one finding; it stays what it is."""
    form = DeviationForm(request.POST)
    form.offer(one.finding.rule for one in blade_page(serial).findings if one.may_be_accepted)
    return written(
        request,
        form,
        lambda act: deviations.accept_deviation(
            act, serial, form.cleaned_data["rule"], names_in(form.cleaned_data["only_with"])
        ),
        to=_to(serial, "verdict"),
        said=lambda done: f"Deviation {done.deviation.number} is accepted. Judge the blade again, so that it counts.",
        again=_again(request, serial, "deviation_form"),
    )


def names_in(text: str) -> tuple[str, ...]:
    """Names parted by commas or blanks."""
    return tuple(name for name in text.replace(",", " ").split() if name)


def _to(serial: str, part: str = "") -> str:
    return reverse("blade", args=[serial]) + (f"#{part}" if part else "")


def _again(request: DeskRequest, serial: str, name: str) -> Callable[[Any], HttpResponse]:
    return lambda form: shown(request, serial, **{name: form})


@door()
def flight(request: DeskRequest, serial: str) -> HttpResponse:
    """What the measured dimensions do in flight: a part of the blade's page, or a page by itself."""
    measured = measured_of(serial)
    work = None if measured is None else worked_out(measured.inputs, lambda _: flight_as_measured(measured))
    found = work.answer if work else None
    context = {
        "serial": serial,
        "work": work,
        "flight": found,
        "figures": told(found) if found else (),
        "charts": [(words, name) for name, words in _CHARTS.items()],
    }
    return page(request, f"desk/blade_flight{'_part' if request.htmx else ''}.html", context)


#: address of a chart -> what it shows
_CHARTS: Final = {
    "handle": "At the handle in the hover",
    "pitch": "Effective pitch, which splits the track",
    "span-moment": "Span moment, which shakes once a turn",
}
_EFFECTS: Final = dict(zip(_CHARTS, TOLD, strict=True))


@door()
def flight_chart(request: DeskRequest, serial: str, effect: str) -> HttpResponse:
    """Contribution bars of one effect."""
    measured = measured_of(serial)
    if measured is None or effect not in _EFFECTS:
        raise MissingInput(
            "is not in the book", field="effect", value=effect, allowed=", ".join(_EFFECTS), fix="open the blade's page"
        )
    return chart_answer(bars(flight_as_measured(measured), _EFFECTS[effect], request.system))


@door()
def record(request: DeskRequest, serial: str) -> HttpResponse:  # noqa: ARG001
    """The blade record as a paper."""
    return paper(f"{serial}.pdf", blade_record(paper_of_blade(serial)))


urls = [
    path("blades/new/", new_blade, name="new-blade"),
    path("blades/new/start/", start_blade, name="start-blade"),
    path("blades/<name:serial>/", blade, name="blade"),
    path("blades/<name:serial>/lot/", use_lot, name="use-lot"),
    path("blades/<name:serial>/judge/", judge_blade, name="judge-blade"),
    path("blades/<name:serial>/sign/", sign_proof, name="sign-proof"),
    path("blades/<name:serial>/deviation/", accept_deviation, name="accept-deviation"),
    path("blades/<name:serial>/flight/", flight, name="blade-flight"),
    path("blades/<name:serial>/flight/<str:effect>/", flight_chart, name="blade-flight-chart"),
    path("blades/<name:serial>/record.pdf", record, name="blade-record"),
]
