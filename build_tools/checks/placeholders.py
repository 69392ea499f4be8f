"""Each {name} in a text stands for the slot that the record looks at one by one."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from build_tools.index import Index
from build_tools.problems import Problem
from build_tools.records import Record

TEXTS = {
    "rule": ("because", "goes_wrong", "cautions"),
    "stop": ("say", "why", "instead"),
    "addition": ("do", "checks", "cautions"),
}


def check(index: Index) -> Iterator[Problem]:
    """Yield a problem for each brace in a text that would be printed as it stands."""
    for record in index.facts.records:
        if record.type not in ("source", "build", "layer"):
            yield from _texts(record, (), record.data)


def _texts(record: Record, path: tuple[Any, ...], value: Any) -> Iterator[Problem]:
    if isinstance(value, dict):
        for key, child in value.items():
            yield from _texts(record, path + (key,), child)
    elif isinstance(value, list):
        for number, child in enumerate(value):
            yield from _texts(record, path + (number,), child)
    elif isinstance(value, str) and ("{" in value or "}" in value):
        known = set(record.data.get("each", {})) if set(path) & set(TEXTS.get(record.type, ())) else set()
        yield from _text(record, path, value, known)


def _text(record: Record, path: tuple[Any, ...], text: str, known: set[str]) -> Iterator[Problem]:
    allowed = (
        f"Here only {{{sorted(known)[0]}}} stands for something."
        if known
        else "Nothing in braces stands for something here."
    )
    for found in re.findall(r"\{[^{}]*\}|[{}]", text):
        if found[1:-1] not in known:
            yield record.problem(path, "placeholder", f"'{found}' stands for nothing.", allowed)
