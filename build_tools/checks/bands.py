"""No number falls to otherwise between numbers that reach a case on both sides."""

from __future__ import annotations

from collections.abc import Iterator

from build_tools.checks.live import BOUND, CaseRow, case_rows, too_large
from build_tools.index import Index
from build_tools.problems import Problem
from build_tools.records import Record
from build_tools.search import Budget, State, TooLarge, find
from build_tools.worlds import NA, Row, Space, Value, band_called, quantity


def check(index: Index, bound: int = BOUND) -> Iterator[Problem]:
    """Yield a problem for each band left open between two limits, naming the band."""
    for record in index.of("rule").values():
        if "otherwise" not in record.data["cases"][-1]:
            continue  # nothing may be left over at all, which another check sees to
        found, start, rows = case_rows(index, record)
        budget = Budget(bound)
        try:
            for name in _numbers(found, rows):
                yield from _open_bands(record, found, start, rows, name, budget)
        except TooLarge:
            yield too_large(record, bound)


def _variable(found: Space, atom: tuple) -> str:
    return quantity(found, atom)[0] if atom[0] in ("in", "sign") else ""


def _numbers(found: Space, rows: list[CaseRow]) -> list[str]:
    names = {_variable(found, atom) for row in rows for atom in row.atoms}
    return sorted(name for name in names if name and any(isinstance(value, int) for value in found.domain(name)))


def _split(found: Space, row: CaseRow, name: str) -> tuple[frozenset[Value], Row] | None:
    """Return the bands a row allows of a number and its other tests; None when it does not test the number."""
    allowed = found.domain(name) - {NA}
    others: Row = []
    tested = False
    for atom in row.atoms:
        if _variable(found, atom) == name:
            allowed, tested = allowed & quantity(found, atom)[1], True
        else:
            others.append(atom)
    return (allowed, others) if tested and allowed else None


def _open_bands(
    record: Record, found: Space, start: State, rows: list[CaseRow], name: str, budget: Budget
) -> Iterator[Problem]:
    split = [(row, *parts) for row in rows if (parts := _split(found, row, name))]
    fail = [row.atoms for row in rows]
    for band in sorted(found.domain(name) - {NA}):
        for low, low_bands, low_rest in split:
            for high, high_bands, high_rest in split:
                if low is high or min(low_bands) >= band or max(high_bands) <= band or band in low_bands | high_bands:
                    continue
                hold = (
                    [*low_rest, *high_rest, ("in", name, frozenset([band]))]
                    if not name.startswith("sign ")
                    else [*low_rest, *high_rest]
                )
                state = {**start, name: frozenset([band])}
                if find(found, _applied(found, state, name), hold, fail, budget) is not None:
                    names = f"'{low.case['case']}' and '{high.case['case']}'"
                    yield record.problem(
                        ("cases", low.number),
                        "open-band",
                        f"{band_called(found, name, band)} reaches no case, though {names} match below and above it.",
                        "Make one of them reach to it, or give it a case of its own.",
                    )
                    break
            else:
                continue
            break


def _applied(found: Space, state: State, name: str) -> State:
    names = name.split(" ")[1:] if name.startswith("sign ") else [name]
    inputs = [one for quantity in names for one in found.inputs(quantity) if not one.startswith("sum.")]
    return {**state, **{one: state.get(one, found.domain(one)) - {NA} for one in inputs}}
