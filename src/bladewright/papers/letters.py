"""Text that people typed, made safe to print: the paper's own fonts must have every letter, or its number is shown."""

import unicodedata
from functools import cache
from pathlib import Path

from matplotlib import get_data_path
from matplotlib.ft2font import FT2Font

#: DejaVu Sans, shipped with matplotlib under its own free licence; charts and papers use the same letters
FONT_FOLDER = Path(get_data_path()) / "fonts" / "ttf"
_FACES = ("DejaVuSans.ttf", "DejaVuSans-Bold.ttf", "DejaVuSansMono.ttf", "DejaVuSansMono-Bold.ttf")
#: categories a page cannot show as themselves: controls, invisible format and direction marks, surrogates, private use
_UNSHOWABLE = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})


@cache
def _shared_letters() -> frozenset[int]:
    """Code points that every face we print with has a shape for."""
    return frozenset.intersection(*(frozenset(FT2Font(str(FONT_FOLDER / face)).get_charmap()) for face in _FACES))


def printable(text: str) -> str:
    """The text with each letter the fonts lack written as its number, ``<U+1F600>``, so that nothing is hidden."""
    letters = _shared_letters()
    return "".join(
        letter
        if ord(letter) in letters and unicodedata.category(letter) not in _UNSHOWABLE
        else " "
        if letter in "\n\r\t"
        else f"<U+{ord(letter):04X}>"
        for letter in text
    )
