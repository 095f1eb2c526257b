"""The pages a reader meets: gathered lists are up to date, links lead somewhere, nothing is unfinished."""

import re
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from packaging.requirements import Requirement

from docs.merge import DOCS, PAGES, lists

ROOT = Path(__file__).resolve().parents[2]
PARTS = ("src", "tests", "docs", "examples", "benchmarks", "requirements", ".ci")
TEXTS = {".py", ".md", ".toml", ".txt", ".typ", ".html", ".css", ".js", ".csv", ""}
LINK = re.compile(r"\]\((?!https?:|mailto:|#)([^)#\s]+)")
ONE_MACHINE = re.compile(r"(?<![\w./<>-])/(?:home|root|work|opt|mnt|Users)/[\w.]")
NUMBER = re.compile(r"(?<![\w.])\d+(?:\.\d+)?(?:e-?\d+)?(?![\w.])")
UNFINISHED = re.compile(r"\b(?:TO" + r"DO|FIX" + r"ME|X" + r"XX)\b|NotImplemented" + "Error")
NAMES_AN_INDEX = re.compile(r"^\s*--(?:index-url|extra-index-url|find-links)|file:|https?:", re.MULTILINE)


def texts() -> Iterator[Path]:
    """Everything a person wrote here."""
    yield from (path for path in ROOT.iterdir() if path.is_file() and path.suffix in TEXTS and path.name != ".git")
    for part in PARTS:
        for path in sorted((ROOT / part).rglob("*")):
            if path.is_file() and path.suffix in TEXTS and "__pycache__" not in path.parts:
                yield path


def pages() -> list[Path]:
    return [path for path in texts() if path.suffix == ".md"]


@pytest.mark.parametrize("name", PAGES)
def test_a_gathered_page_is_up_to_date(name: str) -> None:
    kept, made = (DOCS / name).read_text(encoding="utf-8"), PAGES[name]()
    assert NUMBER.sub("#", kept) == NUMBER.sub("#", made), "run: make pages"
    numbers = zip(NUMBER.findall(kept), NUMBER.findall(made), strict=True)
    assert all(old == new or one_apart(old, new) for old, new in numbers), "run: make pages"


def one_apart(old: str, new: str) -> bool:
    """Another machine rounds the last digit the other way where a value lies half way between two."""
    last = max(len(text.partition(".")[2]) for text in (old, new))
    return abs(float(old) - float(new)) <= 1.01 * 10.0**-last


def test_every_symbol_and_source_stands_in_a_list_with_its_room() -> None:
    for folder in ("sources.d", "nomenclature.d"):
        assert len(lists(folder)) == sum(
            bool(row.strip()) for path in (DOCS / folder).glob("*.md") for row in path.read_text("utf-8").splitlines()
        )


@pytest.mark.parametrize("page", pages(), ids=lambda page: page.relative_to(ROOT).as_posix())
def test_links_lead_somewhere(page: Path) -> None:
    lost = [link for link in LINK.findall(page.read_text(encoding="utf-8")) if not (page.parent / link).exists()]
    assert lost == []


def test_every_theory_page_says_whose_and_how_far() -> None:
    for page in (DOCS / "theory").glob("*.md"):
        text = page.read_text(encoding="utf-8").casefold()
        assert "source" in text, page.name
        assert re.search(r"valid|assum|holds", text), page.name


def test_no_text_knows_one_machine_or_is_unfinished() -> None:
    for path in texts():
        text = path.read_text(encoding="utf-8", errors="ignore")
        for pattern in (ONE_MACHINE, UNFINISHED):
            found = pattern.search(text)
            assert not found, f"{path.relative_to(ROOT)}: {found and found[0]}"


@pytest.mark.parametrize("name", ["installer", "run", "dev"])
def test_a_lock_pins_every_file_by_hash_and_names_no_index(name: str) -> None:
    text = (ROOT / "requirements" / f"{name}.txt").read_text(encoding="utf-8")
    assert not NAMES_AN_INDEX.search(text)
    entries = re.split(r"\n(?=[a-z])", re.sub(r"^\s*#.*\n", "", text, flags=re.MULTILINE))
    for entry in entries:
        assert re.match(r"[a-z0-9._-]+==\S+", entry), entry[:60]
        assert "--hash=sha256:" in entry, entry[:60]


def test_what_is_declared_is_locked() -> None:
    declared = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    needed, groups = declared["project"]["dependencies"], declared["dependency-groups"]
    for lock, asked in {
        "installer": groups["installer"],
        "run": [*needed, *groups["build"]],
        "dev": [*needed, *groups["build"], *(entry for entry in groups["dev"] if isinstance(entry, str))],
    }.items():
        text = (ROOT / "requirements" / f"{lock}.txt").read_text(encoding="utf-8")
        for wanted in map(Requirement, asked):
            pinned = re.findall(rf"^{wanted.name}==(\S+)", text, re.MULTILINE | re.IGNORECASE)
            assert pinned, f"{wanted} is not in {lock}.txt; run: make lock"
            assert all(wanted.specifier.contains(version) for version in pinned), f"{wanted}: {lock}.txt has {pinned}"


def test_the_readme_gives_two_commands() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    first = re.search(r"^```\n(.*?)^```", readme, re.DOTALL | re.MULTILINE)
    assert first
    assert first[1].split("\n") == ["make demo", "make test", ""]
    makefile = (ROOT / "Makefile").read_text(encoding="utf-8")
    assert re.search(r"^demo test .*:$", makefile, re.MULTILINE)
