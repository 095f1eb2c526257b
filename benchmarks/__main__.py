"""Every benchmark, found by looking: ``python -m benchmarks [name ...]``. Writes build/bench.json.

A benchmark is a file here with ``run() -> list[Line]``. Exit code 1 when a goal is not held or a benchmark broke.
"""

import importlib
import json
import os
import pkgutil
import sys
import traceback
from pathlib import Path

from rich import box
from rich.console import Console
from rich.table import Table

from benchmarks.side_by_side import Line

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "bladewright.web.settings")  # before any benchmark makes Django ready

HERE = Path(__file__).resolve().parent
RESULT = HERE.parent / "build" / "bench.json"
NOT_BENCHMARKS = ("__main__", "side_by_side", "section_reference", "cure_reference", "big_book")
KEYS = ("name", "ratio", "goal", "holds", "ours_s", "other_s")


def names() -> list[str]:
    """Every file of this folder that measures something."""
    return sorted(found.name for found in pkgutil.iter_modules([str(HERE)]) if found.name not in NOT_BENCHMARKS)


def measured(name: str) -> list[Line]:
    """The lines of one benchmark; one that breaks is a goal not held, and the others still run."""
    try:
        lines: list[Line] = importlib.import_module(f"benchmarks.{name}").run()
    except Exception:
        traceback.print_exc()
        return [dict.fromkeys(KEYS) | {"name": f"{name}: broke", "holds": False}]
    return [{key: line[key] for key in KEYS} for line in lines]


def show(lines: list[Line]) -> None:
    """The table for people."""
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False)
    for heading in ("what, against what", "ratio", "goal", "", "ours [s]", "other [s]"):
        table.add_column(heading, overflow="fold")
    for line in lines:
        ratio, ours, other = (
            f"{value:.3g}" if isinstance(value, float) else "-"
            for value in (line["ratio"], line["ours_s"], line["other_s"])
        )
        table.add_row(str(line["name"]), ratio, str(line["goal"] or "-"), _word(line), ours, other)
    Console(highlight=False).print(table)


def _word(line: Line) -> str:
    return "holds" if line["holds"] else "DOES NOT HOLD"


def main(asked: list[str]) -> int:
    """Run what was asked, or all of it."""
    known = names()
    if unknown := sorted(set(asked) - set(known)):
        print(f"no benchmark called {', '.join(unknown)}; there are: {', '.join(known)}", file=sys.stderr)
        return 2
    lines: list[Line] = []
    for name in asked or known:
        print(f"measuring {name}", file=sys.stderr, flush=True)
        lines += measured(name)
    RESULT.parent.mkdir(exist_ok=True)
    RESULT.write_text(json.dumps(lines, indent=2) + "\n", encoding="utf-8")
    show(lines)
    return 0 if all(line["holds"] for line in lines) else 1


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
