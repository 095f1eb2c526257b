"""A page followed word for word: every command on it, run in a folder as a reader would."""

import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

COMMANDS = re.compile(r"^```console\n(.*?)^```", re.DOTALL | re.MULTILINE)


def followed(root: Path, folder: Path, page: str, ends: tuple[int, ...] = (0,)) -> dict[str, str]:
    """What each command of the page said, in the page's order; ``ends`` are the exit codes it may end with."""
    lines = [line for block in COMMANDS.findall(page) for line in block.splitlines()]
    return {command: ran(root, folder, command, ends) for command in (line.removeprefix("$ ") for line in lines)}


def ran(root: Path, folder: Path, command: str, ends: tuple[int, ...] = (0,)) -> str:
    """What one command said; it must succeed, unless another exit code is expected."""
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
    assert done.returncode in ends, f"{command}\n{done.stdout}\n{done.stderr}"
    return done.stdout
