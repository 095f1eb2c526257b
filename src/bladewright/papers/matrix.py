"""The Data Matrix on every paper: which blade, which drawing, which verdict, which state of the book."""

from dataclasses import dataclass
from typing import Final
from urllib.parse import quote, unquote

import numpy as np
import zxingcpp

from bladewright.errors import BadInput

#: side of one square; four dots at 200 dots per inch, which a phone or a page scanner tells apart [mm]
MODULE: Final = 0.55
#: characters of a hash that are carried; the whole hash is printed beside [count]
SHORT: Final = 12
#: a serial longer than this makes a mark that no longer fits beside a title [count]
LONGEST: Final = 80
_QUIET = 2  # empty squares around the mark; one is the least allowed by ISO/IEC 16022
_SEPARATOR = ";"
_READABLE = " /:,.()#*$'!&+=@[]\""


@dataclass(frozen=True, slots=True)
class Mark:
    """What the Data Matrix says."""

    name: str  # serial of a blade or name of a set
    drawing: str  # the drawing's SHA-256; shortened when written
    word: str
    head: str  # the chain head; shortened when written


def mark_text(mark: Mark) -> str:
    """The mark's text: plain ASCII, parts separated by semicolons, other letters as percent codes."""
    if len(mark.name) > LONGEST:
        raise BadInput(
            "is too long to print as a Data Matrix", field="serial", value=mark.name, allowed=f"{LONGEST} letters"
        )
    parts = (mark.name, mark.drawing[:SHORT], mark.word, mark.head[:SHORT])
    return _SEPARATOR.join(quote(part, safe=_READABLE, errors="replace") for part in parts)


def read_mark(text: str) -> Mark:
    """The parts of a scanned mark."""
    parts = [unquote(part) for part in text.split(_SEPARATOR)]
    if len(parts) != 4:
        raise BadInput("is not a mark of a blade or set paper", value=text, allowed="four parts separated by ;")
    return Mark(*parts)


def mark_svg(text: str) -> tuple[bytes, float]:
    """The mark as squares in an SVG, and its printed width. [mm]"""
    code = zxingcpp.create_barcode(text, zxingcpp.BarcodeFormat.DataMatrix)
    dark = np.asarray(code.to_image(scale=1, add_quiet_zones=False)) == 0
    rows, columns = dark.shape
    runs = []
    for row in range(rows):
        edges = np.flatnonzero(np.diff(np.concatenate(([0], dark[row].astype(np.int8), [0]))))
        runs += [f"M{a + _QUIET} {row + _QUIET}h{b - a}v1h{a - b}z" for a, b in edges.reshape(-1, 2).tolist()]
    width, height = columns + 2 * _QUIET, rows + 2 * _QUIET
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" width="{width}" height="{height}">'
        f'<path fill="#000" d="{"".join(runs)}"/></svg>'
    )
    return svg.encode(), width * MODULE
