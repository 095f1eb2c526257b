"""The record of one blade: its verdict, why, on what evidence, and who stands behind it."""

from collections import defaultdict
from typing import Any, Final

from bladewright.errors import BadInput
from bladewright.figures import Outcome
from bladewright.papers import wording
from bladewright.papers.frame import SIGNED_OUT, absent, all_figures, findings_data, frame, mark_counts, signature_rows
from bladewright.papers.pictures import Pictures, cure_picture, planform_picture, pull_picture
from bladewright.papers.records import BladeRecordPaper
from bladewright.papers.typeset import pdf, utc
from bladewright.proof.records import Deviation, Verdict, Word

_MAY_FLY: Final = (Word.ACCEPTED, Word.ACCEPTED_UNDER_DEVIATION)
_WEIGHT: Final = {Word.REJECTED: "no", Word.INCOMPLETE: "wait", Word.HELD: "wait"}


def blade_record(paper: BladeRecordPaper) -> bytes:
    """The blade record as PDF/A-2a and PDF/UA-1; the same paper always gives the same bytes."""
    _refuse_what_contradicts(paper)
    verdict, pictures = paper.verdict, Pictures()
    at = utc(paper.verdict_time, "verdict_time")
    data = frame(paper.shop, "Blade", paper.serial, paper.drawing, paper.word, paper.verdict_time, pictures)
    data["facts"].append(("Program", verdict.engine_version))
    data |= findings_data(verdict.findings, _covered(verdict))
    data |= {
        "word-label": "Verdict on this blade",
        "weight": _WEIGHT.get(verdict.word, "yes"),
        "answers": _answers(paper),
        "deviations": [_deviation(item, paper) for item in verdict.deviations],
        "signers": signature_rows(paper.signers),
        "cures": [cure_picture(pictures, item) for item in paper.cures] or [absent("Cure log", "no cure log on file")],
        "pulls": [pull_picture(pictures, item) for item in paper.pulls]
        or [absent("Pull curve", "no pull curve on file")],
        "planform": planform_picture(pictures, paper.planform)
        if paper.planform
        else absent("Planform", "no drawing given to draw the planform from"),
        "properties": [wording.figure_row(figure) for figure in paper.properties],
        "lots": [[item.part, item.lot, item.maker_lot or "not given"] for item in paper.lots],
        "evidence": [[i.what, i.file, i.filed_by, i.filed_on.isoformat(), i.sha256] for i in paper.evidence],
        "hashes": _hashes(paper),
    }
    return pdf("blade.typ", data, pictures.files, at)


def _covered(verdict: Verdict) -> dict[str, list[str]]:
    covered: dict[str, list[str]] = defaultdict(list)
    for item in verdict.deviations:
        covered[item.rule].append(item.number)
    return covered


def _refuse_what_contradicts(paper: BladeRecordPaper) -> None:
    """A paper may never read better than its verdict, nor a verdict better than its findings."""
    verdict = paper.verdict
    words = [verdict.word.value]
    if verdict.word is Word.ACCEPTED_UNDER_DEVIATION:
        words.insert(0, f"{verdict.word.value} {', '.join(item.number for item in verdict.deviations)}".strip())
    if verdict.word in _MAY_FLY:
        words.append(SIGNED_OUT)
    for field, value, allowed in (
        ("word", paper.word, words),
        ("serial", paper.serial, [verdict.serial]),
        ("drawing.sha256", paper.drawing.sha256, [verdict.drawing_sha256]),
    ):
        if value not in allowed:
            raise BadInput(
                "is not what the verdict says",
                field=field,
                value=value,
                allowed=" or ".join(allowed),
                fix="print what was judged, or judge again",
            )
    if verdict.word not in _MAY_FLY:
        return
    covered = _covered(verdict) if verdict.word is Word.ACCEPTED_UNDER_DEVIATION else {}
    against = [
        finding.rule
        for finding in verdict.findings
        if finding.outcome is not Outcome.PASS and not (finding.deviable and finding.rule in covered)
    ]
    if against or verdict.missing_proofs:
        raise BadInput(
            "cannot be: a finding did not pass and no deviation covers it, or a proof is missing",
            field="verdict.word",
            value=verdict.word.value,
            allowed=f"{Word.REJECTED}, {Word.HELD} or {Word.INCOMPLETE}",
            fix=f"judge again; look at {', '.join([*against, *verdict.missing_proofs])}",
        )


def _answers(paper: BladeRecordPaper) -> list[dict[str, Any]]:
    """What the first page says: why, what next, under which conditions, what is missing or uncertain."""
    verdict = paper.verdict
    mates = verdict.may_fly_only_with
    conditions = list(paper.conditions)
    if mates is not None:
        conditions.append(f"may fly only with {', '.join(mates)}" if mates else "no mate satisfies all deviations")
    return [
        {"label": "First reason", "items": [verdict.first_reason or "no reason given"]},
        {"label": "Next step", "items": [_next_step(paper)]},
        {"label": "Conditions", "items": conditions or ["none entered"]},
        {"label": "Missing proofs", "items": list(verdict.missing_proofs) or ["none"]},
        {"label": "Findings", "items": [wording.counts(verdict.findings)]},
        {"label": "Marks on the figures", "items": mark_counts(all_figures(verdict.findings, paper.properties))},
    ]


def _next_step(paper: BladeRecordPaper) -> str:
    if paper.word == SIGNED_OUT:
        return "none: signed out of the shop"
    return paper.verdict.next_step or "no next step given"


def _deviation(item: Deviation, paper: BladeRecordPaper) -> dict[str, str]:
    act = f"deviation {item.number}"
    proven = any(who.proven and who.act == act and who.name == item.accepted_by for who in paper.signers)
    name = item.accepted_by if proven else f"{item.accepted_by} ({wording.NOT_PROVEN})"
    stays = ", ".join(sorted({f.outcome.value for f in paper.verdict.findings if f.rule == item.rule})) or "as it was"
    mates = f" May fly only with {', '.join(item.only_with)}." if item.only_with else ""
    return {
        "head": f"Accepted under deviation {item.number}: finding “{item.rule}” stays {stays}.",
        "body": f"Accepted by {name} on {item.accepted_on.isoformat()}. Reason: {item.reason}{mates}",
    }


def _hashes(paper: BladeRecordPaper) -> list[list[str]]:
    """Hashes by which somebody can ask later whether anything changed."""
    return [
        [f"drawing {paper.drawing.name} revision {paper.drawing.revision}", paper.drawing.sha256],
        ["what the verdict was computed from", paper.inputs_sha256],
        ["the verdict as stored", paper.verdict_sha256],
        [f"chain head of book {paper.shop.book_id}", paper.shop.chain_head],
        *([what, sha256] for what, sha256 in paper.verdict.evidence),
    ]
