"""The record of one set: which blades, why they may fly together, the trim weight, what is left between them."""

from typing import Any, Final

from bladewright.errors import BadInput
from bladewright.figures import Outcome
from bladewright.papers import wording
from bladewright.papers.difference_chart import difference_chart, difference_words
from bladewright.papers.frame import absent, all_figures, findings_data, frame, mark_counts, may_fly, signature_rows
from bladewright.papers.pictures import Pictures
from bladewright.papers.records import SetRecordPaper
from bladewright.papers.typeset import pdf, utc
from bladewright.units import written

_ACTS: Final = ("matched", "inspected", "accepted")
_GRAM: Final = 1000.0  # per kilogram
_WORDS: Final = {
    Outcome.PASS: "passes the tests of a set",
    Outcome.REFER: "refer: a named person decides",
    Outcome.MISSING: "cannot be judged yet",
    Outcome.FAIL: "fails the tests of a set",
}


def set_record(paper: SetRecordPaper) -> bytes:
    """The set record as PDF/A-2a and PDF/UA-1; the same paper always gives the same bytes."""
    serials = tuple(blade.serial for blade in paper.blades)
    if sorted(serials) != sorted(paper.match.serials):
        raise BadInput(
            "are not the blades that were matched",
            field="blades",
            value=", ".join(serials),
            allowed=", ".join(paper.match.serials),
            fix="give each blade of the set its verdict, and no other",
        )
    for blade in paper.blades:
        utc(blade.verdict_time, "blades.verdict_time")
    at, pictures, match = utc(paper.decided, "decided"), Pictures(), paper.match
    word, weight = _word(paper)
    data = frame(paper.shop, "Set", paper.name, paper.drawing, word, paper.decided, pictures)
    data["facts"].append(("Program", paper.engine_version))
    data |= findings_data(match.findings, {})
    data |= {
        "word-label": "These blades as a set",
        "weight": weight,
        "answers": _answers(paper, weight == "yes"),
        "signers": signature_rows(paper.signers, _ACTS),
        "blades": [[b.serial, b.word, wording.moment_text(b.verdict_time), b.verdict_sha256] for b in paper.blades],
        "trim": [[t.serial, t.pocket, f"{t.radius:.3f} m", f"{t.mass * _GRAM:.1f} g"] for t in match.trim],
        "force": _force(paper),
        "before": [wording.figure_row(figure) for figure in match.differences],
        "after": [wording.figure_row(figure) for figure in match.after_trim],
        "method": paper.method,
        "differences": absent("Differences", "no differences given"),
        "hashes": [
            [f"drawing {paper.drawing.name} revision {paper.drawing.revision}", paper.drawing.sha256],
            [f"chain head of book {paper.shop.book_id}", paper.shop.chain_head],
            *([f"verdict on {blade.serial}", blade.verdict_sha256] for blade in paper.blades),
        ],
    }
    if match.differences or match.after_trim or match.handle_force:
        alt, note = difference_words(paper)
        data["differences"] = pictures.add("Before and after trim weight", difference_chart(paper), alt, note)
    return pdf("set.typ", data, pictures.files, at)


def _word(paper: SetRecordPaper) -> tuple[str, str]:
    """The worst of what the tests and the blades' own verdicts say, and how heavily it is printed."""
    grounded = [blade.serial for blade in paper.blades if not may_fly(blade.word)]
    if grounded:
        return f"may not fly: {', '.join(grounded)} not accepted", "no"
    outcomes = [finding.outcome for finding in paper.match.findings]
    for outcome in (Outcome.FAIL, Outcome.MISSING, Outcome.REFER):
        if outcome in outcomes:
            return _WORDS[outcome], "no" if outcome is Outcome.FAIL else "wait"
    return (_WORDS[Outcome.PASS], "yes") if outcomes else (_WORDS[Outcome.MISSING], "wait")


def _reason_and_step(paper: SetRecordPaper, passed: bool) -> tuple[str, str]:
    """Why the set has its word and what to do next; nothing that did not pass is ever told to be signed out."""
    grounded = [blade for blade in paper.blades if not may_fly(blade.word)]
    if grounded:
        return f"{grounded[0].serial} is {grounded[0].word}", "keep the blades apart; match again with accepted blades"
    worst = wording.worst_first(paper.match.findings)
    if not worst:
        return "no test was made of this set", "test the set before it flies"
    if passed:
        return worst[0].sentence, "fit the trim weight, weigh again, sign out"
    return worst[0].sentence, worst[0].next_step or "do not fly this set; a named person decides"


def _answers(paper: SetRecordPaper, passed: bool) -> list[dict[str, Any]]:
    match = paper.match
    reason, step = _reason_and_step(paper, passed)
    trim = [f"{t.mass * _GRAM:.1f} g in {t.serial}, pocket {t.pocket}" for t in match.trim]
    conditions = [
        *paper.conditions,
        *(f"{blade.serial}: {item}" for blade in paper.blades for item in blade.conditions),
    ]
    figures = [*match.differences, *match.after_trim, *([match.handle_force] if match.handle_force else [])]
    return [
        {"label": "Blades", "items": [f"{blade.serial}: {blade.word}" for blade in paper.blades]},
        {"label": "First reason", "items": [reason]},
        {"label": "Trim weight", "items": trim or ["none"]},
        {"label": "Next step", "items": [step]},
        {"label": "Handle force of the set", "items": _force(paper)},
        {"label": "Conditions", "items": conditions or ["none entered"]},
        {"label": "Findings", "items": [wording.counts(match.findings)]},
        {"label": "Marks on the figures", "items": mark_counts(all_figures(match.findings, figures))},
    ]


def _force(paper: SetRecordPaper) -> list[str]:
    """The force at the handle beside the band it must stay in."""
    force, band = paper.match.handle_force, paper.handle_band
    said = ["not known"] if force is None else [wording.value_text(force), *wording.marks(force)]
    if band is None:
        return [*said, "no band entered"]
    low, high = (
        f"{written(edge, 'N', 'force', 3)} ({written(edge, 'lbf', 'force', 3)})" for edge in (band.least, band.greatest)
    )
    return [*said, f"band {low} to {high}; positive: the pilot pulls up to hold it"]
