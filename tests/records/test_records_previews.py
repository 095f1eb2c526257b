"""Looking writes nothing, and what is filed afterwards is byte for byte what was looked at."""

import datetime
from collections.abc import Callable
from pathlib import Path

import pytest

from bladewright.errors import BadInput, MissingInput, NotAuthorised
from bladewright.figures import Outcome
from bladewright.records import holding
from bladewright.records.blades import about, start_blade
from bladewright.records.book import Book
from bladewright.records.holding import Handed
from bladewright.records.previews import Preview, Unread, descriptions_on_file, file_looked_at, look
from bladewright.records.ready import models
from examples.fennmark.evidence import BladeFiles, Evidence
from tests.records.cast import AT, INSPECTOR, MAKER, by

pytestmark = pytest.mark.book

DAY = datetime.timedelta(days=1)


def handed(*paths: Path | None) -> list[Handed]:
    return [Handed(path.name, path.read_bytes()) for path in paths if path is not None]


@pytest.fixture(name="blade")
def _blade(shop: Book, files: Evidence) -> BladeFiles:  # noqa: ARG001
    start_blade(by(MAKER), files.blades[1].serial, "FM-31", "A")
    return files.blades[1]


def only(found: tuple[Preview | Unread, ...]) -> Preview:
    (one,) = found
    assert isinstance(one, Preview), one
    return one


def refused(found: tuple[Preview | Unread, ...]) -> Unread:
    (one,) = found
    assert isinstance(one, Unread), one
    return one


def test_a_cure_log_shows_what_would_be_filed_and_is_then_filed_as_shown(blade: BladeFiles, files: Evidence) -> None:
    events = models.Event.objects.count()
    one = only(look(by(MAKER), blade.serial, handed(blade.cure, files.logger)))
    assert models.Event.objects.count() == events
    assert (one.kind, one.serials, one.on_file) == ("cure", (blade.serial,), None)
    assert {channel.role for channel in one.channels} >= {"mould", "heater", "pressure"}
    told = dict(one.read)
    assert told["first reading"].startswith("2026-03-24 13:11")
    assert any(finding.outcome is not Outcome.PASS for finding in one.findings)
    outcomes = [finding.outcome for finding in one.findings]
    assert outcomes.index(Outcome.PASS) > 0, "the worst stands first"
    filed = file_looked_at(by(MAKER), one.key)
    assert (filed.sha256, filed.already) == (Handed("", blade.cure.read_bytes()).sha256, False)
    assert [item.kind for item in about(blade.serial).evidence] == ["cure"]
    assert list(holding.place().iterdir()) == []


def test_everything_dropped_at_once_is_told_apart(blade: BladeFiles, files: Evidence) -> None:
    dropped = handed(
        blade.pull_curve, blade.cure, files.pull, blade.dimensions, files.logger, blade.coupon, blade.weighing
    )
    found = look(by(INSPECTOR), blade.serial, dropped)
    assert sorted(one.kind for one in found if isinstance(one, Preview)) == ["coupon", "dimensions", "weighing"]
    (cure,) = (one for one in found if isinstance(one, Unread))
    assert isinstance(cure.errors[0], NotAuthorised)
    assert cure.file == blade.cure.name


def test_the_same_file_twice_leads_to_the_first(blade: BladeFiles, files: Evidence) -> None:
    dropped = handed(blade.cure, files.logger)
    file_looked_at(by(MAKER), only(look(by(MAKER), blade.serial, dropped)).key)
    again = only(look(by(MAKER, at=AT + DAY), blade.serial, dropped))
    assert again.key == ""
    assert again.on_file is not None
    assert (again.on_file.by, again.on_file.sha256) == (MAKER, dropped[0].sha256)


def test_a_log_is_read_by_a_description_on_file(blade: BladeFiles, files: Evidence) -> None:
    other = files.blades[0]
    start_blade(by(MAKER), other.serial, "FM-31", "A")
    file_looked_at(by(MAKER), only(look(by(MAKER), other.serial, handed(other.cure, files.logger))).key)
    (how,) = descriptions_on_file("cure")
    assert how.name == files.logger.name
    one = only(look(by(MAKER), blade.serial, handed(blade.cure), logger=how.sha256))
    assert ("description", files.logger.name, how.sha256) in one.files


