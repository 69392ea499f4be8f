"""A rule reads only slots that are among its roles, and a helper is a slot that may be missing."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from build_tools.index import Index, rows_of, whens
from build_tools.problems import Problem, listed, near_match
from build_tools.records import Record
from build_tools.rule_tests import Normal, normal_rows, read_names

ROLES = ("about", "partners", "helpers")


def check(index: Index) -> Iterator[Problem]:
    """Yield a problem for each slot read without a role, or given a role that does not suit it."""
    for record in index.facts.records:
        if record.type in ("rule", "stop"):
            yield from _each(index, record)
            yield from _given(index, record)
            yield from _read(index, record)


def _each(index: Index, record: Record) -> Iterator[Problem]:
    for name in record.data.get("each", {}):
        if name in index.slots or name == "sum":
            yield record.problem(
                ("each", name),
                "each-name",
                f"'{name}' is already the name of a slot.",
                "Choose another name for each of them.",
            )
        elif name not in record.data.get("about", []):
            yield record.problem(
                ("each", name),
                "each-name",
                f"'{name}' is not among the slots the {record.type} is about.",
                f"Write about: [{name}, ...].",
            )


def _given(index: Index, record: Record) -> Iterator[Problem]:
    seen: dict[str, str] = {}
    for role in ROLES:
        for number, slot in enumerate(record.data.get(role, [])):
            if slot in seen:
                yield record.problem(
                    (role, number),
                    "role",
                    f"'{slot}' is listed under {seen[slot]} and under {role}.",
                    "Give it one role.",
                )
            seen.setdefault(slot, role)
    for number, slot in enumerate(record.data.get("helpers", [])):
        kind = index.kinds.get(index.slots.get(slot, ""))
        unsaid = kind.data.get("slots", {}).get(slot, {}).get("if_unsaid") if kind else None
        if unsaid not in (None, "none"):
            yield record.problem(
                ("helpers", number),
                "helper",
                f"The helper '{slot}' counts as {unsaid} when nobody mentions it.",
                "A helper is a slot with if_unsaid: none; make it a partner, or change the slot.",
            )


def _read(index: Index, record: Record) -> Iterator[Problem]:
    given = [slot for role in ROLES for slot in record.data.get(role, [])]
    names = index.names(record)
    read: set[str] = set()
    told: set[tuple[int, str]] = set()
    for path, when in whens(record):
        read |= {name.partition(".")[0] for _, row in rows_of(when) for name in row}
        rows, _ = normal_rows(index, names, when, path)
        for test in (test for row in rows for test in row):
            for slot, through in slots_read(index, test):
                read.add(slot)
                line = record.line(*path)
                if slot in names and slot not in given and (line, slot) not in told:
                    told.add((line, slot))
                    by = f" through the sum '{through}'," if through else ","
                    yield record.problem(
                        path,
                        "role",
                        f"The tests read '{slot}'{by} which has no role here.",
                        listed(given, "Roles name:") + " Add it to about, partners or helpers.",
                        near_match(slot, given),
                    )
    for number, slot in enumerate(record.data.get("helpers", [])):
        if slot in names and slot not in read:
            yield record.problem(
                ("helpers", number),
                "role",
                f"No test reads the helper '{slot}'.",
                "Take it out of helpers, or test it.",
            )


def slots_read(index: Index, test: Normal) -> Iterator[tuple[str, str]]:
    """Yield each slot a normal test reads, and the sum through which it does (or an empty text)."""
    for name in read_names(test):
        head, _, tail = name.partition(".")
        if head != "sum":
            yield head, ""
            continue
        record = index.of("sum").get(tail)
        for source in sorted(record.data.get("inputs", {}).values()) if record else ():
            yield source.partition(".")[0], tail


def attributes_read(index: Index, test: Normal) -> Iterator[str]:
    """Yield each slot.attribute a normal test reads, those behind sums included."""
    for name in read_names(test) if "relation" not in test else ():
        head, _, tail = name.partition(".")
        if head != "sum":
            yield name
        elif tail in index.of("sum"):
            yield from sorted(index.of("sum")[tail].data.get("inputs", {}).values())


def any_tests(index: Index, record: Record) -> Iterator[tuple[tuple[Any, ...], Normal]]:
    """Yield every normal test of a rule or stop with the path of its `when`."""
    for path, when in whens(record):
        for row in normal_rows(index, index.names(record), when, path)[0]:
            yield from ((path, test) for test in row)
