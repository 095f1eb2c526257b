"""Files about the shop: read first, the newest of its name holds, an older one stays, and nothing said is lost."""

import datetime
from pathlib import Path

import pytest

from bladewright.errors import BadInput, BladewrightError, MissingInput, NotAuthorised
from bladewright.records.checking import check
from bladewright.records.lots import receive_lot
from bladewright.records.opening import Book
from bladewright.records.ready import models
from bladewright.records.shop_files import contents, history, keep_shop_file, newest, standing
from bladewright.records.shop_kinds import GAUGE, KINDS, LOGGER, OVEN, ROLL, RULE
from tests.records.cast import AT, ENGINEER, INSPECTOR, MAKER, MAY, RECEIVER, by

pytestmark = pytest.mark.book

FENNMARK = Path(__file__).parents[2] / "examples" / "fennmark"
GAUGE_TEXT = """
format = 1
gauge = "caliper C-9"
measures = "chord and thickness"
[calibrated]
on = 2025-11-03
due = 2026-11-03
by = "Isla Gauge"
found = "within its limits"
"""
ROLL_TEXT = """
format = 1
roll = "F-70"
lot = "L-900"
received = 2026-03-01T08:00:00+00:00
before_receipt = "9 h"
expires = 2026-09-01
[[entries]]
move = "out"
at = 2026-03-03T08:00:00+00:00
by = "Mott Bench"
"""
BACK = '[[entries]]\nmove = "in"\nat = 2026-03-03T18:00:00+00:00\nby = "Mott Bench"\nwarmest = "71 degF"\n'


def _file(folder: Path, name: str, text: str) -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


@pytest.fixture(name="roll")
def _roll(book: Book, tmp_path: Path) -> Path:  # noqa: ARG001
    """A roll that was received, and its log."""
    receive_lot(by(RECEIVER), "F-70", "film-epoxy", maker_lot="L-900", expires_on=datetime.date(2026, 9, 1))
    return _file(tmp_path, "F-70.toml", ROLL_TEXT)


def test_a_file_is_kept_and_said_to_be_there_already(book: Book, tmp_path: Path) -> None:
    path = _file(tmp_path, "c-9.toml", GAUGE_TEXT)
    first = keep_shop_file(by(INSPECTOR), GAUGE, path)
    again = keep_shop_file(by(RECEIVER), GAUGE, path)
    assert (first.about, first.already, again.already) == ("caliper C-9", False, True)
    assert (again.by, again.sha256) == (INSPECTOR, first.sha256)
    assert contents(again).due == datetime.date(2026, 11, 3)
    assert (book.folder / "files" / first.sha256[:2] / first.sha256).read_bytes() == path.read_bytes()
    assert check().sound


def test_the_newest_of_a_name_holds_and_the_older_stays(book: Book, tmp_path: Path) -> None:  # noqa: ARG001
    old = _file(tmp_path, "c-9.toml", GAUGE_TEXT)
    new = _file(tmp_path, "c-9-2026.toml", GAUGE_TEXT.replace("2025-11-03", "2026-04-30").replace("2026-11", "2027-04"))
    for path in (old, new):
        keep_shop_file(by(INSPECTOR), GAUGE, path)
    (holds,) = standing(GAUGE)
    assert (holds.file, contents(holds).calibrated_on.isoformat()) == ("c-9-2026.toml", "2026-04-30")
    assert [line.file for line in history(GAUGE, "caliper C-9")] == ["c-9.toml", "c-9-2026.toml"]
    assert newest(GAUGE, "another") is None
    back = keep_shop_file(by(INSPECTOR), GAUGE, old)  # what held before may hold again, as a new entry
    assert not back.already
    assert standing(GAUGE)[0].file == "c-9.toml"


