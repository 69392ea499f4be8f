"""Donorbook's engine: a book of facts and a build go in, a verdict with its argument comes out.

Pure standard library, no clock, no chance, no files, no network: the same bytes in CPython and in the browser.
"""
from .build import BuildError
from .compare import compare
from .layout import make_layout
from .model import Book, BookError, read_book
from .report import answer


def load(book_json: str) -> Book:
    """Read book.json and lay it out; raises `BookError` in words when it is not a book of this schema."""
    book = read_book(book_json)
    return book._replace(layout=make_layout(book))


__all__ = ["Book", "BookError", "BuildError", "answer", "compare", "load"]
