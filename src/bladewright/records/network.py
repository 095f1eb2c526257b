"""A book is not kept on a network folder: locks there are not to be trusted, and two writers could both win."""

import os
from pathlib import Path
from typing import Final

from bladewright.errors import BadInput

#: file systems of other machines, as Linux names them in its table of mounts
_NETWORK: Final = ("nfs", "nfs4", "cifs", "smb3", "smbfs", "ncpfs", "afs", "ceph", "fuse.sshfs", "davfs", "glusterfs")
_MOUNTS: Final = Path("/proc/mounts")


def refuse_network_folder(folder: Path, mounts: Path = _MOUNTS) -> None:
    """``BadInput`` if the folder lies on another machine, as far as this system can tell."""
    resolved = folder.resolve()
    kind = "a network path" if str(resolved).startswith(("\\\\", "//")) else _mounted_as(resolved, mounts)
    if kind:
        raise BadInput(
            "lies on a network folder",
            file=str(folder),
            field="folder",
            value=kind,
            allowed="a disk of this machine",
            fix="keep the book on a disk of this machine, and copy backups to the network",
        )


def _mounted_as(folder: Path, mounts: Path) -> str:
    """The network file system the folder is on, or nothing. Systems without a table of mounts are not asked."""
    try:
        lines = mounts.read_text(encoding="utf-8", errors="replace").splitlines()
    except OSError:
        return ""
    best, kind = "", ""
    for line in lines:
        _, place, system, *_ = [*line.split(" "), "", "", ""]
        place = place.replace("\\040", " ")
        inside = folder == Path(place) or str(folder).startswith(place.rstrip(os.sep) + os.sep)
        if inside and len(place) >= len(best):
            best, kind = place, system
    return kind if kind in _NETWORK else ""
