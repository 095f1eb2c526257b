"""Everything a paper prints, gathered from the book as plain records. Nothing is judged or computed anew here."""

import json

from bladewright.design.as_built import as_built
from bladewright.drawing.file import BladeDrawing
from bladewright.errors import MissingInput
from bladewright.figures import Figure
from bladewright.pairing.quantities import limit_figures
from bladewright.pairing.records import BladeSet
from bladewright.papers.frame import SIGNED_OUT
from bladewright.papers.records import (
    BladeRecordPaper,
    CureChart,
    DrawingRevision,
    EvidenceLine,
    LotLine,
    PullChart,
    SetBlade,
    SetRecordPaper,
    Shop,
    Signer,
)
from bladewright.proof.dwell import dwell_of
from bladewright.proof.peel import mean_figure, steady_part
from bladewright.proof.records import BladeEvidence, Verdict, Word
from bladewright.records.blades import blade_named
from bladewright.records.book import opened
from bladewright.records.candidates import departures_of
from bladewright.records.chain import START, moment
from bladewright.records.drawings import read_filed as read_drawing
from bladewright.records.evidence import filed_for, read_filed
from bladewright.records.judging import StoredVerdict, latest_verdict, stored_verdict
from bladewright.records.ready import models
from bladewright.records.restoring import restored
from bladewright.records.sets import match_of, set_named


def paper_of_blade(serial: str) -> BladeRecordPaper:
    """The blade record on the newest verdict; ``MissingInput`` for a blade that was never judged."""
    blade = blade_named(serial)
    kept = latest_verdict(serial)
    if kept is None:
        raise MissingInput("was never judged", field="serial", value=serial, allowed="a verdict", fix="judge it first")
    drawing, rows = read_drawing(blade.drawing), filed_for(blade)
    evidence = read_filed(rows)
    return BladeRecordPaper(
        shop=_shop(),
        serial=serial,
        drawing=_revision(blade.drawing),
        word=_word(blade, kept.verdict),
        verdict=kept.verdict,
        verdict_time=opened().clock(kept.at),
        verdict_sha256=kept.sha256,
        inputs_sha256=kept.inputs_sha256,
        properties=_effects(drawing, evidence),
        cures=_cures(drawing, evidence),
        pulls=_pulls(drawing, evidence),
        planform=drawing,
        evidence=tuple(_line(row) for row in rows),
        lots=tuple(
            LotLine(use.part, use.lot.lot, use.lot.maker_lot) for use in blade.lots.select_related("lot").order_by("id")
        ),
        signers=_signers(blade, rows, kept),
    )


def paper_of_set(name: str) -> SetRecordPaper:
    """The set record, with the verdicts the set was matched on."""
    row = set_named(name)
    held = list(row.blades.select_related("blade__drawing__file", "verdict__event").order_by("blade__serial"))
    drawing = read_drawing(held[0].blade.drawing)
    kept = _set_verdicts(row, held)
    return SetRecordPaper(
        shop=_shop(),
        name=name,
        drawing=_revision(held[0].blade.drawing),
        blades=tuple(
            SetBlade(
                item.blade.serial,
                _word(item.blade, verdict.verdict),
                opened().clock(verdict.at),
                verdict.sha256,
                _mates(verdict),
            )
            for item, verdict in zip(held, kept, strict=True)
        ),
        match=match_of(row),
        method=row.method,
        decided=opened().clock(moment(row.event.at)),
        engine_version=kept[0].verdict.engine_version,
        handle_band=drawing.rotor.handle_band if drawing.rotor else None,
        limits=limit_figures(drawing.limits.match) if drawing.limits.match else (),
        conditions=_set_conditions(row),
        signers=_set_signers(row),
    )


def _shop() -> Shop:
    book = opened()
    newest = models.Event.objects.order_by("-number").first()
    return Shop(book.shop, book.id, newest.hash if newest else START, book.demo)


def _revision(drawing: models.Drawing) -> DrawingRevision:
    return DrawingRevision(drawing.name, drawing.revision, drawing.file.sha256)


def _word(blade: models.Blade, verdict: Verdict) -> str:
    if models.SignOut.objects.filter(set__blades__blade=blade).exists():
        return SIGNED_OUT
    if verdict.word is Word.ACCEPTED_UNDER_DEVIATION:
        return f"{verdict.word.value} {', '.join(item.number for item in verdict.deviations)}"
    return verdict.word.value


