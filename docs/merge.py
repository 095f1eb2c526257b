"""Makes docs/sources.md, docs/nomenclature.md and docs/validation.md from what each room keeps: ``make pages``."""

import os
import re
from pathlib import Path

os.environ.setdefault("OMP_NUM_THREADS", "1")  # as the command line does: the last digits hang on it

DOCS = Path(__file__).resolve().parent
MADE = "<!-- made by `make pages` from docs/{folder}; change the lists there -->"
SYMBOLS = re.compile(r"`[^`]*`(?:, `[^`]*`)*")  # what an entry of the nomenclature begins with


def lists(folder: str) -> list[tuple[str, str]]:
    """Every entry of a folder's lists with the room whose it is."""
    entries = []
    for path in sorted((DOCS / folder).glob("*.md")):
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1):
            if not line.strip():
                continue
            if not line.startswith("- "):
                raise SystemExit(f"{path.name}: row {number}: an entry begins with '- '\n  fix: one entry, one row")
            entries.append((line.removeprefix("- ").strip(), path.stem))
    return entries


def by_entry(folder: str) -> dict[str, str]:
    """The entries in order of name, each once, with the rooms that use it."""
    rooms: dict[str, list[str]] = {}
    for entry, room in lists(folder):
        rooms.setdefault(entry, []).append(room)
    return {entry: ", ".join(rooms[entry]) for entry in sorted(rooms, key=_order)}


def _order(entry: str) -> tuple[str, str]:
    return entry.strip("`*").casefold(), entry


def sources() -> str:
    """Whose work and whose figures are used; a label says where one is known from memory only."""
    head = (
        "# Sources",
        MADE.format(folder="sources.d"),
        "Facts and figures were taken from these, never sentences or code. *From memory* means that the work was not "
        "at hand when the line was written. Which number is compared with which source: `bladewright selfcheck`.",
        "",
    )
    return (
        "\n\n".join(head) + "\n".join(f"- {entry} · {rooms}" for entry, rooms in by_entry("sources.d").items()) + "\n"
    )


def nomenclature() -> str:
    """The symbols of formulas; code says the words."""
    head = (
        "# Nomenclature",
        MADE.format(folder="nomenclature.d"),
        "Symbols stand in docstrings and on the theory pages only; in code each is written in words. SI units unless "
        "said. A letter may mean two things in two rooms, as it does in the trade's books; the last column says whose.",
        "| symbol | meaning [unit] | room |\n|---|---|---|\n",
    )
    rows = []
    for entry, rooms in by_entry("nomenclature.d").items():
        begins = SYMBOLS.match(entry)
        if begins is None:
            raise SystemExit(
                f"nomenclature.d: {entry}: begins with no symbol\n  fix: write the symbol in backticks first"
            )
        symbols = begins[0]
        meaning = entry.removeprefix(symbols).strip().replace("|", "\\|")
        if meaning.startswith("(") and ")" in meaning:
            place, _, meaning = meaning.partition(")")
            meaning = f"{meaning.strip()} {place})"
        rows.append(f"| {symbols} | {meaning} | {rooms} |\n")
    return "\n\n".join(head) + "".join(rows)


def validation() -> str:
    """Our numbers beside figures from outside, computed again."""
    from bladewright.selfcheck.running import all_cases, run
    from bladewright.selfcheck.table import validation_table

    checked = [run(case) for case in all_cases()]
    held = sum(item.holds for item in checked)
    head = (
        "# Validation",
        "<!-- made by `make pages` from src/bladewright/selfcheck; change the cases there -->",
        f"{held} of {len(checked)} comparisons with figures from outside hold. Each was computed again for this page. "
        "*Of the band*: how much of what the source allows the difference takes; *rounding* is less than half a "
        "percent of it. Why a band is what it is stands beside its case.",
        "",
    )
    return "\n\n".join(head) + validation_table(checked)


PAGES = {"sources.md": sources, "nomenclature.md": nomenclature, "validation.md": validation}


def main() -> None:
    """Write the pages."""
    for name, make in PAGES.items():
        (DOCS / name).write_text(make(), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
