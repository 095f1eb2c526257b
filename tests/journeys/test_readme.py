"""The README shows what really happens, and no page names a command that is not there."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
import typer

from bladewright.cli.commands import app

SHOWN = re.compile(r"<!-- demo output -->\n```\n(.*?)```\n<!-- end of demo output -->", re.DOTALL)
COMMAND = re.compile(r"(?:`|^|\$ |\*\*)bladewright ([a-z][a-z-]*)", re.MULTILINE)


def test_the_readme_shows_what_the_demo_prints(root: Path, tmp_path: Path) -> None:
    shown = SHOWN.search((root / "README.md").read_text(encoding="utf-8"))
    if shown is None:
        pytest.skip("README.md shows no demo output yet")
    where = os.pathsep.join((str(root / "src"), str(root)))
    printed = subprocess.run(
        [sys.executable, "-m", "examples.fennmark.demo"],
        cwd=tmp_path,
        env=os.environ | {"PYTHONPATH": where, "PYTHONIOENCODING": "utf-8", "COLUMNS": "120"},
        capture_output=True,
        encoding="utf-8",
        check=True,
        timeout=240,  # the demo takes up to a minute on a busy machine
    ).stdout
    assert _trimmed(printed) == _trimmed(shown[1])


def test_every_command_a_page_names_is_there(root: Path) -> None:
    known = set(typer.main.get_group(app).commands)
    for page in (*root.glob("*.md"), *(root / "docs").rglob("*.md")):
        named = set(COMMAND.findall(page.read_text(encoding="utf-8")))
        assert named <= known, f"{page.relative_to(root)} names {sorted(named - known)}"


def _trimmed(text: str) -> list[str]:
    """Lines without spaces at their ends, and without empty ones at either end."""
    return [line.rstrip() for line in text.strip("\n").splitlines()]
