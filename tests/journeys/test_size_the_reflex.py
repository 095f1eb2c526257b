"""The page on sizing the reflex, followed word for word in an empty folder."""

import os
import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

COMMANDS = re.compile(r"^```console\n(.*?)^```", re.DOTALL | re.MULTILINE)


def test_the_page_leads_from_a_drawing_to_a_report(root: Path, tmp_path: Path) -> None:
    shutil.copy(root / "examples" / "fennmark" / "fm31.toml", tmp_path)
    before = (tmp_path / "fm31.toml").read_bytes()
    page = (root / "docs" / "howto" / "size-the-reflex.md").read_text(encoding="utf-8")
    said = {}
    for block in COMMANDS.findall(page):
        for line in block.splitlines():
            command = line.removeprefix("$ ")
            said[command] = _ran(root, tmp_path, command)
    assert len(said) == 6
    sized = said['bladewright size-reflex fm31.toml --handle-force "2 lbf"']
    for words in ("loose skin", "mould", "finished blade", "inside the band"):
        assert words in sized
    assert "its tolerance" in said["bladewright sensitivities fm31.toml"]
    assert "What moved" in said['bladewright compare-change fm31.toml "reflex.angle=2.3 deg"']
    assert (tmp_path / "report" / "index.html").is_file()
    assert (tmp_path / "report" / "flight-report.pdf").read_bytes().startswith(b"%PDF-")
    assert (tmp_path / "fm31.toml").read_bytes() == before


def _ran(root: Path, folder: Path, command: str) -> str:
    program, *arguments = shlex.split(command)
    assert program == "bladewright"
    done = subprocess.run(
        [sys.executable, "-m", program, *arguments],
        cwd=folder,
        env=os.environ | {"PYTHONPATH": str(root / "src"), "COLUMNS": "140", "PYTHONIOENCODING": "utf-8"},
        capture_output=True,
        encoding="utf-8",
        check=False,
        timeout=120,
    )
    assert done.returncode == 0, f"{command}\n{done.stdout}\n{done.stderr}"
    return done.stdout
