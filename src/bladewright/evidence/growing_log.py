"""A log that is still being written: what was added since the last look, by the reader of finished logs.

The file is opened to be read, briefly, at each look; it is never held, locked or written. Only whole lines are taken,
so half a line waits. A row that cannot be read is told and left out, so that one bad cell does not blind whoever
watches; the judge of the finished log still refuses it.
"""

import codecs
import hashlib
import os
import re
from dataclasses import dataclass, replace
from pathlib import Path
from typing import BinaryIO, Final

import numpy as np

from bladewright.errors import BadInput, SeveralBadInputs
from bladewright.evidence.cure_log import read_cure_log
from bladewright.evidence.description import ELAPSED, LoggerDescription
from bladewright.evidence.files import as_utf8
from bladewright.evidence.joined import joined
from bladewright.evidence.records import CureLog, Remark, Source
from bladewright.figures import counted

#: bytes at the beginning and before the end of what was read that show whether a file is still the same one
_PROBE: Final = 4096
#: times the rows of one look are read again without those that could not be; our own choice
_TRIES: Final = 50
#: a part that begins later than this after the one before is another run; no cure pauses so long (our own choice) [s]
_ONE_RUN: Final = 6.0 * 3600.0
#: a line with its end. A return that ends the bytes may have its line feed still to come, so it waits.
_LINE: Final = re.compile(rb"[^\r\n]*(?:\r\n|\n|\r(?=[^\n]))")
_LINE_UTF16: Final = {
    codecs.BOM_UTF16_LE: re.compile(rb"(?:[^\n].|\n[^\0])*\n\0", re.DOTALL),
    codecs.BOM_UTF16_BE: re.compile(rb"(?:[^\0].|\0[^\n])*\0\n", re.DOTALL),
}


@dataclass(frozen=True, slots=True, eq=False)
class Look:
    """What one look found: every row so far, and what a person who watches must know."""

    log: CureLog | None  # None before the first row
    added: int  # rows since the look before
    waiting: str = ""  # why the file could not be read this time; empty where it could
    left_out: tuple[BadInput, ...] = ()  # rows that cannot be read, since the beginning
    told: tuple[str, ...] = ()  # what became of the file: rotated, cut, written anew

    @property
    def notes(self) -> tuple[str, ...]:
        """All of it in sentences, the newest of the rows that were left out alone."""
        waiting = (f"Waiting: {self.waiting}.",) if self.waiting else ()
        rows: tuple[str, ...] = ()
        if self.left_out:
            last = self.left_out[-1]
            column = f", {last.column}" if last.column else ""
            count = counted(len(self.left_out), "row")
            rows = (f"{count} cannot be read, the last is row {last.row}{column}: {last.what}.",)
        return (*waiting, *self.told, *rows)


