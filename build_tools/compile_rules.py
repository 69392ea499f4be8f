"""Turns rules, stops and additions into their form in the book: defaults filled in, tests in one normal form."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from build_tools.index import Index
from build_tools.records import Record
from build_tools.rule_tests import normal_rows

OTHERWISE = "otherwise"
UNCOVERED = "uncovered"
NOT_WRITTEN = "The rule has no case for this, so nothing can be said."
SOLD = ("buy", "make", "wire")      # of the types of additions; the others are work or a service
LAST = 1_000_000


def rule(index: Index, record: Record) -> dict[str, Any]:
    """Return a rule of the book."""
    data = record.data
    return {
        "title": data["title"],
        "mechanism": data.get("mechanism"),
        "subject": data["subject"],
        "means": data["means"],
        **roles(record),
        "cases": [*(_case(index, record, case) for case in data["cases"]), *_beyond(data)],
        "goes_wrong": data.get("goes_wrong"),
        "codes": data.get("codes", []),
        "cautions": data.get("cautions", []),
        "sources": _sources(data),
        "order": data.get("order", LAST),
    }


def roles(record: Record) -> dict[str, Any]:
    """Return the slots a rule or stop looks at, by role."""
    return {
        "each": record.data.get("each"),
        "about": record.data.get("about", []),
        "partners": record.data.get("partners", []),
        "helpers": record.data.get("helpers", []),
    }


def _sources(data: dict[str, Any]) -> list[str]:
    return data.get("sources") or ([data["source"]] if "source" in data else [])


def _case(index: Index, record: Record, case: dict[str, Any]) -> dict[str, Any]:
    data = record.data
    works = case.get("verdict") == "works"
    rows = normal_rows(index, index.names(record), case.get("when"))[0] if OTHERWISE not in case else [[]]
    return {
        "case": case.get("case", OTHERWISE),
        "verdict": case.get("verdict", case.get(OTHERWISE)),
        "because": case["because"],
        "when": rows,
        "additions": alternatives(case.get("additions")),
        "goes_wrong": None if works else case.get("goes_wrong", data.get("goes_wrong")),
        "codes": [] if works else case.get("codes", data.get("codes", [])),
        "cautions": case.get("cautions", data.get("cautions", [])),
        "sources": case.get("sources") or _sources(data),
    }


def _beyond(data: dict[str, Any]) -> list[dict[str, Any]]:
    """Return the last case of a rule that has no `otherwise`: no parts that can be reach it, and if any did it cannot tell."""
    if OTHERWISE in data["cases"][-1]:
        return []
    blank = {"when": [[]], "additions": [], "goes_wrong": None, "codes": [], "cautions": [], "sources": _sources(data)}
    return [{"case": UNCOVERED, "verdict": "cannot-tell", "because": NOT_WRITTEN, **blank}]


def written_cases(rule: Mapping[str, Any]) -> list[dict[str, Any]]:
    """Return the cases of a rule of the book that somebody wrote, which are those that parts can reach."""
    return [case for case in rule["cases"] if case["case"] != UNCOVERED]


def alternatives(additions: Any) -> list[list[str]]:
    """Return the alternatives of a case, each a list of additions that belong together."""
    if isinstance(additions, dict):
        return additions["any_of"]
    return [additions] if additions else []


def stop(index: Index, record: Record) -> dict[str, Any]:
    """Return a stop of the book; one without tests holds whenever it is in question."""
    data = record.data
    return {
        "title": data["title"],
        "effect": data["effect"],
        "mechanism": data.get("mechanism"),
        **roles(record),
        "when": normal_rows(index, index.names(record), data.get("when"))[0],
        "say": data["say"],
        "why": data["why"],
        "instead": data["instead"],
        "sources": _sources(data),
        "order": data.get("order", LAST),
    }


def addition(index: Index, record: Record) -> dict[str, Any]:
    """Return an addition of the book."""
    data = record.data
    sets = {name: value if isinstance(value, dict) else {"to": value} for name, value in data.get("sets", {}).items()}
    return {
        "title": data["title"],
        "type": data["type"],
        "sold": data["type"] in SOLD and data.get("sold", True),
        "each": data.get("each"),
        "changes": data.get("changes", []),
        "sets": sets,
        "needs": data.get("needs", []),
        "do": data["do"],
        "checks": data.get("checks", []),
        "cautions": data.get("cautions", []),
    }
