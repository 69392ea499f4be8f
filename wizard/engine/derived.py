"""The space of one question: what was told, put on the book's layout, with everything that ties parts together."""
from __future__ import annotations

from itertools import product
from typing import Sequence

from .build import Build
from .layout import Layout
from .model import OTHER, Book, Instance
from .names import same_name
from .settings import find_settings, quantity_tables, setting_table
from .space import Candidate, Space, keep, part_product, slot_state
from .tables import Table, table

YES, NO, EITHER = 1, 2, 3


def make_space(book: Book, build: Build, instances: Sequence[Instance], drop: frozenset = frozenset()) -> Space:
    """The space of everything that `instances` read, with the statements in `drop` treated as never made."""
    layout: Layout = book.layout
    ready = [layout.ready[i.key] for i in instances]
    wanted = set(build.slots) | {s for r in ready for s in r.slots}
    wanted |= {name.split(".")[0] for r in build.relations for name in r.of}
    slots = [s for s in book.slot_order if s in wanted]
    names, index, values = list(layout.names), layout.index, list(layout.values)
    dom, homes, feeds = list(layout.dom), list(layout.homes), dict(layout.feeds)
    tables: list[Table] = []
    ours: set[int] = set()
    part, candidates, free, said, empty = {}, {}, {}, {}, []
    for slot in slots:
        key, state = slot_state(book, build, slot, drop)
        p = part[slot] = layout.places[slot].part
        candidates[slot], said[slot] = state.candidates, key
        if not state.dom:
            empty.append(slot)
            continue
        tables += state.tables
        ours |= state.ours
        for v, mask in state.dom.items():
            dom[v] = mask
        values[p] = tuple(c.family or c.kind for c in state.candidates)
        if state.free:
            free[slot] = state.free
    told = tuple((r, ("relation", i) in drop) for i, r in enumerate(build.relations))
    if not empty:
        relations = sorted({x for r in ready for x in r.relations})
        for kind, of in relations:
            v = index[f"{kind} {' + '.join(of)}"]
            if kind == "listed_together":
                tables += _listed_table(book, v, of, part, candidates, said)
            else:
                dom[v] = _said(book, build, kind, of, drop)
        wanted_sums = sorted({n for r in ready for n in r.quantities})
        settings = find_settings(book, part, candidates, ours, wanted_sums)
        for name, marks in sorted(settings.items()):
            aim = index[f"aim {name}"]
            values[aim], dom[aim] = tuple(repr(x) for x in marks), (1 << len(marks)) - 1
            ours.add(aim)
            tables.append(setting_table(book, name, marks))
        for name in wanted_sums:
            tables += quantity_tables(book, part, candidates, settings, name, said)
        for i, r in enumerate(build.relations):
            if r.value == "not_sure" or ("relation", i) in drop:
                continue
            flag = f"{r.kind} {' + '.join(r.of)}"
            pairs = list(zip(r.of, r.of[1:])) if r.kind == "same" else []
            for name in [same_name(a, b) for a, b in pairs] or [flag]:
                if name not in index:           # nothing in the book asks it, but it can contradict
                    index = index | {name: len(names)}
                    names.append(name)
                    values.append(("yes", "no"))
                    dom.append(EITHER)
                    homes.append(tuple(sorted({n.split(".")[0] for n in r.of})) if r.kind == "same" else ())
            for a, b in pairs:
                tables.append(_tie(values, dom, index, a, b, r.value == "yes"))
            if r.kind != "same":
                dom[index[flag]] &= _said(book, build, r.kind, r.of, drop)
    return Space(tuple(names), index, tuple(values), tuple(dom), tuple(tables), frozenset(ours), part, candidates,
                 feeds, free, tuple(empty), tuple(homes), said, told)


def _listed_table(book: Book, v: int, of, part, candidates, said) -> list[Table]:
    def make() -> list[Table]:
        combos = part_product(part, candidates, of)
        if combos is None:
            return []
        vars_ = tuple(part[s] for s in of)
        return [table((*vars_, v), [(*(box[p] for p in vars_), _listed(book, of, chosen)) for box, chosen in combos])]
    return keep(book, ("listed_together", of, tuple(said[s] for s in of)), make)


def _said(book: Book, build: Build, kind: str, of: tuple[str, ...], drop: frozenset) -> int:
    """What was said of a relation that only people can know; nothing is left where it was told both ways."""
    told = [r for i, r in enumerate(build.relations)
            if r.kind == kind and r.value != "not_sure" and ("relation", i) not in drop]
    said = {r.value for r in told if set(r.of) == set(of)} if kind == "made_for" else _together(told, of)
    said |= _not_yet_bought(book, build, kind, of, drop)
    return 0 if said == {"yes", "no"} else YES if "yes" in said else NO if "no" in said else EITHER


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


def _tie(values, dom, index, a: str, b: str, same: bool) -> Table:
    """The customer's word that two attributes are the same, or are not."""
    va, vb, flag = index[a], index[b], index[same_name(a, b)]
    ids_a, ids_b = values[va][:-1], values[vb][:-1]
    rows = []
    for i, j in product(range(len(ids_a)), range(len(ids_b))):
        x, y = ids_a[i], ids_b[j]
        unsure = OTHER in (x, y) and (x == y or (x == OTHER and y not in ids_a) or (y == OTHER and x not in ids_b))
        if unsure:
            rows.append((1 << i, 1 << j, YES if same else NO))
        elif (x == y) == same:
            rows.append((1 << i, 1 << j, dom[flag]))
    return table((va, vb, flag), rows)
