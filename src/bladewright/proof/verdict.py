"""A blade's verdict from everything on file for it. Pure: the same inputs give the same verdict years later."""

from collections.abc import Iterable, Sequence

from bladewright.drawing.file import BladeDrawing
from bladewright.errors import BadInput
from bladewright.evidence.records import Coupon, DimensionSheet, SignedRecord, Weighing
from bladewright.figures import Finding, Outcome
from bladewright.proof.cure import judge_cure
from bladewright.proof.records import BladeEvidence, Deviation, Verdict, Word
from bladewright.proof.wording import no_limit


def judge_blade(
    drawing: BladeDrawing,
    drawing_sha256: str,
    serial: str,
    evidence: BladeEvidence,
    deviations: tuple[Deviation, ...],
    engine_version: str,
) -> Verdict:
    """Every rule on every piece of evidence, and what they come to."""
    _only_of(serial, evidence)
    findings = _findings(drawing, evidence)
    missing = missing_proofs(drawing.required_proofs, evidence)
    covering = tuple(d for d in deviations if d.serial == serial and any(covers(d, f) for f in findings))
    word = word_of(findings, missing, covering)
    reason, step = first_reason(findings, missing, covering)
    return Verdict(
        serial=serial,
        word=word,
        findings=findings,
        missing_proofs=missing,
        deviations=covering,
        first_reason=reason,
        next_step=step,
        drawing_sha256=drawing_sha256,
        evidence=_rests_on(evidence),
        engine_version=engine_version,
    )


def _findings(drawing: BladeDrawing, evidence: BladeEvidence) -> tuple[Finding, ...]:
    found: list[Finding] = []
    for log in evidence.cures:
        limits = drawing.limits.cure
        found += judge_cure(log, limits) if limits else [no_limit("cure: limits", "cure", "limits.cure")]
    for what, items in (
        ("coupon", evidence.coupons),
        ("dimensions", evidence.sheets),
        ("weighing", evidence.weighings),
    ):
        found += [_unjudged(what)] if items else []
    found += [_as_signed(record) for record in evidence.signed]
    return tuple(found)


def _unjudged(proof: str) -> Finding:
    """Evidence no rule has looked at is never a pass: a person compares it with the drawing."""
    return Finding(f"{proof}: compared by hand", Outcome.REFER, f"Nobody has judged the {proof} yet.", proof)


def _as_signed(record: SignedRecord) -> Finding:
    outcome = Outcome.PASS if record.result == "conforms" else Outcome.FAIL
    return Finding(f"{record.proof}: as signed", outcome, f"{record.signed_by} signed: {record.result}.", record.proof)


def missing_proofs(required: Sequence[str], evidence: BladeEvidence) -> tuple[str, ...]:
    """Required proofs with nothing on file, in the drawing's order."""
    there = {record.proof for record in evidence.signed}
    there |= {"cure"} if evidence.cures else set()
    there |= {"coupon"} if any(curve is not None for _, curve in evidence.coupons) else set()
    there |= {"dimensions"} if evidence.sheets else set()
    there |= {"weighing"} if evidence.weighings else set()
    return tuple(proof for proof in required if proof not in there)


def covers(deviation: Deviation, finding: Finding) -> bool:
    """Whether a deviation speaks for a finding: its rule alone, and only where a person may decide at all."""
    return finding.outcome is not Outcome.PASS and finding.deviable and deviation.rule == finding.rule


def word_of(findings: Iterable[Finding], missing: Sequence[str], deviations: Sequence[Deviation]) -> Word:
    """The verdict's word: the worst that stands uncovered."""
    against = [finding for finding in findings if finding.outcome is not Outcome.PASS]
    open_ = {finding.outcome for finding in against if not any(covers(d, finding) for d in deviations)}
    if Outcome.FAIL in open_:
        return Word.REJECTED
    if missing or Outcome.MISSING in open_:
        return Word.INCOMPLETE
    if Outcome.REFER in open_:
        return Word.HELD
    return Word.ACCEPTED_UNDER_DEVIATION if against else Word.ACCEPTED


def first_reason(
    findings: Iterable[Finding], missing: Sequence[str], deviations: Sequence[Deviation]
) -> tuple[str, str]:
    """The one sentence a reader needs, and what to do next."""
    against = [finding for finding in findings if finding.outcome is not Outcome.PASS]
    uncovered = [finding for finding in against if not any(covers(d, finding) for d in deviations)]
    for outcome in (Outcome.FAIL, Outcome.MISSING, Outcome.REFER):
        if missing and outcome is Outcome.MISSING:
            return f"Not on file: {', '.join(missing)}.", f"File the {missing[0]}."
        for finding in uncovered:
            if finding.outcome is outcome:
                return finding.sentence, finding.next_step
    if against:
        numbers = ", ".join(sorted({d.number for d in deviations}))
        return (
            f"{against[0].sentence} Accepted under deviation {numbers}.",
            "Match it with the mates the deviation allows.",
        )
    return "Every required proof is on file and every rule passes.", "Match it into a set."


def _only_of(serial: str, evidence: BladeEvidence) -> None:
    """Evidence of another blade is no evidence."""
    coupons = tuple(coupon for coupon, _ in evidence.coupons)
    records: tuple[Coupon | DimensionSheet | Weighing | SignedRecord, ...]
    records = (*coupons, *evidence.sheets, *evidence.weighings, *evidence.signed)
    for record in records:
        if record.serial != serial:
            raise BadInput(
                f"is evidence of {record.serial}, not of {serial}",
                file=record.source.file,
                field="serial",
                value=record.serial,
                allowed=serial,
                fix="file it with the blade it belongs to",
            )


def _rests_on(evidence: BladeEvidence) -> tuple[tuple[str, str], ...]:
    """What the verdict rests on, with the hash of each file."""
    found = [("cure log", log.source) for log in evidence.cures]
    for coupon, curve in evidence.coupons:
        found.append((f"{coupon.label} coupon", coupon.source))
        found += [(f"{coupon.label} pull curve", curve.source)] if curve else []
    found += [("dimension sheet", sheet.source) for sheet in evidence.sheets]
    found += [("weighing", weighing.source) for weighing in evidence.weighings]
    found += [(f"signed record: {record.proof}", record.source) for record in evidence.signed]
    return tuple((what, source.sha256) for what, source in found)
