"""A desk with finished blades of the invented batch, to match in the browser or through its forms."""

from collections.abc import Callable, Sequence
from pathlib import Path

import pytest

from bladewright.figures import Outcome
from bladewright.records.matching_now import matching_now
from bladewright.records.opening import Book
from examples.fennmark.evidence import Evidence
from tests.records.conftest import rules_find
from tests.records.finished import FOUR, ONE, THREE, TWO, UNWEIGHED, finish

FREE = (ONE, TWO, THREE, FOUR)
TRIED = "/sets/?try=FM31-0107&try=FM31-0112"


def finished_desk(
    desk_of: Callable[[Path], Book],
    folder: Path,
    files: Evidence,
    patch: pytest.MonkeyPatch,
    serials: Sequence[str] = (*FREE, UNWEIGHED),
) -> Book:
    """Everybody with a secret, these blades accepted, what they do in flight worked out."""
    book = desk_of(folder)
    rules_find(patch, ("cure: dwell", Outcome.PASS))
    finish(files, serials)
    matching_now()
    return book
