"""A few answers kept in memory under what they rest on: the same inputs are never worked out twice in a row."""

import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable
from typing import Generic, TypeVar

T = TypeVar("T")


class Kept(Generic[T]):
    """The latest answers asked for; safe from many threads. A key must hold everything the answer rests on."""

    def __init__(self, most: int) -> None:
        self._most, self._lock = most, threading.Lock()
        self._held: OrderedDict[Hashable, T] = OrderedDict()

    def of(self, key: Hashable, make: Callable[[], T]) -> T:
        """The answer under a key; made now, outside the lock, where it is not there."""
        with self._lock:
            if key in self._held:
                self._held.move_to_end(key)
                return self._held[key]
        made = make()
        with self._lock:
            self._held[key] = made
            self._held.move_to_end(key)
            while len(self._held) > self._most:
                self._held.popitem(last=False)
        return made
