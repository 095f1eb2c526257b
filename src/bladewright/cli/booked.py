"""What every command that needs the record book shares: opening it, naming the person, saying what was written."""

import datetime
import os
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from bladewright.cli import showing

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from bladewright.records.acts import Act

BookFolder = Annotated[Path, typer.Option("--book", help="The record book's folder.", envvar="BLADEWRIGHT_BOOK")]
By = Annotated[str, typer.Option("--by", help='Who does this. Recorded with "identity not proven".')]
Why = Annotated[str, typer.Option("--reason", help="Why, in a sentence.")]

HERE = Path("book")
#: how a PDF begins (ISO 32000-2)
PAPER = b"%PDF-"


def now() -> datetime.datetime:
    """The clock, read in this one place."""
    return datetime.datetime.now(datetime.UTC)


def today() -> datetime.datetime:
    """The day, for what is worked out anew each time: the same drawing makes the same bytes all day."""
    return now().replace(hour=0, minute=0, second=0, microsecond=0)


def act(book: Path, by: str, reason: str = "") -> "Act":
    """Open the book for writing and name who writes, when and why."""
    from bladewright.records.acts import Act
    from bladewright.records.opening import open_book

    open_book(book)
    return Act(by, now(), reason)


def read(book: Path) -> None:
    """Open the book for reading only."""
    from bladewright.records.opening import open_book

    open_book(book, write=False)


def written(result: Any, sentence: str, by: str, *, json: bool) -> None:
    """Say what a service wrote, or that it was in the book already."""
    if json:
        showing.as_json(result)
    elif result.already:
        showing.lines(f"{sentence}: in the book already; nothing changed.")
    else:
        showing.lines(f"{sentence}. Recorded by {by} (identity not proven).")


def day(text: str, field: str) -> datetime.date | None:
    """A calendar day written 2026-04-07; empty is none."""
    from bladewright.errors import BadInput

    if not text:
        return None
    try:
        return datetime.date.fromisoformat(text)
    except ValueError:
        raise BadInput(
            "is not a day", field=field, value=text, allowed="year-month-day, like 2026-04-07", fix="write it like that"
        ) from None


def moment(text: str, field: str) -> datetime.datetime:
    """A time with its offset from UTC, written 2026-06-20T08:00-04:00; empty is now, by this computer's zone."""
    from bladewright.errors import BadInput

    if not text:
        return now().astimezone()
    wrong = BadInput(
        "is not a time with its offset from UTC", field=field, value=text,
        allowed="like 2026-06-20T08:00-04:00", fix="write the offset the clock on the wall has that day",
    )  # fmt: skip
    try:
        found = datetime.datetime.fromisoformat(text)
    except ValueError:
        raise wrong from None
    if found.tzinfo is None:
        raise wrong
    return found


def paper_of(book: Path, name: str) -> Path:
    """Where a paper goes when nobody says where: in the book's folder for papers, under the name of what it is of."""
    from bladewright.errors import BadInput

    if any(mark in name for mark in "/\\:\0") or name.startswith(".") or not name.isprintable():
        raise BadInput(
            "cannot be the name of a file",
            field="out",
            value=name,
            allowed="a file to write",
            fix="say where the paper goes, like --out paper.pdf",
        )
    return book.joinpath("papers", f"{name}.pdf")


def put_paper(path: Path, data: bytes, *, book: Path, json: bool) -> None:
    """Write a paper whole or not at all, and say whether it changed. Only a paper is ever written over."""
    told = placed_paper(path, data, book=book)
    if json:
        showing.as_json(told)
    else:
        showing.lines(paper_line(told))


def placed_paper(path: Path, data: bytes, *, book: Path) -> dict[str, Any]:
    """Write a paper whole or not at all; what is to be said of it."""
    from bladewright.figures import digest
    from bladewright.records.placing import put

    wanted = Path(os.path.realpath(path))  # a link to a paper stays a link
    _refuse_place(path, wanted, book)
    same = wanted.is_file() and wanted.read_bytes() == data
    if not same:
        put(wanted, data)
    return {"file": str(path), "sha256": digest(data), "already": same}


def paper_line(told: "Mapping[str, Any]") -> str:
    """A paper that was written, in a sentence."""
    return f"{told['file']}: {'unchanged' if told['already'] else 'written'}. SHA-256 {told['sha256']}"


def put_folder(folder: Path, files: "Mapping[str, bytes]") -> list[str]:
    """Write a folder's files, each whole or not at all; a file of the same name is written again, anything else not."""
    from bladewright.records.placing import put

    refuse_folder(folder, files)
    for name, data in files.items():
        put(folder.joinpath(name), data)
    return sorted(str(folder.joinpath(name)) for name in files)


def refuse_folder(folder: Path, names: "Iterable[str]") -> None:
    """Raise ``BadInput`` where the folder is none, or one of the names in it is no ordinary file."""
    from bladewright.errors import BadInput
    from bladewright.records.placing import refuse_other_than_file

    if folder.exists() and not folder.is_dir():
        raise BadInput(
            "is not a folder",
            file=str(folder),
            allowed="a new folder, or one to write again",
            fix="choose another name",
        )
    for name in names:
        refuse_other_than_file(folder.joinpath(name))


def _refuse_place(path: Path, wanted: Path, book: Path) -> None:
    """A paper does not replace anything but a paper, and never a part of the book."""
    from bladewright.errors import BadInput
    from bladewright.records.heads import log_of

    home = book.resolve()
    why = ""
    if wanted.is_dir():
        why = "is a folder"
    elif wanted == log_of(home) or (wanted.is_relative_to(home) and not wanted.is_relative_to(home.joinpath("papers"))):
        why = "is a part of the record book"
    elif wanted.exists() and not wanted.is_file():
        why = "is not an ordinary file"
    elif wanted.exists() and wanted.read_bytes()[: len(PAPER)] != PAPER:
        why = "is there already and is no paper"
    if why:
        raise BadInput(
            why, file=str(path), field="out", value=str(path), allowed="a new file, or a paper to write again",
            fix="choose another name",
        )  # fmt: skip
