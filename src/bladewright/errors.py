"""What went wrong, in fields a person can act on. Every error this program raises on purpose is one of these."""

import math
from collections.abc import Iterable

LONGEST_SHOWN = 80  # letters of a wrong value; a whole line of a log would hide the rest; our own choice


class BladewrightError(Exception):
    """Base of all our errors: where it is, what was found, what is allowed and how to mend it."""

    exit_code = 3

    def __init__(
        self,
        what: str,
        *,
        file: str | None = None,
        row: int | None = None,
        column: str | None = None,
        field: str | None = None,
        value: object = None,
        allowed: str | None = None,
        fix: str | None = None,
    ) -> None:
        super().__init__(what)
        self.what = what
        self.file = file
        self.row = row
        self.column = column
        self.field = field
        self.value = value
        self.allowed = allowed
        self.fix = fix

    def fields(self) -> dict[str, object]:
        """The fields that are known, for ``--json`` and for tests."""
        names = ("what", "file", "row", "column", "field", "value", "allowed", "fix")
        return {name: getattr(self, name) for name in names if getattr(self, name) is not None}

    def __str__(self) -> str:
        row = None if self.row is None else f"row {self.row}"
        column = None if self.column is None else f"column {self.column}"
        place = ": ".join(part for part in (self.file, row, column, self.field) if part)
        lines = [f"{place}: {self.what}" if place else self.what]
        lines += [f"  found: {shown}"] if (shown := _shown(self.value)) and shown.strip('"') not in self.what else []
        lines += [f"  allowed: {self.allowed}"] if self.allowed else []
        lines += [f"  fix: {self.fix}"] if self.fix else []
        return "\n".join(_written_out(line) for line in lines)


def _shown(value: object) -> str:
    """A wrong text in quotes, or a wrong count."""
    if not isinstance(value, str | int) or not str(value):
        return ""  # a float is SI inside, without the unit it was written with
    text = str(value)
    text = text if len(text) <= LONGEST_SHOWN else f"{text[:LONGEST_SHOWN]}..."
    return f'"{text}"' if isinstance(value, str) else text


def _written_out(text: str) -> str:
    """Without anything a terminal would obey, or that nobody would see."""
    return "".join(letter if letter.isprintable() or letter == "\n" else repr(letter)[1:-1] for letter in text)


class BadInput(BladewrightError):
    """Something a person gave us cannot be right. Nothing was changed."""

    exit_code = 2


class ComputerRefused(BadInput):
    """A full disk, a folder that may not be written, a file that cannot be read. Nothing was changed."""

    @classmethod
    def because(cls, error: OSError, file: object = None) -> "ComputerRefused":
        """What the computer said, with the file it was about: the given one, or the one it names itself."""
        return cls(
            f"the computer refused: {error.strerror or error}",
            file=str(file or error.filename or "") or None,
            allowed="a file that can be read, in a folder that can be written, on a disk with room",
            fix="check the path, your rights to it and the room on the disk, then do it again",
        )


class SeveralBadInputs(BadInput):
    """Everything wrong with one input at once, so that it is mended in one go. Nothing was changed."""

    def __init__(self, errors: Iterable[BladewrightError]) -> None:
        self.errors = tuple(errors)
        super().__init__(
            "1 thing to mend" if len(self.errors) == 1 else f"{len(self.errors)} things to mend",
            file=self.errors[0].file,
        )

    def __str__(self) -> str:
        return "\n".join(str(error) for error in self.errors)


class StationOrder(BadInput):
    """Stations must go outward, each further than the one before."""


class OutsideValidity(BadInput):
    """The method does not hold for these inputs, so no number is given."""


class CannotCarry(BladewrightError):
    """The rotor stalls before it carries this; ``greatest`` [N] is what it can, at the collective ``at`` [rad]."""

    exit_code = 1

    def __init__(self, thrust: float, greatest: float, at: float) -> None:
        self.short, self.greatest, self.at = thrust - greatest, greatest, at
        super().__init__(
            f"the rotor stalls {self.short:.0f} N short of this thrust", field="thrust", value=thrust,
            allowed=f"up to {greatest:.0f} N, at a collective of {math.degrees(at):.1f} deg",
            fix="less weight, denser air, more rotor speed or more blade",
        )  # fmt: skip


class NotConverged(BladewrightError):
    """An iteration did not settle. No number is given; ``value`` has the last state."""


class MissingInput(BadInput):
    """An answer was asked for that needs a value nobody entered."""


class NotAuthorised(BadInput):
    """The named person may not do this."""

    exit_code = 1


class BookDamaged(BladewrightError):
    """The record book does not agree with itself."""

    exit_code = 1


class HeadNotKept(BladewrightError):
    """What was done is in the book, but the log of heads beside it could not be told."""

    exit_code = 2


class BookBusy(BladewrightError):
    """Somebody else is writing in the book and did not finish in time. Nothing was changed."""

    exit_code = 1


class AlreadyEntered(BladewrightError):
    """The same form was sent before and did its work then. Nothing was written a second time."""

    exit_code = 0


class Outdated(BladewrightError):
    """What was decided on has changed since it was looked at. Nothing was changed."""

    exit_code = 1
