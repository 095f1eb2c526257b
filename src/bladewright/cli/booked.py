"""What every command that needs the record book shares: opening it, naming the person, saying what was written."""

import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from bladewright.cli import showing

if TYPE_CHECKING:
    from bladewright.records.acts import Act

BookFolder = Annotated[Path, typer.Option("--book", help="The record book's folder.", envvar="BLADEWRIGHT_BOOK")]
By = Annotated[str, typer.Option("--by", help='Who does this. Recorded with "identity not proven".')]
Why = Annotated[str, typer.Option("--reason", help="Why, in a sentence.")]

HERE = Path("book")


def now() -> datetime.datetime:
    """The clock, read in this one place."""
    return datetime.datetime.now(datetime.UTC)


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


def put_paper(path: Path, data: bytes, *, json: bool) -> None:
    """Write a paper whole or not at all, and say whether it changed."""
    from bladewright.figures import digest

    same = path.is_file() and path.read_bytes() == data
    if not same:
        path.parent.mkdir(parents=True, exist_ok=True)
        part = path.with_name(f".{path.name}.part")
        part.write_bytes(data)
        part.replace(path)
    if json:
        showing.as_json({"file": str(path), "sha256": digest(data), "already": same})
    else:
        showing.lines(f"{path}: {'unchanged' if same else 'written'}. SHA-256 {digest(data)}")
