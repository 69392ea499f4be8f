"""Every kind, slot, family, rule, addition, subject, sum and attribute that a record names is there."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from build_tools.index import Index, whens
from build_tools.problems import Problem, listed, near_match
from build_tools.records import Record
from build_tools.rule_tests import Fault, normal_rows, variable

PLURAL = {
    "kind": "Kinds",
    "slot": "Slots",
    "family": "Families",
    "rule": "Rules",
    "addition": "Additions",
    "subject": "Subjects",
    "sum": "Sums",
    "source": "Sources",
    "way to find out": "Ways to find out",
    "code": "Codes",
    "stop": "Stops",
    "attribute": "Attributes",
}
Path = tuple[Any, ...]


def check(index: Index) -> Iterator[Problem]:
    """Yield a problem for each name that stands for nothing."""
    for record in index.facts.records:
        yield from BY_TYPE.get(record.type, _nothing)(index, record)


def _nothing(index: Index, record: Record) -> Iterator[Problem]:
    return iter(())


def missing(
    record: Record, path: Path, what: str, name: str, known: Iterable[str], among: str = ""
) -> Iterator[Problem]:
    """Yield a problem when the name is not among the known ones."""
    names = list(known)
    if name not in names:
        yield record.problem(
            path,
            "unknown-reference",
            f"There is no {what} '{name}'{among}.",
            listed(names, f"{PLURAL[what]}:"),
            near_match(name, names),
        )


def _kind(index: Index, record: Record) -> Iterator[Problem]:
    for name, data in record.data.get("attributes", {}).items():
        yield from condition(
            index, record, ("attributes", name, "applies_when"), record.id, data.get("applies_when", {})
        )
    for number, box in enumerate(record.data.get("never", [])):
        yield from condition(index, record, ("never", number), record.id, box)


def condition(index: Index, record: Record, path: Path, kind: str, box: dict[str, Any]) -> Iterator[Problem]:
    """Yield a problem for each attribute or value that a condition names and the kind does not have."""
    when = {f"this.{name}": value for name, value in box.items()}
    _, faults = normal_rows(index, {"this": kind}, when)
    for fault in faults:
        below = fault.path[0].partition(".")[2]
        yield record.problem(path + (below,), fault.check, fault.what.replace("'this.", "'"), fault.allowed, fault.near)


def _family(index: Index, record: Record) -> Iterator[Problem]:
    kind = record.data.get("kind", "")
    yield from missing(record, ("kind",), "kind", kind, index.kinds)
    if kind in index.kinds:
        for name in record.data.get("attributes", {}):
            yield from missing(record, ("attributes", name), "attribute", name, index.attributes(kind))


def _set(index: Index, record: Record) -> Iterator[Problem]:
    for slot, families in record.data.get("families", {}).items():
        yield from missing(record, ("families", slot), "slot", slot, index.slots)
        known = [f.id for f in index.families.values() if f.data.get("kind") == index.slots.get(slot)]
        for number, family in enumerate(families):
            if slot in index.slots:
                yield from missing(
                    record, ("families", slot, number), "family", family, known, f" of the kind {index.slots[slot]}"
                )


def _roles(index: Index, record: Record) -> Iterator[Problem]:
    for name, kind in record.data.get("each", {}).items():
        yield from missing(record, ("each", name), "kind", kind, index.kinds)
    names = index.names(record)
    for role in ("about", "partners", "helpers", "changes"):
        for number, slot in enumerate(record.data.get(role, [])):
            yield from missing(record, (role, number), "slot", slot, names)


def faults_of(record: Record, faults: Iterable[Fault]) -> Iterator[Problem]:
    """Yield each fault below a record as a problem at its line."""
    for fault in faults:
        yield record.problem(fault.path, fault.check, fault.what, fault.allowed, fault.near)


def _tests(index: Index, record: Record) -> Iterator[Problem]:
    for path, when in whens(record):
        yield from faults_of(record, normal_rows(index, index.names(record), when, path)[1])


def alternatives(additions: Any) -> list[tuple[Path, list[str]]]:
    """Return each alternative of a case's additions with its path below it."""
    if isinstance(additions, dict):
        return [(("any_of", number), names) for number, names in enumerate(additions.get("any_of", []))]
    return [((), additions)] if additions else []


def _rule(index: Index, record: Record) -> Iterator[Problem]:
    if "subject" in record.data:
        yield from missing(record, ("subject",), "subject", record.data["subject"], index.of("subject"))
    yield from _roles(index, record)
    yield from _tests(index, record)
    for place, case in enumerate(record.data.get("cases", [])):
        for below, names in alternatives(case.get("additions")):
            for number, name in enumerate(names):
                yield from missing(
                    record, ("cases", place, "additions") + below + (number,), "addition", name, index.of("addition")
                )


def _stop(index: Index, record: Record) -> Iterator[Problem]:
    yield from _roles(index, record)
    yield from _tests(index, record)


def _addition(index: Index, record: Record) -> Iterator[Problem]:
    yield from _roles(index, record)
    for number, name in enumerate(record.data.get("needs", [])):
        yield from missing(record, ("needs", number), "addition", name, index.of("addition"))
    names = index.names(record)
    for target, value in record.data.get("sets", {}).items():
        found = variable(index, names, target, ("sets", target))
        if value and (isinstance(found, Fault) or found.type != "number"):
            yield from faults_of(record, normal_rows(index, names, {target: value}, ("sets",))[1])


def _sum(index: Index, record: Record) -> Iterator[Problem]:
    bound = {name: kind for r in index.facts.records for name, kind in r.data.get("each", {}).items()}
    for parameter, name in record.data.get("inputs", {}).items():
        path = ("inputs", parameter)
        found = variable(index, {**bound, **index.slots}, name, path)
        if isinstance(found, Fault):
            yield from faults_of(record, [found])
        elif found.type != "number" or name.startswith("sum."):
            yield record.problem(
                path,
                "bad-test",
                f"'{name}' is not an attribute with a number.",
                "A sum is made of numbers told of parts.",
            )


def _offer(index: Index, record: Record) -> Iterator[Problem]:
    yield from missing(record, ("offer",), "addition", record.id, index.of("addition"))


BY_TYPE = {
    "kind": _kind,
    "family": _family,
    "set": _set,
    "rule": _rule,
    "stop": _stop,
    "addition": _addition,
    "sum": _sum,
    "offer": _offer,
}
