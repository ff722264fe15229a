"""Answers kept for frozen objects by who they are, not by what they hold."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from threading import Lock
from typing import Any, Generic, TypeVar

T = TypeVar("T")


class Kept(Generic[T]):
    """The last ``most`` answers about frozen objects.

    An object is known again by its identity, which costs nothing, so what is asked about it must
    never change. Equal objects that were made apart are worked out apart. The objects are held
    with their answer, so that no other takes their identity. Threads may share it.
    """

    def __init__(self, most: int) -> None:
        self._most = most
        self._lock = Lock()
        self._rows: dict[tuple[Hashable, ...], tuple[tuple[Any, ...], T]] = {}

    def knows(self, objects: tuple[Any, ...], also: Hashable) -> bool:
        """Whether there is an answer about these objects."""
        with self._lock:
            return (also, *map(id, objects)) in self._rows

    def hold(self, most: int) -> None:
        """Keep so many from now on."""
        with self._lock:
            self._most = most

    def of(self, objects: tuple[Any, ...], also: Hashable, make: Callable[[], T]) -> T:
        """The answer about these objects in this order, and about ``also``, told by its value."""
        key = (also, *map(id, objects))
        with self._lock:
            row = self._rows.pop(key, None)
            if row is not None:
                self._rows[key] = row
                return row[1]
        row = (objects, make())
        with self._lock:
            while len(self._rows) >= self._most:
                self._rows.pop(next(iter(self._rows)))
            self._rows[key] = row
        return row[1]
