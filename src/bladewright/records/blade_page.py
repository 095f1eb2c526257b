"""Everything the desk shows of one serial, gathered in a constant number of queries; nothing is judged anew."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from bladewright import __version__
from bladewright.drawing.file import BladeDrawing
from bladewright.evidence.dimension_sheet import read_dimension_sheet
from bladewright.evidence.void_map import read_void_map
from bladewright.figures import WORST_FIRST, Finding, Outcome
from bladewright.papers.void_map_drawing import VoidMapDrawing, void_map_drawing
from bladewright.proof.records import Deviation, Word
from bladewright.proof.signed import CLOSED
from bladewright.proof.tolerances import proof_of
from bladewright.records import evidence, judging
from bladewright.records.blades import Filed, Happened, LotUsed, blade_named
from bladewright.records.chain import moment
from bladewright.records.drawings import read_filed as read_drawing
from bladewright.records.job import Done, NextAction, Standing, Step, next_action, steps_of
from bladewright.records.judging import StoredVerdict, stored_verdict
from bladewright.records.keeping import kept
from bladewright.records.ready import models


@dataclass(frozen=True, slots=True)
class Judged:
    """One finding of the newest verdict, with the deviations that cover it and whether one may still be asked for."""

    finding: Finding
    covered_by: tuple[str, ...]
    may_be_accepted: bool


@dataclass(frozen=True, slots=True)
class BladePage:
    """One serial: where it stands, what comes next, and everything on file."""

    serial: str
    drawing: str
    revision: str
    word: str
    steps: tuple[Step, ...]
    next: NextAction
    verdict: StoredVerdict | None
    findings: tuple[Judged, ...]  # the worst first
    since: tuple[str, ...]  # what was entered since the verdict
    changed: tuple[str, ...]  # against the verdict before
    older_engine: str  # the engine of the verdict, where it is not this one
    deviations: tuple[Deviation, ...]  # that count in the verdict
    deviations_since: tuple[str, ...]  # accepted since, not judged yet
    lots: tuple[LotUsed, ...]
    evidence: tuple[Filed, ...]
    history: tuple[Happened, ...]  # the newest first
    set_name: str
    mates: tuple[str, ...]
    aircraft: str
    proofs: tuple[str, ...]  # required by the drawing; and, once rejected, that its serial is closed
    void_map: VoidMapDrawing | None
    is_measured: bool  # whether a dimension was measured, so that something can be said of its flight

    @property
    def passes(self) -> int:
        """How many rules pass."""
        return sum(one.finding.outcome is Outcome.PASS for one in self.findings)

    @property
    def against(self) -> int:
        """How many do not."""
        return len(self.findings) - self.passes


def blade_page(serial: str, system: str = "metric") -> BladePage:
    """The page of a serial, stations in a person's units; ``MissingInput`` if it was never started."""
    blade = blade_named(serial)
    drawing = read_drawing(blade.drawing)
    rows = evidence.filed_for(blade)
    verdicts = models.Verdict.objects.select_related("event").filter(blade=blade).order_by("-id")[:2]
    kept_verdicts = [stored_verdict(row) for row in verdicts]
    newest = kept_verdicts[0] if kept_verdicts else None
    lots = list(models.LotUse.objects.select_related("lot", "event").filter(blade=blade).order_by("id"))
    deviations = list(models.Deviation.objects.select_related("event").filter(blade=blade).order_by("id"))
    judged_at = verdicts[0].event_id if newest else 0
    since = tuple(dict.fromkeys(row.kind for row in rows if row.event_id > judged_at)) if newest else ()
    later = tuple(row.number for row in deviations if row.event_id > judged_at) if newest else ()
    held = _held(blade)
    stands = Standing(
        proofs=drawing.required_proofs,
        done=_by_proof(rows),
        started=_done("started", blade.event),
        lots=tuple(_done(f"{use.part}: {use.lot.lot}", use.event) for use in lots),
        judged=Done(newest.verdict.word.value, newest.by, newest.at) if newest else None,
        verdict=newest.verdict if newest else None,
        since=(*since, *(f"deviation {number}" for number in later)),
        set_name=held.name,
        matched=held.matched,
        signed_out=held.signed_out,
        installed=held.installed,
    )
    steps = steps_of(stands)
    return BladePage(
        serial=serial,
        drawing=blade.drawing.name,
        revision=blade.drawing.revision,
        word="signed out" if held.signed_out else newest.verdict.word.value if newest else "",
        steps=steps,
        next=next_action(stands, steps),
        verdict=newest,
        findings=_judged(newest),
        since=stands.since,
        changed=_changed(kept_verdicts),
        older_engine=newest.verdict.engine_version if newest and newest.verdict.engine_version != __version__ else "",
        deviations=newest.verdict.deviations if newest else (),
        deviations_since=later,
        lots=tuple(LotUsed(serial, use.part, use.lot.lot, already=True) for use in lots),
        evidence=tuple(
            Filed(row.kind, row.about, row.file.name, row.file.sha256, row.event.by, moment(row.event.at))
            for row in rows
        ),
        history=_history(serial, held.name, rows),
        set_name=held.name,
        mates=held.mates,
        aircraft=held.aircraft,
        proofs=(*drawing.required_proofs, *_closing(newest)),
        void_map=_drawn(drawing, rows, newest, system),
        is_measured=any(row.kind == evidence.DIMENSIONS for row in rows),
    )


