"""Sets: proposed from all accepted blades, formed by a person who may match, signed out by one who may release."""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass

from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.limits import MatchLimits
from bladewright.errors import BadInput, BookBusy, MissingInput
from bladewright.figures import Outcome, canonical
from bladewright.pairing.match import best_sets
from bladewright.pairing.records import BladeSet, Candidate, Leftover, Matching
from bladewright.pairing.track import track_model
from bladewright.proof.records import Word
from bladewright.records.acts import Act, Scope
from bladewright.records.blades import blade_named
from bladewright.records.candidates import balance_of, candidate
from bladewright.records.chain import moment
from bladewright.records.checking import refuse_disagreeing
from bladewright.records.drawings import drawing_named
from bladewright.records.drawings import read_filed as read_drawing
from bladewright.records.evidence import filed_for, read_filed
from bladewright.records.judging import StoredVerdict, latest_row, latest_verdict, refuse_unjudged_evidence
from bladewright.records.ready import models
from bladewright.records.restoring import restored_text
from bladewright.records.writing import require, writing

MAY_FLY = (Word.ACCEPTED, Word.ACCEPTED_UNDER_DEVIATION)


@dataclass(frozen=True, slots=True)
class SetFormed:
    """A set in the book."""

    name: str
    match: BladeSet
    method: str
    already: bool


@dataclass(frozen=True, slots=True)
class SignedOut:
    """A set released to fly."""

    name: str
    serials: tuple[str, ...]
    by: str
    at: datetime.datetime
    already: bool


@dataclass(frozen=True, slots=True)
class SetLine:
    """One set at a glance."""

    name: str
    serials: tuple[str, ...]
    formed_by: str
    signed_out_by: str  # "" until it is


def propose_sets(size: int = 2, *, drawing: str = "", revision: str = "") -> Matching:
    """The best sets of every accepted blade that is in none. Nothing is written.

    Only blades of one drawing revision are matched; name it when the book has blades of several.
    """
    row = _the_drawing(drawing, revision)
    known: list[Candidate] = []
    left: list[Leftover] = []
    for blade in models.Blade.objects.filter(drawing=row, in_set__isnull=True).order_by("serial"):
        verdict = latest_verdict(blade.serial)
        if verdict is None or verdict.verdict.word not in MAY_FLY:
            word = "never judged" if verdict is None else verdict.verdict.word.value
            left.append(Leftover(blade.serial, f"may not be matched: {word}"))
        elif (found := _candidate(blade, verdict)) is None:
            left.append(Leftover(blade.serial, "may not be matched: never weighed"))
        else:
            known.append(found)
    matching = _matched(read_drawing(row), tuple(known), size)
    return Matching(matching.sets, (*matching.leftovers, *left), matching.total_cost, matching.method)


def form_set(act: Act, name: str, serials: Sequence[str]) -> SetFormed:
    """Put accepted blades together, if the tests of a set allow it.

    A test that fails, or waits for something missing, forms no set. One that refers needs a reason in ``act``.
    """
    wanted = tuple(sorted(set(serials)))
    if not name.strip() or len(wanted) < 2:
        raise BadInput(
            "a set has a name and two blades at least",
            field="serials",
            value=", ".join(wanted),
            allowed="two serials or more",
            fix="name them",
        )
    require(act, Scope.MATCH)
    before = models.Set.objects.filter(name=name).first()
    if before is not None:
        return _same_set(before, wanted)
    blades = [blade_named(serial) for serial in wanted]
    verdicts = [_may_fly(blade) for blade in blades]
    match, method = _tried(blades)  # before the book is locked, so that others can go on writing
    _refuse_unfit(act, match)
    with writing(act, "set formed", name, Scope.MATCH) as entry:
        before = models.Set.objects.filter(name=name).first()
        if before is not None:
            return _same_set(before, wanted)
        if [_may_fly(blade).id for blade in blades] != [verdict.id for verdict in verdicts]:
            raise BookBusy("a blade was judged meanwhile", field="serials", value=", ".join(wanted), fix="try again")
        made = entry.add(models.Set(name=name, match=canonical(match).decode("utf-8"), method=method))
        for blade, verdict in zip(blades, verdicts, strict=True):
            entry.add(models.SetBlade(set=made, blade=blade, verdict=verdict))
        return SetFormed(name, match, method, already=False)


