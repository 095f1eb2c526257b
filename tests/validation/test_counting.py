"""The line at the end of a run, and what a missing need does, in a run of its own."""

import os
import re
import subprocess
import sys
from pathlib import Path

RUN = """
import pytest

@pytest.mark.outside
@pytest.mark.parametrize("number", [1, 2, 3])
def test_outside(number): assert number < 3

def test_inside(): pass

@pytest.mark.outside
def test_needs(require): require("lathe", False, "buy one")
"""


def ended(root: Path, tmp_path: Path, required: str) -> str:
    (tmp_path / "test_made_up.py").write_text(RUN)
    (tmp_path / "pytest.ini").write_text("[pytest]\nmarkers = outside: made up\n")
    return subprocess.run(
        [sys.executable, "-m", "pytest", "-rs", "-p", "tests.conftest", "-p", "no:cacheprovider", "test_made_up.py"],
        cwd=tmp_path,
        env={name: value for name, value in os.environ.items() if name != "DJANGO_SETTINGS_MODULE"}
        | {"PYTHONPATH": str(root), "BLADEWRIGHT_REQUIRE": required, "COLUMNS": "120"},
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    ).stdout


def test_outside_checks_are_counted_with_those_that_could_not_run(root: Path, tmp_path: Path) -> None:
    said = ended(root, tmp_path, "")
    assert "outside checks: 2 of 3 hold; 1 could not run here" in said
    assert re.search(r"lathe is missing; buy one", said)


def test_a_need_that_is_required_fails_instead_of_being_skipped(root: Path, tmp_path: Path) -> None:
    said = ended(root, tmp_path, "chromium,lathe")
    assert "outside checks: 2 of 4 hold" in said
    assert "BLADEWRIGHT_REQUIRE names it" in said
