"""A small invented blade with everything on file, built from arithmetic alone."""

import datetime
from pathlib import Path

import numpy as np

from bladewright.drawing.file import read_drawing
from bladewright.drawing.rotor import HandleBand
from bladewright.evidence.records import Channel, CureLog, PullCurve, Source
from bladewright.figures import Figure, Finding, Outcome, Where, digest
from bladewright.pairing.records import BladeSet, TrimWeight
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
from bladewright.proof.records import Deviation, Verdict, Word

FM31 = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"
SHA = digest(FM31.read_bytes())
HEAD = digest(b"the newest event of an invented book")
WHEN = datetime.datetime(2026, 3, 4, 15, 20, tzinfo=datetime.timezone(datetime.timedelta(hours=1)))


def fahrenheit(value: float | np.ndarray) -> float | np.ndarray:
    return (value + 459.67) / 1.8


def a_cure_log() -> CureLog:
    """Six zones, top and bottom, 1 sample a minute: rise, dwell, fall; one sensor open for 12 minutes."""
    minutes = np.arange(0.0, 191.0)
    channels, columns = [], []
    for zone in range(1, 7):
        lag = 1.2 * zone
        rise = 72.0 + 178.0 * np.clip((minutes - 8.0 - lag) / 52.0, 0.0, 1.0) ** 0.9
        fall = np.clip(minutes - 140.0, 0.0, None) * 2.4
        shape = rise - fall + 1.1 * np.sin(minutes / 5.0 + zone) * (rise > 240.0)
        channels += [Channel(f"M{zone}", "mould", str(zone), "top"), Channel(f"H{zone}", "heater", str(zone))]
        mould = shape.copy()
        if zone == 4:
            mould[96:108] = np.nan
        columns += [fahrenheit(mould), fahrenheit(shape + np.where(minutes < 62.0, 24.0, 3.0))]
    channels.append(Channel("P1", "pressure"))
    columns.append(np.clip((minutes - 2.0) * 12.0, 0.0, 42.0) * 6894.757)
    return CureLog(
        source=Source("oven-2026-02-27.csv", digest(b"an invented cure log")),
        description="fennmark oven 1",
        start=datetime.datetime(2026, 2, 27, 7, 30, tzinfo=datetime.UTC),
        seconds=minutes * 60.0,
        channels=tuple(channels),
        values=np.column_stack(columns),
        rows=np.arange(2, len(minutes) + 2),
    )


def a_pull_curve() -> PullCurve:
    travel = np.linspace(0.0, 16.0, 400)
    force = 21.0 * np.clip(travel / 0.8, 0.0, 1.0) + 1.6 * np.sin(travel * 7.0) + 0.9 * np.sin(travel * 17.3)
    return PullCurve(
        source=Source("FM31-0007-root.csv", digest(b"an invented pull curve")),
        travel=travel * 0.0254,
        force=np.clip(force, 0.0, None) * 4.4482216,
        rows=np.arange(2, 402),
    )


def finding(rule: str, outcome: Outcome, proof: str, **more: object) -> Finding:
    return Finding(rule=rule, outcome=outcome, proof=proof, **more)  # type: ignore[arg-type]


