"""The space of one question: what was told, put on the book's layout, with everything that ties parts together."""
from __future__ import annotations

from itertools import product
from typing import Sequence

from .build import Build
from .layout import Layout
from .model import OTHER, Book, Instance
from .names import same_name
from .settings import find_settings, quantity_tables, setting_table
from .space import Candidate, Space, keep, number, part_product, slot_state
from .tables import Table, table

YES, NO, EITHER = 1, 2, 3


def make_space(book: Book, build: Build, instances: Sequence[Instance], drop: frozenset = frozenset()) -> Space:
    """The space of everything that `instances` read, with the statements in `drop` treated as never made."""
    layout: Layout = book.layout
    ready = [layout.ready[i.key] for i in instances]
    wanted = set(build.slots) | {s for r in ready for s in r.slots}
    wanted |= {name.split(".")[0] for r in build.relations for name in r.of}
    slots = [s for s in book.slot_order if s in wanted]
    states = {s: slot_state(book, build, s, drop) for s in slots}
    draft = _Draft(book, build, drop, {s: layout.places[s].part for s in slots},
                   {s: state.candidates for s, state in states.items()}, {s: state.id for s, state in states.items()})
    own, tables = {}, []
    for slot, state in states.items():
        own[slot] = len(tables), len(tables) + len(state.tables)
        tables += state.tables
        draft.ours |= state.ours
        for v, mask in state.dom.items():
            draft.dom[v] = mask
        draft.values[draft.part[slot]] = tuple(c.family or c.kind for c in state.candidates)
    empty = tuple(s for s, state in states.items() if not state.dom)
    if not empty:
        draft.relations(sorted({x for r in ready for x in r.relations}))
        draft.quantities(sorted({n for r in ready for n in r.quantities}))
        draft.told()
    told = tuple((r, ("relation", i) in drop) for i, r in enumerate(build.relations))
    return Space(
        tuple(draft.names), draft.index, tuple(draft.values), tuple(draft.dom), (*tables, *draft.ties.values()), own,
        tuple(draft.ties), frozenset(draft.ours), draft.part, draft.candidates, layout.feeds,
        {s: state.free for s, state in states.items() if state.free}, empty, tuple(draft.homes), draft.said,
        keep(book, ("told", told), lambda: number(book)), frozenset(s for s, state in states.items() if state.awaited),
        frozenset(s for s, state in states.items() if state.live) | {a.split(".")[0] for a in draft.aims},
        any(state.cut for state in states.values()), draft.loose)


class _Draft:
    """A space in the making: what ties parts together is added to what was told of each."""

    def __init__(self, book: Book, build: Build, drop: frozenset, part: dict[str, int],
                 candidates: dict[str, tuple[Candidate, ...]], said: dict[str, int]) -> None:
        layout: Layout = book.layout
        self.book, self.build, self.drop, self.part, self.candidates, self.said = book, build, drop, part, candidates, said
        self.names, self.index, self.values = list(layout.names), layout.index, list(layout.values)
        self.dom, self.homes = list(layout.dom), list(layout.homes)
        self.ours: set[int] = set()
        self.aims: list[str] = []
        self.loose = False
        self.ties: dict[tuple, Table] = {}

    def relations(self, wanted: Sequence[tuple[str, tuple[str, ...]]]) -> None:
        """What is known of the relations that rules test."""
        for kind, of in wanted:
            v = self.index[f"{kind} {' + '.join(of)}"]
            if kind == "listed_together":
                made = _listed_table(self.book, v, of, self.part, self.candidates, self.said)
                self.loose = self.loose or not made
                self.ties |= {("listed_together", of): one for one in made}
            else:
                self.dom[v] = _said(self.book, self.build, kind, of, self.drop)

    def quantities(self, wanted: Sequence[str]) -> None:
        """Sums and comparisons, and the numbers that are ours to set."""
        settings, thinned = find_settings(self.book, self.part, self.candidates, self.ours, wanted, self.said)
        self.loose = self.loose or thinned
        for name, marks in sorted(settings.items()):
            aim = self.index[f"aim {name}"]
            self.values[aim], self.dom[aim] = tuple(repr(x) for x in marks), (1 << len(marks)) - 1
            self.ours.add(aim)
            self.aims.append(name)
            self.ties["aim", name, tuple(marks)] = setting_table(self.book, name, marks)
        marked = tuple(tuple(marks) for _, marks in sorted(settings.items()))
        for name in wanted:
            made = quantity_tables(self.book, self.part, self.candidates, settings, name, self.said)
            self.loose = self.loose or len(made) < 2
            self.ties |= {("quantity", name, i, marked): one for i, one in enumerate(made)}

    def told(self) -> None:
        """The customer's own words about relations; a word that no rule asks for can still contradict."""
        for i, r in enumerate(self.build.relations):
            if r.value == "not_sure" or ("relation", i) in self.drop:
                continue
            flag = f"{r.kind} {' + '.join(r.of)}"
            pairs = list(zip(r.of, r.of[1:])) if r.kind == "same" else []
            for name in [same_name(a, b) for a, b in pairs] or [flag]:
                if name not in self.index:
                    self.index = self.index | {name: len(self.names)}
                    self.names.append(name)
                    self.values.append(("yes", "no"))
                    self.dom.append(EITHER)
                    self.homes.append(tuple(sorted({n.split(".")[0] for n in r.of})) if r.kind == "same" else ())
            for a, b in pairs:
                self.ties["same", i, a, b] = _tie(self.values, self.dom, self.index, a, b, r.value == "yes")
            if r.kind != "same":
                self.dom[self.index[flag]] &= _said(self.book, self.build, r.kind, r.of, self.drop)


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