class GrowingLog:
    """Follows one file through its logger description."""

    def __init__(self, path: Path, description: LoggerDescription) -> None:
        self._path, self._description = path, description
        self._before: CureLog | None = None  # parts that a rotation ended
        self._part = _Part(path.name, description)
        self._identity: tuple[int, int] | None = None
        self._left_out: tuple[BadInput, ...] = ()
        self._told: tuple[str, ...] = ()
        self._log: CureLog | None = None
        self._rows = 0

    def look(self) -> Look:
        """Everything so far; ``BadInput`` where the file is not what the description says, before there is a row.

        Once there are rows a watch is under way, and whatever stands there then is told instead.
        """
        waiting = ""
        try:
            with self._path.open("rb") as file:
                status = os.fstat(file.fileno())
                identity = (status.st_dev, status.st_ino)
                if not self._part.begins(file.read(_PROBE)) or not self._part.goes_on(_before(file, self._part.taken)):
                    self._ended(identity)
                self._identity = identity
                file.seek(self._part.taken)
                self._part.take(file.read())
        except FileNotFoundError:
            waiting = "the file is not there"
        except OSError as error:
            waiting = f"the file cannot be read just now: {error.strerror or error}"
        except BadInput as error:
            if self._log is None:
                raise
            first = error.errors[0] if isinstance(error, SeveralBadInputs) else error
            waiting = f"what stands there now is not as described: {first.column or first.field or ''} {first.what}"
        return self._seen(waiting)

    def _ended(self, identity: tuple[int, int]) -> None:
        """Another file stands under the name, or the file was cut: what was read is kept, and a new part begins."""
        if identity != self._identity and (old := self._moved()) is not None:
            self._part.take(old)
        self._log = self._before = self._whole()
        self._left_out += self._part.left_out
        self._part = _Part(self._path.name, self._description)
        self._told += ("The file was begun anew; what was read before is kept as an earlier part of the run.",)

    def _moved(self) -> bytes | None:
        """What was still added to a file after the last look, before it was given another name beside this one."""
        for place in self._path.parent.iterdir():
            try:
                status = place.stat()
                if (status.st_dev, status.st_ino) == self._identity:
                    data = place.read_bytes()
                    return data[self._part.taken :] if self._part.begins(data[:_PROBE]) else None
            except OSError:
                continue  # gone again, or not ours to read
        return None

    def _whole(self) -> CureLog | None:
        """The parts as one log; a new part that cannot follow the old one stands alone, and that is told."""
        new = self._part.log
        if self._before is None or new is None:
            return new or self._before
        try:
            both = joined((self._before, new))
        except BadInput as error:
            why = error.what
        else:
            pause = float(np.diff(both.seconds)[len(self._before.seconds) - 1])
            if pause <= _ONE_RUN:
                return both
            why = f"begins {pause / 3600.0:.1f} h after it and is another run"
        self._told += (f"What was read before is left out, because the new part {why}.",)
        self._before = None
        return new

    def _seen(self, waiting: str) -> Look:
        if self._part.fresh:
            self._log, self._part.fresh = self._whole(), False
        rows = 0 if self._log is None else len(self._log.rows)
        added, self._rows = max(0, rows - self._rows), rows
        return Look(self._log, added, waiting, self._left_out + self._part.left_out, self._told)


def _before(file: BinaryIO, taken: int) -> bytes:
    """The last bytes of what was taken, as they stand there now."""
    file.seek(max(0, taken - _PROBE))
    return file.read(min(taken, _PROBE))


