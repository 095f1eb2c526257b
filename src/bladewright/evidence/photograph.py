"""What a photograph is and how large, from its first bytes. The picture itself is never opened here."""

import struct
from dataclasses import dataclass
from pathlib import Path
from typing import Final, Literal

from bladewright.errors import BadInput
from bladewright.evidence.files import taken
from bladewright.evidence.records import Source
from bladewright.figures import digest

LARGEST: Final = 20 * 1024 * 1024  # bytes; a sharp photograph of a coupon needs a tenth of it (our own choice)
LONGEST: Final = 20_000  # pixels along one side; more is no photograph (our own choice)
_LINES: Final = 12  # of a grid, at most
_LETTERS: Final = 70  # letters, one above another, as high as the picture is wide
_PNG: Final = b"\x89PNG\r\n\x1a\n"
_JPEG: Final = b"\xff\xd8\xff"
_TURNED: Final = (5, 6, 7, 8)  # orientations that lie on their side; Exif 2.3, tag 0x0112 (from memory)
_ORIENTATION: Final = 0x0112
#: markers that begin a frame and hold its size; ITU-T T.81, table B.1 (from memory)
_FRAMES: Final = frozenset({*range(0xC0, 0xD0)} - {0xC4, 0xC8, 0xCC})
_BARE: Final = frozenset({0x01, *range(0xD0, 0xD9)})  # markers with nothing behind them

Kind = Literal["png", "jpeg"]


@dataclass(frozen=True, slots=True)
class Photograph:
    """A photograph by its kind and its size as it is shown, its camera's turning included."""

    source: Source
    kind: Kind
    width: int  # [px]
    height: int  # [px]

    @property
    def grid(self) -> tuple[tuple[bool, int], ...]:
        """Lines to place corners by: whether it lies across, and at which pixel."""
        longest = max(self.width, self.height)
        step = next(step for step in (10, 20, 50, 100, 200, 500, 1000, 2000) if longest <= _LINES * step)
        down = ((True, at) for at in range(step, self.height, step))
        return (*down, *((False, at) for at in range(step, self.width, step)))

    @property
    def letters(self) -> int:
        """Height of letters written over it. [px]"""
        return max(8, max(self.width, self.height) // _LETTERS)

    @property
    def content_type(self) -> str:
        """What a browser is told it is."""
        return f"image/{self.kind}"


def read_photograph(photograph: Path | bytes, file: str = "") -> Photograph:
    """The photograph's kind and size; ``BadInput`` if it is neither PNG nor JPEG, too large, or torn."""
    data, name = taken(photograph, file)
    if len(data) > LARGEST:
        raise BadInput(
            "is too large", file=name, field="photograph", value=len(data), allowed=f"at most {LARGEST} bytes",
            fix="take it smaller: the coupon filling the picture is enough",
        )  # fmt: skip
    try:
        kind, (width, height) = _known(data)
    except (struct.error, IndexError):
        kind, width, height = None, 0, 0
    if kind is None or not (0 < width <= LONGEST and 0 < height <= LONGEST):
        raise BadInput(
            "is not a photograph that can be shown", file=name, field="photograph",
            allowed=f"a PNG or JPEG picture of at most {LONGEST} pixels a side, by its bytes and not by its name",
            fix="send the camera's own file, or save it as JPEG or PNG",
        )  # fmt: skip
    return Photograph(Source(name, digest(data)), kind, width, height)


def _known(data: bytes) -> tuple[Kind | None, tuple[int, int]]:
    if data.startswith(_PNG) and data[12:16] == b"IHDR":
        return "png", struct.unpack(">II", data[16:24])
    if data.startswith(_JPEG):
        return "jpeg", _jpeg_size(data)
    return None, (0, 0)


def _jpeg_size(data: bytes) -> tuple[int, int]:
    """Width and height as shown: the frame's, changed over where the camera lay on its side."""
    at, turned = 2, False
    while at + 4 <= len(data):
        if data[at] != 0xFF:
            return 0, 0
        marker = data[at + 1]
        if marker == 0xFF or marker in _BARE:
            at += 1 if marker == 0xFF else 2
            continue
        (length,) = struct.unpack(">H", data[at + 2 : at + 4])
        if length < 2:
            return 0, 0
        segment = data[at + 4 : at + 2 + length]
        if marker in _FRAMES:
            height, width = struct.unpack(">HH", segment[1:5])
            return (height, width) if turned else (width, height)
        if marker == 0xE1 and segment.startswith(b"Exif\0\0"):
            turned = _orientation(segment[6:]) in _TURNED
        at += 2 + length
    return 0, 0


def _orientation(tiff: bytes) -> int:
    """The camera's turning, 1 where it says none. TIFF 6.0, image file directory (from memory)."""
    order = {b"II": "<", b"MM": ">"}.get(tiff[:2])
    if order is None:
        return 1
    try:
        (first,) = struct.unpack(order + "I", tiff[4:8])
        (entries,) = struct.unpack(order + "H", tiff[first : first + 2])
        for number in range(entries):
            entry = tiff[first + 2 + 12 * number : first + 14 + 12 * number]
            tag, _, _, value = struct.unpack(order + "HHIH", entry[:10])
            if tag == _ORIENTATION:
                return int(value)
    except struct.error:  # a torn directory turns nothing
        return 1
    return 1
