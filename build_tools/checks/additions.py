"""What an addition needs exists without a circle, and what it sets suits the attribute."""

from __future__ import annotations

from collections.abc import Iterator

from build_tools.index import Index
from build_tools.problems import Problem
from build_tools.records import Record
from build_tools.rule_tests import Fault, variable


def check(index: Index) -> Iterator[Problem]:
    """Yield a problem for each addition that could never be made or that sets what nobody can set."""
    for record in index.of("addition").values():
        yield from _circle(index, record)
        yield from _sets(index, record)
        for name in record.data.get("each", {}):
            if name in index.slots or name == "sum":
                yield record.problem(
                    ("each", name),
                    "each-name",
                    f"'{name}' is already the name of a slot.",
                    "Choose another name for each of them.",
                )


def needed(index: Index, names: list[str]) -> list[str]:
    """Return the additions with everything they need, in order and each once."""
    found: list[str] = []
    waiting = list(names)
    while waiting:
        name = waiting.pop(0)
        record = index.of("addition").get(name)
        if name not in found and record:
            found.append(name)
            waiting.extend(record.data.get("needs", []))
    return sorted(found)


def _circle(index: Index, record: Record) -> Iterator[Problem]:
    if record.id in needed(index, record.data.get("needs", [])):
        yield record.problem(
            ("needs",),
            "addition-circle",
            f"The addition '{record.id}' needs itself in the end.",
            "Take one step of the circle out.",
        )


def _sets(index: Index, record: Record) -> Iterator[Problem]:
    for target, value in record.data.get("sets", {}).items():
        found = variable(index, index.names(record), target, ("sets", target))
        if isinstance(found, Fault):
            continue
        if found.type == "number":
            yield record.problem(
                ("sets", target),
                "addition-sets",
                f"'{target}' is a number, and an addition sets it.",
                "An addition sets values, identities and fitted; let the rule name the numbers it needs.",
            )
