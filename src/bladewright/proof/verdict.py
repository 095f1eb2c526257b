"""A blade's verdict from everything on file for it. Pure: the same inputs give the same verdict years later."""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace

from bladewright.drawing.file import BladeDrawing
from bladewright.errors import BadInput
from bladewright.evidence.outlined import OutlinedPhotograph
from bladewright.evidence.records import Coupon, DimensionSheet, SignedRecord, VoidMap, Weighing
from bladewright.figures import Finding, Outcome, canonical, digest
from bladewright.proof.cure import judge_cure
from bladewright.proof.dimensions import judge_dimensions
from bladewright.proof.outlined import judge_photographs
from bladewright.proof.peel import judge_coupon
from bladewright.proof.records import BladeEvidence, Deviation, Verdict, Word
from bladewright.proof.signed import judge_signed
from bladewright.proof.tolerances import DIMENSIONS, HOLES, proof_of
from bladewright.proof.void_map import VOID_MAP, judge_void_maps
from bladewright.proof.weighing import judge_weighings
from bladewright.proof.wording import no_limit

#: a signature is no substitute for these: they are judged from what was measured
FROM_MEASUREMENT = frozenset({"cure", "coupon", DIMENSIONS, "weighing"})
#: who signed these made the part
_MAKING = frozenset({"surface treatment", "lay-up"})
#: who made the part does not sign these: two persons are required
BY_ANOTHER = frozenset({"final inspection"})


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
    own = looked_at_by_its_makers(evidence)
    counted = replace(evidence, signed=tuple(record for record in evidence.signed if record not in own))
    missing = missing_proofs(drawing.required_proofs, counted)
    offered = tuple(deviation for deviation in deviations if deviation.serial == serial)
    covering = tuple(d for d in offered if may_count(d, evidence) and any(covers(d, f) for f in findings))
    word = word_of(findings, missing, covering)
    reason, step = first_reason(findings, missing, covering, tuple(d for d in offered if d not in covering))
    if word is Word.INCOMPLETE and any(record.proof in missing for record in own):
        reason += f" {own[0].signed_by} signed the {own[0].proof} and made the part, so it does not count."
        step = step if len(missing) > 1 else f"Another person signs the {own[0].proof}."
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
    limits = drawing.limits
    found: list[Finding] = []
    for log in evidence.cures:
        found += judge_cure(log, limits.cure) if limits.cure else [no_limit("cure: limits", "cure", "limits.cure")]
    for coupon, curve in evidence.coupons:
        found += judge_coupon(coupon, curve, limits.peel)
    found += judge_photographs([coupon for coupon, _ in evidence.coupons], evidence.photographs, limits.peel)
    holes_signed = any(record.proof == HOLES for record in evidence.signed)
    found += judge_dimensions(drawing, evidence.sheets, holes_signed=holes_signed)
    found += judge_weighings(evidence.weighings, limits.weighing)
    found += judge_void_maps(drawing, evidence.void_maps)
    found += [judge_signed(record) for record in evidence.signed]
    return _told_apart(found)


