"""Turns sound records into the book: one JSON object that pages, engine and browser all read."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from typing import Any

from build_tools.compile_drawings import drawings, face, undrawn
from build_tools.compile_rules import addition, rule, stop
from build_tools.index import Index, as_list, attribute_type, told_values
from build_tools.records import Record

SCHEMA = 1
SECTIONS = {
    "kind": "kinds",
    "family": "families",
    "set": "sets",
    "offer": "offers",
    "rule": "rules",
    "stop": "stops",
    "addition": "additions",
    "subject": "subjects",
    "sum": "sums",
    "source": "sources",
    "find_out": "find_out",
    "face": "faces",
    "code": "codes",
    "symptom": "symptoms",
    "term": "terms",
    "build": "builds",
}
LAST = 1_000_000
POINTS_AT = ("rule", "find_out", "sum", "code")
Book = dict[str, Any]


def compile_book(index: Index) -> Book:
    """Return the book of records that passed the checks; what is wrong with one is not looked for here."""
    invented = {record.id: bool(record.data.get("invented")) for record in index.of("layer").values()}
    book: Book = {section: {} for section in SECTIONS.values()}
    for record_type, section in SECTIONS.items():
        for name, record in sorted(index.of(record_type).items()):
            book[section][name] = {**_common(record, invented), **MAKERS[record_type](index, record)}
    book["slots"] = _slots(index, invented)
    book["drawings"] = drawings(index)
    book["undrawn"] = undrawn(index)
    book["layers"] = [_layer(index, name) for name in index.facts.layers]
    book["rule_order"] = _in_order(book["rules"])
    book["slot_order"] = _in_order(book["slots"])
    book["subject_order"] = _in_order(book["subjects"])
    book["schema"] = SCHEMA
    book["edition"] = _edition(book)
    return book


def book_text(book: Book) -> str:
    """Return the book as text: sorted keys, no spaces, the same bytes for the same book."""
    return json.dumps(book, sort_keys=True, separators=(",", ":"), ensure_ascii=False) + "\n"


def _edition(book: Book) -> str:
    digest = hashlib.sha256(book_text(book).encode()).hexdigest()[:8]
    return f"{max(_dates(book), default='undated')}.{digest}"


def _dates(value: Any) -> list[str]:
    if isinstance(value, dict):
        found = [value["checked"]] if isinstance(value.get("checked"), str) else []
        return found + [day for child in value.values() for day in _dates(child)]
    return [day for child in value for day in _dates(child)] if isinstance(value, list) else []


def _in_order(records: dict[str, dict[str, Any]]) -> list[str]:
    return sorted(records, key=lambda name: (records[name]["order"], name))


def _common(record: Record, invented: dict[str, bool]) -> dict[str, Any]:
    sources = record.data.get("sources", [])
    return {
        "id": record.id,
        "layer": record.layer,
        "invented": invented.get(record.layer, False),
        "source": record.data.get("source", sources[0] if sources else None),
        "checked": record.data.get("checked"),
    }


def _layer(index: Index, name: str) -> dict[str, Any]:
    data = index.of("layer")[name].data
    return {
        "id": name,
        "title": data["title"],
        "invented": data["invented"],
        "about": data["about"],
        "currency": data.get("currency"),
    }


def _slots(index: Index, invented: dict[str, bool]) -> dict[str, dict[str, Any]]:
    slots = {}
    for kind in index.kinds.values():
        for name, data in kind.data["slots"].items():
            slots[name] = {
                **_common(kind, invented),
                "id": name,
                "kind": kind.id,
                "title": data["title"],
                "if_unsaid": data["if_unsaid"],
                "ask": data.get("ask"),
                "per": data.get("per"),
                "order": data.get("order", kind.data.get("order", LAST)),
            }
    return slots


def _kind(index: Index, record: Record) -> dict[str, Any]:
    data = record.data
    return {
        "title": data["title"],
        "means": data["means"],
        "changeable": data["changeable"],
        "open_from": data["open_from"],
        "attributes": [_attribute(index, record, name, entry) for name, entry in data["attributes"].items()],
        "never": [condition(box) for box in data.get("never", [])],
        "slots": list(data["slots"]),
        "order": data.get("order", LAST),
    }


def condition(box: dict[str, Any]) -> dict[str, list[str]]:
    """Return a condition with a list of values for each attribute."""
    return {name: sorted(as_list(values)) for name, values in box.items()}


def _attribute(index: Index, kind: Record, name: str, data: dict[str, Any]) -> dict[str, Any]:
    number = data.get("number", {})
    low, high = number.get("range", (None, None))
    return {
        "id": name,
        "title": data["title"],
        "ask": data["ask"],
        "type": attribute_type(data),
        "values": _values(index, kind.id, name, data),
        "unit": number.get("unit"),
        "low": low,
        "high": high,
        "band": number.get("band", 0),
        "whole": number.get("whole", False),
        "reads": data.get("reads"),
        "applies_when": condition(data.get("applies_when", {})),
        "find_out": data.get("find_out"),
        "told_only": data.get("told_only", False),
        "source": data.get("source", kind.data.get("source")),
        "checked": data.get("checked", kind.data.get("checked")),
    }


def _values(index: Index, kind: str, name: str, data: dict[str, Any]) -> list[list[str]]:
    if "values" in data:
        return [[value, label] for value, label in data["values"].items()]
    own = data.get("named", {})
    return [[value, own.get(value) or index.labels.get(value, value)] for value in index.values(kind, name)]


def _family(index: Index, record: Record) -> dict[str, Any]:
    data = record.data
    attributes = {}
    for name, entry in data["attributes"].items():
        said = entry if isinstance(entry, dict) else {}
        attributes[name] = {
            "is": _told(index, data["kind"], name, told_values(entry)),
            "depends_on": said.get("depends_on"),
            "source": said.get("source", data.get("source")),
            "checked": said.get("checked", data.get("checked")),
        }
    return {
        "kind": data["kind"],
        "title": data["title"],
        "also_called": data.get("also_called", []),
        "stock": data.get("stock"),
        "price": data.get("price"),
        "attributes": attributes,
    }


def _told(index: Index, kind: str, name: str, told: Any) -> Any:
    if attribute_type(index.attributes(kind)[name]) != "number":
        return as_list(told)
    if isinstance(told, dict):
        return {"from": told["from"], "to": told["to"]}
    return {"from": min(as_list(told)), "to": max(as_list(told))}


def _plain(*keys: str, **defaults: Any) -> Callable[[Index, Record], dict[str, Any]]:
    """Return a maker that takes these keys as they are, with None or the default for those left out."""

    def make(index: Index, record: Record) -> dict[str, Any]:
        return {key: record.data.get(key, defaults.get(key)) for key in (*keys, *defaults)}

    return make


def _build(index: Index, record: Record) -> dict[str, Any]:
    expect = record.data["expect"]
    return {
        "title": record.data["title"],
        "asked": record.data["asked"],
        "build": record.data["given"],
        "expect": {"verdict": expect["verdict"], "mentions": expect.get("mentions", [])},
    }


def causes(record: Record) -> list[dict[str, Any]]:
    """Return the causes of a code or symptom in order, each with its sentence and what it points at, None where nothing."""
    said = [{"cause": entry} if isinstance(entry, str) else entry for entry in record.data.get("causes", [])]
    return [{key: entry.get(key) for key in ("cause", *POINTS_AT)} for entry in said]


def _code(index: Index, record: Record) -> dict[str, Any]:
    return {"title": record.data["title"], "means": record.data.get("means"), "causes": causes(record)}


def _symptom(index: Index, record: Record) -> dict[str, Any]:
    made = _plain("title", "group", "seen", also_called=[], first=[], stops=[], order=LAST)(index, record)
    return {**made, "causes": causes(record)}


def _subject(index: Index, record: Record) -> dict[str, Any]:
    made = _plain("title", "question", order=LAST)(index, record)
    return {**made, "always": True} if record.data.get("always") else made


MAKERS: dict[str, Callable[[Index, Record], dict[str, Any]]] = {
    "kind": _kind,
    "family": _family,
    "rule": rule,
    "stop": stop,
    "addition": addition,
    "build": _build,
    "set": _plain("title", "families"),
    "offer": _plain("stock", "price"),
    "subject": _subject,
    "sum": _plain("title", "function", "inputs", "unit", "uncertainty", "digits", "formula", "means"),
    "source": _plain("kind", "title", "publisher", "document", "year", "address", "about"),
    "find_out": _plain("title", "steps", "ease", "time", "hazard", expect={}, tools=[]),
    "face": face,
    "code": _code,
    "symptom": _symptom,
    "term": _plain("title", "abbreviation", "means", also_called=[], said_as=[]),
}