FINDINGS = (
    finding(
        "cure: dwell", Outcome.PASS, "cure",
        sentence="All mould sensors stayed in the band for 76.0 min; at least 60 min are asked.",
        worst=Figure("dwell", 76.0, "min", 2.0, method="interpolated between samples", source="cure log"),
        limit="60 to 120 min", limit_source="Fennmark process sheet FP-7, invented",
        where=(Where("oven-2026-02-27.csv", "M6", 66, "2026-02-27T08:35:00Z", "2026-02-27T09:51:00Z"),),
    ),
    finding(
        "cure: open sensor", Outcome.REFER, "cure",
        sentence="Mould sensor M4 gave no reading for 12 min during the dwell; its zone is not known there.",
        worst=Figure("time without reading", 12.0, "min", None, source="cure log"),
        limit="0 min in the dwell", limit_source="Fennmark process sheet FP-7, invented",
        where=(Where("oven-2026-02-27.csv", "M4", 98, "2026-02-27T09:06:00Z", "2026-02-27T09:17:00Z"),),
        next_step="A person with design authority looks at M3, M5 and heater H4 for the same minutes.",
        would_change="A calibrated second sensor in zone 4 that read through the gap.",
    ),
    finding(
        "dimensions: reflex angle", Outcome.FAIL, "dimensions",
        sentence="The reflex is 0.30° more than drawn at 2.40 m; 0.20° is allowed.",
        worst=Figure("reflex angle", 2.30, "deg", 0.05, method="angle gauge AG-2", source="sheet dims-0007.csv"),
        limit="1.80 to 2.20 °", limit_source="Fennmark drawing FM-31, invented",
        where=(Where("dims-0007.csv", "reflex.angle", 14),),
        next_step="Fly only with a blade whose reflex differs by less than its uncertainty.",
        would_change="A second reading with an uncertainty of 0.02° that comes out inside.",
    ),
    finding(
        "coupon: mean peel", Outcome.PASS, "coupon",
        sentence="The root coupon peels at 21.0 lbf/in on average over the judged 5 in; at least 15 are asked.",
        worst=Figure("mean peel", 21.0, "lbf/in", 0.63, method="mean over the judged part", source="pull curve"),
        limit="at least 15 lbf/in", limit_source="Fennmark process sheet FP-9, invented",
        where=(Where("FM31-0007-root.csv"),),
    ),
    finding(
        "weighing: span moment", Outcome.PASS, "weighing",
        sentence="The span moment is 0.012 kg m more than the master's; 0.060 kg m is allowed.",
        worst=Figure("span moment difference", 0.012, "kg m", 0.004, source="rig R-1", validated=False),
        limit="-0.060 to 0.060 kg m", limit_source="Fennmark drawing FM-31, invented",
    ),
)  # fmt: skip


def judged(serial: str = "FM31-0007", **more: object) -> Verdict:
    fields: dict[str, object] = {
        "serial": serial,
        "word": Word.ACCEPTED_UNDER_DEVIATION,
        "findings": FINDINGS,
        "missing_proofs": (),
        "deviations": (
            Deviation(
                "D-3", serial, "dimensions: reflex angle", "R. Hale", datetime.date(2026, 3, 3),
                "Both blades of the batch have the same reflex within 0.05°; handle force stays in its band.",
                ("FM31-0008",),
            ),
            Deviation(
                "D-4", serial, "cure: open sensor", "R. Hale", datetime.date(2026, 3, 3),
                "M3, M5 and heater H4 stayed inside the band through the gap.",
            ),
        ),
        "first_reason": "The reflex is 0.30° more than drawn at 2.40 m; D-3 accepts it with one mate only.",
        "next_step": "Match with FM31-0008 and sign the set out.",
        "drawing_sha256": SHA,
        "evidence": (("cure log", digest(b"an invented cure log")), ("root coupon", digest(b"an invented pull curve"))),
        "engine_version": "bladewright 0.1.0",
        **more,
    }  # fmt: skip
    return Verdict(**fields)  # type: ignore[arg-type]


def bare(**more: object) -> BladeRecordPaper:
    """A paper with a verdict and nothing else on file."""
    verdict = more.pop("verdict", judged())
    assert isinstance(verdict, Verdict)
    fields: dict[str, object] = {
        "shop": Shop("Fennmark Rotor Shop", "fennmark-2026", HEAD, demo=True),
        "serial": verdict.serial,
        "drawing": DrawingRevision("FM-31", "C", SHA),
        "word": verdict.word.value,
        "verdict": verdict,
        "verdict_time": WHEN,
        **more,
    }
    return BladeRecordPaper(**fields)  # type: ignore[arg-type]


