"""The shop's own files: coupon, dimension sheet, weighing, signed record. Every wrong entry named, all at once."""

import contextlib
import datetime
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.errors import BadInput, BladewrightError, SeveralBadInputs
from bladewright.evidence.coupon import read_coupon
from bladewright.evidence.dimension_sheet import read_dimension_sheet
from bladewright.evidence.signed_record import read_signed_record
from bladewright.evidence.weighing import read_weighing

COUPON = """
format = 1
serial = "0007"
label = "tip"
width = "1 in"
torn_by = "R. Vane"
torn_on = 2026-03-04
pull_curve = "0007-tip.csv"
[[faces]]
face = "top"
areas = { CF = "900 mm^2", SCF = "0 mm^2", AF = "0 mm^2", void = "9 mm^2" }
[[faces]]
face = "bottom"
areas = { CF = "9 cm^2", SCF = "0 mm^2", AF = "0 mm^2", void = "9 mm^2" }
"""
SHEET = """serial,feature,station,value,uncertainty,gauge,measured_by,measured_on
0007,reflex.angle,2.1 m,1.5 deg,0.1 deg,P-2,R. Vane,2026-03-04
0007,bondline.thickness,84 in,0.005 in,,F-1,R. Vane,2026-03-04
0007,finished mass,,9.6 kg,5 g,S-1,R. Vane,2026-03-04
"""
WEIGHING = """
format = 1
serial = "0007"
rig = "W-1"
master = "M-1"
weighed_by = "R. Vane"
weighed_on = "2026-03-04"
mass = "9.65 kg"
[span_moment]
rig_uncertainty = "4 g m"
readings = [
  { blade = "17.062 kg m" }, { master = "17.050 kg m" }, { blade = "17062 g m" }, { master = "17.050 kg m" },
]
"""
SIGNED = """
format = 1
serial = "0007"
proof = "surface treatment"
result = "conforms"
statement = "Bath and times as the shop's sheet ST-2."
signed_by = "R. Vane"
signed_on = 2026-03-04
[details]
bath = "A-3"
"""
DAY = datetime.date(2026, 3, 4)


def _refused(read: Callable[[bytes, str], object], text: str) -> tuple[BladewrightError, ...]:
    with pytest.raises(SeveralBadInputs) as caught:
        read(text.encode(), "entry.toml")
    assert {error.file for error in caught.value.errors} == {"entry.toml"}
    return caught.value.errors


def test_a_coupon() -> None:
    coupon = read_coupon(COUPON.encode("utf-8-sig"), "c.toml")
    assert (coupon.serial, coupon.label, coupon.width, coupon.torn_on) == ("0007", "tip", 0.0254, DAY)
    assert coupon.pull_curve == "0007-tip.csv"
    assert coupon.source.file == "c.toml"
    top, bottom = (dict(face.areas) for face in coupon.faces)
    assert top == pytest.approx(bottom)
    assert top == pytest.approx({"CF": 9e-4, "SCF": 0.0, "AF": 0.0, "void": 9e-6})


@pytest.mark.parametrize(
    ("old", "new", "field", "value"),
    [
        ('AF = "0 mm^2", void = "9 mm^2" }\n[[', 'void = "9 mm^2" }\n[[', "faces.1.areas.AF", None),
        ('SCF = "0 mm^2"', 'SCF = "0"', "faces.1.areas.SCF", "0"),
        ('SCF = "0 mm^2"', "SCF = 0", "faces.1.areas.SCF", 0),
        ('CF = "900 mm^2"', 'CF = "9,5 cm^2"', "faces.1.areas.CF", "9,5 cm^2"),
        ('CF = "900 mm^2"', 'CF = "-1 mm^2"', "faces.1.areas.CF", "-1 mm^2"),
        ('CF = "900 mm^2"', 'CF = "900 mm"', "faces.1.areas.CF", "900 mm"),
        ('void = "9 mm^2"', 'void = "9 mm^2", ACF = "1 mm^2"', "faces.1.areas.ACF", "1 mm^2"),
        ('face = "bottom"', 'face = "top"', "faces", None),
        ('width = "1 in"', 'width = "0 in"', "width", "0 in"),
        ("torn_on = 2026-03-04", 'torn_on = "03/04/2026"', "torn_on", "03/04/2026"),
        ("torn_on = 2026-03-04", "torn_on = 2026-03-04T08:00:00", "torn_on", None),
        ('torn_by = "R. Vane"', 'torn_by = " "', "torn_by", " "),
        ('serial = "0007"\n', "", "serial", None),
        ("format = 1", "format = 1\ntemperature = 3", "temperature", 3),
    ],
)
def test_a_coupon_refused(old: str, new: str, field: str, value: object) -> None:
    assert old in COUPON
    errors = _refused(read_coupon, COUPON.replace(old, new, 1))
    assert [error.value for error in errors if error.field == field] == [value]


