"""A file is put in its place whole or not at all, and only where nothing or an ordinary file stands."""

import os
import secrets
import stat
from pathlib import Path

from bladewright.errors import BadInput, ComputerRefused


def put(path: Path, data: bytes) -> None:
    """The bytes under that name, on the disk for certain; what stood there before stays whole until then."""
    refuse_other_than_file(path)
    part = path.with_name(f".{secrets.token_hex(8)}.part")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        try:
            with part.open("xb") as file:  # never through a link that somebody laid there
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
            part.replace(path)
        finally:
            part.unlink(missing_ok=True)
        settle(path.parent)
    except OSError as error:
        raise ComputerRefused.because(error, path) from error


def refuse_other_than_file(path: Path) -> None:
    """``BadInput`` where a folder, a device, a pipe, a socket or a link stands: replacing it would destroy it."""
    try:
        mode = path.lstat().st_mode
    except FileNotFoundError:
        return
    except OSError as error:
        raise ComputerRefused.because(error, path) from error
    if not stat.S_ISREG(mode):
        raise BadInput(
            "is not an ordinary file",
            file=str(path),
            value=_KINDS.get(stat.S_IFMT(mode), "something else"),
            allowed="a new file, or an ordinary file to write again",
            fix="choose another name, or move it away yourself",
        )


_KINDS = {
    stat.S_IFDIR: "a folder",
    stat.S_IFLNK: "a link",
    stat.S_IFIFO: "a pipe",
    stat.S_IFSOCK: "a socket",
    stat.S_IFCHR: "a device",
    stat.S_IFBLK: "a device",
}


def settle(folder: Path) -> None:
    """Wait until the folder's own entry is on the disk, where the system has such a thing."""
    if os.name != "posix":
        return
    place = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(place)
    finally:
        os.close(place)
