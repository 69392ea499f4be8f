"""Variables that follow from others: relations between parts, sums, comparisons of two quantities, and the space whole."""
from __future__ import annotations

from itertools import product
from typing import Any

from .build import Build
from .model import OTHER, Book, Instance, bound
from .quantity import Quantity, add_quantities
from .space import Candidate, Maker, Space, add_slot, part_product, slots_of
from .tables import table

YES, NO, EITHER = 1, 2, 3


def make_space(book: Book, build: Build, instances: tuple[Instance, ...], drop: frozenset = frozenset()) -> Space:
    """The space of everything that `instances` read, with the statements in `drop` treated as never made."""
    maker, part, candidates, free = Maker(), {}, {}, {}
    slots = slots_of(book, build, instances)
    empty = tuple(s for s in slots if not add_slot(maker, book, build, s, drop, part, candidates, free))
    if not empty:
        quantities: dict[str, Quantity] = {}
        for inst in instances:
            for case in inst.cases:
                for row in case.rows:
                    for test in row:
                        _derive(maker, book, build, inst, test, part, candidates, drop, quantities)
        add_quantities(maker, book, part, candidates, quantities)
        for i, relation in enumerate(build.relations):
            if relation.kind != "same":
                name = f"{relation.kind} {' + '.join(relation.of)}"
                if name not in maker.index:
                    _said(maker, book, build, name, relation.kind, relation.of, drop)
            elif relation.value != "not_sure" and ("relation", i) not in drop:
                for a, b in zip(relation.of, relation.of[1:]):
                    _tie(maker, a, b, relation.value == "yes")
    return Space(tuple(maker.names), maker.index, tuple(maker.values), tuple(maker.dom), tuple(maker.tables),
                 frozenset(maker.ours), part, candidates, maker.feeds, free, empty,
                 tuple(_home(maker, part, v) for v in range(len(maker.names))))


def _home(maker: Maker, part: dict[str, int], v: int) -> tuple[str, ...]:
    """The slots whose parts a variable speaks of; none for a relation that only people can know."""
    if v in maker.feeds:
        return maker.feeds[v]
    name = maker.names[v]
    names = name.split(" ")[1:] if name.startswith("same ") else [name]
    return tuple(sorted({s for s in (n.split(".")[0] for n in names) if s in part}))


def relation_name(test: dict[str, Any], inst: Instance) -> str:
    """The variable of a relation test."""
    return f"{test['relation']} {' + '.join(sorted(bound(n, inst.bind) for n in test['of']))}"


def same_name(a: str, b: str) -> str:
    """The variable that says whether two unlisted identities are one."""
    return f"same {min(a, b)} {max(a, b)}"


def quantity_name(book: Book, name: str, inst: Instance) -> str:
    """The variable of a number that a rule tests: an attribute, or a sum with its bound inputs."""
    if not name.startswith("sum."):
        return bound(name, inst.bind)
    inputs = [bound(v, inst.bind) for v in book.data["sums"][name[4:]]["inputs"].values()]
    return f"{name} {' '.join(sorted(inputs))}"


def gap_name(book: Book, test: dict[str, Any], limit: str, inst: Instance) -> str:
    """The variable of one quantity less another."""
    return f"{quantity_name(book, test['on'], inst)} - {quantity_name(book, limit, inst)}"


def _derive(maker, book, build, inst, test, part, candidates, drop, quantities) -> None:
    if "relation" in test:
        name = relation_name(test, inst)
        if name not in maker.index:
            _relation(maker, book, build, name, test, inst, part, candidates, drop)
    elif "same_as" in test:
        name = same_name(bound(test["on"], inst.bind), bound(test["same_as"], inst.bind))
        if name not in maker.index:
            maker.add(name, ("yes", "no"))
    elif "low" in test or "high" in test:
        for limit in (test.get("low"), test.get("high")):
            if isinstance(limit, str):
                name = gap_name(book, test, limit, inst)
                quantities[name] = Quantity((test["on"], limit), inst.bind, (0.0,))
        if test["on"].startswith("sum."):
            name = quantity_name(book, test["on"], inst)
            quantities[name] = Quantity((test["on"],), inst.bind, book.cuts.get(test["on"], ()))


