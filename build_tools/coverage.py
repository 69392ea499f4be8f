"""Measures how much the facts hold: what cannot be found out, what few parts are listed for, what is weak or old."""

from __future__ import annotations

from typing import Any

from build_tools.compile import Book

STRENGTH = ("invented", "from-memory", "common-practice", "measured", "published")
FEW = 2
OLDEST = 10


def coverage_lines(book: Book) -> list[str]:
    """Return the report as lines of text."""
    lines = [
        f"{len(book[section])} {section.replace('_', ' ')}"
        for section in ("kinds", "slots", "families", "rules", "stops", "additions", "sums", "find_out", "builds")
    ]
    lines += [
        "",
        "Attributes without a way to find them out (checks to make, told only):",
        *_indented(_without_way(book)),
    ]
    lines += ["", f"Slots with fewer than {FEW} listed families:", *_indented(_few_families(book))]
    lines += ["", "Cases and values by their weakest source, weakest first:", *_indented(_by_source(book))]
    return lines + ["", "Checked longest ago:", *_indented(_oldest(book))]


def _indented(lines: list[str]) -> list[str]:
    return [f"  {line}" for line in lines] or ["  none"]


def _without_way(book: Book) -> list[str]:
    return [
        f"{kind}.{attribute['id']}"
        for kind, record in sorted(book["kinds"].items())
        for attribute in record["attributes"]
        if not attribute["find_out"]
    ]


def _few_families(book: Book) -> list[str]:
    counts = {kind: sum(family["kind"] == kind for family in book["families"].values()) for kind in book["kinds"]}
    return [
        f"{slot}: {counts[record['kind']]}"
        for slot, record in sorted(book["slots"].items())
        if counts[record["kind"]] < FEW
    ]


def _by_source(book: Book) -> list[str]:
    counts = dict.fromkeys(STRENGTH, 0)
    for cited in [case["sources"] for rule in book["rules"].values() for case in rule["cases"]] + [
        [value["source"]]
        for family in book["families"].values()
        for value in family["attributes"].values()
        if value["source"]
    ]:
        kinds = [book["sources"][source.partition("#")[0]]["kind"] for source in cited]
        if kinds:
            counts[min(kinds, key=STRENGTH.index)] += 1
    return [f"{kind.replace('-', ' ')}: {counts[kind]}" for kind in STRENGTH if counts[kind]]


def _oldest(book: Book) -> list[str]:
    dated: list[tuple[str, str]] = []
    for section, records in sorted(book.items()):
        if section != "slots" and isinstance(records, dict):
            for name, record in records.items():
                dated += [(day, f"{section}/{name}{part}") for part, day in _days(record)]
    return [f"{day}  {name}" for day, name in sorted(dated)[:OLDEST]]


def _days(record: dict[str, Any]) -> list[tuple[str, str]]:
    """Return the day of a record, and of each attribute or value in it that was checked on another day."""
    inside = record.get("attributes") or {}
    pairs = inside.items() if isinstance(inside, dict) else [(entry["id"], entry) for entry in inside]
    days = [("", record.get("checked"))] + [
        (f".{name}", entry.get("checked")) for name, entry in pairs if entry.get("checked") != record.get("checked")
    ]
    return [(part, day) for part, day in days if day]
