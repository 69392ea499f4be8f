"""Each value of a family is one its attribute has, applies to the part, and can exist beside the others."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from build_tools.checks.kinds import applies
from build_tools.index import Index, as_list, attribute_type, told_values
from build_tools.problems import Problem
from build_tools.records import Record
from build_tools.rule_tests import value_faults


def check(index: Index) -> Iterator[Problem]:
    """Yield a problem for each value of a family that cannot be so."""
    for record in index.families.values():
        if record.data.get("kind") not in index.kinds:
            continue
        sound = True
        for name, entry in record.data.get("attributes", {}).items():
            if name in index.attributes(record.data["kind"]):
                for problem in _value(index, record, name, told_values(entry), entry):
                    sound = False
                    yield problem
        if sound:
            yield from _together(index, record)


def _value(index: Index, record: Record, name: str, told: Any, entry: Any) -> Iterator[Problem]:
    path = ("attributes", name)
    kind = record.data["kind"]
    data = index.attributes(kind)[name]
    if attribute_type(data) == "number":
        yield from _number(record, path, name, told, data.get("number", {}).get("range"))
        return
    if isinstance(told, dict):
        yield record.problem(
            path,
            "wrong-shape",
            f"'{name}' is told as a range, and it has labels.",
            "Write a label, or a list of labels.",
        )
        return
    for fault in value_faults(f"{kind}.{name}", as_list(told), index.values(kind, name), path):
        yield record.problem(fault.path, fault.check, fault.what, fault.allowed, fault.near)
    if len(as_list(told)) > 1 and not (isinstance(entry, dict) and "depends_on" in entry):
        yield record.problem(
            path,
            "depends-on-missing",
            f"'{name}' may be {' or '.join(str(v) for v in as_list(told))}, and nothing says what decides.",
            "Write {is: [...], depends_on: what a customer would look at}.",
        )


def _number(record: Record, path: tuple[str, ...], name: str, told: Any, plausible: Any) -> Iterator[Problem]:
    numbers = [told.get("from"), told.get("to")] if isinstance(told, dict) else as_list(told)
    for value in numbers:
        if isinstance(value, str):
            yield record.problem(
                path,
                "not-a-number",
                f"'{name}' is '{value}'.",
                "Write a plain decimal number without unit and without quotes, as in 70 or 4.5.",
            )
        elif value is not None and plausible and len(plausible) == 2 and not plausible[0] <= value <= plausible[1]:
            yield record.problem(
                path, "out-of-range", f"'{name}' is {value}.", f"It lies between {plausible[0]} and {plausible[1]}."
            )
    if isinstance(told, dict) and None not in numbers and numbers[0] > numbers[1]:
        yield record.problem(
            path, "out-of-range", f"'{name}' runs from {numbers[0]} to {numbers[1]}.", "Put the lower number first."
        )


def _together(index: Index, record: Record) -> Iterator[Problem]:
    kind = record.data["kind"]
    told = record.data.get("attributes", {})
    known = {
        name: set(as_list(told_values(entry)))
        for name, entry in told.items()
        if name in index.attributes(kind) and attribute_type(index.attributes(kind)[name]) != "number"
    }
    for name in told:
        if not applies(index, kind, known, name):
            needs = " and ".join(
                f"{key} is {' or '.join(as_list(values))}"
                for key, values in index.attributes(kind)[name]["applies_when"].items()
            )
            yield record.problem(
                ("attributes", name),
                "does-not-apply",
                f"'{name}' does not apply to this part.",
                f"It applies when {needs}.",
            )
    for box in index.kinds[kind].data.get("never", []):
        if all(name in known and known[name] <= set(as_list(values)) for name, values in box.items()):
            said = " with ".join(f"{name} {' or '.join(sorted(known[name]))}" for name in box)
            yield record.problem(
                ("attributes", next(iter(box))),
                "impossible-part",
                f"A {kind} cannot have {said}.",
                "The kind lists this under never; correct one of the two.",
            )
