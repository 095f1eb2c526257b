"""Asking for a logger description: it is shown or written, never over another, and never usable as it comes."""

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from bladewright.cli.commands import app
from bladewright.errors import BadInput, SeveralBadInputs
from bladewright.evidence.description import read_logger_description

LOG = "Time (s),Mould 1 (degC)\n0,21.5\n60,22.5\n"


@pytest.fixture(name="log")
def _log(tmp_path: Path) -> Path:
    path = tmp_path / "run.csv"
    path.write_text(LOG, encoding="utf-8")
    return path


def test_it_is_shown_or_written_and_is_the_same(log: Path, tmp_path: Path) -> None:
    shown = CliRunner().invoke(app, ["suggest-logger", str(log)])
    out = tmp_path / "logger.toml"
    written = CliRunner().invoke(app, ["suggest-logger", str(log), "--out", str(out)])
    assert (shown.exit_code, written.exit_code) == (0, 0)
    assert out.read_text(encoding="utf-8") == shown.output
    assert "NOT CONFIRMED" in written.output
    with pytest.raises(SeveralBadInputs) as caught:
        read_logger_description(out)
    assert [error.field for error in caught.value.errors] == ["name", "confirmed_by", "time.zone"]
    assert all(error.allowed and error.fix for error in caught.value.errors)


def test_for_programs_it_says_what_is_open(log: Path) -> None:
    told = json.loads(CliRunner().invoke(app, ["suggest-logger", str(log), "--json"]).output)
    assert told["still open"] == ["name", "confirmed_by", "time.zone"]
    assert told["description"] == CliRunner().invoke(app, ["suggest-logger", str(log)]).output
    assert told["file"] is None


def test_a_description_that_is_there_is_not_written_over(log: Path, tmp_path: Path) -> None:
    out = tmp_path / "logger.toml"
    out.write_text("a person's", encoding="utf-8")
    answer = CliRunner().invoke(app, ["suggest-logger", str(log), "--out", str(out)])
    assert isinstance(answer.exception, BadInput)
    assert answer.exception.file == str(out)
    assert out.read_text(encoding="utf-8") == "a person's"
