"""The book without what only the pages need, as the browser loads it."""

from __future__ import annotations

from typing import Any

from build_tools.compile import Book

PAGES_ONLY = ("drawings", "faces", "symptoms")


def browser_book(book: Book) -> Book:
    """Return the book as the combination check reads it: no symptoms, drawings or faces of plugs, and of a fault code only what is printed beside it.

    The edition stays that of the whole book, so that pages and check name the same one.
    """
    kept = {section: records for section, records in book.items() if section not in PAGES_ONLY}
    return {**kept, "codes": _without(book["codes"], "causes", "means"), "terms": _without(book["terms"], "said_as")}


def _without(records: dict[str, Any], *keys: str) -> dict[str, Any]:
    return {name: {key: value for key, value in record.items() if key not in keys} for name, record in records.items()}
