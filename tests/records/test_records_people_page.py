"""The how-to page about people says what the program does: its table is the program's own list."""

import re

import pytest

from bladewright.records.acts import LETS
from tests.conftest import ROOT

pytestmark = pytest.mark.book

PAGES = ("people.md", "the-book.md")


def test_the_pages_list_every_kind_of_work() -> None:
    for page in PAGES:
        text = (ROOT / "docs" / "howto" / page).read_text(encoding="utf-8")
        table = re.search(r"\| authorised for \| may \|\n\|---\|---\|\n((?:\|.*\n)+)", text)
        assert table is not None, page
        told = [re.split(r" *\| *", line.strip("| "))[:2] for line in table[1].splitlines()]
        assert [name for name, _ in told] == [str(scope) for scope in LETS], page
    assert told[1][1] == LETS[list(LETS)[1]]
