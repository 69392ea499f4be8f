"""Keeps what an oracle works out of a book alone. Books are never changed once made, so one is known by being itself."""

from __future__ import annotations

from functools import lru_cache, wraps
from typing import Any, Callable, TypeVar

Found = TypeVar("Found")
BOOKS = 4       # kept at once: random small books come and go


class Held:
    """A book that equals only itself."""

    def __init__(self, book: dict[str, Any]) -> None:
        self.book = book

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Held) and self.book is other.book

    def __hash__(self) -> int:
        return id(self.book)


def once_a_book(work: Callable[[dict[str, Any]], Found]) -> Callable[[dict[str, Any]], Found]:
    """Return a function that works something out of a book once, for the last few books."""
    kept = lru_cache(maxsize=BOOKS)(lambda held: work(held.book))

    @wraps(work)
    def found(book: dict[str, Any]) -> Found:
        return kept(Held(book))

    return found
