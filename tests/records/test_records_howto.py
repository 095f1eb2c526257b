"""The how-to pages of the book, run as they are printed, on the invented shop's files."""

import re
import shlex
from collections.abc import Iterator
from pathlib import Path

import pytest
from typer.testing import CliRunner

from bladewright.cli.commands import app
from examples.fennmark.evidence import write_evidence

PAGES = Path(__file__).parents[2] / "docs" / "howto"
EXPECTED = "# exit code "


def commands(page: str) -> Iterator[tuple[str, int]]:
    """Every command of a page's shell blocks, with the exit code the page promises."""
    for block in re.findall(r"```sh\n(.*?)```", (PAGES / page).read_text(encoding="utf-8"), re.DOTALL):
        for line in block.strip().splitlines():
            command, _, code = line.partition(EXPECTED)
            yield command.strip(), int(code or 0)


def test_the_pages_do_what_they_say(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write_evidence(tmp_path)
    monkeypatch.chdir(tmp_path)
    run = 0
    for page in ("the-book.md", "trace-a-lot.md"):
        for command, code in commands(page):
            program, *arguments = shlex.split(command)
            assert program == "bladewright"
            result = CliRunner().invoke(app, arguments)
            assert result.exit_code == code, (command, result.output, result.exception)
            run += 1
    assert run > 20
