"""Photographing a torn face and outlining how it broke: inspectors do, everybody else may look and measure."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from playwright.sync_api import Page, expect

from bladewright.records.blades import blade_named
from bladewright.records.evidence import file_coupon, filed_for, read_filed
from bladewright.records.judging import judge
from bladewright.records.opening import Book
from examples.fennmark.evidence import Evidence
from tests.evidence.test_outlined import jpeg, png
from tests.records.cast import AT, INSPECTOR, by, everybody_but
from tests.records.conftest import SERIALS
from tests.web.conftest import Enter, sent

SignIn = Callable[[str], Page]
SERIAL = SERIALS[0]
WHOLE = "0,0 400,0 400,100 0,100"


@pytest.fixture(name="coupon")
def _coupon(shop_desk: Book, files: Evidence, tmp_path: Path) -> str:
    """The address of a torn coupon of the first serial."""
    text = files.blades[0].coupon.read_text(encoding="utf-8").replace("FM31-0107", SERIAL)
    torn = tmp_path / "root.toml"
    torn.write_text(text.replace(f'pull_curve = "{SERIAL}-root.csv"', ""), encoding="utf-8")
    return f"/coupons/{file_coupon(by(INSPECTOR), torn).sha256}/"


def photograph(data: bytes, name: str = "face.png") -> SimpleUploadedFile:
    return SimpleUploadedFile(name, data, "text/html")  # what a browser calls it counts for nothing


def add(client: Client, coupon: str, data: bytes | None = None, face: str = "top", name: str = "face.png") -> Client:
    return sent(client, coupon, f"{coupon}photograph/", photograph=photograph(data or png(), name), face=face)


def outline_address(client: Client, coupon: str) -> str:
    found = re.search(r'href="(/coupons/photographs/[0-9a-f]{64}/)outline/"', client.get(coupon).content.decode())
    assert found is not None
    return found[1]


def file_outline(client: Client, address: str, **entries: str) -> Client:
    told = {"outline": WHOLE, "marks": "1 in: 0,0 0,100", "areas": f"CF: {WHOLE}", "placing": "1.5"} | entries
    return sent(client, f"{address}outline/", f"{address}file/", **told)


def test_an_inspector_photographs_outlines_and_the_verdict_counts_it(coupon: str, enter: Enter) -> None:
    client = enter(INSPECTOR)
    assert add(client, coupon).status_code == 303
    page = client.get(coupon).content.decode()
    assert "not outlined yet, so all of it counts as adhesion failure" in page
    missing = judge(by(INSPECTOR), SERIAL).verdict.findings
    assert any("not outlined yet" in finding.sentence for finding in missing)
    address = outline_address(client, coupon)
    answer = file_outline(client, address, areas=f"CF: {WHOLE}\nAF: 0,0 40,0 40,50 0,50")
    assert (answer.status_code, answer.headers["Location"]) == (303, coupon)
    page = client.get(coupon).content.decode()
    assert "Adhesion failure outlined over 5 %" in page
    verdict = judge(by(INSPECTOR), SERIAL).verdict
    assert verdict.word == "rejected"
    photos = read_filed(filed_for(blade_named(SERIAL))).photographs
    assert [(photo.outlined_by, photo.outlined_on, len(photo.areas)) for photo in photos] == [
        (INSPECTOR, AT.date(), 0), (INSPECTOR, AT.date(), 2)
    ]  # fmt: skip


@pytest.mark.parametrize("name", [one for one in everybody_but(INSPECTOR) if one != "Nobody Known"])
def test_nobody_else_files_either_and_anybody_may_measure(coupon: str, enter: Enter, name: str) -> None:
    inspector, other = enter(INSPECTOR), enter(name)
    add(inspector, coupon)
    address = outline_address(inspector, coupon)
    assert "File the photograph" not in other.get(coupon).content.decode()
    refused = other.post(f"{coupon}photograph/", {"once": "a", "face": "top", "photograph": photograph(png(410, 90))})
    assert refused.status_code == 403
    told = {"once": "b", "outline": WHOLE, "areas": f"CF: {WHOLE}", "placing": "2"}
    assert other.post(f"{address}file/", told).status_code == 403
    measured = other.post(f"{address}measure/", told)
    assert measured.status_code == 200
    assert "100 %" in measured.content.decode()
    assert len(read_filed(filed_for(blade_named(SERIAL))).photographs) == 1


@pytest.mark.parametrize(
    ("data", "name"),
    [
        (b"GIF89a" + b"\0" * 99, "face.png"),
        (b"<html><script>alert(1)</script>", "face.jpg"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "face.svg"),
        (b"\x89PNG\r\n\x1a\n", "face.png"),
        (b"#!/bin/sh\n", "face.png"),
    ],
)
def test_what_is_no_photograph_is_refused_beside_its_field(coupon: str, enter: Enter, data: bytes, name: str) -> None:
    answer = add(enter(INSPECTOR), coupon, data, name=name)
    assert answer.status_code == 422
    assert "allowed" in answer.content.decode()
    assert read_filed(filed_for(blade_named(SERIAL))).photographs == ()


def test_a_cameras_jpeg_is_kept_as_it_came_and_measured_as_it_is_shown(coupon: str, enter: Enter) -> None:
    client = enter(INSPECTOR)
    assert add(client, coupon, jpeg(100, 400, 6)).status_code == 303
    address = outline_address(client, coupon)
    assert client.get(address).content == jpeg(100, 400, 6)
    assert 'viewBox="0 0 400 100"' in client.get(f"{address}outline/").content.decode()


@pytest.mark.parametrize(
    ("entries", "said"),
    [
        ({"areas": "glue: 0,0 1,1 2,0"}, "names no failure mode"),
        ({"areas": f"CF: {WHOLE}\nAF: 0,0 1,1"}, "has 2 corners"),
        ({"areas": "AF: 0,0 100,100 100,0 0,100"}, "crosses itself"),
        ({"areas": "AF: 0,0 50,0 50,50\nvoid: 20,0 90,0 90,90"}, "crosses area 1"),
        ({"areas": "AF: 0,0 500,0 500,50"}, "lies outside the photograph"),
        ({"outline": "0,0 400,0"}, "has 2 corners"),
        ({"marks": "1: 0,0 0,100"}, "1:"),
        ({"placing": "0"}, "greater than or equal to 0.3"),
        ({"areas": ""}, "required"),
    ],
)
def test_outlines_that_are_none_are_answered_beside_the_entry_and_kept(
    coupon: str, enter: Enter, entries: dict[str, str], said: str
) -> None:
    client = enter(INSPECTOR)
    add(client, coupon)
    answer = file_outline(client, outline_address(client, coupon), **entries)
    text = answer.content.decode()
    assert answer.status_code == 422
    assert said in text
    for typed in entries.values():
        assert typed.splitlines()[0] in text if typed else True
    assert len(read_filed(filed_for(blade_named(SERIAL))).photographs) == 1


def test_the_same_form_twice_and_the_same_photograph_twice_are_entered_once(coupon: str, enter: Enter) -> None:
    client = enter(INSPECTOR)
    add(client, coupon)
    assert "changed" in client.get(add(client, coupon).headers["Location"]).content.decode()
    assert len(read_filed(filed_for(blade_named(SERIAL))).photographs) == 1


def test_a_photograph_of_another_blade_is_refused(coupon: str, enter: Enter, files: Evidence, tmp_path: Path) -> None:
    client = enter(INSPECTOR)
    add(client, coupon)
    text = files.blades[0].coupon.read_text(encoding="utf-8").replace("FM31-0107", SERIALS[1])
    torn = tmp_path / "other.toml"
    torn.write_text(text.replace(f'pull_curve = "{SERIALS[1]}-root.csv"', ""), encoding="utf-8")
    other = f"/coupons/{file_coupon(by(INSPECTOR), torn).sha256}/"
    answer = add(client, other)
    assert answer.status_code == 422
    assert f"is on file for {SERIAL}" in answer.content.decode()


def test_a_page_that_is_no_longer_new_writes_nothing(coupon: str, enter: Enter) -> None:
    client = enter(INSPECTOR)
    add(client, coupon)
    address = outline_address(client, coupon)
    old = client.get(f"{address}outline/").content.decode()
    hidden = dict(re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', old))
    file_outline(client, address)
    late = {"outline": WHOLE, "areas": f"AF: {WHOLE}", "placing": "2", "marks": ""}
    answer = client.post(f"{address}file/", hidden | late)
    assert answer.status_code == 409
    assert len(read_filed(filed_for(blade_named(SERIAL))).photographs) == 2


WENDA = "Wenda Harkthwaite"


def _open_outline(sign_in: SignIn, serial: str) -> Page:
    page = sign_in(WENDA)
    page.goto(page.url + f"coupons/?serial={serial}")
    page.get_by_role("link", name=serial).last.click()
    page.get_by_role("link", name="Outline it again").click()
    page.wait_for_load_state("networkidle")
    return page


def test_with_a_pointer_corners_are_placed_and_measured_and_filed(sign_in: SignIn) -> None:
    page = _open_outline(sign_in, "FM31-0107")
    areas = page.get_by_label("Areas by failure mode")
    before = areas.input_value()
    page.get_by_role("button", name="SCF:").click()
    canvas = page.locator("#canvas")
    canvas.scroll_into_view_if_needed()
    for across, down in ((500, 60), (560, 60), (560, 100), (500, 100)):
        at = canvas.evaluate(
            "(c, [x, y]) => { const p = new DOMPoint(x, y).matrixTransform(c.getScreenCTM()); return [p.x, p.y]; }",
            [across, down],
        )
        page.mouse.click(*at)
    page.get_by_role("button", name="Close this outline").click()
    added = areas.input_value().removeprefix(before).strip()
    assert added.startswith("SCF: ")
    assert len(added.split()) == 5
    expect(page.locator("#measured")).to_contain_text("SCF")
    expect(page.locator("#measured")).to_contain_text("2.6")  # 60 by 40 of 968 by 152 px, and what was there before
    page.get_by_role("button", name="File the outlines").click()
    expect(page.get_by_role("heading", name="Root coupon of FM31-0107")).to_be_visible()
    expect(page.locator("figure svg.outlined")).to_have_count(2)


def test_with_keys_alone_an_outline_is_drawn_and_taken_back(sign_in: SignIn) -> None:
    page = _open_outline(sign_in, "FM31-0109")
    areas = page.get_by_label("Areas by failure mode")
    before = areas.input_value()
    page.get_by_role("button", name="void:").press("Enter")
    canvas = page.locator("#canvas")
    canvas.focus()
    for keys in (" ", "Shift+ArrowRight", " ", "Shift+ArrowDown", " ", "Enter"):
        canvas.press(keys)
    assert areas.input_value() != before
    assert areas.input_value().splitlines()[-1].startswith("void: ")
    canvas.press("Backspace")
    assert areas.input_value().strip() == before.strip()
