"""Who does something, when and why: the first thing every write service is given. And what a person may do."""

import datetime
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

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


#: what each authorisation lets a person do
LETS: Final = {
    Scope.ADMINISTER: "add people, authorise them, end it, give first secrets",
    Scope.RECEIVE: "receive lots",
    Scope.DRAW: "file a drawing",
    Scope.APPROVE: "approve a drawing somebody else filed",
    Scope.MAKE: "start a blade, build lots in, weigh, sign for work that is neither bonding nor cure",
    Scope.BOND: "sign for surface treatment and lay-up",
    Scope.CURE: "file the log of an oven run, sign for pressure",
    Scope.INSPECT: "file coupons, dimensions and weighings, sign the void map and other inspections, judge",
    Scope.LOOK_LAST: "sign the final inspection of a blade they did not make",
    Scope.DESIGN: "accept a finding as a deviation, on a blade they did not make",
    Scope.MATCH: "form a set",
    Scope.RELEASE: "sign a set out, keep owners and aircraft, put sets on and take them off",
}


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
