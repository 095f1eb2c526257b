"""Answers that take seconds: worked out once, aside, and kept under the hash of what they rest on.

A page that asks gets how far the work is; asked again with the same inputs, it gets the answer that is there.
"""

import threading
from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from typing import Any, Final

from django.db import connections

from bladewright.errors import BladewrightError, BookBusy
from bladewright.figures import canonical, digest

#: answers kept, the latest asked for; our own choice [count]
KEPT: Final = 64
#: questions that may wait for their turn; more than that, and somebody leans on a key [count]
WAITING: Final = 16


@dataclass(frozen=True, slots=True)
class Work:
    """How a question stood at the moment it was asked: under way, answered, or refused with the reason."""

    done: bool
    doing: str
    answer: Any = None
    error: BladewrightError | None = None


@dataclass(slots=True)
class _Begun:
    """One question that somebody has asked."""

    future: Future[Any]
    told: list[str]

    def seen(self) -> Work:
        """What there is now. What went wrong by our own fault is raised."""
        if not self.future.done():
            return Work(False, self.told[0])
        wrong = self.future.exception()
        if wrong is None:
            return Work(True, "", self.future.result())
        if not isinstance(wrong, BladewrightError):
            raise wrong
        return Work(True, "", error=wrong)

    def is_our_fault(self) -> bool:
        """Whether it broke; then it is tried again."""
        wrong = self.future.exception() if self.future.done() else None
        return wrong is not None and not isinstance(wrong, BladewrightError)


Tell = Callable[[str], None]

_one_at_a_time = ThreadPoolExecutor(max_workers=1, thread_name_prefix="working-out")
_lock = threading.Lock()
_known: OrderedDict[str, _Begun] = OrderedDict()


def worked_out(inputs: object, work: Callable[[Tell], Any]) -> Work:
    """The work on these inputs, begun now or before; ``work`` is given a way to tell how far it is."""
    key = digest(canonical(inputs))
    with _lock:
        found = _known.get(key)
        if found is None or found.is_our_fault():
            if sum(not one.future.done() for one in _known.values()) >= WAITING:
                raise BookBusy("too many answers are being worked out", fix="wait until some are there, then ask again")
            told = ["waiting for its turn"]
            found = _known[key] = _Begun(_one_at_a_time.submit(_done, work, told), told)
        _known.move_to_end(key)
        answered = [name for name, one in _known.items() if one.future.done()]
        for old in answered[: max(0, len(_known) - KEPT)]:
            del _known[old]
    return found.seen()


def _done(work: Callable[[Tell], Any], told: list[str]) -> Any:
    def tell(how_far: str) -> None:
        told[0] = how_far

    tell("begun")
    try:
        return work(tell)
    finally:
        for one in connections.all(initialized_only=True):
            one.close()
            del connections[one.alias]  # another book may be open when this thread works again
