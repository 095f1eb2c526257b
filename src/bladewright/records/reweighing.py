"""A blade of a set back on the rig, after its trim weight was fitted."""

from pathlib import Path

from bladewright.errors import BadInput
from bladewright.evidence.weighing import read_weighing
from bladewright.records.acts import Act
from bladewright.records.evidence import EvidenceFiled, file_weighing
from bladewright.records.keeping import taken
from bladewright.records.sets import serials_of, set_named


def weigh_again(act: Act, name: str, path: Path) -> EvidenceFiled:
    """File a weighing of one of the set's blades, and of no other."""
    serials = serials_of(set_named(name))
    found = read_weighing(taken(path), path.name)
    if found.serial not in serials:
        raise BadInput(
            "is the weighing of a blade that is not in this set",
            file=path.name,
            field="file",
            value=found.serial,
            allowed=" or ".join(serials),
            fix="hand in this set's weighing, or file it at that blade",
        )
    return file_weighing(act, path)
