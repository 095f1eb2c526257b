"""A cure watched at the desk while its log grows, and filed when it is over: by whoever may, and by nobody else."""

import datetime
import os
import threading
import time
from pathlib import Path
from typing import Any

import pytest
from django.test import Client

from bladewright.records.cures import filed_cures
from bladewright.records.evidence import file_cure
from bladewright.web import following
from examples.fennmark.evidence import Evidence
from examples.fennmark.logging_run import HEAD, NAME, a_run, log_run
from tests.records.cast import MAKER, MATCHER, STRANGER, by, everybody_but
from tests.records.conftest import SERIALS
from tests.web.conftest import Enter, sent

pytestmark = pytest.mark.usefixtures("shop_desk")

WATCH = f"/oven/growing/{NAME}/"
BEGINS = datetime.datetime(2026, 5, 4, 5, 0)  # noqa: DTZ001 - by the wall's clock, as the logger stamps it


@pytest.fixture(name="lines", scope="module")
def _lines() -> list[str]:
    return a_run(BEGINS)


@pytest.fixture(name="logs")
def _logs(tmp_path: Path, settings: Any) -> Path:
    """The folder the logger writes in; nobody follows what another test wrote there."""
    folder = tmp_path / "logger"
    folder.mkdir()
    settings.DESK_LOGS = folder
    following._followed.clear()
    return folder


def write(logs: Path, lines: list[str], rows: int) -> None:
    log_run(logs, lines[: HEAD + rows], rows, 1.0, threading.Event())
    following._followed.clear()  # a test does not wait for the next look


def test_the_first_page_of_the_oven_says_what_runs(
    logs: Path,
    lines: list[str],
    enter: Enter,
) -> None:
    client = enter(MATCHER)
    assert "Start the logger before heat" in client.get("/oven/").content.decode()
    write(logs, lines, 95)
    text = client.get("/oven/").content.decode()
    assert "In the dwell" in text
    assert f'href="{WATCH}"' in text


def test_zones_clocks_and_the_end_of_the_dwell_are_told(
    logs: Path,
    lines: list[str],
    enter: Enter,
) -> None:
    write(logs, lines, 95)
    text = enter(MATCHER).get(WATCH).content.decode()
    assert "of 60 min; may end at 2026-05-04" in text
    assert text.count('<th scope="row">Mould') == 6
    assert "Bladder" in text
    assert "In the band for" in text
    assert "It reads the log and commands nothing" in text
    assert 'hx-trigger="every 5s"' in text
    assert 'http-equiv="refresh"' in text  # without a script it goes on as well


def test_a_lost_zone_is_said_with_what_not_to_do(
    logs: Path,
    lines: list[str],
    enter: Enter,
) -> None:
    write(logs, lines, 120)
    text = enter(MATCHER).get(f"{WATCH}now/").content.decode()
    assert "Dwell broken off" in text
    assert "Mould 4 gives no reading that can be believed since" in text
    assert "Do not open the mould" in text


def test_the_part_that_changes_keeps_nobody_signed_in(
    logs: Path,
    lines: list[str],
    enter: Enter,
) -> None:
    write(logs, lines, 20)
    client = enter(MATCHER)
    assert "desk" in client.get(WATCH).cookies
    assert "desk" not in client.get(f"{WATCH}now/").cookies


def test_the_chart_so_far_and_its_picture(
    logs: Path,
    lines: list[str],
    enter: Enter,
) -> None:
    write(logs, lines, 95)
    client = enter(MATCHER)
    chart = client.get(f"{WATCH}chart/").json()
    mould = next(trace for trace in chart["data"] if trace["name"] == "Mould 1")
    assert len(mould["x"]) == 95
    assert client.get(f"{WATCH}picture/").content.rstrip().endswith(b"</svg>")


@pytest.mark.parametrize("held", [b"", b"\x89PNG\r\n\x1a\n" * 50, b"Blade oven logger,run 095\nDate,Clo"])
def test_a_file_with_nothing_in_it_yet_or_something_else_is_said(
    logs: Path,
    files: Evidence,
    enter: Enter,
    held: bytes,
) -> None:
    file_cure(by(MAKER), SERIALS[:1], files.blades[0].cure, files.logger)  # its description reads what grows
    (logs / NAME).write_bytes(held)
    client = enter(MATCHER)
    for part in ("", "now/", "chart/", "picture/"):
        assert client.get(f"{WATCH}{part}").status_code == 200
    assert "Waiting for the first row" in client.get(WATCH).content.decode()


