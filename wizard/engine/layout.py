"""Where every variable of a book stands: the same places for every build, so that what was worked out can be kept.

Made once when the book is loaded. A build fills in which parts may be where, and what was said of them.
"""
from __future__ import annotations

from typing import Iterable, NamedTuple, Sequence

from .model import OTHER, Attribute, Book, Instance, Kind, bound
from .numbers import band_count, span_mask
from .outcome import Prepared, looked_at, prepare
from .plans import Key, Plan, make_plan
from .quantity import Quantity, quantity_inputs
from .names import NA, gap_name, match_name, quantity_name, relation_name, same_name
from .tables import Table, table


class Place(NamedTuple):
    """The variables of one slot, and the tables that its kind imposes whatever the part.

    The first tables say, attribute by attribute in the order of `parents` with any, when it applies; the rest are
    impossible combinations.
    """

    part: int
    fitted: int
    attributes: dict[str, int]
    na: dict[str, int]                  # the bit of `does not apply` of each attribute
    tables: tuple[Table, ...]
    parents: dict[int, tuple[int, ...]]     # attribute variable -> those that say whether it applies
    never: frozenset[int]                   # variables that some impossible combination names


class Ready(NamedTuple):
    """A rule on the book's variables: the additions it may call for, what it or they touch, what it needs."""

    rule: Prepared
    plans: dict[Key, Plan]
    touched: frozenset[int]
    slots: frozenset[str]
    relations: tuple[tuple[str, tuple[str, ...]], ...]      # kind and parts of each relation it tests
    quantities: tuple[str, ...]


class Layout(NamedTuple):
    """All variables with their values and full domains, and all rules and stops made ready."""

    names: tuple[str, ...]
    index: dict[str, int]
    values: tuple[tuple[str, ...], ...]
    dom: tuple[int, ...]
    homes: tuple[tuple[str, ...], ...]
    feeds: dict[int, tuple[str, ...]]
    places: dict[str, Place]
    quantities: dict[str, Quantity]
    ready: dict[str, Ready]
    words: tuple[int, ...]              # relations that only a word of origin tells
    matches: dict[int, Table]           # whether two attributes match -> what the two make of it


class _Draft:
    def __init__(self) -> None:
        self.names: list[str] = []
        self.index: dict[str, int] = {}
        self.values: list[tuple[str, ...]] = []
        self.dom: list[int] = []
        self.homes: list[tuple[str, ...]] = []
        self.feeds: dict[int, tuple[str, ...]] = {}

    def add(self, name: str, values: tuple[str, ...], dom: int, home: tuple[str, ...], feeds: bool = False) -> int:
        if name not in self.index:
            v = self.index[name] = len(self.names)
            self.names.append(name)
            self.values.append(values)
            self.dom.append(dom)
            self.homes.append(home)
            if feeds:
                self.feeds[v] = home
        return self.index[name]


def full_mask(book: Book, slot: str, a: Attribute) -> int:
    """Every value the attribute can have, without `does not apply`."""
    if a.type == "number":
        return span_mask(book.cuts.get(f"{slot}.{a.id}", ()), a.low, a.high, a.whole)
    return (1 << len(a.values)) - 1


def make_layout(book: Book) -> Layout:
    """The layout of a book."""
    draft, places, quantities = _Draft(), {}, {}
    for slot in book.slot_order:
        places[slot] = _place(draft, book, slot, book.kinds[book.slot_kind[slot]])
    instances = book.rules + book.stops
    for inst in instances:
        _derived(draft, book, inst, quantities)
    for quantity in list(quantities.values()):
        for inputs in quantity_inputs(book, quantity).values():
            for name in inputs.values():
                draft.add(f"aim {name}", ("none",), 1, (name.split(".")[0],), True)
    ready = {}
    words = tuple(v for v, name in enumerate(draft.names) if name.startswith(("came_together ", "made_for ")))
    layout = Layout(tuple(draft.names), draft.index, tuple(draft.values), tuple(draft.dom), tuple(draft.homes),
                    draft.feeds, places, quantities, ready, words, _matches(draft, instances))
    for inst in instances:
        ready[inst.key] = _ready(book, layout, inst)
    settable = {v for r in ready.values() for plan in r.plans.values() for v in plan.sets}
    for key, r in ready.items():
        ready[key] = r._replace(rule=_settable_last(r.rule, settable))
    return layout


