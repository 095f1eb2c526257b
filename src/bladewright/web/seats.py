"""Sessions that were left: their sealed cookie would still open for a while, so it is remembered that it must not.

In memory, since the desk is one process; after a restart a cookie copied from a tablet lasts at most its half hour.
"""

import secrets
import threading
import time
from typing import Final

from django.conf import settings

_lock: Final = threading.Lock()
_left: Final[dict[str, float]] = {}  # seat -> when it was left, by a steady clock [s]


def new() -> str:
    """A name for one session."""
    return secrets.token_urlsafe(12)


def leave(seat: str) -> None:
    """This session is over, whoever holds its cookie; those that have run out by themselves are forgotten."""
    now = time.monotonic()
    with _lock:
        for old in [one for one, at in _left.items() if now - at > settings.SESSION_COOKIE_AGE]:
            del _left[old]
        _left[seat] = now


def is_left(seat: str) -> bool:
    """Whether somebody signed off from it."""
    return seat in _left
