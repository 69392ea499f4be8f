"""Looks for a combination of facts that makes given rows of tests hold and others not, or proves there is none.

A state maps variables to the values they may still have; a variable not in it may have any. Splitting is on tests,
never on the full product. The variables are those of the tests: attributes, fitted, sums and relations, and one for
each comparison of two numbers (below, equal, above) or of two parts that both have another one (same or not).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from build_tools.index import OTHER, Index, as_list, attribute_type
from build_tools.rule_tests import Normal

NA = "does not apply"
Value = Any
State = dict[str, frozenset[Value]]
Atom = tuple[Any, ...]  # ("in", name, values) | ("sign", left, right, signs) | ("same", a, b, is) | ("always", truth)
Row = list[Atom]


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


@dataclass(frozen=True)
class Space:
    """The variables of one rule: what its names stand for and the values each may have."""

    index: Index
    names: dict[str, str]
    cuts: dict[str, tuple[float, ...]]
    domains: dict[str, frozenset[Value]] = field(default_factory=dict, compare=False)

    def domain(self, name: str) -> frozenset[Value]:
        """Return every value the variable may have, `NA` among them where it may not apply."""
        if name not in self.domains:
            self.domains[name] = frozenset(self._domain(name))
        return self.domains[name]

    def _domain(self, name: str) -> list[Value]:
        if name.startswith(("relation ", "alike ")) or name.endswith(".fitted"):
            return ["yes", "no"]
        if name.startswith("sign "):
            return [-1, 0, 1, NA]
        if name.startswith("sum."):
            return [*range(2 * len(self.cuts.get(name, ())) + 1), NA]
        slot, _, attribute = name.partition(".")
        data = self.index.attributes(self.names[slot])[attribute]
        if attribute_type(data) == "number":
            return [*self._bands(name, data["number"]), NA]
        values = list(self.index.values(self.names[slot], attribute))
        return values + [NA] + ([OTHER] if attribute_type(data) == "identity" and OTHER not in values else [])

    def _bands(self, name: str, number: dict[str, Any]) -> list[int]:
        cuts = self.cuts.get(name, ())
        low, high = number["range"]
        kept = []
        for band in range(2 * len(cuts) + 1):
            start, end = band_edges(cuts, band)
            if band % 2:
                if low <= start <= high:
                    kept.append(band)
            elif max(start, low) < min(end, high) and not (number.get("whole") and not _whole_between(max(start, low - 1), min(end, high + 1))):
                kept.append(band)
        return kept

    def inputs(self, name: str) -> list[str]:
        """Return the attributes that must apply for a quantity to have a value."""
        if not name.startswith("sum."):
            return [name]
        return sorted(set(self.index.of("sum")[name[4:]].data["inputs"].values()))


def band_edges(cuts: tuple[float, ...], band: int) -> tuple[float, float]:
    """Return the limits a band lies between; an odd band is exactly one limit."""
    if band % 2:
        return cuts[band // 2], cuts[band // 2]
    return (cuts[band // 2 - 1] if band else float("-inf")), (cuts[band // 2] if band // 2 < len(cuts) else float("inf"))


def band_called(space: Space, name: str, band: Value) -> str:
    """Return a band of a number, or of a comparison of two, in words."""
    if name.startswith("sign "):
        _, left, right = name.split(" ")
        return f"'{left}' {'below' if band < 0 else 'above' if band else 'exactly at'} '{right}'"
    start, end = band_edges(space.cuts.get(name, ()), band)
    if start == end:
        return f"'{name}' of exactly {start:g}"
    if end == float("inf"):
        return f"'{name}' above {start:g}" if start > float("-inf") else f"any '{name}'"
    return f"'{name}' below {end:g}" if start == float("-inf") else f"'{name}' between {start:g} and {end:g}"


def _whole_between(low: float, high: float) -> bool:
    if low == float("-inf") or high == float("inf"):
        return True
    return int(low // 1) + 1 < high


def space(index: Index, names: dict[str, str], rows: list[list[Normal]]) -> Space:
    """Return the space in which the rows of tests are looked at."""
    cuts: dict[str, set[float]] = {}
    for test in (test for row in rows for test in row if "low" in test):
        cuts.setdefault(test["on"], set()).update(limit for limit in (test["low"], test["high"]) if isinstance(limit, (int, float)))
    found = Space(index, names, {name: tuple(sorted(values)) for name, values in cuts.items()})
    _thin_identities(found, rows)
    return found


def _thin_identities(space: Space, rows: list[list[Normal]]) -> None:
    """Keep of identity values that every test treats alike only as many as there are names to tell apart."""
    tests = [test for row in rows for test in row]
    names = sorted({name for test in tests if "same_as" in test for name in (test["on"], test["same_as"])}
                   | {test["on"] for test in tests if "in" in test and not test["on"].endswith(".fitted")})
    open_names = []
    for name in names:
        slot, _, attribute = name.partition(".")
        if attribute_type(space.index.attributes(space.names[slot])[attribute]) == "identity":
            open_names.append(name)
    marked = [frozenset(test["in"]) for test in tests if "in" in test and test["on"] in open_names]
    for kind in sorted({space.names[name.partition(".")[0]] for name in open_names}):
        data = space.index.kinds[kind].data
        boxes = [*data.get("never", []), *(a.get("applies_when", {}) for a in data["attributes"].values())]
        marked += [frozenset(as_list(values)) for box in boxes for values in box.values()]
    seen: dict[tuple[bool, ...], list[str]] = {}
    kept = set()
    for value in sorted({value for name in open_names for value in space.domain(name)} - {NA, OTHER}):
        alike = seen.setdefault(tuple(value in group for group in marked), [])
        if len(alike) < len(open_names):
            alike.append(value)
            kept.add(value)
    for name in open_names:
        space.domains[name] = frozenset(value for value in space.domain(name) if value in kept or value in (NA, OTHER))


def atoms(space: Space, row: list[Normal]) -> Row:
    """Return the tests of a row cut into single steps that each hold or not."""
    found: Row = []
    for test in row:
        if "relation" in test:
            found.append(("in", f"relation {test['relation']} {' '.join(sorted(test['of']))}", frozenset([test["is"]])))
        elif "in" in test:
            found.append(("in", test["on"], frozenset(test["in"])))
        elif "same_as" in test:
            found.append(("same", *sorted((test["on"], test["same_as"])), test["is"]))
        else:
            found.extend(_limits(space, test))
    return found


def _limits(space: Space, test: Normal) -> Iterator[Atom]:
    name, low, high = test["on"], test["low"], test["high"]
    inside = []
    cuts = space.cuts.get(name, ())
    for band in range(2 * len(cuts) + 1):
        start, end = band_edges(cuts, band)
        above = isinstance(low, str) or low is None or (start > low or (start == low and (band % 2 == 0 or not test["low_open"])))
        under = isinstance(high, str) or high is None or (end < high or (end == high and (band % 2 == 0 or not test["high_open"])))
        if above and under:
            inside.append(band)
    if any(isinstance(limit, (int, float)) for limit in (low, high)):
        yield ("in", name, frozenset(inside))
    if isinstance(low, str):
        yield ("sign", name, low, frozenset([1] if test["low_open"] else [0, 1]))
    if isinstance(high, str):
        yield ("sign", name, high, frozenset([-1] if test["high_open"] else [-1, 0]))


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


def quantity(space: Space, atom: Atom) -> tuple[str, frozenset[Value], list[str]]:
    """Return the variable of an atom, the values that make it hold, and what must apply beside it."""
    if atom[0] == "in":
        return atom[1], atom[2], space.inputs(atom[1]) if atom[1].startswith("sum.") else []
    left, right = sorted(atom[1:3])
    signs = atom[3] if left == atom[1] else frozenset(-sign for sign in atom[3])
    return f"sign {left} {right}", signs, [*space.inputs(left), *space.inputs(right)]


def _made_same(space: Space, state: State, atom: Atom, truth: bool) -> Iterator[State]:
    _, first, second, wanted = atom
    equal = wanted if truth else not wanted
    here = state.get(first, space.domain(first)) - {NA}
    there = state.get(second, space.domain(second)) - {NA}
    flag = f"alike {first} {second}"
    for value in sorted(here):
        if value == OTHER and OTHER in there:
            met = narrowed(space, {**state, first: frozenset([OTHER]), second: frozenset([OTHER])}, flag, frozenset(["yes" if equal else "no"]))
            if met is not None:
                yield met
        rest = there & {value} if equal else there - {value}
        if rest and not (equal and value == OTHER):
            yield {**state, first: frozenset([value]), second: rest}
    if not truth:
        yield from (met for name in (first, second) if (met := narrowed(space, state, name, frozenset([NA]))) is not None)


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
    slots = sorted({name.partition(".")[0] for name in state if "." in name and " " not in name and not name.startswith("sum.")})
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


def _assign(space: Space, slot: str, data: dict[str, Any], left: list[str], said: dict[str, frozenset[Value]], chosen: dict[str, Value]) -> bool:
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
    return any(all(chosen.get(name, NA) in as_list(values) for name, values in box.items()) for box in data.get("never", []))
