"""Release papers of a set: made when somebody asks, kept in the book's folder until something newer is known."""

from pathlib import Path
from typing import Final

from bladewright.figures import digest
from bladewright.papers.sets import set_record
from bladewright.records.book import opened
from bladewright.records.placing import put
from bladewright.records.printing import paper_of_set
from bladewright.records.sets import serials_of, set_named
from bladewright.records.writing import newest_about

_FOLDER: Final = "papers"


def kept_paper_of_set(name: str) -> Path:
    """The set record as a PDF file, of everything entered about the set and its blades so far.

    A paper that is there already is given again as it is: the chain head on it is that of the day it was made.
    """
    row = set_named(name)
    event = max(newest_about(subject) for subject in (name, *serials_of(row)))
    plain = "".join(letter if letter.isalnum() or letter in "+-." else "-" for letter in name)[:80]
    path = opened().folder / _FOLDER / f"set {plain} {digest(name.encode())[:8]} at event {event}.pdf"
    if not path.is_file():
        put(path, set_record(paper_of_set(name)))
    return path
