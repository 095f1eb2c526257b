"""How an error reaches a person and a program: exit codes, fields, and no traceback for somebody else's mistake."""

import json
import sys
from pathlib import Path

import pytest

from bladewright.cli import commands
from bladewright.cli.running import run


def exit_code_of(monkeypatch: pytest.MonkeyPatch, *arguments: str) -> int:
    monkeypatch.setattr(sys, "argv", ["bladewright", *arguments])
    with pytest.raises(SystemExit) as stopped:
        run()
    code = stopped.value.code
    return code if isinstance(code, int) else 0


def test_a_wrong_option_is_json_for_a_program(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert exit_code_of(monkeypatch, "about", "0107", "--nope", "--json") == 2
    (error,) = json.loads(capsys.readouterr().err)["errors"]
    assert error["field"] == "command line"
    assert "--nope" in error["what"]


def test_a_missing_file_is_json_for_a_program(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    assert exit_code_of(monkeypatch, "check-drawing", str(tmp_path / "none.toml"), "--json") == 2
    assert "none.toml" in json.loads(capsys.readouterr().err)["errors"][0]["what"]


def test_bytes_that_are_no_text_are_bad_input(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert exit_code_of(monkeypatch, "about", "\udcff", "--json") == 2
    (error,) = json.loads(capsys.readouterr().err)["errors"]
    assert error["allowed"] == "UTF-8 text"


def test_what_the_computer_refuses_is_not_called_our_fault(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def full(**_: object) -> None:
        raise OSError(28, "No space left on device", "paper.pdf")

    monkeypatch.setattr(commands, "app", full)
    assert exit_code_of(monkeypatch, "print-blade", "0107", "--json") == 2
    (error,) = json.loads(capsys.readouterr().err)["errors"]
    assert error["file"] == "paper.pdf"
    assert "No space left" in error["what"]


def test_the_answer_no_is_one_for_people_and_for_programs(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    for form in ((), ("--json",)):
        (tmp_path / "book.toml").write_text("torn", encoding="utf-8")
        assert exit_code_of(monkeypatch, "check-book", "--book", str(tmp_path), *form) == 1
