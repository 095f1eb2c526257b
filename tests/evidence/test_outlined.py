"""A photograph by its first bytes, and the areas outlined on it; every wrong entry is named."""

import contextlib
import struct
import zlib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.errors import BadInput, SeveralBadInputs
from bladewright.evidence.outlined import read_outlined, written
from bladewright.evidence.outlined_text import areas_of, areas_text, corners_of, corners_text, marks_of, marks_text
from bladewright.evidence.photograph import read_photograph


def png(width: int = 400, height: int = 100) -> bytes:
    """A grey picture written by hand. ISO/IEC 15948 (from memory)."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    rows = b"".join(b"\0" + b"\x80" * width for _ in range(height))
    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b"")


def jpeg(width: int, height: int, orientation: int | None = None, order: str = "<") -> bytes:
    """The head of a JPEG file, no picture behind it."""
    turned = b""
    if orientation is not None:
        mark = {"<": b"II*\0", ">": b"MM\0*"}[order]
        entry = struct.pack(order + "HHIHH", 0x0112, 3, 1, orientation, 0)
        tiff = mark + struct.pack(order + "IH", 8, 1) + entry
        turned = b"\xff\xe1" + struct.pack(">H", len(tiff) + 8) + b"Exif\0\0" + tiff
    frame = b"\xff\xc0" + struct.pack(">HBHHB", 11, 8, height, width, 1) + b"\x01\x11\0"
    return b"\xff\xd8" + turned + b"\xff\xdb" + struct.pack(">H", 4) + b"\0\0" + frame


FILE = """
format = 1
serial = "0007"
label = "root"
face = "top"
photograph = "0007-root-top.png"
outlined_by = "R. Vane"
outlined_on = 2026-03-05
placing = 1.5
outline = [[0, 0], [400, 0], [400, 100], [0, 100]]

[[marks]]
length = "1.000 in"
start = [10, 0]
end = [10, 100]

[[areas]]
mode = "CF"
corners = [[0, 0], [400, 0], [400, 100], [0, 100]]