def everything() -> BladeRecordPaper:
    """A paper with everything on file."""
    drawing, cure_log, pull_curve = read_drawing(FM31), a_cure_log(), a_pull_curve()
    mean = Figure("mean peel", 21.0, "lbf/in", 0.63, method="mean over the judged part", source="pull curve")
    inch = 2.0 * 0.0254
    filed = datetime.date(2026, 2, 28)
    return bare(
        word="accepted under deviation D-3, D-4",
        verdict_sha256=digest(b"verdict"),
        inputs_sha256=digest(b"inputs"),
        conditions=("re-weigh after paint",),
        properties=(
            Figure("mass", 6.482, "kg", 0.004, "weighed on rig R-1", source="weigh-0007.toml"),
            Figure("centre of mass from the rotor axis", 1.731, "m", None, "section integration", source="FM-31"),
            Figure("handle force at lowest collective", 2.1, "lbf", None, "estimate", "hover", validated=False),
        ),
        cures=(CureChart(cure_log, drawing.limits.cure, (65.2 * 60.0, 141.2 * 60.0)),),
        pulls=(PullChart("root", pull_curve, 0.0254, mean, drawing.limits.peel, (1.0 * inch, 6.0 * inch)),),
        planform=drawing,
        evidence=(
            EvidenceLine("cure log", "oven-2026-02-27.csv", digest(b"an invented cure log"), "K. Moss", filed),
            EvidenceLine("root coupon", "FM31-0007-root.csv", digest(b"an invented pull curve"), "K. Moss", filed),
        ),
        lots=(LotLine("top skin", "SK-118", "invented 4471"), LotLine("film adhesive", "roll FA-22")),
        signers=(
            Signer("made", "K. Moss", datetime.date(2026, 2, 27)),
            Signer("inspected", "J. Wren", datetime.date(2026, 3, 2), proven=True),
        ),
    )  # fmt: skip


def a_set(**more: object) -> SetRecordPaper:
    """Two invented blades that fly together."""
    match = BladeSet(
        serials=("FM31-0007", "FM31-0008"),
        cost=0.61,
        differences=(
            Figure("span moment", 0.031, "kg m", 0.006, "difference on one rig", source="rig R-1"),
            Figure("chordwise centre", 0.22, "mm", 0.15, "difference on one rig", source="rig R-1"),
            Figure("effective pitch", 0.04, "deg", None, "from the dimension sheets", validated=False),
        ),
        after_trim=(
            Figure("span moment", 0.002, "kg m", 0.006, "difference less trim weight", source="rig R-1"),
            Figure("chordwise centre", 0.18, "mm", 0.15, "difference less trim weight", source="rig R-1"),
            Figure("effective pitch", 0.04, "deg", None, "from the dimension sheets", validated=False),
        ),
        trim=(TrimWeight("FM31-0008", "tip forward", 3.52, 0.0082),),
        handle_force=Figure("handle force", 7.4, "N", 6.0, "estimate", "hover", source="reflex of both blades"),
        findings=(
            finding(
                "mates: span moment", Outcome.PASS, "matching",
                sentence="After trim weight the span moments differ by less than can be resolved.",
                worst=Figure("span moment", 0.002, "kg m", 0.006), limit="0.010 kg m",
                limit_source="Fennmark drawing FM-31, invented",
            ),
            finding(
                "set: handle force", Outcome.PASS, "matching",
                sentence="The set asks for 7.4 N at the handle; the band is -8.9 to 22.2 N.",
                worst=Figure("handle force", 7.4, "N", 6.0), limit="-8.9 to 22.2 N",
                limit_source="Fennmark drawing FM-31, invented",
            ),
        ),
    )  # fmt: skip
    fields: dict[str, object] = {
        "shop": Shop("Fennmark Rotor Shop", "fennmark-2026", HEAD, demo=True),
        "name": "S-004",
        "drawing": DrawingRevision("FM-31", "C", SHA),
        "blades": (
            SetBlade("FM31-0007", "accepted under deviation D-3, D-4", WHEN, digest(b"7"), ("only with FM31-0008",)),
            SetBlade("FM31-0008", "accepted under deviation D-5", WHEN, digest(b"8"), ("only with FM31-0007",)),
        ),
        "match": match,
        "method": "exact: every pairing of the batch compared",
        "decided": WHEN,
        "engine_version": "bladewright 0.1.0",
        "handle_band": HandleBand(least="-2 lbf", greatest="5 lbf"),
        "limits": (Figure("span moment", 0.010, "kg m"), Figure("chordwise centre", 0.4, "mm")),
        **more,
    }
    return SetRecordPaper(**fields)  # type: ignore[arg-type]
