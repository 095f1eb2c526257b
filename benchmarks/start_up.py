"""How soon the command line answers: ``bladewright --help`` against the help of a program that does nothing."""

import subprocess
import sys
import tempfile
from pathlib import Path

from benchmarks.side_by_side import Line, best_of, line

EMPTY = '''
import typer

app = typer.Typer()


@app.command()
def nothing() -> None:
    """Do nothing."""


@app.command()
def more() -> None:
    """Do nothing either."""


app()
'''
ROUNDS = 15


def run() -> list[Line]:
    """Both started anew each time by this Python, both printing their help."""
    with tempfile.TemporaryDirectory() as folder:
        program = Path(folder) / "nothing.py"
        program.write_text(EMPTY, encoding="utf-8")

        def ours() -> str:
            return _printed("-m", "bladewright", "--help")

        def other() -> str:
            return _printed(str(program), "--help")

        assert "Usage" in ours()
        assert "Usage" in other()
        return [line("bladewright --help, against an empty typer program", *best_of(ROUNDS, ours, other), "<= 1.5")]


def _printed(*arguments: str) -> str:
    return subprocess.run([sys.executable, *arguments], capture_output=True, text=True, check=True, timeout=60).stdout


if __name__ == "__main__":
    print(run())
