"""Names are what the book is found by: each must read as it shows, and none may pass for another."""

import unicodedata
from collections.abc import Iterable
from typing import Final

from bladewright.errors import BadInput
from bladewright.typed import hidden_complaint, letter_named

#: letters; our own choice: longer than any serial, and it still goes on a label
LONGEST: Final = 200
#: letters that show nothing, though Unicode does not count them as blanks or format marks (from memory)
_SHOW_NOTHING: Final = frozenset(
    "\u034f\u115f\u1160\u17b4\u17b5\u2800\u3164\uffa0\u180b\u180c\u180d\u180f"
    + "".join(map(chr, (*range(0xFE00, 0xFE10), *range(0xE0100, 0xE01F0))))
)
#: letters of other scripts, round and upright ones, and dashes, as what they pass for (from memory; not every one)
_PASSES_FOR: Final = str.maketrans(
    "АВЕЅЗІЈКМНОРСТУХаеѕіјорсухһԁԛԝ" + "ΑΒΕΖΗΙΚΜΝΟΡΤΥΧονι" + "oOIl|" + "‐‑‒–—−" + "’‘ʼ",
    "ABES31JKMH0PCTYXaesij0pcyxhdqw" + "ABEZH1KMN0PTYX0vi" + "00111" + "------" + "'''",
)


def refuse_name(name: str, field: str) -> None:
    """``BadInput`` unless the name can be read, said over a telephone and typed again."""
    trouble = _trouble(name)
    if trouble:
        raise BadInput(
            trouble,
            field=field,
            value=name,
            allowed=f"a name of letters and digits, at most {LONGEST}, without blanks at its ends",
            fix="type the name again",
        )


def refuse_hidden(text: str, field: str) -> None:
    """``BadInput`` for a sentence that shows otherwise than it reads. It may be empty."""
    if (wrong := hidden_complaint(text, field=field)) is not None:
        raise wrong


def refuse_look_alike(name: str, field: str, others: Iterable[str]) -> None:
    """``BadInput`` if another name would be taken for this one, on paper or on the telephone."""
    looks = _looks(name)
    for other in others:
        if other != name and looks & _looks(other):
            raise BadInput(
                f"can be taken for {other!r}, which is in the book",
                field=field,
                value=name,
                allowed="a name that cannot be taken for another, also in capitals or in another script",
                fix="if the two are the same, write it as it is in the book; if not, choose another name",
            )


def _trouble(name: str) -> str:
    if not any(letter.isalnum() for letter in name):
        return "has no letters and no digits"
    if name != name.strip():
        return "begins or ends with a blank"
    unseen = [letter for letter in name if not letter.isprintable() or letter in _SHOW_NOTHING]
    if unseen:
        return f"holds {letter_named(unseen[0])}, which cannot be seen"
    if len(name) > LONGEST:
        return f"is {len(name)} letters long"
    if not unicodedata.is_normalized("NFC", name):
        return "has accents apart from their letters"
    return ""


def _looks(name: str) -> set[str]:
    """The name as a hurried eye reads it, and as it is said aloud."""
    plain = " ".join((name if name.isascii() else unicodedata.normalize("NFKC", name)).split())
    return {plain.translate(_PASSES_FOR).casefold(), plain.casefold()}
