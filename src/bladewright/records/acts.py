"""Who does something, when and why: the first thing every write service is given. And what a person may do."""

import datetime
from dataclasses import dataclass
from enum import StrEnum

from bladewright.errors import BadInput
from bladewright.records.naming import refuse_hidden, refuse_name


class Scope(StrEnum):
    """What a person may be authorised for, in the trade's words."""

    ADMINISTER = "administer book"
    RECEIVE = "receive"
    DRAW = "draw"
    APPROVE = "approve drawing"
    MAKE = "make"
    BOND = "bonding"
    CURE = "cure"
    INSPECT = "inspect"
    LOOK_LAST = "final inspection"
    DESIGN = "design authority"
    MATCH = "match"
    RELEASE = "release"


@dataclass(frozen=True, slots=True)
class Act:
    """A named person doing something at a moment; the clock is read by whoever calls, never by the book."""

    by: str
    at: datetime.datetime
    reason: str = ""
    once: str = ""  # the token of the form it came from: the same token never writes twice
    seen: int | None = None  # the newest event about the subject that the person had before them

    def __post_init__(self) -> None:
        """A name and a moment with its zone, or nothing."""
        refuse_name(self.by, "by")
        refuse_hidden(self.reason, "reason")
        if self.at.utcoffset() is None:
            raise BadInput(
                "has no zone",
                field="at",
                value=self.at.isoformat(),
                allowed="a time with its zone",
                fix="give the zone",
            )