@pytest.mark.parametrize(
    "name", ["nothing.csv", "..%2fbook.toml", "%2e%2e%2fbook%2fbook.sqlite3", "logger.toml", ".hidden", "sub"]
)
def test_nothing_but_a_log_of_that_folder_is_shown(
    logs: Path,
    lines: list[str],
    enter: Enter,
    name: str,
) -> None:
    write(logs, lines, 20)
    (logs / ".hidden").write_text("x")
    (logs / "sub").mkdir()
    assert enter(MATCHER).get(f"/oven/growing/{name}/").status_code == 404


def test_a_description_that_cannot_be_read_is_told_and_not_thrown(
    logs: Path,
    lines: list[str],
    enter: Enter,
) -> None:
    write(logs, lines, 20)
    (logs / "logger.toml").write_text("format = ")
    client = enter(MATCHER)
    assert client.get("/oven/").status_code == 200
    assert client.get(WATCH).status_code == 422


def test_whoever_makes_files_the_finished_log_for_every_blade_in_it(
    logs: Path,
    lines: list[str],
    enter: Enter,
) -> None:
    write(logs, lines, len(lines) - HEAD)
    client = enter(MAKER)
    assert "The run is over: file it" in client.get(WATCH).content.decode()
    answer = sent(client, WATCH, f"{WATCH}file/", serials=f"{SERIALS[0]}, {SERIALS[1]}")
    assert answer.status_code == 303, answer.content.decode()
    (line,) = filed_cures().lines
    assert (line.serials, line.by, line.file) == (SERIALS[:2], MAKER, NAME)
    assert answer.headers["Location"] == f"/oven/runs/{line.sha256}/"


def test_a_serial_nobody_started_is_refused_beside_its_entry(
    logs: Path,
    lines: list[str],
    enter: Enter,
) -> None:
    write(logs, lines, len(lines) - HEAD)
    answer = sent(enter(MAKER), WATCH, f"{WATCH}file/", serials="B-9999")
    assert answer.status_code in (404, 422)
    assert "B-9999" in answer.content.decode()
    assert filed_cures().lines == ()


def test_a_log_of_later_today_is_not_filed_yet(
    logs: Path,
    enter: Enter,
) -> None:
    ahead = a_run(BEGINS + datetime.timedelta(hours=3))
    write(logs, ahead, len(ahead) - HEAD)
    answer = sent(enter(MAKER), WATCH, f"{WATCH}file/", serials=SERIALS[0])
    assert answer.status_code == 422
    assert "lies in the future" in answer.content.decode()


@pytest.mark.parametrize("name", [name for name in everybody_but(MAKER) if name != STRANGER])
def test_nobody_else_files_it(
    logs: Path,
    lines: list[str],
    enter: Enter,
    name: str,
) -> None:
    write(logs, lines, len(lines) - HEAD)
    client = enter(name)
    assert "The run is over" not in client.get(WATCH).content.decode()
    assert client.post(f"{WATCH}file/", {"serials": SERIALS[0], "once": "x"}).status_code == 403
    assert filed_cures().lines == ()


@pytest.mark.parametrize("part", ["", "now/", "chart/", "picture/"])
def test_nobody_looks_who_is_not_signed_in(logs: Path, lines: list[str], part: str) -> None:
    write(logs, lines, 20)
    assert Client().get(f"{WATCH}{part}").status_code == 401
    assert Client().post(f"{WATCH}file/", {"serials": SERIALS[0]}).status_code == 401


def test_a_log_that_no_longer_grows_is_listed_apart(
    logs: Path,
    lines: list[str],
    enter: Enter,
) -> None:
    write(logs, lines, 50)
    long_ago = time.time() - 7200.0
    os.utime(logs / NAME, (long_ago, long_ago))
    text = enter(MATCHER).get("/oven/").content.decode()
    assert "no longer grow" in text
    assert "No new row for 120" in enter(MATCHER).get(WATCH).content.decode()


def test_a_desk_that_was_not_told_of_a_folder_says_so(enter: Enter, settings: Any) -> None:
    settings.DESK_LOGS = None
    assert "--logs FOLDER" in enter(MATCHER).get(WATCH).content.decode()
