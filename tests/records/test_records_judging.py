"""Judging from the book: who may, what is kept, and that a newer engine never writes over an older verdict."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from bladewright.errors import MissingInput, NotAuthorised
from bladewright.figures import Outcome, canonical, digest
from bladewright.proof.records import Word
from bladewright.records.blades import all_blades, start_blade
from bladewright.records.evidence import file_coupon, file_cure, file_dimensions, file_weighing, sign
from bladewright.records.judging import all_verdicts, judge, latest_verdict
from bladewright.records.ready import models
from examples.fennmark.evidence import Evidence
from tests.records.cast import INSPECTOR, MAKER, by, everybody_but
from tests.records.conftest import Judged

pytestmark = pytest.mark.book

SERIAL = "B-0101"


@pytest.mark.usefixtures("batch")
def test_a_blade_with_nothing_on_file_is_incomplete_by_the_real_rules() -> None:
    kept = judge(by(INSPECTOR), SERIAL)
    assert kept.verdict.word is Word.INCOMPLETE
    assert "cure" in kept.verdict.missing_proofs
    assert all_blades()[0].word == "incomplete"


@pytest.mark.usefixtures("shop")
def test_a_whole_blades_verdict_comes_back_as_it_was_kept(files: Evidence) -> None:
    """Every kind of record a verdict can hold survives the way through canonical JSON."""
    blade = files.blades[1]
    assert blade.weighing is not None
    start_blade(by(MAKER), blade.serial, "FM-31", "A")
    file_cure(by(MAKER), [blade.serial], blade.cure, files.logger)
    file_coupon(by(INSPECTOR), blade.coupon, blade.pull_curve, files.pull)
    file_dimensions(by(INSPECTOR), blade.dimensions)
    file_weighing(by(INSPECTOR), blade.weighing)
    kept = judge(by(INSPECTOR), blade.serial)
    found = latest_verdict(blade.serial)
    assert found is not None
    assert found.verdict == kept.verdict
    assert found.sha256 == digest(canonical(kept.verdict))
    assert len(kept.verdict.findings) > 3
    assert kept.verdict.evidence


@pytest.mark.usefixtures("batch")
@pytest.mark.parametrize("who", everybody_but(INSPECTOR))
def test_only_who_inspects_judges(who: str) -> None:
    with pytest.raises(NotAuthorised):
        judge(by(who), SERIAL)
    assert latest_verdict(SERIAL) is None


@pytest.mark.usefixtures("batch")
def test_the_same_inputs_are_judged_once(findings_are: Judged) -> None:
    findings_are(("cure: dwell", Outcome.PASS))
    first, second = judge(by(INSPECTOR), SERIAL), judge(by(INSPECTOR), SERIAL)
    assert (first.already, second.already) == (False, True)
    assert second.sha256 == first.sha256
    assert models.Verdict.objects.count() == 1


@pytest.mark.usefixtures("batch")
def test_new_evidence_makes_a_new_verdict_that_says_what_changed(
    findings_are: Judged, signed_file: Callable[..., Path]
) -> None:
    findings_are(("cure: dwell", Outcome.REFER))
    first = judge(by(INSPECTOR), SERIAL)
    sign(by(INSPECTOR), signed_file(SERIAL))
    findings_are(("cure: dwell", Outcome.PASS))
    second = judge(by(INSPECTOR), SERIAL)
    assert second.inputs_sha256 != first.inputs_sha256
    assert second.changed == ("verdict: held -> accepted", "cure: dwell: refer -> pass")


@pytest.mark.usefixtures("batch")
def test_a_newer_engine_keeps_the_older_verdict_beside_its_own(findings_are: Judged) -> None:
    findings_are(("cure: dwell", Outcome.PASS))
    older = judge(by(INSPECTOR), SERIAL, engine_version="1.0")
    findings_are(("cure: dwell", Outcome.FAIL))
    newer = judge(by(INSPECTOR), SERIAL, engine_version="1.1")
    assert newer.inputs_sha256 == older.inputs_sha256
    assert newer.changed == ("verdict: accepted -> rejected", "cure: dwell: pass -> fail", "engine: 1.0 -> 1.1")
    kept = all_verdicts(SERIAL)
    assert [(item.verdict.word, item.verdict.engine_version) for item in kept] == [
        (Word.ACCEPTED, "1.0"),
        (Word.REJECTED, "1.1"),
    ]
    assert kept[0].sha256 == older.sha256


@pytest.mark.usefixtures("batch")
def test_the_kept_text_is_canonical(findings_are: Judged) -> None:
    findings_are(("cure: dwell", Outcome.PASS))
    judge(by(INSPECTOR), SERIAL)
    body = models.Verdict.objects.get().body
    assert canonical(json.loads(body)).decode("utf-8") == body


@pytest.mark.usefixtures("batch")
def test_a_serial_nobody_started_is_not_judged() -> None:
    with pytest.raises(MissingInput) as caught:
        judge(by(INSPECTOR), "B-9999")
    assert (caught.value.field, caught.value.value) == ("serial", "B-9999")