@pytest.mark.parametrize("kind", KINDS)
def test_only_who_may_keeps_a_file(kind: str, book: Book, tmp_path: Path) -> None:  # noqa: ARG001
    path = _file(tmp_path, "empty.toml", "")
    may = {name for name, scopes in MAY.items() if set(scopes) & set(KINDS[kind].needs)}
    assert may
    for name in MAY:
        with pytest.raises(BladewrightError) as caught:
            keep_shop_file(by(name), kind, path)
        assert isinstance(caught.value, NotAuthorised) == (name not in may)
        assert not models.ShopFile.objects.exists()


def test_an_oven_is_kept_with_the_description_its_sensors_stand_in(book: Book) -> None:  # noqa: ARG001
    oven, logger = FENNMARK / "oven.toml", FENNMARK / "logger.toml"
    with pytest.raises(MissingInput) as caught:
        keep_shop_file(by(INSPECTOR), OVEN, oven)
    assert (caught.value.field, caught.value.file) == ("beside", "oven.toml")
    kept = keep_shop_file(by(INSPECTOR), LOGGER, logger)
    line = keep_shop_file(by(INSPECTOR), OVEN, oven, described=kept.about)
    assert (line.beside, line.beside_sha256) == ("logger.toml", kept.sha256)
    assert contents(line).sensors == tuple(f"Mould {zone}" for zone in range(1, 7))
    assert keep_shop_file(by(INSPECTOR), OVEN, oven, logger).already


def test_what_is_not_on_file_or_given_twice_is_refused(book: Book, tmp_path: Path) -> None:  # noqa: ARG001
    oven, logger = FENNMARK / "oven.toml", FENNMARK / "logger.toml"
    gauge = _file(tmp_path, "c-9.toml", GAUGE_TEXT)
    for kind, path, beside, described, field in (
        (OVEN, oven, logger, "some logger", "described"),
        (OVEN, oven, None, "some logger", "described"),
        (GAUGE, gauge, logger, "", "beside"),
        ("diary", gauge, None, "", "kind"),
    ):
        with pytest.raises(BadInput) as caught:
            keep_shop_file(by(INSPECTOR), kind, path, beside, described=described)
        assert caught.value.field == field
    assert not models.ShopFile.objects.exists()


def test_a_file_its_reader_refuses_is_not_kept(book: Book, tmp_path: Path) -> None:  # noqa: ARG001
    with pytest.raises(BadInput) as caught:
        keep_shop_file(
            by(INSPECTOR), GAUGE, _file(tmp_path, "c-9.toml", GAUGE_TEXT.replace("2026-11-03", "2024-11-03"))
        )
    (error,) = caught.value.errors  # type: ignore[attr-defined]
    assert (error.file, error.field, error.allowed) == ("c-9.toml", "calibrated", "at least 2025-11-03")
    assert not models.StoredFile.objects.exists()


def test_nothing_was_calibrated_tomorrow(book: Book, tmp_path: Path) -> None:  # noqa: ARG001
    path = _file(tmp_path, "c-9.toml", GAUGE_TEXT.replace("2025-11-03", "2026-05-05"))
    with pytest.raises(BadInput, match="lies in the future") as caught:
        keep_shop_file(by(INSPECTOR), GAUGE, path)
    assert (caught.value.value, caught.value.allowed) == ("2026-05-05", "2026-05-04 or earlier")


def test_a_roll_is_received_before_its_log_is_kept(book: Book, tmp_path: Path) -> None:  # noqa: ARG001
    with pytest.raises(MissingInput) as caught:
        keep_shop_file(by(MAKER), ROLL, _file(tmp_path, "F-70.toml", ROLL_TEXT))
    assert (caught.value.field, caught.value.value) == ("roll", "F-70")


