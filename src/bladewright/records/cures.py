"""The cures on file: a page of them at a glance, and one read and judged whole.

What is read from kept bytes is kept in memory under their hashes, which can only ever mean the same log and verdict.
"""

import datetime
import functools
import json
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from django.db.models import OuterRef, Q, Subquery

from bladewright.drawing.limits import CureLimits
from bladewright.errors import MissingInput
from bladewright.evidence.cure_log import read_cure_log
from bladewright.evidence.description import parse_logger_description
from bladewright.evidence.records import CureLog
from bladewright.figures import WORST_FIRST, Finding, Outcome
from bladewright.proof.cure import judge_cure
from bladewright.records.chain import moment
from bladewright.records.drawings import read_filed as read_drawing
from bladewright.records.evidence import CURE
from bladewright.records.keeping import kept
from bladewright.records.ready import models


@dataclass(frozen=True, slots=True)
class CureLine:
    """One filed cure at a glance."""

    number: int  # grows in the order filed
    sha256: str
    file: str
    logger: str
    serials: tuple[str, ...]
    by: str
    at: datetime.datetime
    outcome: Outcome | None  # the worst of the newest verdicts on its blades; None: not judged since it was filed


@dataclass(frozen=True, slots=True)
class CurePage:
    """Some cures, the newest first; ``older`` is what to ask for the next ones by, None where there are none."""

    lines: tuple[CureLine, ...]
    older: int | None


@dataclass(frozen=True, slots=True, eq=False)
class JudgedBy:
    """The log held to the limits of one drawing, for the blades in the run that were made to it."""

    drawing: str
    revision: str
    drawing_sha256: str
    limits: CureLimits | None
    serials: tuple[str, ...]
    findings: tuple[Finding, ...]  # none where the drawing has no limits


@dataclass(frozen=True, slots=True, eq=False)
class FiledCure:
    """One cure whole."""

    line: CureLine
    log: CureLog
    judged: tuple[JudgedBy, ...]


def filed_cures(older_than: int | None = None, many: int = 25, asked: str = "") -> CurePage:
    """A page of the cures on file; ``asked`` is a serial, a file's name or its hash. Five queries at most."""
    rows = models.Evidence.objects.select_related("file", "event").filter(kind=CURE).order_by("-id")
    if asked:
        rows = rows.filter(Q(blades__blade__serial=asked) | Q(file__name=asked) | Q(file__sha256=asked)).distinct()
    if older_than is not None:
        rows = rows.filter(id__lt=older_than)
    found = list(rows[: many + 1])
    lines = _lines(found[:many])
    return CurePage(lines, lines[-1].number if len(found) > many else None)


def filed_cure(sha256: str) -> FiledCure:
    """One cure by its log's hash, judged by each drawing its blades were made to."""
    row = models.Evidence.objects.select_related("file", "event", "description").filter(
        kind=CURE, file__sha256=sha256
    )  # fmt: skip
    found = row.first()
    if found is None:
        raise MissingInput(
            "is not in the book as a cure",
            field="sha256",
            value=sha256,
            allowed="the hash of a filed log",
            fix="check it",
        )
    assert found.description is not None  # a log is never filed without its description
    of = found.blades.select_related("blade__drawing__file").order_by("blade__serial")
    serials: dict[int, list[str]] = defaultdict(list)
    drawings = {}
    for one in of:
        drawings[one.blade.drawing_id] = one.blade.drawing
        serials[one.blade.drawing_id].append(one.blade.serial)
    read = found.file.sha256, found.file.name, found.description.sha256
    judged = tuple(
        JudgedBy(
            drawing=drawing.name,
            revision=drawing.revision,
            drawing_sha256=drawing.file.sha256,
            limits=_limits(drawing.id),
            serials=tuple(serials[number]),
            findings=_judged(*read, number),
        )
        for number, drawing in drawings.items()
    )
    return FiledCure(_lines([found])[0], _log(*read), judged)


@functools.lru_cache(maxsize=8)
def _log(sha256: str, name: str, description: str) -> CureLog:
    """A log from its kept bytes. The same hashes are the same log."""
    files = {file.sha256: file for file in models.StoredFile.objects.filter(sha256__in=(sha256, description))}
    how = parse_logger_description(kept(files[description]), files[description].name)
    return read_cure_log(kept(files[sha256]), how, name)


@functools.lru_cache(maxsize=8)
def _limits(drawing: int) -> CureLimits | None:
    return read_drawing(models.Drawing.objects.select_related("file").get(id=drawing)).limits.cure


@functools.lru_cache(maxsize=64)
def _judged(sha256: str, name: str, description: str, drawing: int) -> tuple[Finding, ...]:
    limits = _limits(drawing)
    return () if limits is None else judge_cure(_log(sha256, name, description), limits)


def _lines(rows: Sequence[models.Evidence]) -> tuple[CureLine, ...]:
    """Rows with the serials in them and what their blades' newest verdicts say of the cure."""
    serials: dict[int, list[tuple[str, int]]] = defaultdict(list)
    of = models.EvidenceOf.objects.filter(evidence__in=[row.id for row in rows]).order_by("blade__serial")
    for evidence, serial, blade in of.values_list("evidence_id", "blade__serial", "blade_id"):
        serials[evidence].append((serial, blade))
    said = _said_of_cures({blade for some in serials.values() for _, blade in some})
    return tuple(
        CureLine(
            number=row.id,
            sha256=row.file.sha256,
            file=row.file.name,
            logger=row.about,
            serials=tuple(serial for serial, _ in serials[row.id]),
            by=row.event.by,
            at=moment(row.event.at),
            outcome=_worst([said.get((blade, row.file.sha256)) for _, blade in serials[row.id]]),
        )
        for row in rows
    )


def _said_of_cures(blades: set[int]) -> dict[tuple[int, str], Outcome]:
    """Blade and log's hash to the worst finding on the cure in the blade's newest verdict, where it knew the log."""
    newest = models.Verdict.objects.filter(blade_id=OuterRef("blade_id")).order_by("-id").values("id")[:1]
    rows = models.Verdict.objects.filter(blade_id__in=blades, id=Subquery(newest)).values_list("blade_id", "body")
    said = {}
    for blade, body in rows:
        verdict = json.loads(body)
        found = {Outcome(one["outcome"]) for one in verdict["findings"] if one["proof"] == CURE}
        worst = next((outcome for outcome in WORST_FIRST if outcome in found), None)
        said.update({(blade, sha256): worst for _, sha256 in verdict["evidence"] if worst is not None})
    return said


def _worst(outcomes: Sequence[Outcome | None]) -> Outcome | None:
    """The worst of what was said; None as soon as one blade was not judged on this log."""
    if None in outcomes:
        return None
    return next((outcome for outcome in WORST_FIRST if outcome in outcomes), None)
