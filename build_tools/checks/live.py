"""Every row of every case of a rule can be the first that matches, for some parts that can exist."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from build_tools.checks.additions import needed
from build_tools.checks.references import alternatives
from build_tools.index import Index
from build_tools.problems import Problem
from build_tools.records import Record
from build_tools.rule_tests import normal_rows
from build_tools.search import Budget, State, TooLarge, find
from build_tools.worlds import Row, Space, atoms, space

BOUND = 60_000


class CaseRow(NamedTuple):
    """One row of one case: where it stands, how many rows its case has, and its tests as single steps."""

    number: int
    row: int
    of: int
    case: dict[str, Any]
    atoms: Row

    def title(self) -> str:
        """Name the row as a message does."""
        name = f"The case '{self.case['case']}'"
        return f"{name}, row {self.row + 1}," if self.of > 1 else name


def too_large(record: Record, bound: int) -> Problem:
    """Return the problem of a rule that has more combinations than are looked at."""
    return record.problem(
        ("rule",),
        "rule-too-large",
        f"The rule has more than {bound} combinations to look at.",
        "Split it into rules that each read fewer attributes.",
    )


def case_rows(index: Index, record: Record) -> tuple[Space, State, list[CaseRow]]:
    """Return the space of a rule, the state in which it is in question, and its rows in order."""
    names = index.names(record)
    cases = [(n, c, normal_rows(index, names, c["when"])[0]) for n, c in enumerate(record.data["cases"]) if "when" in c]
    tests = [row for _, _, rows in cases for row in rows]
    found = space(index, names, tests, _set_values(index, record))
    rows = [
        CaseRow(number, place, len(listed), case, atoms(found, row))
        for number, case, listed in cases
        for place, row in enumerate(listed)
    ]
    read = {test["on"] for row in tests for test in row if "on" in test}
    about = [*record.data.get("about", []), *record.data.get("partners", [])]
    start: State = {f"{slot}.fitted": frozenset(["yes"]) for slot in about if f"{slot}.fitted" not in read}
    return found, start, rows


def _set_values(index: Index, record: Record) -> frozenset[str]:
    """Return every value that an addition named by the rule sets something to."""
    named = [
        name for case in record.data["cases"] for _, names in alternatives(case.get("additions")) for name in names
    ]
    sets = [index.of("addition")[name].data.get("sets", {}) for name in needed(index, named)]
    return frozenset(value for one in sets for value in one.values() if isinstance(value, str))


def check(index: Index, bound: int = BOUND) -> Iterator[Problem]:
    """Yield a problem for each row nothing can reach, naming what matches before it."""
    for record in index.of("rule").values():
        found, start, rows = case_rows(index, record)
        budget = Budget(bound)
        try:
            for place, row in enumerate(rows):
                if find(found, start, row.atoms, [before.atoms for before in rows[:place]], budget) is None:
                    yield _unreachable(record, found, start, rows, place, budget)
        except TooLarge:
            yield too_large(record, bound)


def _unreachable(
    record: Record, found: Space, start: State, rows: list[CaseRow], place: int, budget: Budget
) -> Problem:
    row = rows[place]
    path = ("cases", row.number, "when") + ((row.row,) if row.of > 1 else ())
    if find(found, start, row.atoms, [], budget) is None:
        return record.problem(
            path,
            "unreachable-case",
            f"{row.title()} matches no parts that can exist.",
            "Its tests exclude each other, or a test is of an attribute that does not apply; see applies_when and never of the kinds.",
        )
    before = rows[:place]
    alone = [other for other in before if find(found, start, row.atoms, [other.atoms], budget) is None]
    shadows = alone[:1] or [
        other for other in before if find(found, start, row.atoms + other.atoms, [], budget) is not None
    ]
    names = " and ".join(dict.fromkeys(f"'{other.case['case']}'" for other in shadows))
    return record.problem(
        path,
        "unreachable-case",
        f"{row.title()} is never reached: whatever it matches, {names} {'match' if ' and ' in names else 'matches'} before it.",
        "Move it up, narrow the one before it, or take it out.",
    )