class _Part:
    """One file from its first byte: the lines taken so far, and the rows in them."""

    def __init__(self, name: str, description: LoggerDescription) -> None:
        self._name, self._description = name, description
        self._first_row = description.table.first_row
        self._text = bytearray()
        self._hash = hashlib.sha256()
        self._mark = b""
        self._lines: list[bytes] = []
        self._anchor = 0  # number of the line of the latest row, from 1
        self.left_out: tuple[BadInput, ...] = ()
        self.log: CureLog | None = None
        self.fresh = False  # rows came since this was last looked at

    @property
    def taken(self) -> int:
        """Bytes that belong to whole lines."""
        return len(self._text)

    def begins(self, start: bytes) -> bool:
        """Whether a file that starts so can be the one these lines came from."""
        return start.startswith(bytes(self._text[:_PROBE]))

    def goes_on(self, end: bytes) -> bool:
        """Whether these bytes are the last that were taken."""
        return bytes(self._text[max(0, len(self._text) - _PROBE) :]) == end

    def take(self, data: bytes) -> None:
        """Take the whole lines of what follows."""
        lines = self._split(data)
        if not lines:
            return
        known = len(self._lines)
        self._lines += lines
        chunk = b"".join(lines)
        self._text += chunk
        self._hash.update(chunk)
        new = range(max(known, self._first_row - 1), len(self._lines))
        if not new:
            return
        self.fresh = True
        if not (self.log is not None and self._appended(self.log, new)):
            self._read_again()
        if self.log is not None:
            self.log = replace(self.log, source=Source(self._name, self._hash.hexdigest()))

    def _split(self, data: bytes) -> list[bytes]:
        if not self._text:
            self._mark = next((mark for mark in _LINE_UTF16 if data.startswith(mark)), b"")
            if self._description.file.encoding != "utf-16":
                self._mark = b""
        pattern = _LINE_UTF16.get(self._mark, _LINE)
        found, at = [], 0
        while (line := pattern.match(data, at)) is not None:
            found.append(line.group())
            at = line.end()
        return found

    def _appended(self, log: CureLog, new: range) -> bool:
        """Read the new lines after the latest row alone; False where only the whole file tells what they mean."""
        numbers = [self._anchor - 1, *new]
        read, left_out = self._read(numbers)
        if read is None or not read.order_certain or int(read.rows[0]) != self._anchor:
            return False
        if read.remarks and not (self._description.time.zone == ELAPSED and len(read.remarks) == 1):
            return False
        self.left_out += left_out
        seconds = np.rint(np.concatenate((log.seconds * 1e6, log.seconds[-1] * 1e6 + read.seconds[1:] * 1e6))) / 1e6
        self.log = replace(
            log,
            seconds=seconds,
            values=np.concatenate((log.values, read.values[1:])),
            rows=np.concatenate((log.rows, read.rows[1:])),
        )
        self._anchor = int(self.log.rows[-1])
        return True

    def _read_again(self) -> None:
        """Every line from the first row on."""
        self.log, self.left_out = self._read(list(range(self._first_row - 1, len(self._lines))))
        if self.log is not None:
            self._anchor = int(self.log.rows[-1])

    def _read(self, places: list[int]) -> tuple[CureLog | None, tuple[BadInput, ...]]:
        """The log in some lines under the file's head, rows numbered as in the file; and what was left out of it."""
        head = b"".join(self._lines[: self._first_row - 1])
        head = head if head or 0 in places[:1] else self._mark
        left_out: list[BadInput] = []
        for _ in range(_TRIES):
            if not b"".join(self._lines[place] for place in places).strip(b"\0\r\n\t "):
                return None, tuple(left_out)
            data = head + b"".join(self._lines[place] for place in places)
            try:
                log = read_cure_log(data, self._description, self._name)
            except BadInput as error:
                wrong = self._wrong(error, places)
                if not wrong:  # not the rows, but the file as a whole is not what the description says
                    raise
                left_out += wrong.values()
                places = [place for place in places if place not in wrong]
                continue
            numbers = np.asarray(places, dtype=np.int64) + 1
            rows = numbers[log.rows - self._first_row]
            remarks = tuple(self._placed(remark, places) for remark in log.remarks)
            return replace(log, rows=rows, remarks=remarks), tuple(left_out)
        return None, tuple(left_out)

    def _wrong(self, error: BadInput, places: list[int]) -> dict[int, BadInput]:
        """The lines an error is about, each with what is wrong there, by the file's own row."""
        found: dict[int, BadInput] = {}
        for one in error.errors if isinstance(error, SeveralBadInputs) else (error,):
            at = -1 if one.row is None else one.row - self._first_row
            if isinstance(one, BadInput) and 0 <= at < len(places):
                one.row = places[at] + 1
                found.setdefault(places[at], one)
        return found or {place: wrong for place in places if (wrong := self._torn(place)) is not None}

    def _torn(self, place: int) -> BadInput | None:
        """What is wrong with a line whose bytes are no text."""
        try:
            as_utf8(self._mark + self._lines[place].removeprefix(self._mark), self._description.file, self._name)
        except BadInput as error:
            error.row = place + 1
            return error
        return None

    def _placed(self, remark: Remark, places: list[int]) -> Remark:
        """A remark with the file's own row."""
        if remark.row is None or not 0 <= remark.row - self._first_row < len(places):
            return remark
        return replace(remark, row=places[remark.row - self._first_row] + 1)
