"""A blade judged from what is on file, and the verdict kept with everything it rests on."""

import datetime
import json
from dataclasses import dataclass

from django.db.models import QuerySet

from bladewright import __version__
from bladewright.errors import BadInput, BookBusy
from bladewright.figures import canonical, digest
from bladewright.proof.records import Deviation, Verdict
from bladewright.proof.verdict import hash_of, judge_blade
from bladewright.records.acts import Act, Scope
from bladewright.records.authority import require
from bladewright.records.blades import blade_named
from bladewright.records.book import opened
from bladewright.records.chain import moment
from bladewright.records.drawings import read_filed as read_drawing
from bladewright.records.evidence import filed_for, read_filed
from bladewright.records.ready import models
from bladewright.records.restoring import restored_text
from bladewright.records.writing import writing


@dataclass(frozen=True, slots=True)
class StoredVerdict:
    """A verdict as kept, when and by whom it was asked for, and how it differs from the one before."""

    verdict: Verdict
    at: datetime.datetime
    by: str
    sha256: str
    inputs_sha256: str
    already: bool
    changed: tuple[str, ...] = ()


def judge(act: Act, serial: str, *, engine_version: str = __version__) -> StoredVerdict:
    """Judge a blade by its drawing. The same inputs and engine give the same verdict, which is then kept once.

    Another engine's verdict on the same inputs is kept beside the older one and never over it. Reading and judging
    happen before the book is locked, so that others can go on writing.
    """
    require(act, Scope.INSPECT)
    blade = blade_named(serial)
    inputs = _inputs_of(blade)
    verdict = None if _known(blade, inputs, engine_version) else _judged(blade, engine_version)
    with writing(act, "blade judged", serial, Scope.INSPECT) as entry:
        if _inputs_of(blade) != inputs:
            raise BookBusy(
                "evidence was filed while the blade was judged", field="serial", value=serial, fix="judge again"
            )
        before = _rows(blade).order_by("-id").first()
        found = _known(blade, inputs, engine_version)
        if found is not None or verdict is None:
            assert found is not None  # verdicts are never removed
            return stored_verdict(found, already=True)
        body = canonical(verdict)
        row = entry.add(
            models.Verdict(
                blade=blade,
                word=verdict.word.value,
                inputs_sha256=inputs,
                engine_version=engine_version,
                body=body.decode("utf-8"),
                sha256=digest(body),
            )
        )
        changed = () if before is None else differences(_verdict(before), verdict)
        return StoredVerdict(verdict, act.at, act.by, row.sha256, inputs, already=False, changed=changed)


def _judged(blade: models.Blade, engine_version: str) -> Verdict:
    drawing = blade.drawing
    return judge_blade(
        read_drawing(drawing),
        drawing.file.sha256,
        blade.serial,
        read_filed(filed_for(blade)),
        deviations_of(blade),
        engine_version,
    )


def _inputs_of(blade: models.Blade) -> str:
    """The hash of everything a verdict is computed from, besides the engine."""
    inputs = {
        "serial": blade.serial,
        "drawing": blade.drawing.file.sha256,
        "evidence": sorted(_hashes(row) for row in filed_for(blade)),
        "deviations": deviations_of(blade),
    }
    return digest(canonical(inputs))


def _known(blade: models.Blade, inputs: str, engine_version: str) -> models.Verdict | None:
    return _rows(blade).filter(inputs_sha256=inputs, engine_version=engine_version).first()


def latest_verdict(serial: str) -> StoredVerdict | None:
    """The newest verdict on a blade, or None if it was never judged."""
    row = latest_row(blade_named(serial))
    return None if row is None else stored_verdict(row, already=True)


def all_verdicts(serial: str) -> tuple[StoredVerdict, ...]:
    """Every verdict there was, the oldest first."""
    return tuple(stored_verdict(row, already=True) for row in _rows(blade_named(serial)).order_by("id"))


def latest_row(blade: models.Blade) -> models.Verdict | None:
    """The row of the newest verdict."""
    return _rows(blade).order_by("-id").first()


def refuse_unjudged_evidence(blade: models.Blade, newest: models.Verdict) -> None:
    """A verdict that does not know of evidence filed since is no ground for a decision."""
    later = models.Evidence.objects.filter(blades__blade=blade, event_id__gt=newest.event_id).first()
    if later is not None:
        raise BadInput(
            f"evidence was filed since the verdict: {later.kind}",
            field="serial",
            value=blade.serial,
            allowed="a verdict on everything on file",
            fix="judge the blade again",
        )


def deviations_of(blade: models.Blade) -> tuple[Deviation, ...]:
    """Every deviation accepted for a blade, with the findings that were read when it was."""
    rows = models.Deviation.objects.select_related("event").filter(blade=blade).order_by("id")
    return tuple(
        Deviation(
            number=row.number,
            serial=blade.serial,
            rule=row.rule,
            accepted_by=row.event.by,
            accepted_on=opened().day(moment(row.event.at)),
            reason=row.event.reason,
            only_with=tuple(json.loads(row.only_with)),
            seen=_seen(blade, row),
        )
        for row in rows
    )


def _seen(blade: models.Blade, row: models.Deviation) -> tuple[str, ...]:
    """The hashes of the findings a deviation was given on, from the verdict that was read."""
    read = _rows(blade).filter(sha256=row.verdict_sha256).first()
    findings = () if read is None else _verdict(read).findings
    return tuple(hash_of(finding) for finding in findings if finding.rule == row.rule)


def differences(before: Verdict, after: Verdict) -> tuple[str, ...]:
    """What a newer verdict says otherwise, in words."""
    said = []
    if before.word != after.word:
        said.append(f"verdict: {before.word.value} -> {after.word.value}")
    old = {finding.rule: finding for finding in before.findings}
    new = {finding.rule: finding for finding in after.findings}
    for rule in sorted(old.keys() | new.keys()):
        was = old[rule].outcome.value if rule in old else "not judged"
        now = new[rule].outcome.value if rule in new else "not judged"
        if was != now:
            said.append(f"{rule}: {was} -> {now}")
    if before.engine_version != after.engine_version:
        said.append(f"engine: {before.engine_version} -> {after.engine_version}")
    return tuple(said)


def _hashes(row: models.Evidence) -> list[str]:
    """What a verdict takes from one piece of evidence."""
    beside = [file.sha256 if file else "" for file in (row.description, row.pull)]
    return [row.kind, row.file.sha256, *beside]


def _rows(blade: models.Blade) -> QuerySet[models.Verdict]:
    return models.Verdict.objects.select_related("event").filter(blade=blade)


def _verdict(row: models.Verdict) -> Verdict:
    return restored_text(Verdict, row.body)


def stored_verdict(row: models.Verdict, *, already: bool = True) -> StoredVerdict:
    """A verdict's row as it was kept."""
    return StoredVerdict(
        verdict=_verdict(row),
        at=moment(row.event.at),
        by=row.event.by,
        sha256=row.sha256,
        inputs_sha256=row.inputs_sha256,
        already=already,
    )
