"""A book in two shares for the browser: what an answer needs, and what the check's page says beside it.

The engine is started with the first share alone, so that what a reader waits for stays small as the facts grow; the
page fetches the other by itself. What only the pages of the site print is in neither. The engine gives the same
answers to the first share as to the whole book: the tests hold the two against each other, byte for byte.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

Book = Mapping[str, Any]
PAGES_ONLY = {
    "rules": ("means", "mechanism", "layer", "invented", "source", "checked", "order", "goes_wrong", "codes", "cautions", "sources"),
    "kinds": ("means", "layer", "invented", "source", "checked", "order"),
    "stops": ("mechanism", "layer", "invented", "checked", "order"),
    "additions": ("sold", "layer", "invented", "source", "checked"),
    "offers": ("source", "checked"),
    "slots": ("layer", "invented", "source", "checked", "order"),
    "subjects": ("layer", "invented", "source", "checked", "order"),
    "codes": ("means", "causes", "layer", "invented", "source", "checked"),
    "terms": ("means", "said_as", "layer", "invented", "source", "checked"),
    "find_out": ("layer", "invented", "checked"),
}
BESIDE = {"find_out": ("title", "steps", "time", "hazard", "expect", "tools", "source"), "subjects": ("question",)}
WHOLLY_BESIDE = ("builds", "terms")
NEVER_READ = ("drawings", "faces", "symptoms", "undrawn")


def shares(book: Book) -> tuple[dict[str, Any], dict[str, Any]]:
    """Return what an answer needs, and what the page of the check says beside it, by section and record."""
    needed: dict[str, Any] = {}
    beside: dict[str, Any] = {}
    for section, records in book.items():
        if section in NEVER_READ:
            continue
        if not isinstance(records, Mapping):
            needed[section] = records
            continue
        lean = {name: _without(record, PAGES_ONLY.get(section, ())) for name, record in records.items()}
        if section in WHOLLY_BESIDE:
            beside[section], needed[section] = lean, {}
            continue
        needed[section] = {name: _without(record, BESIDE.get(section, ())) for name, record in lean.items()}
        if section in BESIDE:
            beside[section] = {name: {key: record[key] for key in BESIDE[section] if key in record} for name, record in lean.items()}
    return needed, beside


def _without(record: Mapping[str, Any], keys: tuple[str, ...]) -> dict[str, Any]:
    return {key: value for key, value in record.items() if key not in keys}
