"""The variables of a rule's tests with the values each may have, and the tests cut into single steps.

The variables are attributes, fitted, sums and relations, and one for each comparison of two numbers (below, equal,
above) or of two parts that both have another one (same or not). Numbers are cut into bands at the limits that the
tests name.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from build_tools.index import OTHER, Index, as_list, attribute_type
from build_tools.rule_tests import Normal

NA = "does not apply"
Value = Any
Atom = tuple[Any, ...]  # ("in", name, values) | ("sign", left, right, signs) | ("same", a, b, is) | ("always", truth)
Row = list[Atom]


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
            elif max(start, low) < min(end, high) and not (
                number.get("whole") and not _whole_between(max(start, low - 1), min(end, high + 1))
            ):
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
    return (cuts[band // 2 - 1] if band else float("-inf")), (
        cuts[band // 2] if band // 2 < len(cuts) else float("inf")
    )


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


def space(index: Index, names: dict[str, str], rows: list[list[Normal]], named: frozenset[str] = frozenset()) -> Space:
    """Return the space in which the rows of tests are looked at; `named` values are told apart beside the tests' own."""
    cuts: dict[str, set[float]] = {}
    for test in (test for row in rows for test in row if "low" in test):
        cuts.setdefault(test["on"], set()).update(
            limit for limit in (test["low"], test["high"]) if isinstance(limit, (int, float))
        )
    found = Space(index, names, {name: tuple(sorted(values)) for name, values in cuts.items()})
    _thin_identities(found, rows, named)
    return found


def _thin_identities(space: Space, rows: list[list[Normal]], named: frozenset[str]) -> None:
    """Keep of identity values that every test treats alike only as many as there are names to tell apart."""
    tests = [test for row in rows for test in row]
    names = sorted(
        {name for test in tests if "same_as" in test for name in (test["on"], test["same_as"])}
        | {test["on"] for test in tests if "in" in test and not test["on"].endswith(".fitted")}
    )
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
    kept = set(named)
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
        above = (
            isinstance(low, str)
            or low is None
            or (start > low or (start == low and (band % 2 == 0 or not test["low_open"])))
        )
        under = (
            isinstance(high, str)
            or high is None
            or (end < high or (end == high and (band % 2 == 0 or not test["high_open"])))
        )
        if above and under:
            inside.append(band)
    if any(isinstance(limit, (int, float)) for limit in (low, high)):
        yield ("in", name, frozenset(inside))
    if isinstance(low, str):
        yield ("sign", name, low, frozenset([1] if test["low_open"] else [0, 1]))
    if isinstance(high, str):
        yield ("sign", name, high, frozenset([-1] if test["high_open"] else [-1, 0]))


def quantity(space: Space, atom: Atom) -> tuple[str, frozenset[Value], list[str]]:
    """Return the variable of an atom, the values that make it hold, and what must apply beside it."""
    if atom[0] == "in":
        return atom[1], atom[2], space.inputs(atom[1]) if atom[1].startswith("sum.") else []
    left, right = sorted(atom[1:3])
    signs = atom[3] if left == atom[1] else frozenset(-sign for sign in atom[3])
    return f"sign {left} {right}", signs, [*space.inputs(left), *space.inputs(right)]