def sign_out(act: Act, name: str) -> SignedOut:
    """Release a set. Every blade's newest verdict must still be the one it was matched on, in a book that is whole."""
    require(act, Scope.RELEASE)
    refuse_disagreeing()
    with writing(act, "set signed out", name, Scope.RELEASE) as entry:
        row = set_named(name)
        serials = serials_of(row)
        before = models.SignOut.objects.select_related("event").filter(set=row).first()
        if before is not None:
            return SignedOut(name, serials, before.event.by, moment(before.event.at), already=True)
        for held in row.blades.select_related("blade", "verdict"):
            newest = latest_row(held.blade)
            if newest is None or newest.id != held.verdict_id:
                raise BadInput(
                    "was judged again since the set was formed",
                    field="serial",
                    value=held.blade.serial,
                    allowed=f"the verdict it was matched on ({held.verdict.word})",
                    fix="look at the newer verdict; this set is not released",
                )
            refuse_unjudged_evidence(held.blade, newest)
        entry.add(models.SignOut(set=row))
        return SignedOut(name, serials, act.by, act.at, already=False)


def all_sets() -> tuple[SetLine, ...]:
    """Every set, in the order formed."""
    out = {row.set_id: row.event.by for row in models.SignOut.objects.select_related("event")}
    rows = models.Set.objects.select_related("event").order_by("id")
    return tuple(SetLine(row.name, serials_of(row), row.event.by, out.get(row.id, "")) for row in rows)


def set_named(name: str) -> models.Set:
    """The row of a set; ``MissingInput`` if there is none."""
    row = models.Set.objects.select_related("event").filter(name=name).first()
    if row is None:
        raise MissingInput("is not in the book", field="set", value=name, allowed="a formed set", fix="form it first")
    return row


def serials_of(row: models.Set) -> tuple[str, ...]:
    """The blades of a set."""
    return tuple(row.blades.order_by("blade__serial").values_list("blade__serial", flat=True))


def match_of(row: models.Set) -> BladeSet:
    """Why these blades may fly together, as it was found when the set was formed."""
    return restored_text(BladeSet, row.match)


def _same_set(before: models.Set, wanted: tuple[str, ...]) -> SetFormed:
    serials = serials_of(before)
    if serials != wanted:
        raise BadInput(
            f"is the set of {', '.join(serials)}",
            field="name",
            value=before.name,
            allowed="a name no set has",
            fix="choose another name",
        )
    return SetFormed(before.name, match_of(before), before.method, already=True)


def _may_fly(blade: models.Blade) -> models.Verdict:
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


def _candidate_of(blade: models.Blade) -> Candidate:
    verdict = latest_verdict(blade.serial)
    found = _candidate(blade, verdict) if verdict else None
    if found is None:
        raise MissingInput("was never weighed", field="serial", value=blade.serial, fix="weigh it against the master")
    return found


def _candidate(blade: models.Blade, verdict: StoredVerdict) -> Candidate | None:
    return candidate(read_drawing(blade.drawing), verdict.verdict, read_filed(filed_for(blade)))


def _matched(drawing: BladeDrawing, known: tuple[Candidate, ...], size: int) -> Matching:
    rotor = drawing.rotor
    return best_sets(
        known,
        _limits(drawing),
        size=size,
        pockets=drawing.trim.pockets,
        balance=balance_of(drawing),
        weighing=drawing.limits.weighing,
        handle_band=rotor.handle_band if rotor else None,
        friction=rotor.control.friction if rotor and rotor.control else None,
        track=track_model(drawing),
        rotor_speed=rotor.speeds.normal if rotor else None,
    )


def _limits(drawing: BladeDrawing) -> MatchLimits:
    if drawing.limits.match is None:
        raise MissingInput(
            "no limits are entered for matching",
            field="limits.match",
            allowed="how alike the blades of a set must be",
            fix="enter limits.match in the drawing",
        )
    return drawing.limits.match


def _tried(blades: Sequence[models.Blade]) -> tuple[BladeSet, str]:
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
    matching = _matched(read_drawing(blades[0].drawing), known, len(blades))
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


def _refuse_unfit(act: Act, match: BladeSet) -> None:
    for finding in match.findings:
        if finding.outcome in (Outcome.FAIL, Outcome.MISSING):
            raise BadInput(
                finding.sentence,
                field=finding.rule,
                value=finding.outcome.value,
                allowed=finding.limit or "a set that passes its tests",
                fix=finding.next_step or "match other blades",
            )
    referred = [finding for finding in match.findings if finding.outcome is Outcome.REFER]
    if referred and not act.reason.strip():
        raise MissingInput(
            referred[0].sentence,
            field="reason",
            value=act.reason,
            allowed="why these blades may fly together",
            fix="the person who matches them decides and says why",
        )


def _the_drawing(name: str, revision: str) -> models.Drawing:
    if name:
        return drawing_named(name, revision)
    used = models.Drawing.objects.select_related("file", "event").filter(
        id__in=models.Blade.objects.filter(in_set__isnull=True).values("drawing_id")
    )
    if used.count() != 1:
        raise MissingInput(
            "the book has unmatched blades of several drawing revisions, or of none",
            field="drawing",
            allowed=", ".join(f"{row.name} {row.revision}" for row in used) or "a drawing with blades",
            fix="name the drawing and its revision",
        )
    return used[0]
