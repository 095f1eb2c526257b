"""Dropping evidence: looked at first, filed as looked at, refused beside its entry, and by whom."""

import re
from pathlib import Path
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from bladewright.records.blades import about, start_blade
from bladewright.records.opening import Book
from bladewright.records.ready import models
from examples.fennmark.evidence import BladeFiles, Evidence
from tests.records.cast import INSPECTOR, MAKER, OFFICE, by, everybody_but
from tests.records.conftest import signed_at
from tests.web.conftest import SECRET, Enter, sent


@pytest.fixture(name="blade")
def _blade(shop_desk: Book, files: Evidence) -> BladeFiles:
    start_blade(by(MAKER), files.blades[1].serial, "FM-31", "A")
    return files.blades[1]


def dropped(client: Client, serial: str, *paths: Path, **entries: str) -> Any:
    uploads = [SimpleUploadedFile(path.name, path.read_bytes()) for path in paths]
    return client.post(f"/blades/{serial}/look/", {"handed": uploads, **entries})


def hidden(text: str, serial: str, action: str = "file") -> dict[str, str]:
    """The hidden entries of the first form that files something."""
    form = re.search(rf'<form[^>]*action="/blades/{serial}/{action}/"[^>]*>(.*?)</form>', text, re.S)
    assert form is not None, text
    return dict(re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', form.group(1)))


def test_looking_shows_what_would_be_filed_and_writes_nothing(blade: BladeFiles, enter: Enter, files: Evidence) -> None:
    events = models.Event.objects.count()
    text = dropped(enter(MAKER), blade.serial, blade.cure, files.logger).content.decode()
    assert "Nothing is written yet" in text
    assert "first reading" in text
    assert "mould sensors" in text
    assert "What the rules would find" in text
    assert models.Event.objects.count() == events


def test_what_was_looked_at_is_filed_once(blade: BladeFiles, enter: Enter) -> None:
    client = enter(INSPECTOR)
    told = hidden(dropped(client, blade.serial, blade.dimensions).content.decode(), blade.serial)
    first = client.post(f"/blades/{blade.serial}/file/", told)
    assert (first.status_code, first.headers["Location"]) == (303, f"/blades/{blade.serial}/#evidence")
    again = client.post(f"/blades/{blade.serial}/file/", told)
    assert again.status_code == 303, "sent once more after a dropped connection, it is not an error"
    assert "Nothing was entered twice" in client.get(f"/blades/{blade.serial}/").content.decode()
    (filed,) = about(blade.serial).evidence
    assert (filed.kind, filed.by) == ("dimensions", INSPECTOR)
    original = client.get(f"/files/{filed.sha256}/")
    assert original.content == blade.dimensions.read_bytes()
    assert original.headers["Content-Disposition"].startswith("attachment")
    assert original.headers["Content-Type"] == "application/octet-stream"
    assert original.headers["X-Content-Type-Options"] == "nosniff"


def test_the_same_file_again_leads_to_the_first(blade: BladeFiles, enter: Enter) -> None:
    client = enter(INSPECTOR)
    told = hidden(dropped(client, blade.serial, blade.dimensions).content.decode(), blade.serial)
    client.post(f"/blades/{blade.serial}/file/", told)
    text = dropped(client, blade.serial, blade.dimensions).content.decode()
    sha256 = about(blade.serial).evidence[0].sha256
    assert "It is not filed twice" in text
    assert f'href="/blades/{blade.serial}/#f-{sha256[:12]}"' in text


def test_a_wrong_sheet_names_row_column_and_what_is_allowed(blade: BladeFiles, enter: Enter, tmp_path: Path) -> None:
    bad = tmp_path / "sheet.csv"
    bad.write_bytes(blade.dimensions.read_bytes().replace(b" deg,", b",", 1))
    answer = dropped(enter(INSPECTOR), blade.serial, bad)
    assert answer.status_code == 422
    text = answer.content.decode()
    assert "column value" in text
    assert "row 2" in text
    assert "Allowed" in text
    assert about(blade.serial).evidence == ()


def test_a_program_is_not_taken_whatever_it_is_called(blade: BladeFiles, enter: Enter, tmp_path: Path) -> None:
    bad = tmp_path / "sheet.csv"
    bad.write_bytes(b"#!/bin/sh\n")
    answer = dropped(enter(INSPECTOR), blade.serial, bad)
    assert answer.status_code == 422
    assert "begins like a program" in answer.content.decode()


def test_no_file_at_all_is_said_beside_the_entry(blade: BladeFiles, enter: Enter) -> None:
    answer = enter(INSPECTOR).post(f"/blades/{blade.serial}/look/", {})
    assert answer.status_code == 422
    assert 'id="id_handed_error"' in answer.content.decode()


@pytest.mark.parametrize("who", [name for name in everybody_but(MAKER, INSPECTOR) if name != "Nobody Known"])
def test_who_files_nothing_may_not_even_look(blade: BladeFiles, enter: Enter, who: str) -> None:
    client = enter(who)
    assert dropped(client, blade.serial, blade.dimensions).status_code == 403
    for action in ("file", "sign-and-file"):
        assert client.post(f"/blades/{blade.serial}/{action}/", {"held": "0" * 64, "once": "x"}).status_code == 403


def test_a_maker_may_not_file_what_an_inspector_measures(blade: BladeFiles, enter: Enter) -> None:
    answer = dropped(enter(MAKER), blade.serial, blade.dimensions)
    assert answer.status_code == 422
    assert "inspect" in answer.content.decode()


def test_nobody_files_what_another_looked_at(blade: BladeFiles, enter: Enter) -> None:
    told = hidden(dropped(enter(INSPECTOR), blade.serial, blade.dimensions).content.decode(), blade.serial)
    answer = enter(MAKER).post(f"/blades/{blade.serial}/file/", told)
    assert answer.status_code == 422
    assert "no longer held" in answer.content.decode()
    assert about(blade.serial).evidence == ()


def test_a_signed_record_dropped_as_a_file_is_filed_by_signing_it(
    blade: BladeFiles, enter: Enter, tmp_path: Path
) -> None:
    client = enter(INSPECTOR)
    path = signed_at(tmp_path, blade.serial, INSPECTOR, "retained coupon")
    text = dropped(client, blade.serial, path).content.decode()
    told = hidden(text, blade.serial, "sign-and-file")
    around = client.post(f"/blades/{blade.serial}/file/", told)
    assert around.status_code == 403, "not without the secret"
    wrong = client.post(f"/blades/{blade.serial}/sign-and-file/", told | {"secret": "not the one at all"})
    assert wrong.status_code == 403
    assert about(blade.serial).evidence == ()
    done = client.post(f"/blades/{blade.serial}/sign-and-file/", told | {"secret": SECRET})
    assert done.status_code == 303
    assert about(blade.serial).evidence[0].about == "retained coupon"


def test_a_file_the_book_does_not_keep_is_not_found(shop_desk: Book, enter: Enter) -> None:
    assert enter(OFFICE).get(f"/files/{'0' * 64}/").status_code == 404


def test_a_lot_is_entered_by_who_makes(full_desk: Book, enter: Enter) -> None:
    client = enter(MAKER)
    done = sent(client, "/blades/B-0103/", "/blades/B-0103/lot/", part="adhesive", lot="R-1")
    assert done.status_code == 303
    assert about("B-0103").lots[0].lot == "R-1"
    again = sent(client, "/blades/B-0103/", "/blades/B-0103/lot/", part="adhesive", lot="R-99")
    assert again.status_code == 422
    assert 'id="id_lot_error"' in again.content.decode()
    assert enter(INSPECTOR).post("/blades/B-0103/lot/", {"part": "a", "lot": "R-1", "once": "y"}).status_code == 403
