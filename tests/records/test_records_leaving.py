"""Nothing leaves the shop on the word of a book that was edited behind the program's back, guards put back or not."""

from collections.abc import Callable
from pathlib import Path

import pytest

from bladewright.errors import BookDamaged
from bladewright.records.opening import Book, open_book
from bladewright.records.printing import paper_of_blade, paper_of_set
from bladewright.records.sets import sign_out
from tests.records.by_hand import by_hand
from tests.records.cast import RELEASER, by
from tests.records.conftest import SERIALS

pytestmark = pytest.mark.book
EDITS = {
    "the word of a verdict": "UPDATE verdict SET word = 'accepted'",
    "evidence taken off a blade": "DELETE FROM evidence_of WHERE id = (SELECT max(id) FROM evidence_of)",
    "a finding": "UPDATE verdict SET body = replace(body, '\"fail\"', '\"pass\"')",
    "who accepted it": "UPDATE event SET \"by\" = 'somebody' WHERE kind = 'deviation accepted'",
    "a verdict that is none": "UPDATE verdict SET body = 'garbage'",
}


@pytest.mark.parametrize("statement", EDITS.values(), ids=EDITS.keys())
@pytest.mark.parametrize(
    "leave",
    [lambda: sign_out(by(RELEASER), "S-1"), lambda: paper_of_blade(SERIALS[0]), lambda: paper_of_set("S-1")],
    ids=["signing out", "a blade's paper", "a set's paper"],
)
def test_an_edited_book_lets_nothing_out(full: Book, statement: str, leave: Callable[[], object]) -> None:
    with by_hand(full) as tables:
        tables.execute(statement)
    open_book(full.folder)
    with pytest.raises(BookDamaged) as caught:
        leave()
    assert caught.value.field
    assert caught.value.file == str(full.folder)


def test_a_kept_file_that_was_changed_lets_nothing_out(full: Book) -> None:
    kept = next(path for path in Path(full.folder, "files").rglob("*") if path.is_file())
    kept.write_bytes(b"other")
    with pytest.raises(BookDamaged):
        paper_of_blade(SERIALS[0])
