"""A working day written into a book by a process that is killed somewhere in it; started by test_records_crash.

One process loads everything and then forks once for each kill, because loading takes longer than the day itself.
Each child says which acts were acknowledged; after its death the book must open, hold them all, agree with itself and
take the next act.
"""

import itertools
import os
import random
import shutil
import signal
import sys
import time
from collections.abc import Callable
from pathlib import Path

from django.db import connections

from bladewright.records import heads
from bladewright.records.blades import all_blades, start_blade, use_lot
from bladewright.records.checking import check
from bladewright.records.lots import all_lots, receive_lot
from bladewright.records.opening import open_book
from bladewright.records.ready import models
from tests import postgres
from tests.records.cast import MAKER, RECEIVER, by


def live(folder: Path, said: int, certificate: Path) -> None:
    """Receive, start, build in, without end; every acknowledged act is a line."""
    open_book(folder)
    for number in itertools.count(len(all_lots())):
        certificate.write_bytes(f"certificate {number}".encode() * 500)
        receive_lot(by(RECEIVER), f"L-{number}", "skin-sheet", certificate=certificate)
        os.write(said, f"lot L-{number}\n".encode())
        start_blade(by(MAKER), f"B-{number}", "FM-31", "A")
        os.write(said, f"blade B-{number}\n".encode())
        use_lot(by(MAKER), f"B-{number}", "skins", f"L-{number}")
        os.write(said, f"use B-{number}\n".encode())


def broken_off(folder: Path, after: float, end: Callable[[int], None]) -> list[str]:
    """The acts acknowledged by a process that lives its day in that book, until it is ended."""
    connections.close_all()  # what is open would be shared with the child
    hears, says = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(hears)
        try:
            live(folder, says, folder.parent / f"{folder.name}.certificate")
        finally:
            os._exit(1)
    os.close(says)
    time.sleep(after)
    end(child)
    os.waitpid(child, 0)
    with os.fdopen(hears, encoding="ascii") as pipe:
        return pipe.read().split("\n")[:-1]


def wrong_with(folder: Path, acknowledged: list[str]) -> list[str]:
    """Open the book again: everything that is not as it was acknowledged, before it takes the next act."""
    open_book(folder)
    found = check()
    wrong = [f"{item.where}: {item.what}" for item in found.complaints]
    there = {f"lot {lot.lot}" for lot in all_lots()} | {f"blade {line.serial}" for line in all_blades()}
    there |= {f"use {serial}" for serial in models.LotUse.objects.values_list("blade__serial", flat=True)}
    wrong += [f"lost: {act}" for act in acknowledged if act not in there]
    start_blade(by(MAKER), "B-after", "FM-31", "A")
    connections.close_all()
    return wrong


def opening(template: Path) -> float:
    """How long it takes here to open the book [s]."""
    if postgres.note_of(template).exists():
        postgres.point_at(template)
    begun = time.monotonic()
    open_book(template, write=False)
    all_lots()
    connections.close_all()
    return time.monotonic() - begun


def killed(child: int) -> None:
    """As a computer that has had enough would end it."""
    os.kill(child, signal.SIGKILL)


def killed_once(template: Path, folder: Path, after: float) -> tuple[int, list[str]]:
    """How many acts were acknowledged before the kill, and everything that was wrong afterwards."""
    shutil.copytree(template, folder)
    shutil.copyfile(heads.log_of(template), heads.log_of(folder))
    with postgres.cleared():
        if postgres.note_of(template).exists():
            postgres.copied(template, folder)
        acknowledged = broken_off(folder, after, killed)
        return len(acknowledged), wrong_with(folder, acknowledged)


def main(template: str, into: str, kills: str, seed: str) -> None:
    """Kill at that many random points; say the total of acknowledged acts, or what was wrong."""
    chance = random.Random(int(seed))
    longest = 2 * opening(Path(template)) + 0.25  # [s] so that most kills come while acts are written
    total = 0
    for number in range(int(kills)):
        folder = Path(into) / f"book-{number}"
        acknowledged, wrong = killed_once(Path(template), folder, chance.uniform(0.0, longest))
        total += acknowledged
        if wrong:
            print(f"kill {number}: {wrong[:5]}")
            raise SystemExit(1)
        shutil.rmtree(folder)
    print(total)


if __name__ == "__main__":
    main(*sys.argv[1:])