@dataclass(frozen=True, slots=True)
class _Held:
    """The set a blade is in, and where that is."""

    name: str = ""
    mates: tuple[str, ...] = ()
    matched: Done | None = None
    signed_out: Done | None = None
    installed: Done | None = None
    aircraft: str = ""


def _held(blade: models.Blade) -> _Held:
    row = models.SetBlade.objects.select_related("set__event", "set__sign_out__event").filter(blade=blade).first()
    if row is None:
        return _Held()
    others = models.SetBlade.objects.filter(set_id=row.set_id).exclude(blade=blade).order_by("blade__serial")
    out = row.set.sign_out if hasattr(row.set, "sign_out") else None
    standing = models.Installation.objects.select_related("aircraft", "event").filter(set_id=row.set_id)
    on = standing.filter(removal__isnull=True).order_by("-id").first()
    return _Held(
        name=row.set.name,
        mates=tuple(others.values_list("blade__serial", flat=True)),
        matched=_done(f"set {row.set.name}", row.set.event),
        signed_out=_done(f"set {row.set.name}", out.event) if out else None,
        installed=_done(f"on {on.aircraft.mark} since {on.on.isoformat()}", on.event) if on else None,
        aircraft=on.aircraft.mark if on else "",
    )


def _by_proof(rows: Iterable[models.Evidence]) -> dict[str, tuple[Done, ...]]:
    """Everything on file, by the required proof it speaks for."""
    found: dict[str, list[Done]] = defaultdict(list)
    for row in rows:
        done = _done(row.file.name, row.event, row.file.sha256)
        for proof in _proofs_of(row):
            found[proof].append(done)
    return {proof: tuple(done) for proof, done in found.items()}


def _proofs_of(row: models.Evidence) -> tuple[str, ...]:
    if row.kind == evidence.SIGNED:
        return (row.about,)
    if row.kind == evidence.COUPON:  # without its pull curve a coupon proves nothing yet
        return (row.kind,) if row.pull_id else ()
    if row.kind == evidence.DIMENSIONS:
        sheet = read_dimension_sheet(kept(row.file), row.file.name)
        return tuple(dict.fromkeys(proof_of(one.feature) for one in sheet.rows))
    return (row.kind,)


def _closing(newest: StoredVerdict | None) -> tuple[str, ...]:
    return (CLOSED,) if newest is not None and newest.verdict.word is Word.REJECTED else ()


def _changed(newest_two: Sequence[StoredVerdict]) -> tuple[str, ...]:
    """What the newest verdict says otherwise than the one before it."""
    if len(newest_two) < 2:
        return ()
    newest, before = newest_two
    return judging.differences(before.verdict, newest.verdict)


def _judged(kept_verdict: StoredVerdict | None) -> tuple[Judged, ...]:
    if kept_verdict is None:
        return ()
    verdict = kept_verdict.verdict
    covered: dict[str, list[str]] = defaultdict(list)
    for deviation in verdict.deviations:
        covered[deviation.rule].append(deviation.number)
    found = sorted(verdict.findings, key=lambda finding: WORST_FIRST.index(finding.outcome))
    return tuple(
        Judged(
            finding,
            tuple(covered[finding.rule]) if finding.outcome is not Outcome.PASS else (),
            finding.deviable and finding.outcome in (Outcome.FAIL, Outcome.REFER) and not covered[finding.rule],
        )
        for finding in found
    )


def _drawn(
    drawing: BladeDrawing, rows: Sequence[models.Evidence], newest: StoredVerdict | None, system: str
) -> VoidMapDrawing | None:
    maps = [read_void_map(kept(row.file), row.file.name) for row in rows if row.kind == evidence.VOID_MAP]
    return void_map_drawing(drawing, maps, newest.verdict.findings if newest else (), system) if maps else None


def _history(serial: str, set_name: str, rows: Iterable[models.Evidence]) -> tuple[Happened, ...]:
    subjects = [serial, set_name] if set_name else [serial]
    filed = {row.event_id for row in rows}
    events = models.Event.objects.filter(subject__in=subjects) | models.Event.objects.filter(number__in=filed)
    return tuple(
        Happened(event.number, event.kind, event.by, moment(event.at), event.reason)
        for event in events.order_by("-number").distinct()
    )


def _done(what: str, event: models.Event, sha256: str = "") -> Done:
    return Done(what, event.by, moment(event.at), sha256)
