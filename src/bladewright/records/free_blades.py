"""Blades in no set: which may be matched, what matching knows of each, and what keeps the others back."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass

from django.db.models import Count, OuterRef, Subquery

from bladewright.errors import BadInput, MissingInput
from bladewright.pairing.records import Candidate, Leftover
from bladewright.proof.records import Verdict
from bladewright.records.candidates import candidate_of
from bladewright.records.drawings import drawing_named
from bladewright.records.drawings import read_filed as read_drawing
from bladewright.records.evidence import DIMENSIONS, WEIGHING, read_filed
from bladewright.records.ready import models
from bladewright.records.restoring import restored_text
from bladewright.records.trying import MAY_FLY
from bladewright.records.worked_out import key_of, remember, remembered

QUESTION = "what matching may know of a blade"
OnFile = tuple[tuple[str, str, int], ...]  # kind, hash and event of everything on file for a blade


@dataclass(frozen=True, slots=True)
class FreeBlades:
    """The blades of one drawing revision that are in no set."""

    drawing: models.Drawing
    candidates: tuple[Candidate, ...]  # by serial
    held_back: tuple[Leftover, ...]  # may not be matched, and why
    waiting: tuple[str, ...]  # serials whose flight effects are not worked out yet


@dataclass(frozen=True, slots=True)
class _Accepted:
    """An accepted blade and the hashes of all that matching knows it by."""

    blade: int
    serial: str
    files: tuple[str, ...]
    only_with: tuple[str, ...] | None


def free_blades(row: models.Drawing, *, at_most: int | None = None, first: Collection[str] = ()) -> FreeBlades:
    """Every blade of the revision that is in no set. Five queries, however many there are.

    The flight effects of a blade take about a second to work out and are kept; ``at_most`` says for how many blades
    that is done now, the others come back as waiting; these serials ``first``. None: for all.
    """
    newest = models.Verdict.objects.filter(blade_id=OuterRef("id")).order_by("-id")
    free = models.Blade.objects.filter(drawing=row, in_set__isnull=True).annotate(
        word=Subquery(newest.values("word")[:1]), judged=Subquery(newest.values("event_id")[:1])
    )
    rows = list(free.order_by("serial").values_list("id", "serial", "word", "judged"))
    judged = {blade: event for blade, _, word, event in rows if word in MAY_FLY}
    filed = _filed(judged)
    bound = _bound(judged)
    accepted, held_back = [], []
    for blade, serial, word, event in rows:
        on_file = filed.get(blade, ())
        reason = _reason(word, event, on_file)
        if reason:
            held_back.append(Leftover(serial, f"may not be matched: {reason}"))
        else:
            accepted.append(_Accepted(blade, serial, _known_by(on_file), bound.get(blade)))
    known, waiting = _known(row, sorted(accepted, key=lambda one: one.serial not in first), at_most)
    return FreeBlades(row, known, tuple(held_back), waiting)


def candidates_of(row: models.Drawing, blades: Mapping[int, str]) -> tuple[Candidate, ...]:
    """What matching knows of accepted blades of one revision, by number and serial, in a set or not, as filed now.

    One that was never weighed is left out.
    """
    filed, bound = _filed(blades), _bound(blades)
    accepted = [
        _Accepted(blade, serial, _known_by(filed[blade]), bound.get(blade))
        for blade, serial in blades.items()
        if _weighed(filed.get(blade, ()))
    ]
    return _known(row, accepted, None)[0]


def _weighed(on_file: OnFile) -> bool:
    return any(kind == WEIGHING for kind, _, _ in on_file)


def _known_by(on_file: OnFile) -> tuple[str, ...]:
    return tuple(sha256 for kind, sha256, _ in on_file if kind in (DIMENSIONS, WEIGHING))


def the_drawing(name: str = "", revision: str = "") -> models.Drawing:
    """The revision asked for, or the only one that has blades in no set."""
    if name:
        return drawing_named(name, revision)
    used = [row for row, _ in drawings_with_free_blades()]
    if len(used) != 1:
        raise MissingInput(
            "the book has unmatched blades of several drawing revisions, or of none",
            field="drawing",
            allowed=", ".join(f"{row.name} {row.revision}" for row in used) or "a drawing with blades",
            fix="name the drawing and its revision",
        )
    return used[0]


def drawings_with_free_blades() -> tuple[tuple[models.Drawing, int], ...]:
    """Every revision with blades in no set and how many, in the order filed."""
    counts = dict(
        models.Blade.objects.filter(in_set__isnull=True)
        .values_list("drawing_id")
        .annotate(blades=Count("id"))
        .order_by("drawing_id")
    )
    rows = models.Drawing.objects.select_related("file", "event").filter(id__in=counts).order_by("id")
    return tuple((row, counts[row.id]) for row in rows)


def _reason(word: str | None, judged: int | None, on_file: OnFile) -> str:
    """What keeps a blade back, or nothing."""
    if word is None or judged is None:
        return "never judged"
    if word not in MAY_FLY:
        return word
    later = [kind for kind, _, event in on_file if event > judged]
    if later:
        return f"evidence was filed since the verdict: {later[-1]}; judge it again"
    return "" if _weighed(on_file) else "never weighed"


def _filed(blades: Iterable[int]) -> dict[int, OnFile]:
    """Kind, hash and event of everything on file for each blade, in the order filed."""
    found: dict[int, list[tuple[str, str, int]]] = {}
    rows = models.EvidenceOf.objects.filter(blade_id__in=list(blades)).order_by("evidence_id")
    for blade, kind, sha256, event in rows.values_list(
        "blade_id", "evidence__kind", "evidence__file__sha256", "evidence__event_id"
    ):
        found.setdefault(blade, []).append((kind, sha256, event))
    return {blade: tuple(items) for blade, items in found.items()}


def _bound(blades: Iterable[int]) -> dict[int, tuple[str, ...] | None]:
    """The only mates of blades that were accepted under a deviation, as their newest verdict says."""
    under = models.Deviation.objects.filter(blade_id__in=list(blades)).values_list("blade_id", flat=True).distinct()
    newest = models.Verdict.objects.filter(blade_id=OuterRef("blade_id")).order_by("-id").values("id")[:1]
    rows = models.Verdict.objects.filter(blade_id__in=list(under), id=Subquery(newest))
    return {
        blade: restored_text(Verdict, body).may_fly_only_with for blade, body in rows.values_list("blade_id", "body")
    }


def _known(
    row: models.Drawing, accepted: list[_Accepted], at_most: int | None
) -> tuple[tuple[Candidate, ...], tuple[str, ...]]:
    known, waiting = [], []
    for one in accepted:
        key = key_of(QUESTION, {"drawing": row.file.sha256, "serial": one.serial, "files": one.files,
                                "only_with": one.only_with})  # fmt: skip
        found = remembered(Candidate, key)
        if found is None and (at_most is None or at_most > 0):
            at_most = None if at_most is None else at_most - 1
            found = _worked_out(row, one)
            remember(key, found)
        if found is None:
            waiting.append(one.serial)
        else:
            known.append(found)
    return tuple(sorted(known, key=lambda blade: blade.serial)), tuple(sorted(waiting))


def _worked_out(row: models.Drawing, one: _Accepted) -> Candidate:
    """From the measurements and weighings on file; nothing else of the evidence is read."""
    rows = models.Evidence.objects.select_related("file", "description", "pull", "event")
    measured = rows.filter(blades__blade_id=one.blade, kind__in=(DIMENSIONS, WEIGHING)).order_by("id")
    found = candidate_of(read_drawing(row), row.file.sha256, one.serial, read_filed(tuple(measured)), one.only_with)
    if found is None:
        raise BadInput("was never weighed", field="serial", value=one.serial, fix="weigh it against the master")
    return found