def test_a_dimension_sheet() -> None:
    sheet = read_dimension_sheet(SHEET.replace("\n", "\r\n").encode("utf-8-sig"), "s.csv")
    assert (sheet.serial, sheet.measured_by, sheet.measured_on) == ("0007", "R. Vane", DAY)
    reflex, bond, mass = sheet.rows
    assert (reflex.feature, reflex.kind, reflex.text, reflex.unit, reflex.row) == (
        "reflex.angle", "angle", "1.5 deg", "deg", 2,
    )  # fmt: skip
    assert (reflex.value, reflex.uncertainty) == pytest.approx((np.radians(1.5), np.radians(0.1)))
    assert (bond.value, bond.uncertainty, bond.station) == (pytest.approx(0.000127), None, pytest.approx(2.1336))
    assert (mass.kind, mass.value, mass.uncertainty, mass.station) == ("mass", 9.6, pytest.approx(0.005), None)


@pytest.mark.parametrize(
    ("old", "new", "row", "column"),
    [
        ("1.5 deg", "1.5", 2, "value"),
        ("1.5 deg", '"1,5 deg"', 2, "value"),
        ("1.5 deg", "1,5 deg", 2, None),
        ("1.5 deg", "", 2, "value"),
        ("1.5 deg", "1.5 mm", 2, "uncertainty"),
        ("1.5 deg", "1.5 furlongs per hour", 2, "value"),
        ("0.1 deg", "0 deg", 2, "uncertainty"),
        ("2.1 m", "2.1", 2, "station"),
        ("0007,bond", "0008,bond", 3, "serial"),
        ("2026-03-04\n0007,bond", "4.3.2026\n0007,bond", 2, "measured_on"),
        ("bondline.thickness,84 in", "reflex.angle,2100 mm", 3, "feature"),
        ("R. Vane,2026-03-04\n0007,fin", "Q. Reed,2026-03-04\n0007,fin", 3, "measured_by"),
        ("0007,bondline.thickness", "0007,", 3, "feature"),
    ],
)
def test_a_dimension_sheet_refused(old: str, new: str, row: int, column: str | None) -> None:
    assert old in SHEET
    errors = _refused(read_dimension_sheet, SHEET.replace(old, new, 1))
    assert (row, column) in {(error.row, error.column) for error in errors}


def test_known_features_catch_a_misspelling_and_a_wrong_unit() -> None:
    known = {"reflex.angle": "angle", "bondline.thickness": "length", "finished mass": "mass"}
    assert len(read_dimension_sheet(SHEET.encode(), "s.csv", known).rows) == 3
    with pytest.raises(SeveralBadInputs) as caught:
        read_dimension_sheet(SHEET.replace("reflex.angle", "reflex.angel").encode(), "s.csv", known)
    assert [(error.row, error.column, error.value) for error in caught.value.errors] == [(2, "feature", "reflex.angel")]
    with pytest.raises(SeveralBadInputs) as caught:
        read_dimension_sheet(SHEET.replace("9.6 kg", "9.6 m").encode(), "s.csv", known)
    assert (caught.value.errors[0].row, caught.value.errors[0].column) == (4, "value")


@pytest.mark.parametrize("text", ["", "\n", SHEET.splitlines()[0], "serial;feature\n", "a,b\n1,2\n", '"'])
def test_no_sheet(text: str) -> None:
    with pytest.raises(BadInput) as caught:
        read_dimension_sheet(text.encode(), "s.csv")
    assert caught.value.file == "s.csv"


def test_a_weighing() -> None:
    weighing = read_weighing(WEIGHING.encode(), "w.toml")
    assert weighing.span_moment_difference == pytest.approx(0.012, rel=1e-9)
    # no scatter at all: only what was entered for the rig is left
    assert weighing.span_moment_uncertainty == pytest.approx(0.004, rel=1e-6)
    assert (weighing.mass, weighing.master, weighing.rig, weighing.weighed_on) == (9.65, "M-1", "W-1", DAY)
    assert weighing.chordwise_difference is None