def _settable_last(p: Prepared, settable: set[int]) -> Prepared:
    """The rule with the tests of each row in an order in which what no addition can set comes first.

    A test that fails makes those after it idle, and what cannot be otherwise is best found out first (settling.py).
    """
    def late(test: tuple) -> bool:
        return not settable.isdisjoint(looked_at(test))
    return p._replace(cases=tuple(tuple(tuple(sorted(row, key=late)) for row in rows) for rows in p.cases))


def _place(draft: _Draft, book: Book, slot: str, kind: Kind) -> Place:
    part = draft.add(slot, ("part",), 1, (slot,))
    fitted = draft.add(f"{slot}.fitted", ("yes", "no"), 3, (slot,))
    attributes, na = {}, {}
    for a in kind.attributes:
        if a.type == "number":
            ids = tuple(f"band{i}" for i in range(band_count(book.cuts.get(f"{slot}.{a.id}", ()))))
        else:
            ids = a.values
        na[a.id] = 1 << len(ids)
        attributes[a.id] = draft.add(f"{slot}.{a.id}", ids + (NA,), full_mask(book, slot, a) | na[a.id], (slot,))
    parents = {attributes[a.id]: tuple(attributes[c] for c, _ in a.applies_when) for a in kind.attributes}
    never = frozenset(attributes[a] for box in kind.never for a, _ in box)
    return Place(part, fitted, attributes, na, tuple(_kind_tables(draft, kind, attributes, na)), parents, never)


def _kind_tables(draft: _Draft, kind: Kind, vars_: dict[str, int], na: dict[str, int]) -> list[Table]:
    def mask(attr: str, ids: frozenset[str]) -> int:
        return sum(1 << i for i, v in enumerate(draft.values[vars_[attr]][:-1]) if v in ids)

    def boxes(rows: list[dict[int, int]]) -> Table:
        used = tuple(sorted({v for row in rows for v in row}))
        return table(used, [tuple(row.get(v, draft.dom[v]) for v in used) for row in rows])

    out = []
    for a in kind.attributes:
        if a.applies_when:
            v = vars_[a.id]
            rows = [{v: draft.dom[v] & ~na[a.id]} | {vars_[c]: mask(c, ids) for c, ids in a.applies_when}]
            rows += [{v: na[a.id], vars_[c]: draft.dom[vars_[c]] & ~mask(c, ids)} for c, ids in a.applies_when]
            out.append(boxes(rows))
    for box in kind.never:
        out.append(boxes([{vars_[a]: draft.dom[vars_[a]] & ~mask(a, ids)} for a, ids in box]))
    return out


def _derived(draft: _Draft, book: Book, inst: Instance, quantities: dict[str, Quantity]) -> None:
    """Add the variables that an instance's tests need beside attributes."""
    for test in (t for case in inst.cases for row in case.rows for t in row):
        if "relation" in test:
            of = tuple(sorted(bound(n, inst.bind) for n in test["of"]))
            listed = test["relation"] == "listed_together"
            draft.add(relation_name(test, inst), ("yes", "no"), 3, of if listed else (), listed)
        elif "same_as" in test:
            a, b = bound(test["on"], inst.bind), bound(test["same_as"], inst.bind)
            home = tuple(sorted({a.split(".")[0], b.split(".")[0]}))
            draft.add(same_name(a, b), ("yes", "no"), 3, home)
            draft.add(match_name(a, b), ("yes", "no", NA), 7, home, True)
        elif "low" in test or "high" in test:
            for limit in (test.get("low"), test.get("high")):
                if isinstance(limit, str):
                    name = gap_name(book, test, limit, inst)
                    _quantity(draft, book, name, Quantity((test["on"], limit), inst.bind, (0.0,)), quantities)
            if test["on"].startswith("sum."):
                cuts = book.cuts.get(test["on"], ())
                _quantity(draft, book, quantity_name(book, test["on"], inst), Quantity((test["on"],), inst.bind, cuts), quantities)


