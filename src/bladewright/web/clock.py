"""The desk's clock, read in this one place. A demo book is shown as it stood on a day of its own."""

import datetime

_ahead = [datetime.timedelta(0)]


def now() -> datetime.datetime:
    """This moment."""
    return datetime.datetime.now(datetime.UTC) + _ahead[0]


def begin_at(moment: datetime.datetime | None) -> None:
    """From now on the clock runs from this moment; None: as the computer's does."""
    _ahead[0] = datetime.timedelta(0) if moment is None else moment - datetime.datetime.now(datetime.UTC)


def is_moved() -> bool:
    """Whether the clock is a demo's own."""
    return bool(_ahead[0])
