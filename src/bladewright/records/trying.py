"""Whether blades of the book may be one set now: their verdicts, the tests of a set, the trim weight on the rig."""

import functools
from collections.abc import Sequence
from dataclasses import dataclass, field

from bladewright.drawing.file import BladeDrawing
from bladewright.errors import BadInput, MissingInput, Outdated
from bladewright.figures import Outcome, canonical, digest
from bladewright.pairing.drawn import terms_of
from bladewright.pairing.match import best_within
from bladewright.pairing.records import BladeSet, Candidate
from bladewright.pairing.terms import Terms
from bladewright.proof.records import Word
from bladewright.records.acts import Act
from bladewright.records.candidates import candidate
from bladewright.records.drawings import read_filed as read_drawing
from bladewright.records.evidence import WEIGHING, filed_for, read_filed
from bladewright.records.judging import StoredVerdict, latest_row, latest_verdict, refuse_unjudged_evidence
from bladewright.records.ready import models

MAY_FLY = (Word.ACCEPTED, Word.ACCEPTED_UNDER_DEVIATION)


def accepted(blade: models.Blade) -> models.Verdict:
    """The newest verdict, if it accepts the blade and knows of everything on file."""
    newest = latest_row(blade)
    if newest is None or newest.word not in MAY_FLY:
        raise BadInput(
            "may not fly",
            field="serial",
            value=blade.serial,
            allowed=" or ".join(MAY_FLY),
            fix=f"its verdict is: {newest.word}" if newest else "judge it first",
        )
    refuse_unjudged_evidence(blade, newest)
    return newest


def may_fly(blade: models.Blade) -> models.Verdict:
    """The verdict a blade may be matched on."""
    held = models.SetBlade.objects.select_related("set").filter(blade=blade).first()
    if held is not None:
        raise BadInput(
            f"is in set {held.set.name} already",
            field="serial",
            value=blade.serial,
            allowed="a blade in no set",
            fix="choose another blade",
        )
    return accepted(blade)


def candidate_in_book(blade: models.Blade, verdict: StoredVerdict) -> Candidate | None:
    """A blade of the book as matching sees it, or None if it was never weighed."""
    return candidate(read_drawing(blade.drawing), verdict.verdict, read_filed(filed_for(blade)))


def _candidate_of(blade: models.Blade) -> Candidate:
    verdict = latest_verdict(blade.serial)
    found = candidate_in_book(blade, verdict) if verdict else None
    if found is None:
        raise MissingInput("was never weighed", field="serial", value=blade.serial, fix="weigh it against the master")
    return found


def terms_of_row(row: models.Drawing) -> Terms:
    """What the drawing of a revision holds its sets to."""
    return _terms(_Filed(row.file.sha256, read_drawing(row)))


@dataclass(frozen=True, slots=True)
class _Filed:
    """A drawing known by its hash."""

    sha256: str
    drawing: BladeDrawing = field(compare=False)


@functools.lru_cache(maxsize=8)
def _terms(filed: _Filed) -> Terms:
    return terms_of(filed.drawing)


def tried(blades: Sequence[models.Blade]) -> tuple[BladeSet, str]:
    """These blades as a set, and how that is known."""
    serials = tuple(blade.serial for blade in blades)
    if len({blade.drawing_id for blade in blades}) != 1:
        raise BadInput(
            "are made to different drawing revisions",
            field="serials",
            value=", ".join(serials),
            allowed="blades of one revision",
            fix="match blades of one revision",
        )
    known = tuple(_candidate_of(blade) for blade in blades)
    for one in known:
        strangers = set(serials) - {one.serial} - set(one.only_with or serials)
        if strangers:
            raise BadInput(
                f"may fly only with {', '.join(one.only_with or ())}",
                field="serials",
                value=", ".join(sorted(strangers)),
                allowed=", ".join(one.only_with or ()),
                fix=f"the deviation on {one.serial} names its mates",
            )
    matching = best_within(known, len(blades), terms_of_row(blades[0].drawing))
    for match in matching.sets:
        if tuple(sorted(match.serials)) == serials:
            return match, matching.method
    why = "; ".join(f"{left.serial}: {left.reason}" for left in matching.leftovers)
    raise BadInput(
        "may not fly together",
        field="serials",
        value=", ".join(serials),
        allowed="blades that pass the tests of a set",
        fix=why or "match other blades",
    )


def referred(match: BladeSet) -> frozenset[str]:
    """The rules that left it to a person."""
    return frozenset(finding.rule for finding in match.findings if finding.outcome is Outcome.REFER)


def refuse_unfit(act: Act, match: BladeSet, decided: frozenset[str] = frozenset()) -> None:
    """No set with a test that failed or could not be made; one that refers needs a reason, unless given before."""
    for finding in match.findings:
        if finding.outcome in (Outcome.FAIL, Outcome.MISSING):
            raise BadInput(
                finding.sentence,
                field=finding.rule,
                value=finding.outcome.value,
                allowed=finding.limit or "a set that passes its tests",
                fix=finding.next_step or "match other blades",
            )
    undecided = [finding for finding in match.findings if finding.rule in referred(match) - decided]
    if undecided and not act.reason.strip():
        raise MissingInput(
            undecided[0].sentence,
            field="reason",
            value=act.reason,
            allowed="why these blades may fly together",
            fix="the person who decides says why",
        )


def mark_of(match: BladeSet) -> str:
    """What a set came to, as a hash: two looks with one mark saw the same."""
    return digest(canonical(match))


def refuse_other_than_shown(match: BladeSet, shown: str) -> None:
    """``Outdated`` if these blades come to something else than the person had before them; empty: nothing shown."""
    if shown and shown != mark_of(match):
        raise Outdated(
            "come to something else than was shown: a blade was measured, weighed or judged again since",
            field="serials",
            value=", ".join(match.serials),
            allowed="a decision on the newest figures",
            fix="look at the set again, then decide",
        )


def refuse_unweighed_trim(row: models.Set, formed: BladeSet) -> None:
    """Trim weight is reckoned when a set is formed; whether it was fitted, and did its work, only a rig tells."""
    for serial in dict.fromkeys(trim.serial for trim in formed.trim):
        since = models.Evidence.objects.filter(kind=WEIGHING, blades__blade__serial=serial, event_id__gt=row.event_id)
        if not since.exists():
            raise BadInput(
                "took trim weight and was not weighed again",
                field="serial",
                value=serial,
                allowed="a weighing filed since the set was formed",
                fix="fit the weight, weigh the blade against the master, file that, judge again",
            )


def refuse_more_trim(match: BladeSet) -> None:
    """A set tried again must pass as it was weighed, not with weight that is still to come."""
    if match.trim:
        first = match.trim[0]
        raise BadInput(
            "still differ: more trim weight is needed",
            field="serials",
            value=", ".join(match.serials),
            allowed="a set that passes as it was last weighed",
            fix=f"{1000.0 * first.mass:.1f} g in pocket {first.pocket} of {first.serial}, then weigh again",
        )
