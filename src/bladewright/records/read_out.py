"""What a piece of evidence says, in words, and what its own rules find: the same readers and rules as when judged."""

import datetime
from collections.abc import Iterable
from dataclasses import dataclass

from bladewright.drawing.file import BladeDrawing
from bladewright.evidence.coupon import read_coupon
from bladewright.evidence.cure_log import read_cure_log
from bladewright.evidence.description import parse_logger_description, parse_pull_description
from bladewright.evidence.dimension_sheet import read_dimension_sheet
from bladewright.evidence.pull_curve import read_pull_curve
from bladewright.evidence.records import Channel, CureLog, Remark
from bladewright.evidence.signed_record import read_signed_record
from bladewright.evidence.void_map import read_void_map
from bladewright.evidence.weighing import read_weighing
from bladewright.figures import Figure, Finding, counted, in_both_units, spread
from bladewright.proof.cure import judge_cure
from bladewright.proof.dimensions import judge_dimensions
from bladewright.proof.peel import judge_coupon
from bladewright.proof.signed import judge_signed
from bladewright.proof.void_map import judge_void_maps, place_of
from bladewright.proof.weighing import judge_weighings
from bladewright.proof.wording import no_limit
from bladewright.records import evidence
from bladewright.records.blades import blade_named
from bladewright.records.drawings import read_filed as read_drawing
from bladewright.records.evidence import Ready

Told = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Read:
    """What was read, the channels and remarks of a table, and the findings of this piece by itself."""

    told: Told
    findings: tuple[Finding, ...]
    channels: tuple[Channel, ...] = ()
    remarks: tuple[Remark, ...] = ()


def read_out(ready: Ready) -> Read:
    """One piece of evidence, by the drawing its blades are made to."""
    drawings = {}
    for serial in ready.serials:
        row = blade_named(serial).drawing
        drawings[row.file.sha256] = row
    read = [_READ[ready.kind](ready, read_drawing(row)) for row in drawings.values()]
    findings = tuple(dict.fromkeys(finding for one in read for finding in one.findings))
    return Read(read[0].told, findings, read[0].channels, read[0].remarks)


def _cure(ready: Ready, drawing: BladeDrawing) -> Read:
    assert ready.how is not None
    how = parse_logger_description(ready.how.data, ready.how.name)
    log = read_cure_log(ready.given.data, how, ready.given.name)
    limits = drawing.limits.cure
    found = judge_cure(log, limits) if limits else (no_limit("cure: limits", "cure", "limits.cure"),)
    last = len(log.seconds) - 1
    told = (
        ("blades in the mould", ", ".join(ready.serials)),
        ("read by", f"{log.description} ({ready.how.name})"),
        ("first reading", log.clock_of(0)),
        ("last reading", log.clock_of(last)),
        ("logged for", _duration(log)),
        ("readings", f"{counted(len(log.seconds), 'row')}, {counted(len(log.channels), 'channel')}"),
        ("mould sensors", _named(log.channels[i] for i in log.with_role("mould")) or "none"),
    )
    return Read(told, found, log.channels, log.remarks)


def _coupon(ready: Ready, drawing: BladeDrawing) -> Read:
    coupon = read_coupon(ready.given.data, ready.given.name)
    curve, remarks = None, ready.remarks
    if ready.pull is not None and ready.how is not None:
        how = parse_pull_description(ready.how.data, ready.how.name)
        curve = read_pull_curve(ready.pull.data, how, ready.pull.name)
    told: Told = (
        ("coupon", f"{coupon.label} of {coupon.serial}, {in_both_units(Figure('width', coupon.width, 'm'))} wide"),
        ("torn", f"by {coupon.torn_by} on {coupon.torn_on.isoformat()}"),
        *(
            (f"{face.face} face", ", ".join(f"{mode} {_area(area)}" for mode, area in face.areas))
            for face in coupon.faces
        ),
        ("pull curve", "none" if curve is None else f"{curve.source.file}, {counted(len(curve.travel), 'row')}"),
    )
    return Read(told, judge_coupon(coupon, curve, drawing.limits.peel), (), remarks)


