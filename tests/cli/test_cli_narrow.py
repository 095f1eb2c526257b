"""Answers in a narrow terminal, and a report that is the same bytes all day."""

import datetime
from pathlib import Path

import pytest
from typer.testing import CliRunner

from bladewright.cli import booked
from bladewright.cli.commands import app

FM31 = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"
NICK = ("damage", str(FM31), "nick", "--depth", "0.4 mm", "--station", "0.75R")


@pytest.mark.parametrize("columns", ["40", "60"])
@pytest.mark.parametrize(("asked", "word"), [(("strength", str(FM31)), "pull-up"), (NICK, "safety")])
def test_nothing_is_wider_than_the_terminal_nor_folded_to_letters(
    asked: tuple[str, ...], word: str, columns: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", columns)
    told = CliRunner().invoke(app, list(asked)).stdout
    assert max(map(len, told.splitlines())) <= int(columns)
    assert word in told  # whole, in the columns that fold first


def test_a_report_is_dated_with_its_day(monkeypatch: pytest.MonkeyPatch) -> None:
    morning = datetime.datetime(2026, 4, 7, 6, 1, 2, 3, tzinfo=datetime.UTC)
    monkeypatch.setattr(booked, "now", lambda: morning)
    first = booked.today()
    monkeypatch.setattr(booked, "now", lambda: morning + datetime.timedelta(hours=9))
    assert booked.today() == first
    assert first.isoformat() == "2026-04-07T00:00:00+00:00"
