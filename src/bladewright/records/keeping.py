"""The files of the book: each under its SHA-256, written whole or not at all, and read only if it still is itself."""

from pathlib import Path

from bladewright.errors import BadInput, BookDamaged
from bladewright.figures import digest
from bladewright.records.book import opened
from bladewright.records.naming import refuse_hidden
from bladewright.records.placing import put, settle
from bladewright.records.ready import models
from bladewright.records.writing import Entry


def path_of(sha256: str) -> Path:
    """Where a file is kept."""
    return opened().folder / "files" / sha256[:2] / sha256


def taken(path: Path) -> bytes:
    """The bytes of a file somebody wants to file. Its name is kept with it, and printed."""
    refuse_hidden(path.name, "file")
    try:
        return path.read_bytes()
    except OSError as error:
        raise BadInput(f"cannot be read: {error.strerror}", file=path.name, fix="check the path") from error


def keep(entry: Entry, data: bytes, name: str) -> models.StoredFile:
    """Put bytes into the book: the file first, on the disk for certain, then its row."""
    sha256 = digest(data)
    found = models.StoredFile.objects.filter(sha256=sha256).first()
    if not (found and path_of(sha256).is_file()):
        path = path_of(sha256)
        put(path, data)
        settle(path.parent.parent)
    return found or entry.add(models.StoredFile(sha256=sha256, name=name, size=len(data)))


def kept(file: models.StoredFile) -> bytes:
    """The bytes of a kept file; ``BookDamaged`` if they are gone or changed."""
    path = path_of(file.sha256)
    try:
        data = path.read_bytes()
    except OSError as error:
        raise BookDamaged(f"{file.name} is gone", file=str(path), fix="put it back from a backup") from error
    if digest(data) != file.sha256:
        raise BookDamaged(f"{file.name} was changed", file=str(path), fix="put it back from a backup")
    return data
