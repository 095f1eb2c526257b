"""The stores at the desk: receiving, certificates, a roll out and back in; who may and who may not."""

from pathlib import Path
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from bladewright.records.adhesive_on_file import roll_on_file
from bladewright.records.lots import all_lots
from bladewright.records.opening import Book
from bladewright.records.ready import models
from bladewright.records.shop_files import keep_shop_file
from bladewright.web import clock
from tests.records.cast import ENGINEER, INSPECTOR, MAKER, RECEIVER, by, everybody_but
from tests.web.conftest import Enter, sent
from tests.web.test_waiting import text_of

FENNMARK = Path(__file__).parents[2] / "examples" / "fennmark"
PAGE, RECEIVE = "/materials/receive/", "/materials/receive/enter/"
LOT = "/materials/lots/F-70/"
ROLL = {"lot": "F-70", "material": "film-epoxy", "maker": "Mill", "maker_lot": "L-900", "expires_on": "2026-09-01"}


def paper(name: str = "certificate.txt", data: bytes = b"invented") -> SimpleUploadedFile:
    return SimpleUploadedFile(name, data)


@pytest.fixture(name="film")
def _film(shop_desk: Book, enter: Enter, tmp_path: Path) -> None:
    """A roll received at the desk, its log begun, and a rule on file."""
    path = tmp_path / "film.toml"
    path.write_text(
        'format = 1\n[counting]\nfilm = "FM film"\nmaker_limit = "240 h"\nmaker_warmest = "75 degF"\n'
        'warm_up_least = "4 h"\nsource = "sheet 7"\n'
    )
    keep_shop_file(by(ENGINEER), "counting rule", path)
    sent(enter(RECEIVER), PAGE, RECEIVE, **ROLL)
    sent(enter(RECEIVER), LOT, "/materials/log/F-70/", before_receipt="9 h")


@pytest.mark.usefixtures("shop_desk")
def test_a_lot_is_received_with_its_certificate(enter: Enter) -> None:
    client = enter(RECEIVER)
    answer = sent(client, PAGE, RECEIVE, **ROLL, certificate=paper())
    assert (answer.status_code, answer.url) == (303, LOT)
    told = text_of(client.get(LOT).content.decode())
    assert "film-epoxy F-70" in told
    assert "certificate.txt" in told
    assert "It is built into no blade." in told
    (lot,) = all_lots()
    saved = client.get(f"/materials/files/{lot.certificate_sha256}/")
    assert saved.content == b"invented"
    assert saved["Content-Type"] == "application/octet-stream"
    assert saved["Content-Disposition"] == "attachment; filename*=UTF-8''certificate.txt"
    assert saved["X-Content-Type-Options"] == "nosniff"


@pytest.mark.usefixtures("shop_desk")
def test_what_is_wrong_stands_beside_its_field_and_what_was_typed_stays(enter: Enter) -> None:
    client = enter(RECEIVER)
    sent(client, PAGE, RECEIVE, **ROLL)
    answer = sent(client, PAGE, RECEIVE, **(ROLL | {"maker_lot": "L-901"}))
    told = answer.content.decode()
    assert answer.status_code == 422
    assert 'id="id_lot_error"' in told
    assert "give this lot a name of its own" in told
    assert 'value="L-901"' in told
    again = sent(client, PAGE, RECEIVE, **(ROLL | {"lot": "F-71", "expires_on": "1/9/2026"}))
    assert again.status_code == 422
    assert 'id="id_expires_on_error"' in again.content.decode()
    program = sent(client, PAGE, RECEIVE, **(ROLL | {"lot": "F-71"}), certificate=paper("c.pdf", b"\x7fELF1234"))
    assert program.status_code == 422
    assert 'id="id_certificate_error"' in program.content.decode()
    assert [line.lot for line in all_lots()] == ["F-70"]


