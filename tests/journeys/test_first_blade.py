"""The first-blade page, followed word for word in an empty folder."""

import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pypdf

FILE = re.compile(r"^`([\w.-]+)`\n\n```(?:toml|text)\n(.*?)^```", re.DOTALL | re.MULTILINE)
COMMANDS = re.compile(r"^```console\n(.*?)^```", re.DOTALL | re.MULTILINE)


def test_the_page_leads_from_an_empty_folder_to_a_printed_record(root: Path, tmp_path: Path) -> None:
    page = (root / "docs" / "howto" / "first-blade.md").read_text(encoding="utf-8")
    files = FILE.findall(page)
    assert len(files) == 11
    for name, text in files:
        (tmp_path / name).write_text(text, encoding="utf-8")
    said = {}
    for block in COMMANDS.findall(page):
        for line in block.splitlines():
            command = line.removeprefix("$ ")
            said[command] = _ran(root, tmp_path, command)
    assert "0001: ACCEPTED" in said["bladewright judge 0001 --by Ida"]
    assert "FAIL" not in said["bladewright judge-log drawing.toml cure.csv --description logger.toml"]
    assert "adhesive, R-1" in said["bladewright where-lot R-1"]
    paper = pypdf.PdfReader(tmp_path / "book" / "papers" / "0001.pdf")
    text = " ".join(sheet.extract_text() for sheet in paper.pages)
    assert "not an airworthiness release" in text
    head = re.search(r"[0-9a-f]{64}", said["bladewright check-book"])
    assert head is not None
    assert "compared" in _ran(root, tmp_path, f"bladewright check-book --head {head[0]}")


def _ran(root: Path, folder: Path, command: str) -> str:
    program, *arguments = shlex.split(command)
    assert program == "bladewright"
    done = subprocess.run(
        [sys.executable, "-m", program, *arguments],
        cwd=folder,
        env=os.environ | {"PYTHONPATH": str(root / "src"), "COLUMNS": "100", "PYTHONIOENCODING": "utf-8"},
        capture_output=True,
        encoding="utf-8",
        check=False,
        timeout=120,
    )
    assert done.returncode == 0, f"{command}\n{done.stdout}\n{done.stderr}"
    return done.stdout
