"""Measures how much the facts hold: what cannot be found out or is half said, what few parts are listed for, what is weak or old."""

from __future__ import annotations

from typing import Any

from build_tools.compile import Book
from build_tools.pages.crossref import reads
from build_tools.schema_parts import UNDRAWN
from build_tools.statements import WEAKEST_FIRST, by_weakest, statements, weakest

FEW = 2
OLDEST = 10
SEEN = ("look", "count", "measure")
COUNTED = ("kinds", "slots", "families", "rules", "stops", "additions", "sums", "find_out", "codes", "symptoms", "terms", "builds")
TITLES = {
    "without_way": "Attributes without a way to find them out (checks to make, told only):",
    "ways_lacking": "Ways to find out that lack something:",
    "outcomes_lacking": "Attributes whose way does not say what each outcome means:",
    "without_drawing": "Rules that read something that is looked at, counted or measured, of which nothing is drawn:",
    "without_symptom": "Rules that no symptom and no fault code leads to:",
    "codes_lacking": "Fault codes without a meaning or a cause of their own:",
    "unpriced": "Additions that are sold and have no stock number or price:",
    "few_families": f"Slots with fewer than {FEW} listed families:",
}


def coverage(book: Book) -> dict[str, Any]:
    """Return the report as one object: counts, lists of what is thin in order of id, sources, and what was checked longest ago."""
    return {
        "counts": {section: len(book[section]) for section in COUNTED},
        "without_way": [name for name, entry in _attributes(book) if not entry["find_out"]],
        "ways_lacking": _ways_lacking(book),
        "outcomes_lacking": _outcomes_lacking(book),
        "without_drawing": [name for name in undrawn_rules(book) if name not in book["undrawn"]],
        "needs_no_drawing": {why: list(book["undrawn"].values()).count(word) for word, why in UNDRAWN.items()},
        "without_symptom": _without_symptom(book),
        "codes_lacking": [name for name, code in sorted(book["codes"].items()) if not code["means"] or not code["causes"]],
        "unpriced": [name for name, one in sorted(book["additions"].items()) if one["sold"] and not _priced(book, name)],
        "offered": _offered(book),
        "few_families": _few_families(book),
        "by_weakest_source": _ranked(by_weakest(book)),
        "weak_by_type": _weak_by_type(book),
        "oldest": _oldest(book),
    }


def coverage_lines(book: Book) -> list[str]:
    """Return the report as lines of text."""
    found = coverage(book)
    lines = [f"{count} {section.replace('_', ' ')}" for section, count in found["counts"].items()]
    for key, head in TITLES.items():
        lines += ["", f"{head[:-1]} ({len(found[key])}):" if found[key] else head, *_indented(found[key])]
    lines += ["", "Rules that need no drawing, because"]
    lines += _indented([f"{why}: {count}" for why, count in found["needs_no_drawing"].items()])
    lines += ["", "What is offered of the additions:"]
    lines += _indented([f"{what}: {count}" for what, count in found["offered"].items()])
    lines += ["", "Statements by their weakest source, weakest first:"]
    lines += _indented([f"{kind.replace('-', ' ')}: {count}" for kind, count in found["by_weakest_source"].items()])
    lines += ["", "Statements that are common practice or from memory, by type of record:"]
    lines += _indented([f"{name.replace('_', ' ')}: {weak} of {whole}" for name, (weak, whole) in found["weak_by_type"].items()])
    return lines + ["", "Checked longest ago:", *_indented([f"{day}  {name}" for day, name in found["oldest"]])]


def _indented(lines: list[str]) -> list[str]:
    return [f"  {line}" for line in lines] or ["  none"]


def _attributes(book: Book) -> list[tuple[str, dict[str, Any]]]:
    return [(f"{name}.{entry['id']}", entry) for name, kind in sorted(book["kinds"].items()) for entry in kind["attributes"]]


def _ways_lacking(book: Book) -> list[str]:
    """Return the ways to find out without time, hazard, a tool where one is needed, or an attribute that asks for them."""
    asked = {entry["find_out"] for _, entry in _attributes(book)}
    found = []
    for name, way in sorted(book["find_out"].items()):
        lacks = [key for key in ("time", "hazard") if not way[key]]
        lacks += ["tools"] if way["ease"] == "measure" and not way["tools"] else []
        lacks += ["an attribute"] if name not in asked else []
        found += [f"{name}: {', '.join(lacks)}"] if lacks else []
    return found