def test_a_weighing_with_a_chordwise_comparison() -> None:
    chordwise = WEIGHING[WEIGHING.index("[span") :].replace("span_moment", "chordwise").replace("4 g m", "0.1 mm")
    chordwise = (
        chordwise.replace("17.062 kg m", "47.8 mm").replace("17062 g m", "47.8 mm").replace("17.050 kg m", "47.5 mm")
    )
    weighing = read_weighing((WEIGHING + chordwise).encode(), "w.toml")
    assert weighing.chordwise_difference == pytest.approx(0.0003, rel=1e-6)
    assert weighing.chordwise_uncertainty == pytest.approx(0.0001, rel=1e-6)


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ('{ master = "17.050 kg m" }, { blade = "17062 g m" },', "", "span_moment.readings"),
        ('{ master = "17.050 kg m" }, { blade', '{ blade = "17.050 kg m" }, { blade', "span_moment"),
        ('{ blade = "17.062 kg m" }', '{ blade = "17.062" }', "span_moment.readings.1"),
        ('{ blade = "17.062 kg m" }', '{ blade = "17,062 kg m" }', "span_moment.readings.1"),
        ('{ blade = "17.062 kg m" }', '{ blade = "1 kg m", master = "1 kg m" }', "span_moment.readings.1"),
        ('{ blade = "17.062 kg m" }', '{ other = "1 kg m" }', "span_moment.readings.1.other"),
        ('"4 g m"', '"4 g"', "span_moment.rig_uncertainty"),
        ('"4 g m"', '"-4 g m"', "span_moment.rig_uncertainty"),
        ('rig_uncertainty = "4 g m"\n', "", "span_moment.rig_uncertainty"),
        ('mass = "9.65 kg"', 'mass = "0 kg"', "mass"),
        ('weighed_on = "2026-03-04"', 'weighed_on = "4/3/2026"', "weighed_on"),
    ],
)
def test_a_weighing_refused(old: str, new: str, field: str) -> None:
    assert old in WEIGHING
    assert field in {error.field for error in _refused(read_weighing, WEIGHING.replace(old, new, 1))}


def test_a_signed_record() -> None:
    record = read_signed_record(SIGNED.encode(), "r.toml")
    assert (record.proof, record.result, record.signed_by, record.signed_on) == (
        "surface treatment", "conforms", "R. Vane", DAY,
    )  # fmt: skip
    assert record.details == (("bath", "A-3"),)


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ('"conforms"', '"good"', "result"),
        ('signed_by = "R. Vane"', 'signed_by = ""', "signed_by"),
        ("signed_on = 2026-03-04", 'signed_on = "2026-02-30"', "signed_on"),
        ('bath = "A-3"', "bath = 3", "details.bath"),
        ("[details]", "[detail]", "detail"),
    ],
)
def test_a_signed_record_refused(old: str, new: str, field: str) -> None:
    assert field in {error.field for error in _refused(read_signed_record, SIGNED.replace(old, new, 1))}


@pytest.mark.parametrize("read", [read_coupon, read_weighing, read_signed_record])
def test_no_toml_at_all(read: Callable[[bytes, str], object]) -> None:
    for data in (b"", b"\xff\xfe", b"= 3", b"[[", b"\x00"):
        with pytest.raises(BadInput) as caught:
            read(data, "x.toml")
        assert caught.value.file == "x.toml"


@settings(max_examples=120, deadline=None)
@given(
    which=st.integers(0, 3),
    place=st.integers(0, 600),
    length=st.integers(0, 10),
    instead=st.text("0123456789.,-+eE\n\r\t;:\"' []{}=#()*^/% abcdmkgN\x00°²", max_size=4),
)
def test_damage_never_comes_to_a_traceback(which: int, place: int, length: int, instead: str) -> None:
    text, read = (
        (COUPON, read_coupon), (SHEET, read_dimension_sheet), (WEIGHING, read_weighing), (SIGNED, read_signed_record),
    )[which]  # fmt: skip
    with contextlib.suppress(BadInput):
        read((text[:place] + instead + text[place + length :]).encode(), "entry")
