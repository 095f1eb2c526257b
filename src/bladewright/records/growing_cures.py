"""A cure filed from where its logger wrote it, once the run is over."""

import tempfile
from collections.abc import Sequence
from pathlib import Path

from bladewright.errors import MissingInput
from bladewright.records.acts import Act
from bladewright.records.evidence import CURE, EvidenceFiled, file_cure
from bladewright.records.keeping import kept
from bladewright.records.ready import models


def file_growing_cure(act: Act, serials: Sequence[str], log: Path, description: Path | None = None) -> EvidenceFiled:
    """File the log; without a description of its own it is read by that of the newest cure on file."""
    if description is not None:
        return file_cure(act, serials, log, description)
    row = models.Evidence.objects.select_related("description").filter(kind=CURE).order_by("-id").first()
    if row is None or row.description is None:
        raise MissingInput(
            "nothing says how the logger writes", field="logger.toml", allowed="a logger description",
            fix="put one beside the logs as logger.toml",
        )  # fmt: skip
    with tempfile.TemporaryDirectory(prefix="read-by-") as folder:
        place = Path(folder) / row.description.name
        place.write_bytes(kept(row.description))
        return file_cure(act, serials, log, place)