[[areas]]
mode = "SCF"
corners = [[10, 10], [50, 10], [50, 30.5]]
"""


def test_the_outlines_are_read_and_written_back() -> None:
    read = read_outlined(FILE.encode(), png(), "0007-root-top.toml", "0007-root-top.png")
    assert (read.serial, read.label, read.face, read.placing) == ("0007", "root", "top", 1.5)
    assert read.marks[0].length == pytest.approx(0.0254)
    assert read.marks[0].pixels == 100.0
    assert [(area.mode, len(area.corners)) for area in read.areas] == [("CF", 4), ("SCF", 3)]
    again = read_outlined(written(read), png(), "0007-root-top.toml", "0007-root-top.png")
    assert (again.areas, again.outline, again.marks) == (read.areas, read.outline, read.marks)


def test_a_photograph_alone_has_nothing_outlined() -> None:
    bare = FILE.split("placing")[0]
    read = read_outlined(bare.encode(), png())
    assert (read.outline, read.areas, read.placing) == ((), (), None)
    assert read_outlined(written(read), png()).areas == ()


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ('mode = "SCF"', 'mode = "glue"', "areas.2.mode"),
        ("[50, 30.5]]", "[50, nan]]", "areas.2.corners.3.2"),
        ("[[10, 10], [50, 10], [50, 30.5]]", "[[10, 10], [50, 10]]", "areas.2.corners"),
        ("end = [10, 100]", "end = [10, 101]", "marks.1"),
        ("[50, 30.5]]", "[401, 30.5]]", "areas.2"),
        ("placing = 1.5", "placing = 0", "placing"),
        ('length = "1.000 in"', "length = 1", "marks.1.length"),
        ('face = "top"', 'face = "upper"', "face"),
    ],
)
def test_what_cannot_be_an_outline_is_named(old: str, new: str, field: str) -> None:
    assert old in FILE
    with pytest.raises(SeveralBadInputs) as caught:
        read_outlined(FILE.replace(old, new).encode(), png(), "0007.toml")
    assert ("0007.toml", field) in [(error.file, error.field) for error in caught.value.errors]


@pytest.mark.parametrize(
    ("line", "what"),
    [
        (
            "outline = [[0, 0], [400, 0], [400, 100], [0, 100]]\n",
            "has areas or marks, and no outline of the whole face",
        ),
        ("placing = 1.5\n", "does not say how well a corner was placed"),
    ],
)
def test_areas_want_the_whole_face_and_how_well_it_was_drawn(line: str, what: str) -> None:
    with pytest.raises(SeveralBadInputs) as caught:
        read_outlined(FILE.replace(line, "").encode(), png())
    assert [error.what for error in caught.value.errors] == [what]


def test_the_size_is_the_pictures_own() -> None:
    found = read_photograph(png(640, 480), "a.png")
    assert (found.kind, found.width, found.height, found.content_type) == ("png", 640, 480, "image/png")


@pytest.mark.parametrize("order", ["<", ">"])
@pytest.mark.parametrize(
    ("orientation", "size"), [(None, (640, 480)), (1, (640, 480)), (3, (640, 480)), (6, (480, 640)), (8, (480, 640))]
)
def test_a_camera_on_its_side_turns_the_picture(orientation: int | None, size: tuple[int, int], order: str) -> None:
    """Orientations 5 to 8 are shown turned by a quarter. Exif 2.3 (from memory)."""
    found = read_photograph(jpeg(640, 480, orientation, order), "a.jpg")
    assert (found.kind, found.width, found.height) == ("jpeg", *size)


@pytest.mark.parametrize(
    "data",
    [
        b"", b"GIF89a" + b"\0" * 40, b"<svg xmlns='http://www.w3.org/2000/svg'/>", b"\x89PNG\r\n\x1a\n", png()[:20],
        png(30_000, 1), b"\xff\xd8\xff", jpeg(640, 480)[:12], jpeg(0, 480), b"%PDF-1.7",
    ],
)  # fmt: skip
def test_what_is_no_photograph_is_refused_whatever_it_is_called(data: bytes) -> None:
    with pytest.raises(BadInput) as caught:
        read_photograph(data, "coupon.png")
    assert (caught.value.file, caught.value.field) == ("coupon.png", "photograph")


@settings(max_examples=200, deadline=None)
@given(st.binary(max_size=200), st.sampled_from([b"", b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n", jpeg(9, 9, 6)[:20]]))
def test_no_bytes_do_more_than_be_refused(data: bytes, head: bytes) -> None:
    with contextlib.suppress(BadInput):
        assert 0 < read_photograph(head + data).width <= 20_000


def test_typed_outlines_come_back_as_they_were_typed() -> None:
    read = read_outlined(FILE.encode(), png())
    assert areas_of(areas_text(read.areas)) == read.areas
    assert corners_of(corners_text(read.outline), "outline") == read.outline
    (mark,) = marks_of(marks_text(read.marks))
    assert (mark.start, mark.end, mark.length) == (*((10.0, 0.0), (10.0, 100.0)), pytest.approx(0.0254))
    assert areas_of(" af: 1,2 3,4  5.5,6 \n\n")[0].mode == "AF"


@pytest.mark.parametrize(
    ("text", "row", "value"),
    [
        ("CF: 1,2 3,4 5,6\nglue: 1,2 3,4 5,6", 2, "glue: 1,2 3,4 5,6"),
        ("CF 1,2 3,4 5,6", 1, "CF 1,2 3,4 5,6"),
        ("AF: 1,2 3.4 5,6", 1, "3.4"),
        ("AF: 1,2 3,4", 1, " 1,2 3,4"),
        ("AF: 1,2 -3,4 5,6", 1, "-3,4"),
    ],
)
def test_a_typed_line_that_is_no_area_is_named_by_its_row(text: str, row: int, value: str) -> None:
    with pytest.raises(SeveralBadInputs) as caught:
        areas_of(text)
    assert [(error.field, error.row, error.value) for error in caught.value.errors] == [("areas", row, value)]


@pytest.mark.parametrize("text", ["54,30 54,182", "1 in: 54,30", "1 in: 1,2 3,4 5,6", "1: 1,2 3,4", "0 mm: 1,2 3,4"])
def test_a_typed_line_that_is_no_length_is_refused(text: str) -> None:
    with pytest.raises(SeveralBadInputs) as caught:
        marks_of(text)
    assert [(error.field, error.row) for error in caught.value.errors] == [("marks", 1)]
