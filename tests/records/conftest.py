"""A book with the whole cast in it, copied for each test; and the invented batch's files."""

import functools
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from django.db import connections

from bladewright.drawing.file import BladeDrawing
from bladewright.figures import Finding, Outcome, canonical
from bladewright.pairing.records import BladeSet
from bladewright.proof.records import BladeEvidence, Deviation, Verdict
from bladewright.proof.verdict import first_reason, word_of
from bladewright.records import judging
from bladewright.records.acts import Act, Scope
from bladewright.records.blades import start_blade, use_lot
from bladewright.records.book import Kept
from bladewright.records.deviations import accept_deviation
from bladewright.records.drawings import approve_drawing, file_drawing
from bladewright.records.evidence import sign
from bladewright.records.heads import log_of
from bladewright.records.judging import judge
from bladewright.records.keeping import keep
from bladewright.records.lots import receive_lot
from bladewright.records.opening import Book, create_book, open_book
from bladewright.records.ownership import add_aircraft, add_owner, install, remove
from bladewright.records.people import add_person, authorise, withdraw
from bladewright.records.ready import models
from bladewright.records.secrets import set_secret
from bladewright.records.sets import sign_out
from bladewright.records.tokens import May, make_token, withdraw_token
from bladewright.records.writing import writing
from examples.fennmark.evidence import Evidence, write_evidence
from tests import postgres
from tests.records.cast import (
    APPROVER,
    AT,
    BEGUN,
    DRAUGHTSMAN,
    ENGINEER,
    INSPECTOR,
    MAKER,
    MATCHER,
    MAY,
    OFFICE,
    RECEIVER,
    RELEASER,
    by,
)

DRAWING = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"
SERIALS = ("B-0101", "B-0102", "B-0103", "B-0104", "B-0105", "B-0106")


@pytest.fixture(scope="session", name="real_database")
def _real_database(django_db_blocker: Any) -> Iterator[None]:
    """These tests write real books, files and locks included, instead of a test database."""
    with django_db_blocker.unblock():
        yield


@pytest.fixture(autouse=True)
def _nothing_stays_open(real_database: None) -> Iterator[None]:  # noqa: ARG001
    with postgres.cleared():
        yield
        connections.close_all()


@pytest.fixture(scope="session", name="first_book")
def _first_book(tmp_path_factory: pytest.TempPathFactory, real_database: None, database: Kept) -> Path:  # noqa: ARG001
    folder = tmp_path_factory.mktemp("shop") / "book"
    if database is Kept.POSTGRESQL:
        postgres.make(folder)
    create_book(folder, shop="Fennmark Rotor Shop", zone="Europe/London", demo=True, kept=database, at=BEGUN)
    office = Act(OFFICE, BEGUN)
    add_person(office, OFFICE)
    for person, scopes in MAY.items():
        add_person(office, person)
        for scope in scopes:
            authorise(office, person, scope, BEGUN.date())
    connections.close_all()
    return folder


def copied(folder: Path, to: Path) -> Path:
    """A book and its log of heads, in another place; where its tables are on a server, its database as well."""
    shutil.copytree(folder, to)
    shutil.copyfile(log_of(folder), log_of(to))
    if postgres.note_of(folder).exists():
        postgres.copied(folder, to)
    return to


@pytest.fixture(name="book")
def _book(first_book: Path, tmp_path: Path) -> Book:
    """An open book with everybody in it and nothing made yet."""
    return open_book(copied(first_book, tmp_path / "book"))


def wide_drawing_at(path: Path) -> Path:
    """FM-31 with a band and limits so wide that any two of the batch pass the tests of a set."""
    text = DRAWING.read_text(encoding="utf-8")
    for old, new in (
        ('least = "-2 lbf"', 'least = "-200 lbf"'),
        ('greatest = "5 lbf"', 'greatest = "200 lbf"'),
        ('span_moment = "0.010 kg m"', 'span_moment = "1 kg m"'),
        ('chordwise_centre = "0.4 mm"', 'chordwise_centre = "4 mm"'),
        ("section_moment = 0.0010", "section_moment = 0.1"),
        ('effective_pitch = "0.10 deg"', 'effective_pitch = "2 deg"'),
        ('handle_force = "0.5 lbf"', 'handle_force = "50 lbf"'),
    ):
        assert old in text
        text = text.replace(old, new)
    path.write_text(text, encoding="utf-8")
    return path


