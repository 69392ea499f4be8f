"""The additions that a case names make its rule work: after them it lands in no case that fails or cannot tell."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from typing import Any

from build_tools.checks.additions import needed
from build_tools.checks.live import BOUND, CaseRow, case_rows, too_large
from build_tools.checks.references import alternatives
from build_tools.index import OTHER, Index
from build_tools.problems import Problem
from build_tools.records import Record
from build_tools.search import Budget, State, TooLarge, find
from build_tools.worlds import NA, Atom, Row, Space, band_called

BAD = ("cannot-tell", "will-not-work")
Sets = dict[str, Any]


def check(index: Index, bound: int = BOUND) -> Iterator[Problem]:
    """Yield a problem for each alternative of additions after which the rule still does not work."""
    for record in index.of("rule").values():
        if not any(case.get("verdict") == "works-with-additions" for case in record.data["cases"]):
            continue
        found, start, rows = case_rows(index, record)
        budget = Budget(bound)
        try:
            for place, row in enumerate(rows):
                if row.case.get("verdict") == "works-with-additions":
                    yield from _row(index, record, found, start, rows, place, budget)
        except TooLarge:
            yield too_large(record, bound)


def _row(
    index: Index, record: Record, found: Space, start: State, rows: list[CaseRow], place: int, budget: Budget
) -> Iterator[Problem]:
    row = rows[place]
    for below, names in alternatives(row.case.get("additions")):
        path = ("cases", row.number, "additions") + below
        made = " and ".join(f"'{name}'" for name in names)
        sets, torn = _all_sets(index, names)
        if torn:
            yield record.problem(
                path,
                "addition-does-not-cure",
                f"'{torn}' is set to different values by {made} and what that needs.",
                "Name additions that go together.",
            )
            continue
        if any(sets.get(name) == "no" for name in start):
            continue  # a part the rule needs is taken out, and the rule with it
        landed = _lands_badly(record, found, start, rows, place, sets, budget)
        if landed:
            case, state = landed
            where = "no case" if case is None else f"'{case.get('case', 'otherwise')}'"
            yield record.problem(
                path,
                "addition-does-not-cure",
                f"After {made} the case '{row.case['case']}' lands in {where}: {_example(found, state)}.",
                "Let the addition set what the rule looks at, or name what else is needed.",
            )


def _all_sets(index: Index, names: list[str]) -> tuple[Sets, str]:
    """Return all that the additions and what they need set, and a name that two of them set to different values."""
    sets: Sets = {}
    for name in needed(index, names):
        for target, value in index.of("addition")[name].data.get("sets", {}).items():
            if isinstance(value, str) and isinstance(sets.get(target, value), str) and sets.get(target, value) != value:
                return sets, target
            if not (target in sets and isinstance(value, dict)):
                sets[target] = value
    return sets, ""


def _lands_badly(
    record: Record, found: Space, start: State, rows: list[CaseRow], place: int, sets: Sets, budget: Budget
) -> tuple[dict[str, Any] | None, State] | None:
    """Return a case that fails or cannot tell after the additions (None for no case), with parts for which it does."""
    last = record.data["cases"][-1]
    for given, effective in _ways(found, start, sets):
        after = [[_after(found, atom, effective) for atom in other.atoms] for other in rows]
        before = [other.atoms for other in rows[:place]]
        for landing in range(len(rows) + 1):
            case = rows[landing].case if landing < len(rows) else last if "otherwise" in last else None
            if case is None or case.get("verdict", case.get("otherwise")) in BAD:
                hold = given + rows[place].atoms + (after[landing] if landing < len(rows) else [])
                state = find(found, start, hold, before + after[:landing], budget)
                if state is not None:
                    return case, state
    return None


def _ways(found: Space, start: State, sets: Sets) -> Iterator[tuple[Row, Sets]]:
    """Yield what may be so before, with what the additions then set.

    A part that is not there has no attributes to set, and a copy of what does not apply changes nothing.
    """
    conditions: list[tuple[Atom, Atom, list[str]]] = []
    for slot in sorted({target.partition(".")[0] for target in sets}):
        targets = [target for target in sets if target.startswith(f"{slot}.") and not target.endswith(".fitted")]
        if targets and f"{slot}.fitted" not in sets and f"{slot}.fitted" not in start:
            name = f"{slot}.fitted"
            conditions.append((("in", name, frozenset(["yes"])), ("in", name, frozenset(["no"])), targets))
    for target, value in sorted(sets.items()):
        if isinstance(value, dict) and not isinstance(sets.get(value["same_as"]), str):
            name = value["same_as"]
            there = ("in", name, found.domain(name) - {NA})
            conditions.append((there, ("in", name, frozenset([NA])), [target]))
    for chosen in product((True, False), repeat=len(conditions)):
        given = [held if so else fails for so, (held, fails, _) in zip(chosen, conditions, strict=True)]
        lost = {target for so, (_, _, targets) in zip(chosen, conditions, strict=True) if not so for target in targets}
        yield given, {target: value for target, value in sets.items() if target not in lost}


def _after(found: Space, atom: Atom, sets: Sets) -> Atom:
    """Return the test on the facts as they are before, that says what the atom says after the additions."""
    if atom[0] == "in":
        kind, value = _source(atom[1], sets)
        if kind == "fixed":
            return ("always", value in atom[2])
        return ("in", value, atom[2])
    if atom[0] != "same":
        return atom
    (kind, first), (other_kind, second) = _source(atom[1], sets), _source(atom[2], sets)
    if NA in (first, second):
        return ("always", False)
    if kind == other_kind == "fixed":
        return ("always", (first == second) == atom[3])
    if kind == other_kind:
        if first == second:
            return ("in", first, found.domain(first) - {NA}) if atom[3] else ("always", False)
        return ("same", *sorted((first, second)), atom[3])
    name, value = (second, first) if kind == "fixed" else (first, second)
    return ("in", name, frozenset([value]) if atom[3] else found.domain(name) - {NA, value})


def _source(name: str, sets: Sets) -> tuple[str, str]:
    """Return ("fixed", value) or ("from", name of the variable it comes from)."""
    value = sets.get(name)
    if isinstance(value, dict):
        copied = sets.get(value["same_as"])
        return ("fixed", copied) if isinstance(copied, str) else ("from", value["same_as"])
    if value is not None:
        return "fixed", value
    slot, _, attribute = name.partition(".")
    if attribute != "fitted" and sets.get(f"{slot}.fitted") == "no":
        return "fixed", NA
    return "from", name


def _example(found: Space, state: State) -> str:
    """Return some of what is so in a state, values first, as a clause."""
    values, numbers = [], []
    for name, left in sorted(state.items()):
        if name.startswith("sign ") or any(isinstance(value, int) for value in left):
            bands = sorted(left - {NA}, key=str)
            if len(bands) == 1 and len(left) == 1 and not band_called(found, name, bands[0]).startswith("any "):
                numbers.append(band_called(found, name, bands[0]))
        elif "." in name and " " not in name and not name.endswith(".fitted"):
            shown = sorted("another one" if value == OTHER else value for value in left - {NA}) or ["not there"]
            values.append(f"'{name}' {' or '.join(shown[:3])}")
    parts = (values + numbers)[:6]
    return f"with {', '.join(parts)}" if parts else "whatever the parts are"