def _dimensions(ready: Ready, drawing: BladeDrawing) -> Read:
    sheet = read_dimension_sheet(ready.given.data, ready.given.name)
    told: Told = (
        ("measured", f"by {sheet.measured_by} on {sheet.measured_on.isoformat()}"),
        ("dimensions", counted(len(sheet.rows), "row")),
        *(
            (
                row.feature + ("" if row.station is None else f" at {row.station:.3f} m"),
                f"{row.text}, gauge {row.gauge or 'not entered'}"
                + (", uncertainty not entered" if row.uncertainty is None else ""),
            )
            for row in sheet.rows
        ),
    )
    return Read(told, judge_dimensions(drawing, (sheet,)))


def _weighing(ready: Ready, drawing: BladeDrawing) -> Read:
    read = read_weighing(ready.given.data, ready.given.name)
    span = Figure("span moment", read.span_moment_difference, "kg m", read.span_moment_uncertainty)
    told = [
        ("weighed", f"by {read.weighed_by} on {read.weighed_on.isoformat()}, rig {read.rig}, master {read.master}"),
        ("span moment, blade less master", f"{in_both_units(span)} +/- {spread(span)}"),
    ]
    if read.chordwise_difference is not None:
        centre = Figure("chordwise centre", read.chordwise_difference, "m", read.chordwise_uncertainty)
        told.append(("chordwise centre, further aft", f"{in_both_units(centre)} +/- {spread(centre)}"))
    if read.mass is not None:
        told.append(("mass", in_both_units(Figure("mass", read.mass, "kg"))))
    return Read(tuple(told), judge_weighings((read,), drawing.limits.weighing))


def _void_map(ready: Ready, drawing: BladeDrawing) -> Read:
    read = read_void_map(ready.given.data, ready.given.name)
    size = "not entered" if read.uncertainty is None else in_both_units(Figure("uncertainty", read.uncertainty, "m"))
    told: Told = (
        ("found", f"by {read.found_by} on {read.found_on.isoformat()}, {read.method}"),
        ("uncertainty of every size", size),
        *((f"looked at: {one.bondline}", f"{one.inner:.3f} m to {one.outer:.3f} m") for one in read.looked_at),
        ("voids", counted(len(read.voids), "void") if read.voids else "none found where it was looked"),
        *(
            (f"void {void.number}", f"{_length(void.along)} along, {_length(void.across)} across; {place_of(void)}")
            for void in read.voids
        ),
    )
    return Read(told, judge_void_maps(drawing, (read,)))


def _signed(ready: Ready, drawing: BladeDrawing) -> Read:  # noqa: ARG001
    read = read_signed_record(ready.given.data, ready.given.name)
    told: Told = (
        ("proof", read.proof),
        ("result", read.result),
        ("statement", read.statement),
        ("signed", f"by {read.signed_by} on {read.signed_on.isoformat()}"),
        *read.details,
    )
    return Read(told, (judge_signed(read),))


_READ = {
    evidence.CURE: _cure,
    evidence.COUPON: _coupon,
    evidence.DIMENSIONS: _dimensions,
    evidence.WEIGHING: _weighing,
    evidence.VOID_MAP: _void_map,
    evidence.SIGNED: _signed,
}


def _named(channels: Iterable[Channel]) -> str:
    return ", ".join(channel.name for channel in channels)


def _duration(log: CureLog) -> str:
    return str(datetime.timedelta(seconds=round(float(log.seconds[-1] - log.seconds[0]))))


def _length(value: float) -> str:
    return in_both_units(Figure("length", value, "m"))


def _area(value: float) -> str:
    return f"{1e6 * value:.4g} mm^2"
