"""Files handed in: within a size, of a kind that is told from its bytes, kept as they came and never run."""

import contextlib
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from django.core.files.uploadedfile import UploadedFile

from bladewright.errors import BadInput
from bladewright.records.naming import refuse_hidden

#: [byte] a million rows of thirteen channels are some 110 MB; our own choice
LARGEST: Final = 200_000_000
#: how programs begin, which no evidence does (from memory): ELF, Windows, Java or Mach-O, a script, Mach-O
_PROGRAMS: Final = (b"\x7fELF", b"MZ", b"\xca\xfe\xba\xbe", b"#!", b"\xcf\xfa\xed\xfe", b"\xfe\xed\xfa")
#: how pages that a browser would run begin
_PAGES: Final = (b"<!doctype html", b"<html", b"<script", b"<svg", b"<?xml")


@contextlib.contextmanager
def received(upload: UploadedFile, field: str = "file") -> Iterator[Path]:
    """The file under its own name, for as long as a service needs to read it."""
    name = plain_name(upload.name or "", field)
    size = upload.size or 0
    if size > LARGEST:
        raise BadInput(
            f"is {size:,} bytes large",
            file=name,
            field=field,
            value=name,
            allowed=f"at most {LARGEST:,} bytes",
            fix="cut it to this run, or file it from the command line",
        )
    refuse_program(upload.read(64), name, field)
    upload.seek(0)
    with tempfile.TemporaryDirectory(prefix="handed-in-") as folder:
        place = Path(folder, name)
        with place.open("wb") as kept:
            for chunk in upload.chunks():
                kept.write(chunk)
        yield place


def plain_name(name: str, field: str) -> str:
    """The last part of a name, if it shows as it reads."""
    plain = name.replace("\\", "/").rsplit("/", 1)[-1]
    if not plain or plain in (".", "..") or plain.startswith(".") or len(plain.encode()) > 200:
        raise BadInput(
            "is not a name a file may have here",
            field=field,
            value=name,
            allowed="a name of at most 200 letters that does not begin with a dot",
            fix="name the file anew",
        )
    refuse_hidden(plain, field)
    return plain


def refuse_program(begins: bytes, name: str, field: str) -> None:
    """``BadInput`` for what begins like a program or a page that runs: told from its bytes, whatever its name says."""
    plain = begins.removeprefix(b"\xef\xbb\xbf").lstrip().lower()
    if begins.startswith(_PROGRAMS) or plain.startswith(_PAGES):
        raise BadInput(
            "begins like a program or a page that runs",
            file=name,
            field=field,
            value=name,
            allowed="a log, a sheet, a picture or a PDF",
            fix="hand in the file the instrument wrote",
        )