def _outcomes_lacking(book: Book) -> list[str]:
    ways = book["find_out"]
    return [f"{name}: {way}" for name, entry in _attributes(book) if (way := entry["find_out"]) and entry["id"] not in ways[way]["expect"]]


def undrawn_rules(book: Book) -> list[str]:
    """Return the rules with something to see and no drawing: of themselves, of what they read, or of how it is found out."""
    drawn = book["drawings"]
    lacking = []
    for name, rule in sorted(book["rules"].items()):
        read = reads(book, rule).attributes
        keys = {f"{kind}.{attribute}" for kind, attribute in read}
        ways = {entry["find_out"] for key, entry in _attributes_of(book, keys)}
        seen = any(book["find_out"][way]["ease"] in SEEN for way in ways if way)
        if seen and not (name in drawn["rules"] or keys & set(drawn["attributes"]) or ways & set(drawn["find_out"])):
            lacking.append(name)
    return lacking


def _attributes_of(book: Book, keys: set[str]) -> list[tuple[str, dict[str, Any]]]:
    kinds = {key.partition(".")[0] for key in keys}
    return [(f"{kind}.{entry['id']}", entry) for kind in sorted(kinds) for entry in book["kinds"][kind]["attributes"] if f"{kind}.{entry['id']}" in keys]


def _without_symptom(book: Book) -> list[str]:
    led = {cause["rule"] for section in ("symptoms", "codes") for record in book[section].values() for cause in record["causes"]}
    coded = {name for name, rule in book["rules"].items() if any(case["codes"] for case in rule["cases"])}
    return sorted(set(book["rules"]) - led - coded)


def _priced(book: Book, name: str) -> bool:
    offer = book["offers"].get(name) or {}
    return bool(offer.get("stock")) and offer.get("price") is not None


def _offered(book: Book) -> dict[str, int]:
    """Return how many additions have a stock number and price, how many are sold without, and how many are work or a service."""
    priced = {name for name in book["additions"] if _priced(book, name)}
    without = [one["sold"] for name, one in book["additions"].items() if name not in priced]
    return {"with stock number and price": len(priced), "sold, without": sum(without), "work or a service, without": len(without) - sum(without)}


def _few_families(book: Book) -> list[str]:
    counts = {kind: sum(family["kind"] == kind for family in book["families"].values()) for kind in book["kinds"]}
    return [f"{slot}: {counts[record['kind']]}" for slot, record in sorted(book["slots"].items()) if counts[record["kind"]] < FEW]


def _ranked(counts: dict[str, int]) -> dict[str, int]:
    return {kind: counts[kind] for kind in ("none", *WEAKEST_FIRST) if counts.get(kind)}


def _weak_by_type(book: Book) -> dict[str, tuple[int, int]]:
    found: dict[str, tuple[int, int]] = {}
    for statement in statements(book):
        weak, whole = found.get(statement.record_type, (0, 0))
        is_weak = weakest(book, statement.cited) in ("from-memory", "common-practice")
        found[statement.record_type] = (weak + is_weak, whole + 1)
    return dict(sorted(found.items()))


def _oldest(book: Book) -> list[tuple[str, str]]:
    dated: list[tuple[str, str]] = []
    for section, records in sorted(book.items()):
        if section not in ("slots", "drawings", "undrawn") and isinstance(records, dict):
            for name, record in records.items():
                dated += [(day, f"{section}/{name}{part}") for part, day in _days(record)]
    return sorted(dated)[:OLDEST]


def _days(record: dict[str, Any]) -> list[tuple[str, str]]:
    """Return the day of a record, and of each attribute or value in it that was checked on another day."""
    inside = record.get("attributes") or {}
    pairs = inside.items() if isinstance(inside, dict) else [(entry["id"], entry) for entry in inside]
    days = [("", record.get("checked"))] + [
        (f".{name}", entry.get("checked")) for name, entry in pairs if entry.get("checked") != record.get("checked")
    ]
    return [(part, day) for part, day in days if day]