def _relation(maker, book, build, name, test, inst, part, candidates, drop) -> None:
    of = tuple(sorted(bound(n, inst.bind) for n in test["of"]))
    if test["relation"] == "listed_together":
        v = maker.add(name, ("yes", "no"))
        combos = part_product(part, candidates, of)
        if combos is not None:
            rows = [{**box, v: _listed(book, of, chosen)} for box, chosen in combos]
            maker.box_table(rows)
            maker.feeds[v] = of
        return
    _said(maker, book, build, name, test["relation"], of, drop)


def _said(maker: Maker, book: Book, build: Build, name: str, kind: str, of: tuple[str, ...], drop: frozenset) -> None:
    """The variable of a relation that only people can know, narrowed by what they said."""
    told = [r for i, r in enumerate(build.relations)
            if r.kind == kind and r.value != "not_sure" and ("relation", i) not in drop]
    if kind == "made_for":
        said = {r.value for r in told if set(r.of) == set(of)}
    else:
        said = _together(told, of)
    said |= _not_yet_bought(book, build, kind, of, drop)
    v = maker.add(name, ("yes", "no"))
    mask = EITHER if not said else (YES if "yes" in said else 0) | (NO if "no" in said else 0)
    if said == {"yes", "no"}:
        mask = 0                # told both ways: nothing is left, and the answer names the two statements
    maker.dom[v] = mask
    maker.tables.append(table((v,), ((mask,),)))


def _not_yet_bought(book: Book, build: Build, kind: str, of: tuple[str, ...], drop: frozenset) -> set[str]:
    """A part that is not bought yet came from no donor; one made to order is made for what it goes with."""
    awaited = [s for s in of if s in build.slots and build.slots[s].state in ("open", "made_to_order")
               and ("slot", s) not in drop]
    made = [s for s in awaited if build.slots[s].state == "made_to_order" or book.kinds[book.slot_kind[s]].made_to_order]
    return {"yes"} if made and kind == "made_for" else {"no"} if awaited else set()


def _together(told, of: tuple[str, ...]) -> set[str]:
    """What is said of `of` having come together: yes-told sets that share a part merge into one donor."""
    groups: list[set[str]] = []
    for r in told:
        if r.value == "yes":
            joined = set(r.of)
            rest = []
            for g in groups:
                if g & joined:
                    joined |= g
                else:
                    rest.append(g)
            groups = rest + [joined]
    def group(slot: str) -> frozenset[str]:
        return next((frozenset(g) for g in groups if slot in g), frozenset((slot,)))
    reach = {g for g in map(group, of)}
    said = {"yes"} if len(reach) == 1 else set()
    for r in told:
        if r.value == "no" and {group(s) for s in r.of} <= reach:
            said.add("no")
    return said


def _listed(book: Book, of: tuple[str, ...], chosen: list[Candidate]) -> int:
    """Whether some set record lists these parts together; a part that is not listed leaves it open."""
    if any(c.kind in ("part", "free") for c in chosen):
        return EITHER
    for record in book.data["sets"].values():
        if all((c.family in record["families"].get(s, ())) if c.kind == "family" else s not in record["families"]
               for s, c in zip(of, chosen)):
            return YES
    return NO


def _tie(maker: Maker, a: str, b: str, same: bool) -> None:
    """The customer's word that two attributes are the same, or are not."""
    va, vb = maker.index[a], maker.index[b]
    name = same_name(a, b)
    flag = maker.index[name] if name in maker.index else maker.add(name, ("yes", "no"))
    ids_a, ids_b = maker.values[va][:-1], maker.values[vb][:-1]
    rows = []
    for i, j in product(range(len(ids_a)), range(len(ids_b))):
        x, y = ids_a[i], ids_b[j]
        unsure = OTHER in (x, y) and (x == y or (x == OTHER and y not in ids_a) or (y == OTHER and x not in ids_b))
        box = {va: 1 << i, vb: 1 << j}
        if unsure:
            rows.append({**box, flag: YES if same else NO})
        elif (x == y) == same:
            rows.append(box)
    maker.box_table(rows or [{va: 0, vb: 0}])