def _matches(draft: _Draft, instances: Sequence[Instance]) -> dict[int, Table]:
    """For each two attributes that a rule holds against each other, the table of what they make of their match.

    Two values that no record names may be one or not, which a variable of its own says.
    """
    pairs = {tuple(sorted((bound(t["on"], i.bind), bound(t["same_as"], i.bind))))
             for i in instances for case in i.cases for row in case.rows for t in row if "same_as" in t}
    out = {}
    for name_a, name_b in sorted(pairs):
        a, b, flag = draft.index[name_a], draft.index[name_b], draft.index[same_name(name_a, name_b)]
        na_a, na_b = 1 << (len(draft.values[a]) - 1), 1 << (len(draft.values[b]) - 1)
        full_b = draft.dom[b] & ~na_b
        rows = [(na_a, draft.dom[b] | na_b, 3, 4), (draft.dom[a] & ~na_a, na_b, 3, 4)]
        for i, value in enumerate(draft.values[a][:-1]):
            j = 1 << draft.values[b].index(value) if value in draft.values[b][:-1] else 0
            if j and value == OTHER:
                rows += [(1 << i, j, 1, 1), (1 << i, j, 2, 2)]
            elif j:
                rows.append((1 << i, j, 3, 1))
            rows.append((1 << i, full_b & ~j, 3, 2))
        match = draft.index[match_name(name_a, name_b)]
        out[match] = table((a, b, flag, match), [row for row in rows if all(row)])
    return out


def match_tables(book: Book, vars_: Iterable[int]) -> list[Table]:
    """What ties those of the variables that say whether two attributes match to the two."""
    matches = book.layout.matches
    return [matches[v] for v in sorted(v for v in vars_ if v in matches)]


def _quantity(draft: _Draft, book: Book, name: str, quantity: Quantity, quantities: dict[str, Quantity]) -> None:
    if name not in quantities:
        quantities[name] = quantity
        slots = {n.split(".")[0] for inputs in quantity_inputs(book, quantity).values() for n in inputs.values()}
        bands = band_count(quantity.cuts)
        draft.add(name, tuple(f"band{i}" for i in range(bands)) + (NA,), (1 << (bands + 1)) - 1, tuple(sorted(slots)), True)


def _ready(book: Book, layout: Layout, inst: Instance) -> Ready:
    p = prepare(book, layout, inst)
    plans: dict[Key, Plan] = {}
    todo = [a for c in inst.cases for alt in c.additions for a in alt]
    slots = {v.split(".")[0] for v in inst.reads} | set(inst.about) | set(inst.partners)
    while todo:
        a = todo.pop()
        plan = make_plan(book, layout, inst, a)
        if plan.key not in plans:
            plans[plan.key] = plan
            todo += book.data["additions"][a].get("needs") or ()
            for v in [*plan.sets, *(x for how, x in plan.sets.values() if how == "as")]:
                slots.update(layout.homes[v])
    tests = [t for rows in p.cases for row in rows for t in row]
    touched = {v for t in tests for v in (*looked_at(t), *t[5:])} | set(p.gates)
    for plan in plans.values():
        touched |= set(plan.sets) | {x for how, x in plan.sets.values() if how == "as"}
    relations, quantities = set(), set()
    for test in (t for case in inst.cases for row in case.rows for t in row):
        if "relation" in test:
            of = tuple(sorted(bound(n, inst.bind) for n in test["of"]))
            relations.add((test["relation"], of))
            slots.update(of)
    for v in touched:
        if layout.names[v] in layout.quantities:
            quantities.add(layout.names[v])
            slots.update(layout.homes[v])
    return Ready(p, plans, frozenset(touched), frozenset(slots), tuple(sorted(relations)), tuple(sorted(quantities)))
