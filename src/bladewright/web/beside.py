"""What takes longer than a page may: worked out beside it, and there when the page looks again.

Only pure work is given here; nothing in it touches the book. What was worked out stays at hand for a while.
"""

import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable
from concurrent.futures import Future, ThreadPoolExecutor
from concurrent.futures import TimeoutError as StillGoing
from typing import Any, Final, TypeVar

Result = TypeVar("Result")
Key = tuple[Hashable, ...]

KEPT: Final = 128  # results at hand
#: a change somebody waits for is not held up by what only follows
_pools: Final = {
    "first": ThreadPoolExecutor(2, thread_name_prefix="waited-for"),
    "after": ThreadPoolExecutor(1, thread_name_prefix="following"),
}
_lock: Final = threading.Lock()
_kept: Final[OrderedDict[Key, Future[Any]]] = OrderedDict()
_asked: Final[dict[str, Key]] = {}


def asked(
    key: Key, work: Callable[[], Result], patience: float, *, asker: str = "", pool: str = "first"
) -> Result | None:
    """The result, if it is there within this time [s]; None while it is worked out. What went wrong is raised.

    With an asker, what the same one asked before and nobody has begun on yet is given up.
    """
    with _lock:
        before = _kept.get(_asked[asker]) if asker in _asked and _asked[asker] != key else None
        if before is not None and before.cancel():
            del _kept[_asked[asker]]
        if asker:
            _asked[asker] = key
        going = _kept.get(key)
        if going is None or going.cancelled():
            going = _kept[key] = _pools[pool].submit(work)
        _kept.move_to_end(key)
        for old in [one for one, future in _kept.items() if future.done()][: max(0, len(_kept) - KEPT)]:
            del _kept[old]
    try:
        result: Result = going.result(timeout=patience)
    except StillGoing:
        return None
    return result
