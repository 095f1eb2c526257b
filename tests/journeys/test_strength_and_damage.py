"""The pages on strength and on damage, followed word for word: commands answer, the drawing stays as it was."""

import shlex
import shutil
from pathlib import Path

import pytest
from typer.testing import CliRunner

from bladewright.cli.commands import app
from tests.journeys.following import COMMANDS


@pytest.mark.parametrize(
    ("page", "codes"),
    [("strength.md", [1, 0, 0]), ("damage.md", [1, 1, 0, 1, 0])],
)
def test_every_command_of_the_page_answers(
    root: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, page: str, codes: list[int]
) -> None:
    shutil.copy(root / "examples" / "fennmark" / "fm31.toml", tmp_path)
    before = (tmp_path / "fm31.toml").read_bytes()
    monkeypatch.chdir(tmp_path)
    text = (root / "docs" / "howto" / page).read_text(encoding="utf-8")
    commands = [line.removeprefix("$ ") for block in COMMANDS.findall(text) for line in block.splitlines()]
    done = [CliRunner().invoke(app, shlex.split(command)[1:]) for command in commands]
    assert [one.exit_code for one in done] == codes, [one.output for one in done]
    assert (tmp_path / "fm31.toml").read_bytes() == before
    assert [path.name for path in tmp_path.iterdir()] == ["fm31.toml"]
