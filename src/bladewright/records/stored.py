"""A kept file by its hash: its name and the bytes as they came."""

from bladewright.errors import MissingInput
from bladewright.records.keeping import kept
from bladewright.records.ready import models


def original(sha256: str) -> tuple[str, bytes]:
    """Name and bytes; ``MissingInput`` if the book keeps no such file."""
    row = models.StoredFile.objects.filter(sha256=sha256).first()
    if row is None:
        raise MissingInput(
            "is not in the book", field="file", value=sha256[:12], allowed="the hash of a kept file", fix="check it"
        )
    return row.name, kept(row)
