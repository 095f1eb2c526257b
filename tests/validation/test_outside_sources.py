"""Every number that has a figure from outside the project, against it: the cases of ``bladewright selfcheck``."""

import math
import re
from pathlib import Path

import pytest

from bladewright.selfcheck.case import Case
from bladewright.selfcheck.running import all_cases, run, source_names

CASES = all_cases()
NAMED = [pytest.param(case, id=f"{case.source.split(':')[0][:60]}: {case.quantity}") for case in CASES]
TO_HOLD = [
    pytest.param(*one.values, id=one.id, marks=pytest.mark.xfail(strict=True, reason=case.disagrees))
    if case.disagrees
    else one
    for one, case in zip(NAMED, CASES, strict=True)
]  # what is known to disagree must go on doing so, or be told anew
SAID_HOW_KNOWN = re.compile(
    r"\b(1[89]|20)\d\d\b|from memory|closed form|no source|recomputed|re-derived|definition|public"
)


@pytest.mark.outside
@pytest.mark.parametrize("case", TO_HOLD)
def test_our_number_lies_within_the_band_of_the_published_one(case: Case) -> None:
    checked = run(case)
    assert math.isfinite(checked.ours)
    assert abs(checked.ours - case.published) <= case.band, f"{case.source}: {checked}"
    assert checked.holds


@pytest.mark.parametrize("case", NAMED)
def test_a_case_says_its_unit_its_source_and_a_band_that_can_fail(case: Case) -> None:
    assert re.search(r" \[[^\]]+\]$", case.quantity), "the quantity ends in its unit: 'lift slope [1/rad]'"
    assert SAID_HOW_KNOWN.search(case.source), "a source has its year, or says how it is known"
    assert math.isfinite(case.published)
    assert 0.0 <= case.band < math.inf
    assert case.published == 0.0 or case.band < abs(case.published), "a band as wide as the figure proves nothing"


def test_a_case_outside_its_band_does_not_hold() -> None:
    off = Case("closed form", "one [1]", lambda: 1.0 + 2e-9, 1.0, 1e-9)
    assert not run(off).holds
    assert not run(Case("closed form", "nothing [1]", lambda: math.nan, 1.0, 1e9)).holds


def test_no_two_cases_say_the_same_thing() -> None:
    said = [(case.source, case.quantity) for case in CASES]
    assert len(said) == len(set(said))


def test_every_file_of_the_room_is_run(root: Path) -> None:
    files = {path.stem for path in (root / "src/bladewright/selfcheck").glob("*.py")}
    assert files - {"__init__", "case", "running", "table"} == set(source_names())
