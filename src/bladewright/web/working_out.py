"""Answers that take seconds: worked out once, aside, and kept under the hash of what they rest on.

A page that asks gets how far the work is; asked again with the same inputs, it gets the answer that is there.
"""

import threading
import time
from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass, field
from typing import Any, Final

from django.db import connections

from bladewright.errors import BladewrightError, BookBusy
from bladewright.figures import canonical, digest

#: answers kept, the latest asked for; our own choice [count]
KEPT: Final = 64
#: questions that may wait for their turn; more than that, and somebody leans on a key [count]
WAITING: Final = 16


@dataclass(slots=True)
class Work:
    """One question under way, or answered."""

    key: str
    begun: float
    future: Future[Any] | None = None
    told: list[str] = field(default_factory=lambda: ["waiting for its turn"])

    @property
    def done(self) -> bool:
        """Whether there is an answer, or a reason why there is none."""
        return self.future is not None and self.future.done()

    @property
    def doing(self) -> str:
        """What it is at."""
        return self.told[-1]

    @property
    def answer(self) -> Any:
        """The answer; None while there is none, or where the inputs are refused."""
        return None if self.error is not None or not self.done else self._future().result()

    @property
    def error(self) -> BladewrightError | None:
        """Why the inputs are refused. Anything else that went wrong is our fault, and is raised."""
        if not self.done:
            return None
        wrong = self._future().exception()
        if wrong is not None and not isinstance(wrong, BladewrightError):
            raise wrong
        return wrong

    def _future(self) -> Future[Any]:
        assert self.future is not None
        return self.future


Tell = Callable[[str], None]

_one_at_a_time = ThreadPoolExecutor(max_workers=1, thread_name_prefix="working-out")
_lock = threading.Lock()
_known: OrderedDict[str, Work] = OrderedDict()


def worked_out(inputs: object, work: Callable[[Tell], Any]) -> Work:
    """The work on these inputs, begun now or before; ``work`` is given a way to tell how far it is."""
    key = digest(canonical(inputs))
    with _lock:
        found = _known.get(key)
        if found is not None and not _failed(found):
            _known.move_to_end(key)
            return found
        if sum(not one.done for one in _known.values()) >= WAITING:
            raise BookBusy("too many answers are being worked out", fix="wait until some are there, then ask again")
        made = Work(key, time.monotonic())
        made.future = _one_at_a_time.submit(_done, work, made)
        _known[key] = made
        for old in [name for name, one in _known.items() if one.done][: max(0, len(_known) - KEPT)]:
            del _known[old]
    return made


def _failed(work: Work) -> bool:
    """Whether it broke by our fault; then it is tried again."""
    if not work.done:
        return False
    wrong = work.future.exception() if work.future else None
    return wrong is not None and not isinstance(wrong, BladewrightError)


def _done(work: Callable[[Tell], Any], made: Work) -> Any:
    made.told.append("begun")

    def tell(how_far: str) -> None:
        made.told[:] = [how_far]

    try:
        return work(tell)
    finally:
        connections.close_all()
