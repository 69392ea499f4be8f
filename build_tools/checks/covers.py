"""The cases of a rule cover every combination that can be, or the rule ends with otherwise; and never both."""

from __future__ import annotations

from collections.abc import Iterator

from build_tools.checks.live import BOUND, case_rows, too_large
from build_tools.index import OTHER, Index
from build_tools.problems import Problem
from build_tools.records import Record
from build_tools.search import Budget, State, TooLarge, find, narrowed, possible
from build_tools.worlds import NA, Space, Value, band_called


def check(index: Index, bound: int = BOUND) -> Iterator[Problem]:
    """Yield a problem for each rule that leaves parts without a case, and for each `otherwise` that no parts reach."""
    for record in index.of("rule").values():
        try:
            yield from _rule(index, record, bound)
        except TooLarge:
            yield too_large(record, bound)


def _rule(index: Index, record: Record, bound: int) -> Iterator[Problem]:
    last = len(record.data["cases"]) - 1
    left = uncovered(index, record, bound)
    if "otherwise" in record.data["cases"][last]:
        if left is None:
            yield record.problem(
                ("cases", last),
                "unreachable-case",
                "'otherwise' is never reached: the cases before it match every combination.",
                "Take it out. Only a rule whose cases leave something over ends with otherwise.",
            )
    elif left is not None:
        yield record.problem(
            ("cases", last),
            "otherwise",
            f"The cases do not end with 'otherwise', and not every combination reaches one of them: {_called(*left)}.",
            "Give it a case, or end with otherwise: cannot-tell or otherwise: will-not-work.",
        )


def uncovered(index: Index, record: Record, bound: int = BOUND) -> tuple[Space, State] | None:
    """Return a combination that can be and that no case matches, one value each, or None; raises `TooLarge`."""
    found, start, rows = case_rows(index, record)
    state = find(found, start, [], [row.atoms for row in rows], Budget(bound))
    if state is None:
        return None
    for name in sorted(state):
        for value in sorted(state[name], key=_plainest_first):
            one = narrowed(found, state, name, frozenset([value]))
            if one is not None and possible(found, one):
                state = one
                break
    return found, state


def _plainest_first(value: Value) -> tuple[bool, bool, str]:
    return value == NA, value == OTHER, str(value)


def _called(space: Space, state: State) -> str:
    """Return the combination as a clause: whether parts are there, values, relations, numbers."""
    fitted, values, relations, numbers = [], [], [], []
    for name, (value,) in ((name, tuple(left)) for name, left in sorted(state.items())):
        if name.startswith("relation "):
            _, relation, *slots = name.split(" ")
            relations.append(f"'{relation}' of {' and '.join(slots)} {value}")
        elif name.startswith("alike "):
            continue
        elif name.endswith(".fitted"):
            fitted += [f"'{name}' {value}"] if value == "no" else []
        elif isinstance(value, int):
            numbers += [] if band_called(space, name, value).startswith("any ") else [band_called(space, name, value)]
        elif value != NA or state.get(f"{name.partition('.')[0]}.fitted") != frozenset(["no"]):
            values.append(f"'{name}' {'not there' if value == NA else 'another one' if value == OTHER else value}")
    parts = fitted + values + relations + numbers
    return f"with {', '.join(parts)}" if parts else "whatever the parts are"
