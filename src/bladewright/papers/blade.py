"""The record of one blade: its verdict, why, on what evidence, and who stands behind it."""

from collections.abc import Sequence
from typing import Any, Final

from bladewright.errors import BadInput
from bladewright.figures import Figure, Finding, Outcome
from bladewright.papers import wording
from bladewright.papers.matrix import mark_svg, mark_text
from bladewright.papers.pictures import Pictures, cure_picture, planform_picture, pull_picture
from bladewright.papers.records import BladeRecordPaper, Signer
from bladewright.papers.typeset import pdf, utc
from bladewright.proof.records import Verdict, Word

_ACTS: Final = ("made", "inspected", "accepted")
_SIGNED_OUT: Final = "signed out"
_MAY_FLY: Final = (Word.ACCEPTED, Word.ACCEPTED_UNDER_DEVIATION)
_WEIGHT: Final = {Word.REJECTED: "no", Word.INCOMPLETE: "wait", Word.HELD: "wait"}


def blade_record(paper: BladeRecordPaper) -> bytes:
    """The blade record as PDF/A-2a and PDF/UA-1; the same paper always gives the same bytes."""
    _refuse_what_contradicts(paper)
    verdict, mark = paper.verdict, _mark(paper)
    code, width = mark_svg(mark)
    pictures = Pictures({"mark.svg": code})
    at = utc(paper.verdict_time, "verdict_time")
    data: dict[str, Any] = {
        "kind": "Blade record",
        "title": f"Blade {paper.serial}",
        "description": f"{wording.STANDING}. Verdict: {paper.word}.",
        "keywords": [paper.serial, paper.drawing.name, paper.word],
        "running": f"{paper.shop.name} · {paper.serial} · {paper.word}",
        "standing": wording.STANDING,
        "shop": paper.shop.name,
        "book": paper.shop.book_id,
        "head": paper.shop.chain_head,
        "demo": paper.shop.demo,
        "facts": [
            ("Serial", paper.serial),
            ("Drawing", f"{paper.drawing.name} revision {paper.drawing.revision}"),
            ("Judged", wording.moment_text(at)),
            ("Engine", verdict.engine_version),
        ],
        "mark": {"text": mark, "width": width},
        "word": paper.word,
        "word-label": "Verdict on this blade",
        "weight": _WEIGHT.get(verdict.word, "yes"),
        "answers": _answers(paper),
        "deviations": [_deviation(item, verdict) for item in verdict.deviations],
        "signers": signature_rows(paper.signers),
        "cautions": wording.CAUTIONS,
        "counts": wording.counts(verdict.findings),
        "findings": [
            wording.finding_row(finding, _covering(finding, verdict))
            for finding in wording.worst_first(verdict.findings)
        ],
        "cures": [cure_picture(pictures, item) for item in paper.cures] or [_absent("Cure log", "no cure log on file")],
        "pulls": [pull_picture(pictures, item) for item in paper.pulls]
        or [_absent("Pull curve", "no pull curve on file")],
        "planform": [planform_picture(pictures, paper.planform)]
        if paper.planform
        else [_absent("Planform", "no drawing given")],
        "properties": [wording.figure_row(figure) for figure in paper.properties],
        "lots": [[item.part, item.lot, item.maker_lot or "not given"] for item in paper.lots],
        "evidence": [[i.what, i.file, i.filed_by, i.filed_on.isoformat(), i.sha256] for i in paper.evidence],
        "hashes": _hashes(paper),
    }
    return pdf("blade.typ", data, pictures.files, at)


def _refuse_what_contradicts(paper: BladeRecordPaper) -> None:
    """A paper may never read better than its verdict."""
    verdict = paper.verdict
    words = [verdict.word.value]
    if verdict.word is Word.ACCEPTED_UNDER_DEVIATION:
        words = [f"{verdict.word.value} {', '.join(item.number for item in verdict.deviations)}".strip(), *words]
    if verdict.word in _MAY_FLY:
        words.append(_SIGNED_OUT)
    if paper.word not in words:
        raise BadInput(
            "says something else than the verdict",
            field="word",
            value=paper.word,
            allowed=" or ".join(words),
            fix="print the verdict's own word",
        )
    if paper.serial != verdict.serial:
        raise BadInput("is not the verdict's serial", field="serial", value=paper.serial, allowed=verdict.serial)
    if paper.drawing.sha256 != verdict.drawing_sha256:
        raise BadInput(
            "is not the drawing the verdict was given by",
            field="drawing.sha256",
            value=paper.drawing.sha256,
            allowed=verdict.drawing_sha256,
        )
    bad = [finding.rule for finding in verdict.findings if finding.outcome is Outcome.FAIL]
    if verdict.word is Word.ACCEPTED and (bad or verdict.missing_proofs):
        raise BadInput(
            "cannot be: a finding fails or a proof is missing",
            field="verdict.word",
            value=verdict.word.value,
            allowed="accepted only when nothing fails and nothing is missing",
            fix=f"judge again; look at {', '.join([*bad, *verdict.missing_proofs])}",
        )


