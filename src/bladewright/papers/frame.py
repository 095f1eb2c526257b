"""What every paper carries, whatever it is about: whose it is, the state of the book, signatures, cautions, marks."""

import datetime
from collections.abc import Sequence
from typing import Any, Final

from bladewright.figures import Figure, Finding, Outcome, clock_text
from bladewright.papers import wording
from bladewright.papers.matrix import Mark, mark_svg, mark_text
from bladewright.papers.pictures import Pictures
from bladewright.papers.records import DrawingRevision, Shop, Signer
from bladewright.proof.records import Word

_ACTS: Final = ("made", "inspected", "accepted")
_ON_FIRST_PAGE: Final = 5  # findings that fit above the signatures [count]
SIGNED_OUT: Final = "signed out"


def may_fly(word: str) -> bool:
    """Whether a blade with this word may be put into a set."""
    return word in (Word.ACCEPTED, SIGNED_OUT) or word.startswith(Word.ACCEPTED_UNDER_DEVIATION)


def frame(
    shop: Shop, kind: str, name: str, drawing: DrawingRevision, word: str, at: datetime.datetime, pictures: Pictures
) -> dict[str, Any]:
    """Head, foot, title and Data Matrix of a paper."""
    text = mark_text(Mark(name, drawing.sha256, word, shop.chain_head))
    pictures.files["mark.svg"], width = mark_svg(text)
    return {
        "kind": f"{kind} record",
        "title": f"{kind} {name}",
        "description": f"{wording.STANDING}. {word}.",
        "keywords": [name, drawing.name, word],
        "running": f"{shop.name} · {name} · {word}",
        "standing": wording.STANDING,
        "shop": shop.name,
        "book": shop.book_id,
        "head": shop.chain_head,
        "demo": shop.demo,
        "facts": [
            ("Drawing", f"{drawing.name} revision {drawing.revision}"),
            ("Decided", clock_text(at)),
        ],
        "mark": {"text": text, "width": width, "says": "scan: name; drawing; word; chain head"},
        "word": word,
        "cautions": wording.CAUTIONS,
    }


def findings_data(
    findings: Sequence[Finding], covered: dict[str, list[str]], zone: datetime.tzinfo | None
) -> dict[str, Any]:
    """The findings table, worst first, and the few that go on the first page. ``covered``: deviations by rule."""
    ordered = wording.worst_first(findings)
    rows = [wording.finding_row(finding, covered.get(finding.rule, []), zone) for finding in ordered]
    not_passed = sum(finding.outcome is not Outcome.PASS for finding in findings)
    more = not_passed - _ON_FIRST_PAGE
    return {
        "findings": rows,
        "worst": rows[: min(not_passed, _ON_FIRST_PAGE)],
        "worst-more": f"and {more} more in the table of all findings" if more > 0 else "",
        "worst-none": "Every rule passed." if findings else "No rule was judged.",
        "counts": wording.counts(findings),
    }


def all_figures(findings: Sequence[Finding], others: Sequence[Figure]) -> list[Figure]:
    """Every figure a paper shows."""
    return [finding.worst for finding in findings if finding.worst is not None] + list(others)


def mark_counts(figures: Sequence[Figure]) -> list[str]:
    """How many figures carry which mark."""
    found = [mark for figure in figures for mark in wording.marks(figure)]
    kinds = (wording.UNVALIDATED, wording.NOT_QUANTIFIED, wording.OUTSIDE)
    said = [f"{kind}: {found.count(kind)} of {len(figures)} figures" for kind in kinds if kind in found]
    if not figures:
        return ["no figures given"]
    return said or ["none: every figure has its uncertainty and validated inputs"]


def signature_rows(signers: Sequence[Signer], acts: Sequence[str] = _ACTS) -> list[dict[str, str]]:
    """Those who acted, and an empty line for each act nobody is named for."""
    named = {signer.act for signer in signers}
    rows = [*signers, *(Signer(act) for act in acts if act not in named)]
    rows.sort(key=lambda signer: acts.index(signer.act) if signer.act in acts else len(acts))
    return [
        {
            "act": signer.act,
            "name": signer.name,
            "date": "" if signer.on is None else signer.on.isoformat(),
            "note": wording.NOT_PROVEN if signer.name and not signer.proven else "",
        }
        for signer in rows
    ]


def absent(title: str, note: str) -> dict[str, Any]:
    """A picture that cannot be drawn because nothing is on file, and the words that say so."""
    return {"title": title, "file": None, "alt": "", "note": note}
