"""Looks for a combination of facts that makes given rows of tests hold and others not, or proves there is none.

A state maps variables to the values they may still have; a variable not in it may have any. Splitting is on tests,
never on the full product.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from build_tools.index import OTHER, as_list
from build_tools.worlds import NA, Atom, Row, Space, Value, quantity

State = dict[str, frozenset[Value]]


class TooLarge(Exception):
    """More states than the bound allows; raised inside a search and caught by the check that started it."""


@dataclass
class Budget:
    """Counts the states a search may still look at."""

    left: int

    def spend(self) -> None:
        """Take one state off, or raise `TooLarge`."""
        self.left -= 1
        if self.left < 0:
            raise TooLarge


def narrowed(space: Space, state: State, name: str, values: frozenset[Value]) -> State | None:
    """Return the state with the variable held to the values, or None when nothing is left of it."""
    left = state.get(name, space.domain(name)) & values
    return {**state, name: left} if left else None


def _all_apply(space: Space, state: State | None, names: list[str]) -> State | None:
    for name in names:
        if state is None:
            return None
        state = narrowed(space, state, name, space.domain(name) - {NA})
    return state


def made(space: Space, state: State, atom: Atom, truth: bool) -> Iterator[State]:
    """Yield the states below this one in which the atom holds, or does not; together they cover all such."""
    if atom[0] == "always":
        if atom[1] == truth:
            yield state
    elif atom[0] == "same":
        yield from _made_same(space, state, atom, truth)
    else:
        name, values, inputs = quantity(space, atom)
        wanted = values if truth else space.domain(name) - values - {NA}
        if truth or inputs:
            met = _all_apply(space, narrowed(space, state, name, wanted) if wanted else None, inputs)
            if met is not None:
                yield met
        if not truth and not inputs:
            met = narrowed(space, state, name, space.domain(name) - values)
            if met is not None:
                yield met
        elif not truth:
            yield from (met for one in inputs if (met := narrowed(space, state, one, frozenset([NA]))) is not None)


def _made_same(space: Space, state: State, atom: Atom, truth: bool) -> Iterator[State]:
    _, first, second, wanted = atom
    equal = wanted if truth else not wanted
    here = state.get(first, space.domain(first)) - {NA}
    there = state.get(second, space.domain(second)) - {NA}
    flag = f"alike {first} {second}"
    for value in sorted(here):
        if value == OTHER and OTHER in there:
            met = narrowed(
                space,
                {**state, first: frozenset([OTHER]), second: frozenset([OTHER])},
                flag,
                frozenset(["yes" if equal else "no"]),
            )
            if met is not None:
                yield met
        rest = there & {value} if equal else there - {value}
        if rest and not (equal and value == OTHER):
            yield {**state, first: frozenset([value]), second: rest}
    if not truth:
        yield from (
            met for name in (first, second) if (met := narrowed(space, state, name, frozenset([NA]))) is not None
        )


def find(space: Space, state: State, hold: Row, fail: list[Row], budget: Budget) -> State | None:
    """Return a possible state in which every atom of `hold` holds and every row of `fail` does not, or None."""
    budget.spend()
    if not possible(space, state):
        return None
    if hold:
        for below in made(space, state, hold[0], True):
            found = find(space, below, hold[1:], fail, budget)
            if found is not None:
                return found
        return None
    if not fail:
        return state
    kept: list[State] = [state]
    for atom in fail[0]:
        for before in kept:
            for below in made(space, before, atom, False):
                found = find(space, below, [], fail[1:], budget)
                if found is not None:
                    return found
        kept = [below for before in kept for below in made(space, before, atom, True) if possible(space, below)]
        for _ in kept:
            budget.spend()
    return None


def possible(space: Space, state: State) -> bool:
    """Tell whether parts exist that fit the state: fitted, applies_when and never of each slot."""
    slots = sorted(
        {name.partition(".")[0] for name in state if "." in name and " " not in name and not name.startswith("sum.")}
    )
    return all(_slot_possible(space, state, slot) for slot in slots)


def _slot_possible(space: Space, state: State, slot: str) -> bool:
    said = {name.partition(".")[2]: values for name, values in state.items() if name.startswith(f"{slot}.")}
    fitted = said.pop("fitted", frozenset(["yes", "no"]))
    if "no" in fitted and all(NA in values for values in said.values()):
        return True
    if "yes" not in fitted:
        return False
    data = space.index.kinds[space.names[slot]].data
    return _assign(space, slot, data, _involved(data, list(said)), said, {})


def _involved(data: dict[str, Any], names: list[str]) -> list[str]:
    """Return the attributes that bear on these, each after those it depends on."""
    boxes = data.get("never", [])
    needs = {name: list(entry.get("applies_when", {})) for name, entry in data["attributes"].items()}
    found: set[str] = set()
    waiting = list(names)
    while waiting:
        name = waiting.pop()
        if name not in found:
            found.add(name)
            waiting += needs[name] + [other for box in boxes if name in box for other in box]
    order: list[str] = []
    while len(order) < len(found):
        ready = sorted(name for name in found if name not in order and all(need in order for need in needs[name]))
        if not ready:
            return sorted(found)
        order += ready
    return order


def _assign(
    space: Space,
    slot: str,
    data: dict[str, Any],
    left: list[str],
    said: dict[str, frozenset[Value]],
    chosen: dict[str, Value],
) -> bool:
    if not left:
        return True
    name = left[0]
    domain = space.domain(f"{slot}.{name}")
    needed = data["attributes"][name].get("applies_when", {})
    if all(chosen.get(other) in as_list(values) for other, values in needed.items()):
        values = sorted(domain - {NA}, key=str)
    else:
        values = [NA]
    for value in values:
        if name in said and value not in said[name]:
            continue
        now = {**chosen, name: value}
        if not _forbidden(data, now) and _assign(space, slot, data, left[1:], said, now):
            return True
    return False


def _forbidden(data: dict[str, Any], chosen: dict[str, Value]) -> bool:
    return any(
        all(chosen.get(name, NA) in as_list(values) for name, values in box.items()) for box in data.get("never", [])
    )