def _mark(paper: BladeRecordPaper) -> str:
    return mark_text(paper.serial, paper.drawing.sha256, paper.word, paper.shop.chain_head)


def _answers(paper: BladeRecordPaper) -> list[dict[str, Any]]:
    """What the first page says: why, what next, under which conditions, what is missing or uncertain."""
    verdict = paper.verdict
    mates = verdict.may_fly_only_with
    conditions = list(paper.conditions)
    if mates is not None:
        conditions.append(f"may fly only with {', '.join(mates)}" if mates else "no mate satisfies all deviations")
    return [
        {"label": "First reason", "items": [verdict.first_reason or "no reason given"]},
        {"label": "Next step", "items": [verdict.next_step or "no next step given"]},
        {"label": "Conditions", "items": conditions or ["none entered"]},
        {"label": "Missing proofs", "items": list(verdict.missing_proofs) or ["none"]},
        {"label": "Findings", "items": [wording.counts(verdict.findings)]},
        {"label": "Marks on the figures", "items": mark_counts(all_figures(verdict.findings, paper.properties))},
    ]


def all_figures(findings: Sequence[Finding], others: Sequence[Figure]) -> list[Figure]:
    """Every figure a paper shows."""
    return [finding.worst for finding in findings if finding.worst is not None] + list(others)


def mark_counts(figures: Sequence[Figure]) -> list[str]:
    """How many figures carry which mark."""
    found = [mark for figure in figures for mark in wording.marks(figure)]
    kinds = (wording.UNVALIDATED, wording.NOT_QUANTIFIED, wording.OUTSIDE)
    said = [f"{kind}: {found.count(kind)} of {len(figures)} figures" for kind in kinds if kind in found]
    return said or ["none: every figure has its uncertainty and a source"]


def _covering(finding: Finding, verdict: Verdict) -> list[str]:
    return [item.number for item in verdict.deviations if item.rule == finding.rule]


def _deviation(item: Any, verdict: Verdict) -> dict[str, str]:
    stays = ", ".join(sorted({f.outcome.value for f in verdict.findings if f.rule == item.rule})) or "as it was"
    mates = f" May fly only with {', '.join(item.only_with)}." if item.only_with else ""
    return {
        "head": f"Accepted under deviation {item.number}: the finding “{item.rule}” stays {stays}.",
        "body": f"Accepted by {item.accepted_by} on {item.accepted_on.isoformat()}. Reason: {item.reason}{mates}",
    }


def signature_rows(signers: Sequence[Signer]) -> list[dict[str, str]]:
    """Those who acted, and an empty line for each act nobody is named for."""
    named = {signer.act for signer in signers}
    rows = [*signers, *(Signer(act) for act in _ACTS if act not in named)]
    rows.sort(key=lambda signer: _ACTS.index(signer.act) if signer.act in _ACTS else len(_ACTS))
    return [
        {
            "act": signer.act,
            "name": signer.name,
            "date": "" if signer.on is None else signer.on.isoformat(),
            "note": wording.NOT_PROVEN if signer.name and not signer.proven else "",
        }
        for signer in rows
    ]


def _hashes(paper: BladeRecordPaper) -> list[list[str]]:
    return [
        [f"drawing {paper.drawing.name} revision {paper.drawing.revision}", paper.drawing.sha256],
        ["what the verdict was computed from", paper.inputs_sha256],
        ["the verdict as stored", paper.verdict_sha256],
        [f"chain head of book {paper.shop.book_id}", paper.shop.chain_head],
        *([what, sha256] for what, sha256 in paper.verdict.evidence),
    ]


def _absent(title: str, note: str) -> dict[str, Any]:
    return {"title": title, "file": None, "alt": "", "note": note}
