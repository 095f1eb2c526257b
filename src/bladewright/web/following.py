"""The growing logs that are being followed, one follower for each file, whoever looks. The desk only reads them."""

import threading
import time
from collections import OrderedDict
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from django.conf import settings

from bladewright.drawing.limits import CureLimits
from bladewright.errors import BladewrightError, MissingInput
from bladewright.evidence.description import LoggerDescription
from bladewright.evidence.log_folder import DESCRIPTION, LogFile, description_in, log_named, logs_in
from bladewright.proof.cure_following import ENDED, Followed, Following
from bladewright.records.cure_inputs import CureDrawing, cure_drawing, cure_drawings, newest_logger
from bladewright.records.waiting_shop import CureRunning

#: logs followed at once; a shop has one oven or two (our own choice) [count]
MOST: Final = 8
#: shown on one page as running now (our own choice) [count]
AT_ONCE: Final = 3

_lock = threading.Lock()
_followed: OrderedDict[tuple[Path, str, str], Following] = OrderedDict()


def folder() -> Path | None:
    """Where the oven's logger writes, if the desk was started with it."""
    found: Path | None = getattr(settings, "DESK_LOGS", None)
    return found


def files() -> tuple[LogFile, ...]:
    """The logs there, the latest first."""
    place = folder()
    return () if place is None else logs_in(place)


def is_growing(file: LogFile) -> bool:
    """Whether it was written within the hour."""
    return time.time() - file.written < ENDED


def file_named(name: str) -> LogFile:
    """One of the logs there."""
    place = folder()
    if place is None:
        raise MissingInput(
            "the desk was not told where the logger writes", field="logs", fix="start it with --logs FOLDER"
        )
    return log_named(place, name)


def read_by() -> LoggerDescription:
    """The description beside the logs, or the one that the newest filed cure was read by."""
    place = folder()
    found = (description_in(place) if place is not None else None) or newest_logger()
    if found is None:
        raise MissingInput(
            "nothing says how the logger writes", field="logger.toml", allowed="a logger description",
            fix="put one beside the logs as logger.toml (suggest-logger drafts it), or file a cure with one",
        )  # fmt: skip
    return found


def described_beside() -> Path | None:
    """The file of the description beside the logs, if there is one."""
    place = folder()
    beside = None if place is None else place.joinpath(DESCRIPTION)
    return beside if beside is not None and beside.is_file() else None


def held_to(asked: str = "") -> CureDrawing:
    """The drawing whose limits a running cure is held to: the one asked for as "name revision", or the newest."""
    name, _, revision = asked.rpartition(" ")
    if name:
        return cure_drawing(name, revision)
    found = cure_drawings()
    if not found:
        raise MissingInput(
            "no approved drawing says how a cure is judged",
            field="limits.cure",
            fix="approve a drawing with cure limits",
        )
    return found[0]


def state_of(file: LogFile, by: CureDrawing) -> Followed:
    """How the cure stands that this file tells of."""
    return _follower(file, read_by(), by.sha256, by.limits).now()


def _follower(file: LogFile, how: LoggerDescription, drawing: str, limits: CureLimits) -> Following:
    key = (file.path, how.model_dump_json(), drawing)
    with _lock:
        if key not in _followed:
            _followed[key] = Following(file.path, how, limits, time.time)
            while len(_followed) > MOST:
                _followed.popitem(last=False)
        _followed.move_to_end(key)
        return _followed[key]


@dataclass(frozen=True, slots=True, eq=False)
class Running:
    """A log that grows, and how its cure stands; ``wrong`` says why nobody can tell."""

    file: LogFile
    followed: Followed | None
    wrong: BladewrightError | None = None


def running() -> tuple[Running, ...]:
    """Every log that grows now."""
    return tuple(_running(file) for file in [one for one in files() if is_growing(one)][:AT_ONCE])


def cures_running() -> tuple[CureRunning, ...]:
    """The same, for the page of what waits."""
    found = []
    for one in running():
        watch = None if one.followed is None else one.followed.watch
        if watch is None:
            told = f"Its log cannot be followed: {one.wrong.what}." if one.wrong else "It waits for its first row."
            found.append(CureRunning(one.file.name, told, "Look at it"))
        elif not watch.over:
            told = f"{watch.stage.value.capitalize()}: {watch.dwell.told}."
            found.append(CureRunning(one.file.name, told, "Look at the oven now" if watch.broken else "Watch it"))
    return tuple(found)


def _running(file: LogFile) -> Running:
    try:
        return Running(file, state_of(file, held_to()))
    except BladewrightError as error:
        return Running(file, None, error)