def _told_apart(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """Two files judged by one rule: each finding's rule names its file, so that no deviation covers both.

    Files of one name are counted in the order filed.
    """
    times = Counter(finding.rule for finding in findings)
    named: Counter[str] = Counter()
    found = []
    for finding in findings:
        if times[finding.rule] > 1 and finding.where:
            file = finding.where[0].file
            rule = f"{finding.rule} ({file})"
            named[rule] += 1
            told = rule if named[rule] == 1 else f"{finding.rule} ({file}, {named[rule]})"
            finding = replace(finding, rule=told)
        found.append(finding)
    return tuple(found)


def missing_proofs(required: Sequence[str], evidence: BladeEvidence) -> tuple[str, ...]:
    """Required proofs with nothing on file, in the drawing's order."""
    there = {record.proof for record in evidence.signed} - FROM_MEASUREMENT
    there |= {"cure"} if evidence.cures else set()
    there |= {"coupon"} if any(curve is not None for _, curve in evidence.coupons) else set()
    there |= {proof_of(row.feature) for sheet in evidence.sheets for row in sheet.rows}
    there |= {"weighing"} if evidence.weighings else set()
    there |= {VOID_MAP} if evidence.void_maps else set()
    return tuple(proof for proof in required if proof not in there)


def covers(deviation: Deviation, finding: Finding) -> bool:
    """Whether a deviation speaks for a finding: its rule alone, and only where a person may decide at all.

    A person accepts what they have read. A finding of the same rule that says something else is another finding.
    """
    if finding.outcome is Outcome.PASS or not finding.deviable or deviation.rule != finding.rule:
        return False
    return deviation.seen is None or hash_of(finding) in deviation.seen


def hash_of(finding: Finding) -> str:
    """What a deviation remembers of the finding it was given on."""
    return digest(canonical(finding))


def may_count(deviation: Deviation, evidence: BladeEvidence) -> bool:
    """Whoever made the part does not accept its faults."""
    return _same_name(deviation.accepted_by) not in _makers(evidence)


def looked_at_by_its_makers(evidence: BladeEvidence) -> tuple[SignedRecord, ...]:
    """What needed another person's eyes and was signed by who made the part: it does not count as on file."""
    makers = _makers(evidence)
    return tuple(r for r in evidence.signed if r.proof in BY_ANOTHER and _same_name(r.signed_by) in makers)


def _makers(evidence: BladeEvidence) -> set[str]:
    return {_same_name(record.signed_by) for record in evidence.signed if record.proof in _MAKING}


def _same_name(name: str) -> str:
    return name.strip().casefold()


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
    findings: Iterable[Finding],
    missing: Sequence[str],
    covering: Sequence[Deviation],
    idle: Sequence[Deviation] = (),
) -> tuple[str, str]:
    """The one sentence a reader needs, and what to do next. ``idle`` are deviations that do not count."""
    against = [finding for finding in findings if finding.outcome is not Outcome.PASS]
    uncovered = [finding for finding in against if not any(covers(d, finding) for d in covering)]
    for outcome in (Outcome.FAIL, Outcome.MISSING, Outcome.REFER):
        if missing and outcome is Outcome.MISSING:
            return f"Not on file: {', '.join(missing)}.", f"File the {missing[0]}."
        for finding in uncovered:
            if finding.outcome is outcome:
                return f"{finding.sentence}{_why_not(finding, idle)}", finding.next_step
    if against:
        numbers = ", ".join(sorted({deviation.number for deviation in covering}))
        said = f"{against[0].sentence} Accepted under deviation {numbers}."
        return said, "Match it into a set, with the mates its deviations allow."
    return "Every required proof is on file and every rule passes.", "Match it into a set."


def _why_not(finding: Finding, idle: Sequence[Deviation]) -> str:
    """Why a deviation entered for this very rule does not help."""
    mine = [deviation for deviation in idle if deviation.rule == finding.rule]
    if not mine:
        return ""
    why = "its signer made the part, or read another finding" if finding.deviable else "nobody may deviate from this"
    return f" Deviation {mine[0].number} does not count: {why}."


def _only_of(serial: str, evidence: BladeEvidence) -> None:
    """Evidence of another blade is no evidence."""
    coupons = tuple(coupon for coupon, _ in evidence.coupons)
    records: tuple[Coupon | OutlinedPhotograph | DimensionSheet | Weighing | SignedRecord | VoidMap, ...]
    records = (
        *coupons,
        *evidence.photographs,
        *evidence.sheets,
        *evidence.weighings,
        *evidence.signed,
        *evidence.void_maps,
    )
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
    for photo in evidence.photographs:
        found.append((f"{photo.label} coupon, {photo.face} face photographed", photo.photograph.source))
        found.append((f"{photo.label} coupon, {photo.face} face outlined", photo.source))
    found += [("dimension sheet", sheet.source) for sheet in evidence.sheets]
    found += [("weighing", weighing.source) for weighing in evidence.weighings]
    found += [(f"signed record: {record.proof}", record.source) for record in evidence.signed]
    found += [(VOID_MAP, one.source) for one in evidence.void_maps]
    return tuple((what, source.sha256) for what, source in found)
