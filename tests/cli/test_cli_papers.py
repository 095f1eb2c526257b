"""A paper is written whole, only over a paper, and never over a part of the book."""

import os
from pathlib import Path

import pytest

from bladewright.cli.booked import paper_of, put_paper
from bladewright.errors import BadInput

PDF = b"%PDF-1.7 a paper"


@pytest.fixture(name="folder")
def _folder(tmp_path: Path) -> Path:
    """A book's folder, as far as papers care."""
    folder = tmp_path / "book"
    for part in ("files/ab", "papers"):
        (folder / part).mkdir(parents=True)
    for name in ("book.sqlite3", "book.toml", "files/ab/abc", "../book.heads"):
        (folder / name).write_bytes(b"the record")
    return folder


@pytest.mark.parametrize(
    "name", ["book.sqlite3", "book.toml", "files/ab/abc", "files/new.pdf", "papers/../book.sqlite3", "../book.heads"]
)
def test_no_part_of_the_book_is_written_over(folder: Path, name: str) -> None:
    path = folder / name
    before = path.read_bytes() if path.exists() else None
    with pytest.raises(BadInput) as caught:
        put_paper(path, PDF, book=folder, json=True)
    assert (caught.value.field, caught.value.what) == ("out", "is a part of the record book")
    assert (path.read_bytes() if path.exists() else None) == before


def test_a_link_into_the_book_is_no_way_in(folder: Path) -> None:
    link = folder.parent / "paper.pdf"
    link.symlink_to(folder / "book.sqlite3")
    with pytest.raises(BadInput):
        put_paper(link, PDF, book=folder, json=True)
    assert (folder / "book.sqlite3").read_bytes() == b"the record"


@pytest.mark.parametrize("what", ["folder", "pipe", "drawing"])
def test_nothing_but_a_paper_is_written_over(folder: Path, what: str) -> None:
    path = folder.parent / what
    if what == "folder":
        path.mkdir()
    elif what == "drawing":
        path.write_bytes(b"name")
    elif hasattr(os, "mkfifo"):
        os.mkfifo(path)
    else:
        pytest.skip("this system has no named pipes")
    kind = path.stat().st_mode
    with pytest.raises(BadInput) as caught:
        put_paper(path, PDF, book=folder, json=True)
    assert caught.value.value == str(path)
    assert path.stat().st_mode == kind
    assert what != "drawing" or path.read_bytes() == b"name"


def test_a_paper_is_written_again(folder: Path) -> None:
    path = folder / "papers" / "0107.pdf"
    put_paper(path, PDF, book=folder, json=True)
    put_paper(path, PDF + b" anew", book=folder, json=True)
    assert path.read_bytes() == PDF + b" anew"
    assert [item.name for item in path.parent.iterdir()] == ["0107.pdf"]


@pytest.mark.parametrize("name", ["../../etc/x", "a/b", "a\\b", "C:x", ".hidden", "..", "a\nb"])
def test_a_name_that_leads_elsewhere_is_no_paper_s_name(folder: Path, name: str) -> None:
    with pytest.raises(BadInput) as caught:
        paper_of(folder, name)
    assert (caught.value.field, caught.value.value) == ("out", name)


def test_a_link_to_a_paper_stays_a_link_and_one_to_itself_is_refused(folder: Path) -> None:
    paper, link, loop = (folder.parent / name for name in ("paper.pdf", "link.pdf", "loop.pdf"))
    paper.write_bytes(PDF)
    link.symlink_to(paper)
    loop.symlink_to(loop)
    put_paper(link, PDF + b" anew", book=folder, json=True)
    assert link.is_symlink()
    assert paper.read_bytes() == PDF + b" anew"
    with pytest.raises(BadInput) as caught:
        put_paper(loop, PDF, book=folder, json=True)
    assert (caught.value.file, caught.value.value) == (str(loop), "a link")
    assert loop.is_symlink()
