"""A stand-in engine of a few lines, so that bundle and worker are tested apart from the real one."""

from __future__ import annotations

import json
from pathlib import Path

from build_tools.bundle import Bundle, bundle

EDITION = "2026-11-25.00000000"
BOOK = json.dumps({"schema": 1, "edition": EDITION, "builds": {}}, sort_keys=True)
ENGINE = '''"""A stand-in."""
from __future__ import annotations

import json
from typing import NamedTuple


class Book(NamedTuple):
    """Facts."""

    data: dict[str, object]


class BuildError(ValueError):
    """What a build lacks."""


def load(text: str) -> Book:
    """Load."""
    data = json.loads(text)
    if data["schema"] != 1:
        raise ValueError("these facts are of a newer schema")
    return Book(data)


def answer(book: Book, text: str) -> str:
    """Answer."""
    build = json.loads(text)
    if "slots" not in build:
        raise BuildError("a build needs slots")
    assert build["slots"] != "wrong", "asserts are kept"
    return json.dumps({"edition": book.data["edition"], "told": build["slots"]}, sort_keys=True, ensure_ascii=False)
'''
ADDRESS = '''
def from_address(book, text):
    return {"slots": {"a": text}}, [{"name": "b", "value": "c", "why": "There is no such part."}]


def to_address(book, build):
    return "a=" + build["slots"]["a"]
'''
FORMS = '''
def sum_text(name, inputs):
    return name + str(len(inputs))


def plot_text(name, inputs):
    return "null"
'''
SOURCES = {"wizard/__init__.py": "", "wizard/engine/__init__.py": ENGINE, "wizard/engine/address.py": ADDRESS, "wizard/sums/__init__.py": "",
           "wizard/sums/forms/__init__.py": "", "wizard/sums/forms/text.py": FORMS}


def stub_bundle(folder: Path, *, book: str = BOOK, sources: dict[str, str] | None = None, squeeze: bool = False) -> Bundle:
    """Return a bundle of the stand-in in the folder; compiled parts are remembered in the project's own cache."""
    return bundle(book, folder, sources=sources or SOURCES, squeeze=squeeze, say=lambda text: None)
