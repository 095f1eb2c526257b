"""What the book hands to the papers: the newest verdict and all it rests on, in the words the papers accept."""

import datetime
from collections.abc import Callable
from pathlib import Path

import pypdf
import pytest

from bladewright.errors import MissingInput
from bladewright.figures import Outcome
from bladewright.papers.blade import blade_record
from bladewright.papers.sets import set_record
from bladewright.records.blades import start_blade, use_lot
from bladewright.records.deviations import accept_deviation
from bladewright.records.evidence import file_coupon, file_cure, file_dimensions, file_weighing, sign
from bladewright.records.judging import judge, latest_verdict
from bladewright.records.lots import receive_lot
from bladewright.records.printing import paper_of_blade, paper_of_set
from bladewright.records.ready import models
from bladewright.records.sets import form_set, sign_out
from examples.fennmark.evidence import Evidence
from tests.records.cast import AT, ENGINEER, INSPECTOR, MAKER, MATCHER, RECEIVER, RELEASER, by
from tests.records.conftest import Judged, weighed_again

pytestmark = pytest.mark.book

ONE, TWO = "FM31-0107", "FM31-0112"


@pytest.fixture(autouse=True)
def _made(shop: object, files: Evidence) -> None:  # noqa: ARG001
    receive_lot(by(RECEIVER), "R-118", "film-epoxy", maker_lot="CF-20931")
    for blade in files.blades:
        if blade.serial in (ONE, TWO):
            start_blade(by(MAKER), blade.serial, "FM-31", "A")
            use_lot(by(MAKER), blade.serial, "adhesive", "R-118")
            file_cure(by(MAKER), [blade.serial], blade.cure, files.logger)
            file_coupon(by(INSPECTOR), blade.coupon, blade.pull_curve, files.pull)
            file_dimensions(by(INSPECTOR), blade.dimensions)
            assert blade.weighing is not None
            file_weighing(by(INSPECTOR), blade.weighing)


def test_a_blade_record_holds_the_verdict_and_what_it_rests_on(tmp_path: Path) -> None:
    kept = judge(by(INSPECTOR), ONE)
    paper = paper_of_blade(ONE)
    assert (paper.word, paper.verdict, paper.verdict_time) == (kept.verdict.word.value, kept.verdict, AT)
    assert (paper.verdict_sha256, paper.inputs_sha256) == (kept.sha256, kept.inputs_sha256)
    assert {line.sha256 for line in paper.evidence} <= {sha256 for _, sha256 in kept.verdict.evidence}
    assert [(line.part, line.lot, line.maker_lot) for line in paper.lots] == [("adhesive", "R-118", "CF-20931")]
    assert paper.shop.chain_head == models.Event.objects.latest("number").hash
    (cure,), (pull,) = paper.cures, paper.pulls
    assert cure.dwell is not None
    assert cure.dwell[1] > cure.dwell[0]
    (judged,) = [f.worst for f in kept.verdict.findings if f.rule.endswith("coupon: mean peel")]
    assert pull.mean == judged  # the chart shows the very figure the rule judged
    assert pull.judged is not None
    path = tmp_path / "blade.pdf"
    path.write_bytes(blade_record(paper))
    text = "\n".join(page.extract_text() for page in pypdf.PdfReader(path).pages)
    assert ONE in text
    assert kept.sha256[:12] in text.replace("\n", "")


def test_a_deviation_and_a_release_are_in_the_paper(
    findings_are: Judged, signed_file: Callable[..., Path], tmp_path: Path
) -> None:
    findings_are(("cure: dwell", Outcome.FAIL))
    for serial in (ONE, TWO):
        sign(by(INSPECTOR), signed_file(serial, proof="final inspection"))
        judge(by(INSPECTOR), serial)
        accept_deviation(by(ENGINEER, "tested"), serial, "cure: dwell", [TWO if serial == ONE else ONE])
        judge(by(INSPECTOR), serial)
    assert paper_of_blade(ONE).word == "accepted under deviation D-1"
    form_set(by(MATCHER, "looked at one by one"), "S-1", [ONE, TWO])
    for serial in (ONE, TWO):
        file_weighing(by(MAKER), weighed_again(tmp_path, serial, 0.012, 0.04))
        judge(by(INSPECTOR), serial)
    sign_out(by(RELEASER, at=AT + datetime.timedelta(days=1)), "S-1")
    paper = paper_of_blade(ONE)
    assert paper.word == "signed out"
    acted = {signer.act: signer.name for signer in paper.signers}
    assert acted == {"made": MAKER, "inspected": INSPECTOR, "deviation D-1": ENGINEER, "accepted": RELEASER}
    assert not any(signer.proven for signer in paper.signers)
    as_set = paper_of_set("S-1")
    assert [(blade.serial, blade.word) for blade in as_set.blades] == [(ONE, "signed out"), (TWO, "signed out")]
    assert as_set.blades[0].conditions == (f"may fly only with {TWO}",)
    assert {signer.act for signer in as_set.signers} == {"matched", "accepted"}
    formed, *tried = as_set.conditions
    assert formed == "formed for this reason: looked at one by one"
    assert any(said.startswith("as measured last, before sign-out: span moment 0.0000 kg m") for said in tried)
    newest = latest_verdict(ONE)
    assert newest is not None
    assert as_set.blades[0].verdict_sha256 == newest.sha256
    assert set_record(as_set).startswith(b"%PDF")
    assert blade_record(paper).startswith(b"%PDF")


def test_the_same_book_gives_the_same_paper() -> None:
    judge(by(INSPECTOR), ONE)
    assert blade_record(paper_of_blade(ONE)) == blade_record(paper_of_blade(ONE))


def test_a_blade_nobody_judged_has_no_paper() -> None:
    with pytest.raises(MissingInput) as caught:
        paper_of_blade(ONE)
    assert (caught.value.field, caught.value.value) == ("serial", ONE)
    with pytest.raises(MissingInput) as unknown:
        paper_of_set("S-1")
    assert unknown.value.field == "set"
