"""Gauges and the shop's own files at the desk: kept whole or not at all, by who may, the newest holding."""

from pathlib import Path

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from bladewright.records.opening import Book
from bladewright.records.ready import models
from bladewright.records.shop_files import history, standing
from tests.records.cast import ENGINEER, INSPECTOR, MATCHER, OFFICE, RECEIVER
from tests.web.conftest import Enter, sent
from tests.web.test_waiting import text_of

FENNMARK = Path(__file__).parents[2] / "examples" / "fennmark"
GAUGE = {
    "gauge": "caliper C-9", "measures": "chord", "on": "2026-04-01", "due": "2027-04-01", "found": "within its limits",
}  # fmt: skip
pytestmark = pytest.mark.usefixtures("shop_desk")


def handed(name: str) -> SimpleUploadedFile:
    return SimpleUploadedFile(name, (FENNMARK / name).read_bytes())


def test_an_oven_is_kept_with_a_description_that_is_on_file(enter: Enter) -> None:
    inspector = enter(INSPECTOR)
    sent(inspector, "/shelf/", "/shelf/keep/", kind="logger description", file=handed("logger.toml"))
    answer = sent(
        inspector, "/shelf/", "/shelf/keep/", kind="oven", file=handed("oven.toml"), described="blade oven logger"
    )
    assert (answer.status_code, answer.url) == (303, "/shelf/of/oven/?about=blade+oven")
    told = text_of(inspector.get(answer.url).content.decode())
    assert "On file: oven blade oven." in told
    assert "Fennmark process sheet FP-11, invented" in told
    assert "logger.toml" in told
    shelf = text_of(inspector.get("/shelf/").content.decode())
    assert "Mould 6" in shelf
    assert "overdue" in shelf


def test_what_cannot_be_read_is_not_kept_and_every_fault_is_told(enter: Enter) -> None:
    bad = SimpleUploadedFile("g.toml", b'format = 1\ngauge = " "\nmeasure = "chord"\n')
    answer = sent(enter(INSPECTOR), "/shelf/", "/shelf/keep/", kind="gauge", file=bad)
    told = text_of(answer.content.decode())
    assert answer.status_code == 422
    assert "g.toml: measure: is not a field of a gauge" in told.replace("&#x27;", "'")
    assert "measures: is needed and not there" in told
    assert not models.ShopFile.objects.exists()


def test_a_file_that_needs_a_description_says_so_beside_it(enter: Enter) -> None:
    answer = sent(enter(INSPECTOR), "/shelf/", "/shelf/keep/", kind="oven", file=handed("oven.toml"))
    assert answer.status_code == 422
    assert 'id="id_beside_error"' in answer.content.decode()


def test_a_calibration_is_entered_and_holds(enter: Enter) -> None:
    inspector = enter(INSPECTOR)
    assert sent(inspector, "/shelf/", "/shelf/gauge/", **GAUGE).status_code == 303
    told = text_of(inspector.get("/shelf/").content.decode())
    assert "caliper C-9 chord 2026-04-01, by Isla Gauge 2027-04-01 ✓ holds" in told
    sent(inspector, "/shelf/", "/shelf/gauge/", **(GAUGE | {"on": "2026-05-01", "due": "2027-05-01"}))
    assert len(history("gauge", "caliper C-9")) == 2
    assert len(standing("gauge")) == 1
    wrong = sent(inspector, "/shelf/", "/shelf/gauge/", **(GAUGE | {"on": "2026-06-01"}))
    assert wrong.status_code == 422
    assert "lies in the future" in wrong.content.decode()


def test_who_may_keep_one_kind_may_not_keep_another(enter: Enter) -> None:
    answer = sent(enter(ENGINEER), "/shelf/", "/shelf/keep/", kind="gauge", file=handed("film.toml"))
    assert answer.status_code == 403
    kept = sent(enter(ENGINEER), "/shelf/", "/shelf/keep/", kind="counting rule", file=handed("film.toml"))
    assert kept.status_code == 303
    assert [line.kind for line in history("counting rule")] == ["counting rule"]


@pytest.mark.parametrize("who", [MATCHER, OFFICE])
def test_who_may_keep_nothing_is_shown_no_form_and_refused(enter: Enter, who: str) -> None:
    client = enter(who)
    assert "/shelf/keep/" not in client.get("/shelf/").content.decode()
    assert client.post("/shelf/keep/", {"kind": "gauge", "file": handed("film.toml"), "once": "1"}).status_code == 403
    assert client.post("/shelf/gauge/", GAUGE | {"once": "1"}).status_code == 403
    assert not models.ShopFile.objects.exists()


def test_a_kind_or_a_name_that_is_not_there_is_not_found(enter: Enter, shop_desk: Book) -> None:
    client = enter(RECEIVER)
    for address in ("/shelf/of/diary/", "/shelf/of/gauge/?about=none", "/shelf/of/oven/"):
        assert client.get(address).status_code == 404
    drawing = next(shop_desk.folder.glob("files/*/*")).name
    assert client.get(f"/materials/files/{drawing}/").status_code == 404


def test_a_written_page_is_shown_as_text(enter: Enter) -> None:
    """Whatever a file holds, the desk shows its letters and runs nothing."""
    inspector = enter(INSPECTOR)
    text = b'format = 1\ngauge = "C-9"\nmeasures = "<script>alert(1)</script>"\n'
    sent(inspector, "/shelf/", "/shelf/keep/", kind="gauge", file=SimpleUploadedFile("g.toml", text))
    for address in ("/shelf/", "/shelf/of/gauge/?about=C-9", "/"):
        assert "<script>alert" not in inspector.get(address).content.decode()