def test_readings_without_a_description_say_what_is_needed(blade: BladeFiles) -> None:
    one = refused(look(by(MAKER), blade.serial, handed(blade.cure)))
    assert isinstance(one.errors[0], MissingInput)
    assert (one.errors[0].field, one.errors[0].file) == ("description", blade.cure.name)


def test_every_wrong_cell_is_named_by_row_and_column(blade: BladeFiles) -> None:
    (sheet,) = handed(blade.dimensions)
    bad = Handed(sheet.name, sheet.data.replace(b" deg,", b",", 1))
    one = refused(look(by(INSPECTOR), blade.serial, [bad]))
    assert one.errors[0].row is not None
    assert one.errors[0].column == "value"
    assert one.errors[0].allowed


def test_evidence_of_another_blade_is_not_filed_from_here(blade: BladeFiles, files: Evidence) -> None:
    other = files.blades[0]
    start_blade(by(MAKER), other.serial, "FM-31", "A")
    one = refused(look(by(INSPECTOR), blade.serial, handed(other.dimensions)))
    assert (one.errors[0].field, one.errors[0].value, one.errors[0].allowed) == ("serial", other.serial, blade.serial)


def test_a_description_alone_is_no_evidence(blade: BladeFiles, files: Evidence) -> None:
    with pytest.raises(MissingInput) as caught:
        look(by(MAKER), blade.serial, handed(files.logger))
    assert caught.value.field == "handed"


def test_a_file_of_nothing_we_know_is_named(blade: BladeFiles) -> None:
    one = refused(look(by(MAKER), blade.serial, [Handed("what.toml", b'colour = "red"\n')]))
    assert (one.errors[0].file, one.errors[0].value) == ("what.toml", "colour")


Spoil = Callable[[Path], None]


@pytest.mark.parametrize(
    "spoil",
    [
        lambda folder: (folder / "file" / _name(folder)).write_bytes(b"another file"),
        lambda folder: (folder / "file" / _name(folder)).unlink(),
        lambda folder: (folder / "card.json").write_bytes(b"{}"),
        lambda folder: (folder / "card.json").write_bytes(
            (folder / "card.json").read_bytes().replace(b"FM31-0108", b"FM31-0107")
        ),
    ],
    ids=["changed", "gone", "card emptied", "card of another blade"],
)
def test_what_was_changed_while_it_was_held_is_not_filed(blade: BladeFiles, spoil: Spoil) -> None:
    key = only(look(by(INSPECTOR), blade.serial, handed(blade.dimensions))).key
    spoil(holding.place() / key)
    with pytest.raises(BadInput) as caught:
        file_looked_at(by(INSPECTOR), key)
    assert caught.value.field == "held"
    assert about(blade.serial).evidence == ()


def _name(folder: Path) -> str:
    (path,) = (folder / "file").iterdir()
    return path.name


@pytest.mark.parametrize("key", ["", "..", "0" * 64, "../book", "0" * 63 + "/"])
def test_a_key_nobody_gave_out_opens_nothing(blade: BladeFiles, key: str) -> None:  # noqa: ARG001
    with pytest.raises(BadInput) as caught:
        file_looked_at(by(INSPECTOR), key)
    assert caught.value.field == "held"


def test_only_who_looked_files_it(blade: BladeFiles) -> None:
    key = only(look(by(INSPECTOR), blade.serial, handed(blade.dimensions))).key
    with pytest.raises(BadInput):
        file_looked_at(by(MAKER), key)


def test_what_nobody_files_within_a_day_is_thrown_away(blade: BladeFiles) -> None:
    key = only(look(by(INSPECTOR), blade.serial, handed(blade.dimensions))).key
    late = by(INSPECTOR, at=AT + DAY + datetime.timedelta(minutes=1))
    with pytest.raises(BadInput):
        file_looked_at(late, key)
    look(late, blade.serial, handed(blade.weighing))
    assert not (holding.place() / key).exists()


def test_the_oldest_goes_when_too_much_is_held(blade: BladeFiles, monkeypatch: pytest.MonkeyPatch) -> None:
    first = only(look(by(INSPECTOR), blade.serial, handed(blade.dimensions))).key
    monkeypatch.setattr(holding, "MOST", 10)
    look(by(INSPECTOR, at=AT + datetime.timedelta(hours=1)), blade.serial, handed(blade.weighing))
    assert not (holding.place() / first).exists()
