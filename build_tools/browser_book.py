"""The book without what only the pages need, as the browser loads it."""

from __future__ import annotations

from build_tools.compile import Book

PAGES_ONLY = ("drawings", "faces", "symptoms")


def browser_book(book: Book) -> Book:
    """Return the book as the combination check reads it: no symptoms, drawings or faces of plugs, and of a fault code only what is printed beside it.

    The edition stays that of the whole book, so that pages and check name the same one.
    """
    kept = {section: records for section, records in book.items() if section not in PAGES_ONLY}
    without = ("causes", "means")
    return {**kept, "codes": {name: {key: value for key, value in code.items() if key not in without} for name, code in book["codes"].items()}}
