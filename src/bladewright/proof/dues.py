"""What falls due when: surveys, sensor checks, calibrations, gauges. The due day itself is in time."""

import datetime
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from bladewright.figures import counted

#: how far ahead a shop looks, as ``adhesive-hours`` does; our own choice
AHEAD: Final = 31  # days


class DueState(StrEnum):
    """How something dated stands on a day, the worst first."""

    NEVER = "never done"
    BAD = "found outside its limits"
    LATE = "overdue"
    SOON = "due soon"
    GOOD = "holds"


@dataclass(frozen=True, slots=True)
class Due:
    """One dated thing on one day."""

    what: str  # like "zone survey" or "gauge"
    of: str  # which: an oven, a sensor, a gauge
    done_on: datetime.date | None
    due: datetime.date | None
    by: str
    state: DueState
    told: str

    @property
    def blocks(self) -> bool:
        """Whether nothing may rest on it on that day."""
        return self.state in (DueState.NEVER, DueState.BAD, DueState.LATE)


def due_on(
    day: datetime.date, what: str, of: str, done_on: datetime.date | None, due: datetime.date | None,
    *, by: str = "", good: bool = True, ahead: int = AHEAD,
) -> Due:  # fmt: skip
    """How a thing done on one day and due on another stands. ``good``: what was found was within its limits."""
    if done_on is None or due is None or done_on > day:
        return Due(what, of, None, None, by, DueState.NEVER, f"The {what} of {of} was never entered.")
    days = (due - day).days
    if not good:
        state, told = DueState.BAD, f"found outside its limits on {done_on.isoformat()}"
    elif days < 0:
        state, told = DueState.LATE, f"overdue by {counted(-days, 'day')}, since {due.isoformat()}"
    elif days <= ahead:
        state, told = DueState.SOON, f"due again by {due.isoformat()}, in {counted(days, 'day')}"
    else:
        state, told = DueState.GOOD, f"holds to {due.isoformat()}"
    return Due(what, of, done_on, due, by, state, f"The {what} of {of}: {told}.")