@pytest.mark.parametrize(
    ("old", "new", "field", "allowed"),
    [('lot = "L-900"', 'lot = "L-901"', "lot", "L-900"), ("2026-09-01", "2027-09-01", "expires", "2026-09-01")],
)
def test_a_roll_s_log_says_what_was_received(
    roll: Path, tmp_path: Path, old: str, new: str, field: str, allowed: str
) -> None:
    changed = _file(tmp_path, "changed.toml", roll.read_text().replace(old, new))
    with pytest.raises(BadInput) as caught:
        keep_shop_file(by(MAKER), ROLL, changed)
    assert (caught.value.field, caught.value.allowed) == (field, allowed)


def test_a_roll_s_log_only_grows_unless_somebody_says_why(roll: Path, tmp_path: Path) -> None:
    whole = _file(tmp_path, "F-70-back.toml", ROLL_TEXT + BACK)
    keep_shop_file(by(MAKER), ROLL, whole)
    with pytest.raises(MissingInput) as caught:
        keep_shop_file(by(MAKER), ROLL, roll)
    assert caught.value.field == "reason"
    assert "in at 2026-03-03T18:00:00+00:00" in caught.value.what
    kept = keep_shop_file(by(MAKER, "that was roll F-71"), ROLL, roll)
    assert kept.reason == "that was roll F-71"
    assert len(contents(standing(ROLL)[0]).entries) == 1


def test_a_bad_survey_does_not_vanish(book: Book, tmp_path: Path) -> None:  # noqa: ARG001
    text = (FENNMARK / "oven.toml").read_text(encoding="utf-8")
    bad = _file(tmp_path, "oven.toml", text.replace("passed = true", "passed = false"))
    keep_shop_file(by(INSPECTOR), OVEN, bad, FENNMARK / "logger.toml")
    with pytest.raises(MissingInput, match="survey of 2026-01-26"):
        keep_shop_file(by(INSPECTOR), OVEN, FENNMARK / "oven.toml", FENNMARK / "logger.toml")


def test_a_log_out_of_order_or_ahead_of_the_clock_is_refused(roll: Path, tmp_path: Path) -> None:
    for at in ("2026-03-02T18:00:00+00:00", "2026-06-03T18:00:00+00:00"):
        text = roll.read_text() + BACK.replace("2026-03-03T18:00:00+00:00", at)
        with pytest.raises(BadInput) as caught:
            keep_shop_file(by(MAKER), ROLL, _file(tmp_path, "wrong.toml", text))
        assert caught.value.file == "wrong.toml"
        assert caught.value.field in ("entries.2", "now")


def test_a_counting_rule_names_its_film(book: Book, tmp_path: Path) -> None:  # noqa: ARG001
    text = (FENNMARK / "film.toml").read_text(encoding="utf-8")
    with pytest.raises(MissingInput) as caught:
        keep_shop_file(by(ENGINEER), RULE, _file(tmp_path, "film.toml", text.replace("FA-120 film, invented", "")))
    assert caught.value.field == "counting.film"
    assert keep_shop_file(by(ENGINEER), RULE, FENNMARK / "film.toml").about == "FA-120 film, invented"


def test_names_that_pass_for_each_other_are_refused(book: Book, tmp_path: Path) -> None:  # noqa: ARG001
    keep_shop_file(by(INSPECTOR), GAUGE, _file(tmp_path, "c-9.toml", GAUGE_TEXT))
    with pytest.raises(BadInput, match="can be taken for"):
        keep_shop_file(by(INSPECTOR), GAUGE, _file(tmp_path, "c.toml", GAUGE_TEXT.replace("caliper C", "Caliper C")))


def test_what_holds_is_found_in_one_query(book: Book, tmp_path: Path, django_assert_num_queries) -> None:  # type: ignore[no-untyped-def]  # noqa: ARG001
    for number in range(4):
        text = GAUGE_TEXT.replace("C-9", f"C-{number}")
        keep_shop_file(by(INSPECTOR, at=AT), GAUGE, _file(tmp_path, f"{number}.toml", text))
    with django_assert_num_queries(1):
        assert len(standing(GAUGE)) == 4
