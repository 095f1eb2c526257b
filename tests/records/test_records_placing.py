"""A file is put over an ordinary file or over nothing: never over a folder, a pipe, a socket, a device or a link."""

import errno
import os
import socket
from pathlib import Path

import pytest

from bladewright.errors import BadInput, ComputerRefused
from bladewright.records import heads
from bladewright.records.keeping import path_of
from bladewright.records.opening import Book, open_book, trust_head
from bladewright.records.people import add_person
from bladewright.records.placing import put
from bladewright.records.ready import models
from tests.records.cast import OFFICE, by

KINDS = ("folder", "pipe", "socket", "link to a file", "link to a pipe", "link to nothing", "link to itself")


def laid(path: Path, kind: str) -> Path:
    """Something that is not an ordinary file, under that name."""
    beside = path.with_name(f"{path.name} beside")
    if kind == "folder":
        path.mkdir()
    elif kind == "socket":
        here = Path.cwd()
        os.chdir(path.parent)  # the name of a socket may not be long
        with socket.socket(socket.AF_UNIX) as made:
            made.bind(path.name)
        os.chdir(here)
    elif kind == "pipe":
        os.mkfifo(path)
    elif kind == "link to itself":
        path.symlink_to(path)
    else:
        path.symlink_to(beside)
        if kind == "link to a pipe":
            os.mkfifo(beside)
        elif kind == "link to a file":
            beside.write_bytes(b"another's")
    return path


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
@pytest.mark.parametrize("kind", KINDS)
def test_what_is_no_ordinary_file_is_not_replaced(tmp_path: Path, kind: str) -> None:
    path = laid(tmp_path / "x", kind)
    before = (path.lstat().st_mode, path.lstat().st_ino, sorted(tmp_path.iterdir()))
    with pytest.raises(BadInput) as caught:
        put(path, b"ours")
    assert caught.value.file == str(path)
    assert str(caught.value.value) == f"a {kind.split()[0]}"
    assert (path.lstat().st_mode, path.lstat().st_ino, sorted(tmp_path.iterdir())) == before


def test_an_ordinary_file_is_replaced_whole_and_folders_are_made(tmp_path: Path) -> None:
    for data in (b"first", b"second"):
        put(tmp_path / "a" / "b", data)
        assert (tmp_path / "a" / "b").read_bytes() == data
    assert [path.name for path in (tmp_path / "a").iterdir()] == ["b"]


@pytest.mark.parametrize("fails", ["fsync", "replace"])
def test_a_full_disk_leaves_what_was_there_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, fails: str
) -> None:
    path = tmp_path / "x"
    put(path, b"before")

    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, fails, full) if fails == "fsync" else monkeypatch.setattr(Path, fails, full)
    with pytest.raises(ComputerRefused) as caught:
        put(path, b"after")
    assert (caught.value.file, caught.value.exit_code) == (str(path), 2)
    assert os.strerror(errno.ENOSPC) in caught.value.what
    assert {item.name: item.read_bytes() for item in tmp_path.iterdir()} == {"x": b"before"}


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
@pytest.mark.parametrize("kind", ["folder", "pipe", "link to a pipe"])
def test_a_log_of_heads_that_is_no_file_is_neither_read_nor_replaced(full: Book, kind: str) -> None:
    head = models.Event.objects.latest("number").hash
    log = heads.log_of(full.folder)
    log.unlink()
    mode = laid(log, kind).lstat().st_mode
    for act in (
        lambda: add_person(by(OFFICE), "Tess New"),
        lambda: open_book(full.folder),
        lambda: trust_head(full.folder, head),
    ):
        with pytest.raises(BadInput) as caught:
            act()
        assert str(log) in str(caught.value.file)
        assert log.lstat().st_mode == mode
    assert not models.Person.objects.filter(name="Tess New").exists()


def test_a_log_of_heads_may_be_a_link_to_another_disk(full: Book, tmp_path: Path) -> None:
    log = heads.log_of(full.folder)
    log.rename(tmp_path / "elsewhere")
    log.symlink_to(tmp_path / "elsewhere")
    open_book(full.folder)
    add_person(by(OFFICE), "Tess New")
    assert log.is_symlink()
    assert models.Event.objects.latest("number").hash in log.read_text(encoding="ascii")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_a_pipe_in_the_place_of_a_kept_file_is_not_replaced(book: Book, tmp_path: Path) -> None:  # noqa: ARG001
    from bladewright.figures import digest
    from bladewright.records.lots import receive_lot
    from tests.records.cast import RECEIVER

    paper = tmp_path / "certificate.txt"
    paper.write_bytes(b"certificate of an invented mill")
    place = path_of(digest(paper.read_bytes()))
    place.parent.mkdir(parents=True, exist_ok=True)
    mode = laid(place, "pipe").lstat().st_mode
    with pytest.raises(BadInput) as caught:
        receive_lot(by(RECEIVER), "R-1", "film-epoxy", certificate=paper)
    assert caught.value.file == str(place)
    assert place.lstat().st_mode == mode
    assert not models.Lot.objects.exists()
