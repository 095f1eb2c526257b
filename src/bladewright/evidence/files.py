"""The bytes of a piece of evidence, their name, their hash, and their text."""

import codecs
from pathlib import Path
from typing import Final

from bladewright.errors import BadInput
from bladewright.evidence.description import FileForm
from bladewright.evidence.records import Source
from bladewright.figures import digest

_CODECS: Final = {"utf-8-sig": "utf-8", "windows-1252": "cp1252"}
_LOOKED_AT: Final = 4096
_UTF16_MARKS: Final = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)


def taken(evidence: Path | bytes, file: str = "") -> tuple[bytes, str]:
    """The bytes and the file's name. ``file`` names bytes that came without a path."""
    if isinstance(evidence, bytes):
        return evidence, file or "(no name)"
    name = file or evidence.name
    try:
        return evidence.read_bytes(), name
    except OSError as error:
        raise BadInput(f"cannot be read: {error.strerror}", file=name, fix="check the path") from error


def opened(evidence: Path | bytes, file: str = "") -> tuple[bytes, Source]:
    """The bytes, and the file's name and SHA-256."""
    data, name = taken(evidence, file)
    return data, Source(name, digest(data))


def as_utf8(data: bytes, form: FileForm, file: str) -> bytes:
    """The text as UTF-8 with one kind of line end and no byte order mark; ``BadInput`` if it is not such a text."""
    if not data:
        raise BadInput("is empty", file=file, allowed="a table", fix="export it again")
    declared = _CODECS.get(form.encoding, form.encoding)
    marked = data.startswith(_UTF16_MARKS)
    if marked != (declared == "utf-16"):
        raise _not_text(file, form, "starts with the mark of UTF-16" if marked else "has no UTF-16 byte order mark")
    if declared == "utf-8":
        text = data.removeprefix(codecs.BOM_UTF8)
        if not text.isascii():
            _checked(text, declared, form, file)
    else:
        if data.startswith(codecs.BOM_UTF8):
            raise _not_text(file, form, "starts with the mark of UTF-8")
        text = _checked(data, declared, form, file).encode("utf-8")
    if b"\0" in text[:_LOOKED_AT]:  # one further on spoils its cell, and is found there
        raise _not_text(file, form, "holds zero bytes")
    if b"\r" in text:
        text = text.replace(b"\r\n", b"\n").replace(b"\r", b"\n")
    return text


def _checked(data: bytes, codec: str, form: FileForm, file: str) -> str:
    try:
        text = data.decode(codec)
    except UnicodeDecodeError as error:
        raise _not_text(file, form, f"has bytes at {error.start} that are no {form.encoding}") from error
    return text.removeprefix("\ufeff")


def _not_text(file: str, form: FileForm, what: str) -> BadInput:
    return BadInput(
        what,
        file=file,
        field="file.encoding",
        value=form.encoding,
        allowed=f"a text file in {form.encoding}",
        fix="declare the encoding the logger writes, or export the file again",
    )
