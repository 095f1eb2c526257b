"""A record written as canonical JSON and read back is the same record, whatever is in it."""

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.errors import BookDamaged
from bladewright.figures import Figure, Finding, Outcome, Where, canonical
from bladewright.pairing.records import BladeSet, TrimWeight
from bladewright.proof.records import Deviation, Verdict, Word
from bladewright.records.restoring import restored

NUMBERS = st.floats(allow_nan=False, allow_infinity=False)
TEXT = st.text(max_size=8)
FIGURES = st.builds(
    Figure, name=TEXT, value=NUMBERS, unit=TEXT, uncertainty=st.none() | NUMBERS, validated=st.booleans()
)
PLACES = st.builds(Where, file=TEXT, row=st.none() | st.integers(1, 10**6))
FINDINGS = st.builds(
    Finding,
    rule=TEXT,
    outcome=st.sampled_from(Outcome),
    sentence=TEXT,
    proof=TEXT,
    worst=st.none() | FIGURES,
    where=st.lists(PLACES, max_size=2).map(tuple),
    deviable=st.booleans(),
)
DEVIATIONS = st.builds(
    Deviation,
    number=TEXT,
    serial=TEXT,
    rule=TEXT,
    accepted_by=TEXT,
    accepted_on=st.dates(),
    reason=TEXT,
    only_with=st.lists(TEXT, max_size=2).map(tuple),
)
VERDICTS = st.builds(
    Verdict,
    serial=TEXT,
    word=st.sampled_from(Word),
    findings=st.lists(FINDINGS, max_size=3).map(tuple),
    missing_proofs=st.lists(TEXT, max_size=2).map(tuple),
    deviations=st.lists(DEVIATIONS, max_size=2).map(tuple),
    first_reason=TEXT,
    next_step=TEXT,
    drawing_sha256=TEXT,
    evidence=st.lists(st.tuples(TEXT, TEXT), max_size=2).map(tuple),
    engine_version=TEXT,
)
SETS = st.builds(
    BladeSet,
    serials=st.lists(TEXT, max_size=3).map(tuple),
    cost=NUMBERS,
    differences=st.lists(FIGURES, max_size=2).map(tuple),
    after_trim=st.lists(FIGURES, max_size=2).map(tuple),
    trim=st.lists(st.builds(TrimWeight, TEXT, TEXT, NUMBERS, NUMBERS), max_size=2).map(tuple),
    handle_force=st.none() | FIGURES,
    findings=st.lists(FINDINGS, max_size=2).map(tuple),
)


@settings(max_examples=60)
@given(VERDICTS)
def test_verdicts(verdict: Verdict) -> None:
    found = restored(Verdict, json.loads(canonical(verdict)))
    assert found == verdict
    assert canonical(found) == canonical(verdict)


@settings(max_examples=60)
@given(SETS)
def test_sets(match: BladeSet) -> None:
    assert restored(BladeSet, json.loads(canonical(match))) == match


def test_a_field_that_is_newer_than_the_record_has_its_default() -> None:
    kept = {
        "number": "D-1", "serial": "B-1", "rule": "cure: dwell", "accepted_by": "R. Hale",
        "accepted_on": "2026-03-05", "reason": "tested",
    }  # fmt: skip
    assert restored(Deviation, kept).seen is None


@pytest.mark.parametrize("kept", [None, 5, [], {}, {"number": "D-1"}, "text"])
def test_what_is_no_such_record_is_damage(kept: object) -> None:
    with pytest.raises(BookDamaged) as caught:
        restored(Deviation, kept)
    assert caught.value.field == "Deviation"
