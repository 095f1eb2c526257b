"""Open blades sorted by what each waits for, from the tables alone: no file is read to know that a proof is missing."""

import json
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from bladewright.evidence.dimension_sheet import read_dimension_sheet
from bladewright.figures import counted
from bladewright.proof.records import Word
from bladewright.proof.tolerances import DIMENSIONS as DIMENSIONS_PROOF
from bladewright.proof.tolerances import HOLES, proof_of
from bladewright.proof.verdict import FROM_MEASUREMENT
from bladewright.records.acts import Scope
from bladewright.records.drawings import read_filed as read_drawing
from bladewright.records.evidence import COUPON, CURE, DIMENSIONS, SIGNED, VOID_MAP, WEIGHING
from bladewright.records.hands import may_sign
from bladewright.records.keeping import kept
from bladewright.records.open_blades import LOOKED_AT, OpenBlade, open_blades
from bladewright.records.ready import models
from bladewright.records.trying import MAY_FLY
from bladewright.records.waiting_lines import SHOWN, Found, Place

#: who files a proof that is measured; every other is a signed record
_FILED_BY: Final[dict[str, tuple[Scope, ...]]] = {
    "cure": (Scope.CURE,), "coupon": (Scope.INSPECT,), DIMENSIONS_PROOF: (Scope.INSPECT,), HOLES: (Scope.INSPECT,),
    "weighing": (Scope.INSPECT, Scope.MAKE),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Sorted:
    """What the open blades wait for, each kind with its count and the first of them."""

    short: tuple[int, tuple[Found, ...]]
    cures: tuple[int, tuple[Found, ...]]
    to_judge: tuple[int, tuple[Found, ...]]
    held: tuple[int, tuple[Found, ...]]
    rejected: tuple[int, tuple[Found, ...]]
    accepted: tuple[int, tuple[Found, ...]]
    in_sets: frozenset[int]  # sets that are not signed out
    stale_in_sets: frozenset[int]  # those with a blade that is to be judged again
    more: bool  # more blades are open than were looked at


def sorted_blades() -> Sorted:
    """Every open blade under the one thing it waits for."""
    blades = open_blades()
    more = len(blades) > LOOKED_AT
    blades = blades[:LOOKED_AT]
    stale = [blade for blade in blades if blade.verdict_id is None or blade.stale]
    on_file = _on_file([blade.id for blade in stale])
    lacking = _lacking([b for b in stale if b.word in ("", Word.INCOMPLETE)], on_file)
    by_word = {word: [b for b in blades if not b.stale and b.word == word and b.set_id is None] for word in Word}
    short = sorted(
        [*(b for b in stale if lacking.get(b.id)), *by_word[Word.INCOMPLETE]],
        key=lambda b: max(b.filed, b.judged, b.begun),
    )
    to_judge = sorted((b for b in stale if not lacking.get(b.id)), key=lambda b: max(b.filed, b.deviated))
    held, rejected = by_word[Word.HELD], by_word[Word.REJECTED]
    accepted = [blade for word in MAY_FLY for blade in by_word[word]]
    said = _said([*short[:SHOWN], *held[:SHOWN], *rejected[:SHOWN]])
    return Sorted(
        short=(len(short), tuple(_short(b, lacking.get(b.id), said) for b in short[:SHOWN])),
        cures=_cures(stale, on_file),
        to_judge=(len(to_judge), tuple(_to_judge(b) for b in to_judge[:SHOWN])),
        held=(len(held), tuple(_held(b, said) for b in held[:SHOWN])),
        rejected=(len(rejected), tuple(_rejected(b, said) for b in rejected[:SHOWN])),
        accepted=(len(accepted), _mates(accepted)),
        in_sets=frozenset(b.set_id for b in blades if b.set_id is not None),
        stale_in_sets=frozenset(b.set_id for b in stale if b.set_id is not None),
        more=more,
    )


@dataclass(frozen=True, slots=True)
class _Piece:
    """One piece of evidence on file for a blade."""

    id: int
    event: int
    kind: str
    about: str
    file_id: int
    pulled: bool


def _on_file(ids: Sequence[int]) -> dict[int, list[_Piece]]:
    found: defaultdict[int, list[_Piece]] = defaultdict(list)
    rows = models.EvidenceOf.objects.filter(blade_id__in=ids).values_list(
        "blade_id", "evidence_id", "evidence__event_id", "evidence__kind", "evidence__about", "evidence__file_id",
        "evidence__pull_id",
    )  # fmt: skip
    for blade, number, event, kind, about, file, pull in rows:
        found[blade].append(_Piece(number, event, kind, about, file, pull is not None))
    return found


def _lacking(blades: Sequence[OpenBlade], on_file: dict[int, list[_Piece]]) -> dict[int, tuple[str, ...]]:
    """The required proofs with nothing on file, as judging would find them.

    A dimension sheet is read only where nothing but what it may speak for is in question.
    """
    drawings = models.Drawing.objects.select_related("file").in_bulk({blade.drawing_id for blade in blades})
    required = {number: read_drawing(row).required_proofs for number, row in drawings.items()}
    found, unsure = {}, []
    for blade in blades:
        there = _proofs(on_file.get(blade.id, ()))
        missing = tuple(proof for proof in required[blade.drawing_id] if proof not in there)
        found[blade.id] = missing
        if any(piece.kind == DIMENSIONS for piece in on_file.get(blade.id, ())):
            unsure += [blade] if set(missing) <= {HOLES} else []
    sheets = {p.file_id for b in unsure for p in on_file[b.id] if p.kind == DIMENSIONS}
    measured = {row.id: _measured(row) for row in models.StoredFile.objects.filter(id__in=sheets)} if sheets else {}
    for blade in unsure:
        pieces = on_file[blade.id]
        told = frozenset(p for piece in pieces for p in measured.get(piece.file_id, ()))
        there = (_proofs(pieces) - {DIMENSIONS_PROOF}) | told
        found[blade.id] = tuple(proof for proof in required[blade.drawing_id] if proof not in there)
    return found


def _proofs(pieces: Iterable[_Piece]) -> set[str]:
    there = {piece.about for piece in pieces if piece.kind == SIGNED} - FROM_MEASUREMENT
    there |= {"cure" for piece in pieces if piece.kind == CURE}
    there |= {"coupon" for piece in pieces if piece.kind == COUPON and piece.pulled}
    there |= {DIMENSIONS_PROOF for piece in pieces if piece.kind == DIMENSIONS}
    there |= {"weighing" for piece in pieces if piece.kind == WEIGHING}
    there |= {VOID_MAP for piece in pieces if piece.kind == VOID_MAP}
    return there


def _measured(file: models.StoredFile) -> frozenset[str]:
    return frozenset(proof_of(row.feature) for row in read_dimension_sheet(kept(file), file.name).rows)


def _said(blades: Sequence[OpenBlade]) -> dict[int, dict[str, object]]:
    """Reason, next step and missing proofs of the newest verdicts."""
    ids = [blade.verdict_id for blade in blades if blade.verdict_id is not None]
    rows = models.Verdict.objects.filter(id__in=ids).values_list("id", "body")
    return {number: json.loads(body) for number, body in rows}


def _text(said: dict[int, dict[str, object]], blade: OpenBlade, field: str) -> str:
    return str(said.get(blade.verdict_id or 0, {}).get(field, ""))


def _short(blade: OpenBlade, missing: tuple[str, ...] | None, said: dict[int, dict[str, object]]) -> Found:
    if missing is None:  # judged on all that is on file
        listed = said.get(blade.verdict_id or 0, {}).get("missing_proofs")
        missing = tuple(str(proof) for proof in listed) if isinstance(listed, list) else ()
    if not missing:
        why, step = _text(said, blade, "first_reason"), _text(said, blade, "next_step")
        return _of(blade, why, step, (Scope.INSPECT, Scope.MAKE), blade.judged)
    first = missing[0]
    needs = _FILED_BY.get(first) or may_sign(first)
    since = max(blade.filed, blade.judged, blade.begun)
    return _of(blade, f"Short of {', '.join(missing)}.", f"File the {first}", needs, since)


def _to_judge(blade: OpenBlade) -> Found:
    if blade.verdict_id is None:
        why = "Every required proof is on file, and nobody has judged it."
    else:
        newer = "a deviation was accepted" if blade.deviated > blade.filed else "evidence was filed"
        why = f"Its verdict ({blade.word}) does not know everything: {newer} since."
    return _of(blade, why, "Judge it", (Scope.INSPECT,), max(blade.filed, blade.deviated))


def _held(blade: OpenBlade, said: dict[int, dict[str, object]]) -> Found:
    step = _text(said, blade, "next_step") or "Decide on what is referred"
    return _of(blade, _text(said, blade, "first_reason"), step, (Scope.DESIGN,), blade.judged)


def _rejected(blade: OpenBlade, said: dict[int, dict[str, object]]) -> Found:
    step = (
        "Ask for a deviation where one is allowed; else mutilate it before a witness and sign that its serial is closed"
    )
    return _of(blade, _text(said, blade, "first_reason"), step, (Scope.INSPECT, Scope.DESIGN), blade.judged)


def _mates(accepted: Sequence[OpenBlade]) -> tuple[Found, ...]:
    """One line for the accepted blades of each drawing revision: they are matched together."""
    of: defaultdict[int, list[OpenBlade]] = defaultdict(list)
    for blade in sorted(accepted, key=lambda one: one.judged):
        of[blade.drawing_id].append(blade)
    drawings = models.Drawing.objects.in_bulk(list(of)) if of else {}
    lines = []
    for number, blades in list(of.items())[:SHOWN]:
        row = drawings[number]
        serials = [blade.serial for blade in blades]
        more = f" and {len(serials) - SHOWN} more" if len(serials) > SHOWN else ""
        why = f"Accepted and in no set: {', '.join(serials[:SHOWN])}{more}."
        what = f"{counted(len(serials), 'blade')} of {row.name} {row.revision}"
        step = "Match them" if len(serials) > 1 else "It waits for a second blade"
        lines.append(
            Found(
                Place("sets", row.name, row.revision),
                what,
                why,
                step,
                (Scope.MATCH,),
                blades[0].judged,
                holds=len(blades),
            )
        )
    return tuple(lines)


def _of(blade: OpenBlade, why: str, step: str, needs: tuple[Scope, ...], event: int) -> Found:
    return Found(Place("blade", blade.serial), blade.serial, why, step.removesuffix("."), needs, event)


def _cures(stale: Sequence[OpenBlade], on_file: dict[int, list[_Piece]]) -> tuple[int, tuple[Found, ...]]:
    """Runs whose log no verdict has looked at yet, each with the serials that were in it."""
    runs: defaultdict[tuple[int, int, int], list[str]] = defaultdict(list)
    for blade in stale:
        for piece in on_file.get(blade.id, ()):
            if piece.kind == CURE and piece.event > blade.judged:
                runs[piece.event, piece.id, piece.file_id].append(blade.serial)
    first = sorted(runs)[:SHOWN]
    files = {row.id: row for row in models.StoredFile.objects.filter(id__in=[file for _, _, file in first])}
    return len(runs), tuple(
        _cure(files[file], sorted(runs[event, number, file]), event) for event, number, file in first
    )


def _cure(file: models.StoredFile, serials: Sequence[str], event: int) -> Found:
    why = f"No verdict has looked at this run yet; in it: {', '.join(serials)}."
    return Found(Place("run", file.sha256), file.name, why, f"Judge {serials[0]}", (Scope.INSPECT,), event)
