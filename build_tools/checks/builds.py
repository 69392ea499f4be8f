"""What a build says names slots, families, attributes and values that exist, each in one way."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from build_tools.checks.references import missing
from build_tools.index import OTHER, Index, as_list, attribute_type
from build_tools.problems import Problem
from build_tools.records import Record
from build_tools.rule_tests import value_faults

FORMS = ("family", "in_hand", "one_of", "state")
TYRE_SIZE = re.compile(r"[0-9]{2,3}(\.[0-9]+)?([/xX][0-9.]+)?[- ]?[RrDdBb-]?[0-9.]+(LT|C)?")
Path = tuple[Any, ...]


def check(index: Index) -> Iterator[Problem]:
    """Yield a problem for each thing a worked build says that no reader could tell of their parts."""
    for record in index.of("build").values():
        yield from build_problems(index, record, ("given",), record.data.get("given", {}))


def build_problems(index: Index, record: Record, top: Path, build: dict[str, Any]) -> Iterator[Problem]:
    """Yield what is wrong in a build that lies at the path `top` of a record or file."""
    for number, subject in enumerate(build.get("asks", [])):
        yield from missing(record, top + ("asks", number), "subject", subject, index.of("subject"))
    for slot, entry in build.get("slots", {}).items():
        path = top + ("slots", slot)
        if slot not in index.slots:
            yield from missing(record, path, "slot", slot, index.slots)
        elif isinstance(entry, dict):
            yield from _entry(index, record, path, index.slots[slot], entry)
    for number, relation in enumerate(build.get("relations", [])):
        yield from _relation(index, record, top + ("relations", number), relation)
    for number, right in enumerate(build.get("taken_as_right", [])):
        path = top + ("taken_as_right", number)
        if "rule" in right:
            yield from missing(record, path, "rule", right["rule"], index.of("rule"))
        if "slot" in right:
            yield from missing(record, path + ("slot",), "slot", right["slot"], index.slots)


def _entry(index: Index, record: Record, path: Path, kind: str, entry: dict[str, Any]) -> Iterator[Problem]:
    said = [form for form in FORMS if form in entry]
    if len(said) > 1:
        yield record.problem(
            path, "said-both", f"'{path[-1]}' names {' and '.join(said)}.", "Only one of them can be meant."
        )
    if "told" in entry and ("in_hand" in entry or entry.get("state") == "none"):
        other = "in_hand" if "in_hand" in entry else "state none"
        yield record.problem(
            path,
            "said-both",
            f"'{path[-1]}' has {other} and tells values beside it.",
            "Tell the values of a part that is there, one part at a time.",
        )
    known = [family.id for family in index.families.values() if family.data.get("kind") == kind]
    for number, family in enumerate(entry.get("one_of", [])):
        yield from missing(record, path + ("one_of", number), "family", family, known, f" of the kind {kind}")
    parts = [(path, entry)] + [
        (path + ("in_hand", number), part) for number, part in enumerate(entry.get("in_hand", []))
    ]
    for place, part in parts:
        if "family" in part:
            yield from missing(record, place + ("family",), "family", part["family"], known, f" of the kind {kind}")
        for name, told in part.get("told", {}).items():
            at = place + ("told", name)
            if name not in index.attributes(kind):
                yield from missing(record, at, "attribute", name, index.attributes(kind))
            else:
                yield from _told(
                    index, record, at, kind, name, told["is"] if isinstance(told, dict) and "is" in told else told
                )


def _told(index: Index, record: Record, path: Path, kind: str, name: str, told: Any) -> Iterator[Problem]:
    data = index.attributes(kind)[name]
    if told == "unknown":
        return
    if attribute_type(data) == "number":
        yield from _number(record, path, name, told, data)
        return
    if isinstance(told, dict):
        yield record.problem(
            path,
            "wrong-shape",
            f"'{name}' is told as a range, and it has labels.",
            "Write a label, or a list of labels.",
        )
        return
    values = index.values(kind, name)
    allowed = (*values, OTHER) if attribute_type(data) == "identity" and OTHER not in values else values
    for fault in value_faults(f"{kind}.{name}", as_list(told), allowed, path):
        extra = " Or write unknown." if fault.check == "unknown-value" else ""
        yield record.problem(fault.path, fault.check, fault.what, fault.allowed + extra, fault.near)


def _number(record: Record, path: Path, name: str, told: Any, data: dict[str, Any]) -> Iterator[Problem]:
    number = data.get("number", {})
    values = [told.get("from"), told.get("to")] if isinstance(told, dict) else as_list(told)
    low, high = number.get("range", (float("-inf"), float("inf")))
    for value in values:
        if isinstance(value, str):
            if data.get("reads") == "tyre_size" and TYRE_SIZE.fullmatch(value):
                continue
            more = ", or the size on the tyre, as in 225/60R16" if data.get("reads") == "tyre_size" else ""
            yield record.problem(
                path,
                "not-a-number",
                f"'{name}' is '{value}'.",
                f"Write a number in {number.get('unit', '')}{more}, or unknown.",
            )
        elif value is not None and not low <= value <= high:
            yield record.problem(
                path,
                "out-of-range",
                f"'{name}' is {value}.",
                f"It lies between {low} and {high} {number.get('unit', '')}.",
            )
        elif value is not None and number.get("whole") and not isinstance(value, int):
            yield record.problem(path, "not-a-number", f"'{name}' is {value}.", "Write a whole number.")
    if isinstance(told, dict) and None not in values and values[0] > values[1]:
        yield record.problem(
            path, "out-of-range", f"'{name}' runs from {values[0]} to {values[1]}.", "Put the lower number first."
        )


def _relation(index: Index, record: Record, path: Path, relation: dict[str, Any]) -> Iterator[Problem]:
    for number, slot in enumerate([*relation.get("came_together", []), *relation.get("made_for", [])]):
        yield from missing(record, path, "slot", slot, index.slots)
    for number, name in enumerate(relation.get("same", [])):
        slot, _, attribute = name.partition(".")
        if slot not in index.slots:
            yield from missing(record, path + ("same", number), "slot", slot, index.slots)
        elif attribute not in index.attributes(index.slots[slot]):
            yield from missing(
                record, path + ("same", number), "attribute", attribute, index.attributes(index.slots[slot])
            )
        elif attribute_type(index.attributes(index.slots[slot])[attribute]) == "number":
            yield record.problem(
                path + ("same", number),
                "bad-test",
                f"'{name}' is a number.",
                "Only values and identities are said to be the same; tell the numbers.",
            )
