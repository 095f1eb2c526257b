"""A book with the whole cast in it, copied for each test; and the invented batch's files."""

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from django.db import connections

from bladewright.drawing.file import BladeDrawing
from bladewright.figures import Finding, Outcome
from bladewright.proof.records import BladeEvidence, Deviation, Verdict
from bladewright.proof.verdict import first_reason, word_of
from bladewright.records import judging
from bladewright.records.acts import Act
from bladewright.records.blades import start_blade
from bladewright.records.drawings import approve_drawing, file_drawing
from bladewright.records.heads import log_of
from bladewright.records.opening import Book, create_book, open_book
from bladewright.records.people import add_person, authorise
from examples.fennmark.evidence import Evidence, write_evidence
from tests.records.cast import APPROVER, BEGUN, DRAUGHTSMAN, INSPECTOR, MAKER, MAY, OFFICE, by

DRAWING = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"
SERIALS = ("B-0101", "B-0102", "B-0103", "B-0104", "B-0105", "B-0106")


@pytest.fixture(scope="session", name="real_database")
def _real_database(django_db_blocker: Any) -> Iterator[None]:
    """These tests write real books, files and locks included, instead of a test database."""
    with django_db_blocker.unblock():
        yield


@pytest.fixture(autouse=True)
def _nothing_stays_open(real_database: None) -> Iterator[None]:  # noqa: ARG001
    yield
    connections.close_all()


@pytest.fixture(scope="session", name="first_book")
def _first_book(tmp_path_factory: pytest.TempPathFactory, real_database: None) -> Path:  # noqa: ARG001
    folder = tmp_path_factory.mktemp("shop") / "book"
    create_book(folder, shop="Fennmark Rotor Shop", zone="Europe/London", demo=True, at=BEGUN)
    office = Act(OFFICE, BEGUN)
    add_person(office, OFFICE)
    for person, scope in MAY.items():
        add_person(office, person)
        authorise(office, person, scope, BEGUN.date())
    connections.close_all()
    return folder


def copied(folder: Path, to: Path) -> Path:
    """A book and its log of heads, in another place."""
    shutil.copytree(folder, to)
    shutil.copyfile(log_of(folder), log_of(to))
    return to


@pytest.fixture(name="book")
def _book(first_book: Path, tmp_path: Path) -> Book:
    """An open book with everybody in it and nothing made yet."""
    return open_book(copied(first_book, tmp_path / "book"))


@pytest.fixture(name="wide_drawing")
def _wide_drawing(tmp_path: Path) -> Path:
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
    path = tmp_path / "fm31.toml"
    path.write_text(text, encoding="utf-8")
    return path


@pytest.fixture(name="shop")
def _shop(book: Book, wide_drawing: Path) -> Book:
    """The book with an approved drawing."""
    file_drawing(by(DRAUGHTSMAN), wide_drawing, "A")
    approve_drawing(by(APPROVER), "FM-31", "A")
    return book


@pytest.fixture(name="batch")
def _batch(shop: Book) -> Book:
    """The book with six serials started."""
    for serial in SERIALS:
        start_blade(by(MAKER), serial, "FM-31", "A")
    return shop


@pytest.fixture(scope="session", name="files")
def _files(tmp_path_factory: pytest.TempPathFactory) -> Evidence:
    """The invented batch's files."""
    return write_evidence(tmp_path_factory.mktemp("floor"))


Judged = Callable[..., None]


@pytest.fixture(name="findings_are")
def _findings_are(monkeypatch: pytest.MonkeyPatch) -> Judged:
    """Lets a test say what a blade's rules find, so that it tests the book and not the rules."""

    def findings_are(*found: tuple[str, Outcome] | tuple[str, Outcome, bool]) -> None:
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

    return findings_are


@pytest.fixture(name="signed_file")
def _signed_file(tmp_path: Path) -> Callable[..., Path]:
    """Writes a signed record."""

    def signed_file(serial: str, signed_by: str = INSPECTOR, proof: str = "void map", note: str = "as drawn") -> Path:
        path = tmp_path / f"{serial}-{proof}-{note}.toml".replace(" ", "-")
        path.write_text(
            f'format = 1\nserial = "{serial}"\nproof = "{proof}"\nresult = "conforms"\n'
            f'statement = "{note}"\nsigned_by = "{signed_by}"\nsigned_on = 2026-03-20\n',
            encoding="utf-8",
        )
        return path

    return signed_file
