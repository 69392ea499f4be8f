"""Each attribute of a kind is of one type, can be found out, and needs nothing that needs it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from build_tools.index import Index, as_list
from build_tools.problems import Problem
from build_tools.records import Record

TYPES = ("identity", "number", "values")


def check(index: Index) -> Iterator[Problem]:
    """Yield a problem for each attribute that nobody could ask for or answer."""
    for record in index.kinds.values():
        for name, data in record.data.get("attributes", {}).items():
            yield from _attribute(record, name, data)
        yield from _circles(record)


def _attribute(record: Record, name: str, data: dict[str, Any]) -> Iterator[Problem]:
    path = ("attributes", name)
    if name == "fitted":
        yield record.problem(
            path,
            "attribute-form",
            "An attribute cannot be called 'fitted'.",
            "Every slot has that one already: whether a part is fitted at all.",
        )
    types = [key for key in TYPES if data.get(key) or (key not in data and record.wrote(*path, key))]
    if len(types) != 1:
        said = " and ".join(types) if types else "no values, no number and no identity"
        yield record.problem(
            path,
            "attribute-form",
            f"The attribute '{name}' names {said}.",
            'Write exactly one of values, number and identity: "yes".',
        )
    for key, owner in (("named", "identity"), ("reads", "number")):
        if key in data and owner not in types:
            yield record.problem(
                path + (key,),
                "attribute-form",
                f"The attribute '{name}' has '{key}' without '{owner}'.",
                f"Only an attribute with {owner} has it.",
            )
    yield from _number(record, path, name, data.get("number", {}))
    for value in data.get("values", {}):
        if value == "unknown":
            yield record.problem(
                path + ("values", value),
                "attribute-form",
                "A value cannot be called 'unknown'.",
                "Not knowing is always an answer; it is not one of the values.",
            )
    if data.get("identity") and data.get("told_only"):
        yield record.problem(
            path + ("told_only",),
            "attribute-form",
            f"'{name}' is an identity and told only.",
            "What a part is must be asked; only workmanship, routing, readings and ways of doing it are told only.",
        )
    told_only = data.get("told_only") or ("told_only" not in data and record.wrote(*path, "told_only"))
    if not told_only and not record.wrote(*path, "find_out"):
        yield record.problem(
            path,
            "find-out-missing",
            f"Nothing says how to find out '{record.id}.{name}'.",
            'Name a record with find_out, or write told_only: "yes" if it is only a check to make.',
        )


def _number(record: Record, path: tuple[str, ...], name: str, number: dict[str, Any]) -> Iterator[Problem]:
    if "range" in number and len(number["range"]) == 2 and number["range"][0] >= number["range"][1]:
        yield record.problem(
            path + ("number", "range"),
            "attribute-form",
            f"The range of '{name}' runs from {number['range'][0]} to {number['range'][1]}.",
            "Put the lowest plausible value first.",
        )
    if number.get("whole") and "band" in number:
        yield record.problem(
            path + ("number", "band"),
            "attribute-form",
            f"'{name}' is a count and has a band.",
            "A count is exact; take the band out.",
        )


def _circles(record: Record) -> Iterator[Problem]:
    attributes = record.data.get("attributes", {})
    for name in attributes:
        seen: list[str] = []
        open_names = [name]
        while open_names:
            for needed in attributes.get(open_names.pop(), {}).get("applies_when", {}):
                if needed == name:
                    yield record.problem(
                        ("attributes", name, "applies_when"),
                        "applies-when-circle",
                        f"'{name}' applies only when it has a value itself, in the end.",
                        "Take one step of the circle out.",
                    )
                    return
                if needed not in seen:
                    seen.append(needed)
                    open_names.append(needed)


def applies(
    index: Index, kind: str, known: dict[str, set[str]], name: str, above: frozenset[str] = frozenset()
) -> bool:
    """Tell whether an attribute can apply, given the values that other attributes may still have."""
    if name in above:
        return True
    for needed, values in index.attributes(kind).get(name, {}).get("applies_when", {}).items():
        if needed in known and not known[needed] & set(as_list(values)):
            return False
        if not applies(index, kind, known, needed, above | {name}):
            return False
    return True
