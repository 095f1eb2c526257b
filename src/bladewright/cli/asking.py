"""Whose input an error is about: the drawing's file, where the answer that found it knows no files."""

from collections.abc import Collection, Iterator
from contextlib import contextmanager
from pathlib import Path

from bladewright.errors import BadInput


@contextmanager
def about_drawing(drawing: Path, options: Collection[str] = ()) -> Iterator[None]:
    """Name the drawing in bad input that names no file; what is about one of the command's options names those."""
    try:
        yield
    except BadInput as error:
        if error.file is None:
            error.file = "command line" if error.field in options else drawing.name
        raise
