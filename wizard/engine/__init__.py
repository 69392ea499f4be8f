"""Donorbook's engine: a book of facts and a build go in, a verdict with its argument comes out.

Pure standard library, no clock, no chance, no files, no network: the same bytes in CPython and in the browser.
"""
from .build import BuildError
from .compare import compare
from .model import Book, BookError, load
from .report import answer

__all__ = ["Book", "BookError", "BuildError", "answer", "compare", "load"]
