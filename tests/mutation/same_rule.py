"""Whether a changed rule says the same as before of all parts that can exist: then nothing can notice the change."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from build_tools.checks.live import BOUND, _set_values, case_rows
from build_tools.index import Index
from build_tools.search import Budget, State, TooLarge, find
from build_tools.worlds import Row, atoms, space

Json = dict[str, Any]


def difference(index: Index, before: Json, after: Json) -> State | None:
    """Return values for which two versions of a rule of the index come to another case or verdict; None if there are none.

    Where that is too much to search, nothing is known of the values: an empty state.
    """
    record = index.of("rule")[before["id"]]
    names = index.names(record)
    _, start, _ = case_rows(index, record)
    every = [row for rule in (before, after) for case in rule["cases"] for row in case["when"]]
    whole = space(index, names, every, _set_values(index, record))

    def rows(rule: Json) -> list[list[Row]]:
        return [[atoms(whole, row) for row in case["when"]] for case in rule["cases"]]

    budget = Budget(BOUND)
    try:
        for hold, fail in _pairs(before["cases"], rows(before), after["cases"], rows(after)):
            found = find(whole, start, hold, fail, budget)
            if found is not None:
                return found
    except TooLarge:
        return {}
    return None


def _pairs(cases: list[Json], rows: list[list[Row]], others: list[Json], new: list[list[Row]]) -> Iterator[tuple[Row, list[Row]]]:
    """Yield, for each two cases that are not the same, what holds and what does not where one comes to each."""
    for i, case in enumerate(cases):
        for j, other in enumerate(others):
            if _says(case) == _says(other):
                continue
            fail = [row for earlier in (*rows[:i], *new[:j]) for row in earlier]
            for row in rows[i]:
                for its in new[j]:
                    yield [*row, *(atom for atom in its if atom not in row)], fail


def _says(case: Json) -> tuple[Any, ...]:
    return case["case"], case["verdict"], [sorted(way) for way in case["additions"]]
