"""The label of a kitted adhesive roll: what it is, what is left of it, and a Data Matrix that says the same."""

from dataclasses import dataclass
from typing import Final
from urllib.parse import quote, unquote

from bladewright.errors import BadInput
from bladewright.figures import clock_text
from bladewright.papers.matrix import LONGEST, mark_svg
from bladewright.papers.typeset import pdf, utc
from bladewright.papers.wording import STANDING
from bladewright.proof.kitting import Kitted
from bladewright.proof.out_time import HOUR

_SEPARATOR: Final = ";"
_READABLE: Final = " /:,.()#*$'!&+=@[]\""
CAUTION: Final = "Hours go on counting until the mould is hot. Not after the time or the day above."


@dataclass(frozen=True, slots=True)
class LabelMark:
    """What the label's Data Matrix says."""

    roll: str
    lot: str
    hot_by: str  # UTC, or "" for a roll in the freezer
    expires: str


def label_text(kitted: Kitted) -> str:
    """Plain ASCII: roll, lot, when the mould must be hot, last day of use, parted by semicolons."""
    for field, name in (("roll", kitted.roll), ("lot", kitted.lot)):
        if len(name) > LONGEST:
            raise BadInput(
                "is too long to print as a Data Matrix", field=field, value=name, allowed=f"{LONGEST} letters"
            )
    by = "" if kitted.hot_by is None else utc(kitted.hot_by, "hot_by").isoformat().replace("+00:00", "Z")
    parts = (kitted.roll, kitted.lot, by, kitted.expires.isoformat())
    return _SEPARATOR.join(quote(part, safe=_READABLE, errors="replace") for part in parts)


def read_label(text: str) -> LabelMark:
    """The parts of a scanned label."""
    parts = [unquote(part) for part in text.split(_SEPARATOR)]
    if len(parts) != 4:
        raise BadInput("is not a mark of an adhesive label", value=text, allowed="four parts separated by ;")
    return LabelMark(*parts)


def kitting_label(kitted: Kitted) -> bytes:
    """The label as PDF/A-2a and PDF/UA-1; the same roll at the same time gives the same bytes."""
    text = label_text(kitted)
    svg, width = mark_svg(text)
    by = "in the freezer: its hours begin when it leaves" if kitted.hot_by is None else clock_text(kitted.hot_by)
    data = {
        "title": f"Adhesive roll {kitted.roll}",
        "description": f"{STANDING}. Adhesive roll {kitted.roll}, lot {kitted.lot}.",
        "keywords": [kitted.roll, kitted.lot],
        "facts": [
            ("Lot", kitted.lot),
            ("Film", kitted.film or "not given"),
            ("Mould hot by", by),
            ("Last day of use", kitted.expires.isoformat()),
            ("Hours out / left", f"{kitted.counted / HOUR:.1f} h / {kitted.left / HOUR:.1f} h"),
            ("Lot acceptance", kitted.acceptance),
            ("As of", clock_text(kitted.as_of)),
        ],
        "mark": {"text": text, "width": width},
        "caution": CAUTION,
        "standing": STANDING,
    }
    return pdf("label.typ", data, {"mark.svg": svg}, kitted.as_of)
