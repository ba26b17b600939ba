"""Renderings kept by what they were made from: in this process's memory, and in the cache all share.

A key says all that went into a rendering (see `edition.content_key`), so what is kept is never stale; it only
goes when the room is needed.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from threading import Lock

from django.core.cache import cache
from django.utils.safestring import SafeString

LARGEST = 32_000_000  # characters on the shelf of one process
FOR = 30 * 24 * 3600  # seconds in the shared cache


class Shelf:
    """The renderings used last, up to a number of characters."""

    def __init__(self, largest: int) -> None:
        self.largest = largest
        self._texts: OrderedDict[str, SafeString] = OrderedDict()
        self._size = 0
        self._lock = Lock()

    def get(self, key: str) -> SafeString | None:
        """Return what is kept under a key, or None."""
        with self._lock:
            if key in self._texts:
                self._texts.move_to_end(key)
            return self._texts.get(key)

    def put(self, key: str, text: SafeString) -> None:
        """Keep a text; those longest unused make room for it."""
        with self._lock:
            self._size += len(text) - len(self._texts.pop(key, SafeString("")))
            self._texts[key] = text
            while self._size > self.largest:
                _, oldest = self._texts.popitem(last=False)
                self._size -= len(oldest)

    def items(self) -> list[tuple[str, SafeString]]:
        """Return all that is kept, with its keys."""
        with self._lock:
            return list(self._texts.items())

    def clear(self) -> None:
        """Forget everything."""
        with self._lock:
            self._texts.clear()
            self._size = 0


# Reading a long page back from a file and unpacking it takes longer than all else about serving it.
shelf = Shelf(LARGEST)


def is_kept(key: str) -> bool:
    """Whether the rendering of this key is kept somewhere."""
    return shelf.get(key) is not None or cache.has_key(key)


def kept(key: str, make: Callable[[], str]) -> SafeString:
    """Return the rendering of this key, made only when it is nowhere kept."""
    text = recalled(key)
    return keep(key, make()) if text is None else text


def recalled(key: str) -> SafeString | None:
    """Return the rendering of this key where it is kept, or None."""
    text = shelf.get(key)
    if text is None:
        stored: str | None = cache.get(key)
        if stored is not None:
            text = SafeString(stored)  # a template made it
            shelf.put(key, text)
    return text


def keep(key: str, text: str) -> SafeString:
    """Keep a rendering under a key, and return it."""
    made = SafeString(str(text))
    cache.set(key, str(text), FOR)
    shelf.put(key, made)
    return made