@pytest.mark.usefixtures("shop_desk")
def test_the_same_form_receives_once_and_the_same_lot_is_found(enter: Enter) -> None:
    client = enter(RECEIVER)
    page = client.get(PAGE).content.decode()
    once = page.partition('name="once" value="')[2].partition('"')[0]
    for _ in range(2):
        assert client.post(RECEIVE, ROLL | {"once": once}).status_code == 303
    assert "Nothing was entered twice" in client.get(LOT).content.decode()
    sent(client, PAGE, RECEIVE, **ROLL)
    assert "In the book already; nothing changed." in client.get(LOT).content.decode()
    assert models.Lot.objects.count() == 1


@pytest.mark.usefixtures("film")
def test_a_roll_goes_out_and_comes_back_on_its_page(enter: Enter) -> None:
    maker = enter(MAKER)
    assert "in the freezer, by its log" in text_of(maker.get(LOT).content.decode())
    answer = sent(maker, LOT, "/materials/out/F-70/", since=_now())
    assert answer.status_code == 303
    told = text_of(maker.get(LOT).content.decode())
    assert "Roll F-70 is out of the freezer. Leave it sealed until it is warmed through." in told
    assert "out since 2026-05-04" in told
    assert sent(maker, LOT, "/materials/back/F-70/", warmest="72 degF").status_code == 303
    roll = roll_on_file("F-70", clock.now())
    assert roll is not None
    assert roll.standing.out_since is None
    assert sent(maker, LOT, "/materials/used-up/F-70/").status_code == 303
    assert "used up" in text_of(maker.get("/materials/").content.decode())


def _now() -> str:
    """By the clock on the shop's wall, which is an hour ahead in May."""
    return f"{clock.now().hour + 1:02d}:{clock.now().minute:02d}".join(("2026-05-04T", ""))


@pytest.mark.usefixtures("film")
def test_an_impossible_move_is_told_beside_its_field(enter: Enter) -> None:
    maker = enter(MAKER)
    late = sent(maker, LOT, "/materials/out/F-70/", since="2026-05-05T12:00")
    assert late.status_code == 422
    assert "stands before the entry before it" in late.content.decode()
    sent(maker, LOT, "/materials/out/F-70/", since=_now())
    odd = sent(maker, LOT, "/materials/back/F-70/", warmest="hot")
    assert odd.status_code == 422
    assert 'id="id_warmest_error"' in odd.content.decode()


@pytest.mark.usefixtures("film")
def test_a_stale_page_moves_nothing(enter: Enter) -> None:
    maker, receiver = enter(MAKER), enter(RECEIVER)
    stale = dict(_hidden(receiver.get(LOT).content.decode(), "/materials/out/F-70/"))
    sent(maker, LOT, "/materials/out/F-70/", since=_now())
    answer = receiver.post("/materials/out/F-70/", stale | {"since": _now()})
    assert answer.status_code == 409
    assert "was written to since this page was shown" in answer.content.decode()


def _hidden(page: str, action: str) -> list[tuple[str, str]]:
    import re

    inside = page.partition(f'action="{action}"')[2].partition("</form>")[0]
    return re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', inside)


@pytest.mark.parametrize("who", [name for name in everybody_but(RECEIVER, MAKER) if name != "Nobody Known"])
@pytest.mark.usefixtures("film")
def test_who_may_not_move_a_roll_is_refused_and_shown_no_form(enter: Enter, who: str) -> None:
    client = enter(who)
    page = client.get(LOT).content.decode()
    assert "/materials/out/F-70/" not in page
    answer: Any = client.post("/materials/out/F-70/", {"once": "1", "since": _now()})
    assert answer.status_code == 403
    assert "is not authorised for this" in answer.content.decode()
    assert client.post(RECEIVE, ROLL | {"lot": "F-72", "once": "2"}).status_code == 403
    assert models.Lot.objects.count() == 1


@pytest.mark.usefixtures("shop_desk")
def test_an_empty_store_teaches(enter: Enter) -> None:
    told = text_of(enter(INSPECTOR).get("/materials/").content.decode())
    assert "No roll's log is on file" in told
    assert "Nothing was received yet" in told
    assert enter(INSPECTOR).get("/materials/lots/none/").status_code == 404