@pytest.fixture(name="wide_drawing")
def _wide_drawing(tmp_path: Path) -> Path:
    """A file of the drawing the shop's book has approved."""
    return wide_drawing_at(tmp_path / "fm31.toml")


@pytest.fixture(scope="session", name="shop_folder")
def _shop_folder(first_book: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("approved")
    open_book(copied(first_book, folder / "book"))
    file_drawing(by(DRAUGHTSMAN), wide_drawing_at(folder / "fm31.toml"), "A")
    approve_drawing(by(APPROVER), "FM-31", "A")
    connections.close_all()
    return folder / "book"


@pytest.fixture(scope="session", name="batch_folder")
def _batch_folder(shop_folder: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("started") / "book"
    open_book(copied(shop_folder, folder))
    for serial in SERIALS:
        start_blade(by(MAKER), serial, "FM-31", "A")
    connections.close_all()
    return folder


@pytest.fixture(name="shop")
def _shop(shop_folder: Path, tmp_path: Path) -> Book:
    """An open book with an approved drawing."""
    return open_book(copied(shop_folder, tmp_path / "book"))


@pytest.fixture(name="batch")
def _batch(batch_folder: Path, tmp_path: Path) -> Book:
    """An open book with six serials started."""
    return open_book(copied(batch_folder, tmp_path / "book"))


@pytest.fixture(scope="session", name="files")
def _files(tmp_path_factory: pytest.TempPathFactory) -> Evidence:
    """The invented batch's files."""
    return write_evidence(tmp_path_factory.mktemp("floor"))


Found = tuple[str, Outcome] | tuple[str, Outcome, bool]
Judged = Callable[..., None]


def rules_find(monkeypatch: pytest.MonkeyPatch, *found: Found) -> None:
    """From now on a blade's rules find this: (rule, outcome, whether somebody may accept it)."""
    findings = tuple(
        Finding(rule, outcome, f"{rule}: {outcome}", "cure", deviable=not fixed or fixed[0])
        for rule, outcome, *fixed in found
    )

    def judge_blade(
        drawing: BladeDrawing,  # noqa: ARG001
        drawing_sha256: str,
        serial: str,
        evidence: BladeEvidence,
        deviations: tuple[Deviation, ...],
        engine_version: str,
    ) -> Verdict:
        reason, step = first_reason(findings, (), deviations)
        hashes = tuple(("signed", record.source.sha256) for record in evidence.signed)
        word = word_of(findings, (), deviations)
        return Verdict(serial, word, findings, (), deviations, reason, step, drawing_sha256, hashes, engine_version)

    monkeypatch.setattr(judging, "judge_blade", judge_blade)


@pytest.fixture(name="findings_are")
def _findings_are(monkeypatch: pytest.MonkeyPatch) -> Judged:
    """Lets a test say what a blade's rules find, so that it tests the book and not the rules."""
    return functools.partial(rules_find, monkeypatch)


def signed_at(
    folder: Path, serial: str, signed_by: str = INSPECTOR, proof: str = "void map", note: str = "as drawn"
) -> Path:
    """A signed record's file."""
    path = folder / f"{serial}-{proof}-{note}.toml".replace(" ", "-")
    path.write_text(
        f'format = 1\nserial = "{serial}"\nproof = "{proof}"\nresult = "conforms"\n'
        f'statement = "{note}"\nsigned_by = "{signed_by}"\nsigned_on = 2026-03-20\n',
        encoding="utf-8",
    )
    return path


@pytest.fixture(name="signed_file")
def _signed_file(tmp_path: Path) -> Callable[..., Path]:
    """Writes a signed record."""
    return functools.partial(signed_at, tmp_path)


def weighed_again(folder: Path, serial: str, span: float, centre: float, day: str = "2026-04-20") -> Path:
    """A weighing that found the blade this much [kg m], [mm] beyond the master, with no scatter."""
    path = folder / f"{serial}-again-{span:.4f}.toml"
    spans = f'{{ master = "17.0500 kg m" }}, {{ blade = "{17.05 + span:.4f} kg m" }},'
    centres = f'{{ master = "47.50 mm" }}, {{ blade = "{47.5 + centre:.2f} mm" }},'
    path.write_text(
        f'format = 1\nserial = "{serial}"\nrig = "W-1"\nmaster = "M-1"\nweighed_by = "{MAKER}"\nweighed_on = {day}\n'
        f'[span_moment]\nrig_uncertainty = "4 g m"\nreadings = [{spans * 4}]\n'
        f'[chordwise]\nrig_uncertainty = "0.10 mm"\nreadings = [{centres * 4}]\n',
        encoding="utf-8",
    )
    return path


@pytest.fixture(scope="session", name="full_folder")
def _full_folder(batch_folder: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book with a row at least in every table."""
    home = tmp_path_factory.mktemp("full")
    folder, one, two = copied(batch_folder, home / "book"), *SERIALS[:2]
    open_book(folder)
    certificate = home / "certificate.txt"
    certificate.write_text("certificate of an invented mill", encoding="utf-8")
    receive_lot(by(RECEIVER), "R-1", "film-epoxy", maker_lot="L-9", certificate=certificate)
    withdraw(by(OFFICE), RECEIVER, Scope.RECEIVE)
    _desk_rows(certificate)
    with pytest.MonkeyPatch.context() as patch:
        rules_find(patch, ("cure: dwell", Outcome.FAIL))
        for serial in (one, two):
            use_lot(by(MAKER), serial, "adhesive", "R-1")
            sign(by(INSPECTOR), signed_at(home, serial))
            judge(by(INSPECTOR), serial)
            accept_deviation(by(ENGINEER, "tested"), serial, "cure: dwell")
            judge(by(INSPECTOR), serial)
    _set_of("S-1", (one, two), RELEASER)
    add_owner(by(RELEASER), "Corvane Flying School", "hangar 2")
    add_aircraft(by(RELEASER), "X-AAAA", "Corvane Flying School")
    install(by(RELEASER), "S-1", "X-AAAA", AT.date())
    remove(by(RELEASER), "S-1", AT.date())
    connections.close_all()
    return folder


def _desk_rows(paper: Path) -> None:
    """What only the desk writes: a secret, a program's key and its end, a file about the shop, a form sent once."""
    set_secret(by(MAKER), MAKER, "seven grey geese")
    for name in ("logger", "scale"):
        make_token(by(MAKER), name, MAKER, (May.READ,), AT.date())
    withdraw_token(by(MAKER), "scale")
    with writing(Act(OFFICE, AT, once="form-1"), "shop file filed", "oven", Scope.ADMINISTER) as entry:
        stored = keep(entry, paper.read_bytes() + b".", "oven.toml")
        entry.add(models.ShopFile(kind="oven", about="oven", file=stored, beside=None))


@pytest.fixture(name="full")
def _full(full_folder: Path, tmp_path: Path) -> Book:
    """That book, open."""
    return open_book(copied(full_folder, tmp_path / "book"))


def _set_of(name: str, serials: tuple[str, ...], released_by: str) -> None:
    """A set written without matching: for tests of what happens to a set afterwards."""
    match = BladeSet(serials, 0.0, (), (), (), None, ())
    with writing(by(MATCHER), "set formed", name, Scope.MATCH) as entry:
        row = entry.add(models.Set(name=name, match=canonical(match).decode("utf-8"), method="for a test"))
        for serial in serials:
            blade = models.Blade.objects.get(serial=serial)
            verdict = models.Verdict.objects.filter(blade=blade).latest("id")
            entry.add(models.SetBlade(set=row, blade=blade, verdict=verdict))
    if released_by:
        sign_out(by(released_by), name)


@pytest.fixture(name="signed_out_set")
def _signed_out_set(batch: Book) -> Callable[..., None]:  # noqa: ARG001
    """Makes a signed-out set of started serials, with a lot in each where one is named."""

    def signed_out_set(name: str, *serials: str, lot: str = "") -> None:
        if lot:
            receive_lot(by(RECEIVER), lot, "film-epoxy")
        for serial in serials:
            if lot:
                use_lot(by(MAKER), serial, "adhesive", lot)
            with pytest.MonkeyPatch.context() as patch:
                rules_find(patch, ("cure: dwell", Outcome.PASS))
                judge(by(INSPECTOR), serial)
        _set_of(name, serials, RELEASER)

    return signed_out_set


@pytest.fixture(name="unreleased_set")
def _unreleased_set(batch: Book) -> None:  # noqa: ARG001
    """Set S-3, formed and not signed out."""
    for serial in SERIALS[4:]:
        judge(by(INSPECTOR), serial)
    _set_of("S-3", SERIALS[4:], "")