def _effects(drawing: BladeDrawing, evidence: BladeEvidence) -> tuple[Figure, ...]:
    """What this blade's measured departures come to in flight."""
    found = departures_of(drawing, [row for sheet in evidence.sheets for row in sheet.rows])
    return as_built(drawing, found).effects if found else ()


def _cures(drawing: BladeDrawing, evidence: BladeEvidence) -> tuple[CureChart, ...]:
    limits = drawing.limits.cure
    charts = []
    for log in evidence.cures:
        dwell = dwell_of(log, limits) if limits else None
        charts.append(CureChart(log, limits, (dwell.start, dwell.end) if dwell else None))
    return tuple(charts)


def _pulls(drawing: BladeDrawing, evidence: BladeEvidence) -> tuple[PullChart, ...]:
    limits = drawing.limits.peel
    charts = []
    for coupon, curve in evidence.coupons:
        if curve is None:
            continue
        part = steady_part(curve, coupon.width, limits) if limits else None
        charts.append(
            PullChart(
                label=coupon.label,
                curve=curve,
                width=coupon.width,
                mean=mean_figure(part, curve, limits) if part and limits else None,
                limits=limits,
                judged=(part.begin, part.end) if part else None,
            )
        )
    return tuple(charts)


def _line(row: models.Evidence) -> EvidenceLine:
    what = f"{row.kind}: {row.about}" if row.about else row.kind
    return EvidenceLine(what, row.file.name, row.file.sha256, row.event.by, opened().day(moment(row.event.at)))


def _signers(blade: models.Blade, rows: tuple[models.Evidence, ...], kept: StoredVerdict) -> tuple[Signer, ...]:
    """Who opened the serial, looked at it last, released it and accepted deviations. No identity is proven here."""
    book = opened()
    begun = models.Event.objects.get(number=blade.event_id)
    found = [Signer("made", begun.by, book.day(moment(begun.at)))]
    found += [
        Signer("inspected", row.event.by, book.day(moment(row.event.at)))
        for row in rows
        if row.about == "final inspection"
    ]
    found += [Signer(f"deviation {d.number}", d.accepted_by, d.accepted_on) for d in kept.verdict.deviations]
    out = models.SignOut.objects.select_related("event").filter(set__blades__blade=blade).first()
    if out is not None:
        found.append(Signer("accepted", out.event.by, book.day(moment(out.event.at))))
    return tuple(found)


def _set_verdicts(row: models.Set, held: list[models.SetBlade]) -> list[StoredVerdict]:
    """The verdicts the set was signed out on; those it was matched on until it is."""
    out = models.SignOut.objects.filter(set=row).first()
    if out is None:
        return [stored_verdict(item.verdict) for item in held]
    hashes = json.loads(out.verdicts)
    rows = models.Verdict.objects.select_related("event")
    return [
        stored_verdict(rows.filter(blade=item.blade, sha256=hashes[item.blade.serial]).latest("id")) for item in held
    ]


def _set_conditions(row: models.Set) -> tuple[str, ...]:
    """Why a person decided, and what the blades' last weighing came to where they were tried again."""
    said = [f"formed for this reason: {row.event.reason}"] if row.event.reason else []
    out = models.SignOut.objects.select_related("event").filter(set=row).first()
    if out is not None:
        said += [f"signed out for this reason: {out.event.reason}"] if out.event.reason else []
        if out.match != row.match:
            tried = restored(BladeSet, json.loads(out.match))
            said += [f"as measured last, before sign-out: {figure.name} {figure}" for figure in tried.differences]
    return tuple(said)


def _set_signers(row: models.Set) -> tuple[Signer, ...]:
    found = [Signer("matched", row.event.by, opened().day(moment(row.event.at)))]
    out = models.SignOut.objects.select_related("event").filter(set=row).first()
    if out is not None:
        found.append(Signer("accepted", out.event.by, opened().day(moment(out.event.at))))
    return tuple(found)


def _mates(kept: StoredVerdict) -> tuple[str, ...]:
    mates = kept.verdict.may_fly_only_with
    return () if mates is None else (f"may fly only with {', '.join(mates)}",)
