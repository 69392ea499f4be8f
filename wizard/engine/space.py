"""The variables of one question: which parts may be in each slot, what their attributes may be, and what ties them.

Every variable has a small domain (an int of bits). The last bit of an attribute is `does not apply`. Who decides a
variable is part of the space: `ours` are choices (open slots, parts in hand, made to order), everything else is
unknown and an answer must hold for every value of it.
"""
from __future__ import annotations

from itertools import product
from math import prod
from typing import NamedTuple

from .build import Build, Entry, Told
from .model import Attribute, Book, Instance, Kind, bound
from .numbers import Span, band_count, span_mask, widen
from .tables import Table, table

NA = "does-not-apply"
PRODUCT_LIMIT = 4096        # combinations of listed parts that one derived variable may be tabulated over


class Candidate(NamedTuple):
    """One part that may be in a slot. `kind`: part, family, none, or free (ours to specify in full)."""

    kind: str
    family: str | None
    masks: dict[str, int]
    spans: dict[str, Span]
    known: frozenset[str]       # numeric attributes whose span was told or listed


class Space(NamedTuple):
    """Variables by index with their domains and tables; see the module's docstring."""

    names: tuple[str, ...]
    index: dict[str, int]
    values: tuple[tuple[str, ...], ...]
    dom: tuple[int, ...]
    tables: tuple[Table, ...]
    ours: frozenset[int]
    part: dict[str, int]                        # slot -> variable that says which candidate
    candidates: dict[str, tuple[Candidate, ...]]
    feeds: dict[int, tuple[str, ...]]           # derived variable -> slots whose parts decide it
    free: dict[str, int]                        # slot -> bit of the candidate that only `freely specified` allows
    empty: tuple[str, ...]                      # slots in which nothing can be
    homes: tuple[tuple[str, ...], ...]          # of each variable, the slots whose parts it speaks of


class Maker:
    """Collects variables and tables while a space is being made; not used afterwards."""

    def __init__(self) -> None:
        self.names: list[str] = []
        self.values: list[tuple[str, ...]] = []
        self.dom: list[int] = []
        self.index: dict[str, int] = {}
        self.tables: list[Table] = []
        self.ours: set[int] = set()
        self.feeds: dict[int, tuple[str, ...]] = {}

    def add(self, name: str, values: tuple[str, ...], dom: int | None = None) -> int:
        self.index[name] = len(self.names)
        self.names.append(name)
        self.values.append(values)
        self.dom.append((1 << len(values)) - 1 if dom is None else dom)
        return len(self.names) - 1

    def box_table(self, rows: list[dict[int, int]]) -> None:
        """A table from boxes that name only the variables they limit."""
        vars_ = tuple(sorted({v for row in rows for v in row}))
        self.tables.append(table(vars_, tuple(tuple(row.get(v, self.dom[v]) for v in vars_) for row in rows)))


def attribute_values(book: Book, slot: str, a: Attribute) -> tuple[str, ...]:
    """The ids behind the bits of an attribute, `does not apply` last; of a number, its bands by position."""
    if a.type == "number":
        return tuple(f"band{i}" for i in range(band_count(book.cuts.get(f"{slot}.{a.id}", ())))) + (NA,)
    return a.values + (NA,)


def full_mask(book: Book, slot: str, a: Attribute) -> int:
    """Every value the attribute can have, without `does not apply`."""
    if a.type == "number":
        return span_mask(book.cuts.get(f"{slot}.{a.id}", ()), a.low, a.high, a.whole)
    return (1 << len(a.values)) - 1


def add_slot(maker: Maker, book: Book, build: Build, slot: str, drop: frozenset, part: dict, candidates: dict,
             free: dict) -> bool:
    """Add the variables and tables of one slot; False when nothing that was told leaves a part for it."""
    kind, entry = book.kinds[book.slot_kind[slot]], build.slots.get(slot)
    found = _candidates(book, build, slot, kind, drop)
    p = maker.add(slot, tuple(c.family or c.kind for c in found))
    part[slot], candidates[slot] = p, tuple(found)
    fitted = maker.add(f"{slot}.fitted", ("yes", "no"))
    vars_ = {a.id: maker.add(f"{slot}.{a.id}", attribute_values(book, slot, a)) for a in kind.attributes}
    na = {a.id: 1 << (len(maker.values[vars_[a.id]]) - 1) for a in kind.attributes}
    for a in kind.attributes:
        maker.dom[vars_[a.id]] = full_mask(book, slot, a) | na[a.id]
    if not found:
        return False
    listed_only = entry is not None and entry.state == "open" and not kind.made_to_order and ("slot", slot) not in drop
    if listed_only and found[-1].kind == "free":
        free[slot] = 1 << (len(found) - 1)
    if entry is not None and entry.state in ("open", "in_hand") and ("slot", slot) not in drop:
        maker.ours.add(p)
    if [c.kind for c in found] == ["free"] and slot not in free:
        maker.ours.update(v for a, v in vars_.items())
    boxes = []
    for i, c in enumerate(found):
        row = [1 << i, 2 if c.kind == "none" else 1]
        for a in kind.attributes:
            mask = c.masks.get(a.id)
            if c.kind == "none":
                row.append(na[a.id])
            elif mask is not None:
                row.append(mask)
            else:
                row.append(full_mask(book, slot, a) | (na[a.id] if a.applies_when else 0))
        boxes.append(tuple(row))
    maker.tables.append(table((p, fitted, *vars_.values()), tuple(boxes)))
    _kind_tables(maker, kind, vars_, na)
    return True


def _kind_tables(maker: Maker, kind: Kind, vars_: dict[str, int], na: dict[str, int]) -> None:
    def mask(attr: str, ids: frozenset[str]) -> int:
        values = maker.values[vars_[attr]]
        return sum(1 << i for i, v in enumerate(values[:-1]) if v in ids)

    for a in kind.attributes:
        if a.applies_when:
            v = vars_[a.id]
            rows = [{v: maker.dom[v] & ~na[a.id]} | {vars_[c]: mask(c, ids) for c, ids in a.applies_when}]
            rows += [{v: na[a.id], vars_[c]: maker.dom[vars_[c]] & ~mask(c, ids)} for c, ids in a.applies_when]
            maker.box_table(rows)
    for box in kind.never:
        maker.box_table([{vars_[a]: maker.dom[vars_[a]] & ~mask(a, ids)} for a, ids in box])


def _candidates(book: Book, build: Build, slot: str, kind: Kind, drop: frozenset) -> list[Candidate]:
    entry = build.slots.get(slot)
    if entry is None:
        state = book.data["slots"][slot]["if_unsaid"]
        entry = Entry(state, (), {}, (), False)
    state = entry.state
    if ("slot", slot) in drop and state in ("family", "one_of", "in_hand", "none", "open", "made_to_order"):
        state = "maybe" if state == "none" else "not_sure"
    told = {a: t for a, t in entry.told.items() if ("told", slot, a) not in drop}
    part = Candidate("part", None, {}, {}, frozenset())
    if state == "none":
        return [Candidate("none", None, {}, {}, frozenset())]
    if state in ("family", "one_of"):
        raw = [_family(book, slot, kind, f) for f in entry.families]
    elif state == "in_hand":
        raw = []
        for i, option in enumerate(entry.options):
            base = _family(book, slot, kind, option.families[0]) if option.families else part
            said = {a: t for a, t in option.told.items() if ("hand", slot, i, a) not in drop}
            narrowed = _narrow(book, slot, kind, base, said)
            raw += [narrowed] if narrowed else []
    elif state == "made_to_order" or (state == "open" and kind.made_to_order):
        raw = [Candidate("free", None, {}, {}, frozenset())]
    elif state == "open":
        listed = sorted((f for f, r in book.data["families"].items() if r["kind"] == kind.id),
                        key=lambda f: (book.data["families"][f].get("price") is None,
                                       book.data["families"][f].get("price") or 0, f))
        raw = [_family(book, slot, kind, f) for f in listed] + [Candidate("free", None, {}, {}, frozenset())]
    else:
        raw = [part]
    out = [c for c in (_narrow(book, slot, kind, c, told) for c in raw) if c is not None]
    if state == "maybe":
        out.insert(0, Candidate("none", None, {}, {}, frozenset()))
    return out


def _family(book: Book, slot: str, kind: Kind, family: str) -> Candidate:
    masks, spans = {}, {}
    for a in kind.attributes:
        claim = book.data["families"][family]["attributes"].get(a.id)
        if claim is None:
            continue
        if a.type == "number":
            spans[a.id] = (float(claim["is"]["from"]), float(claim["is"]["to"]))
            masks[a.id] = span_mask(book.cuts.get(f"{slot}.{a.id}", ()), *spans[a.id], a.whole)
        else:
            masks[a.id] = sum(1 << a.values.index(v) for v in claim["is"])
    return Candidate("family", family, masks, spans, frozenset(spans))


def _narrow(book: Book, slot: str, kind: Kind, c: Candidate, told: dict[str, Told]) -> Candidate | None:
    """The candidate with what was told of it; None when the two cannot both be true."""
    masks, spans, known = dict(c.masks), dict(c.spans), set(c.known)
    for a in kind.attributes:
        t = told.get(a.id)
        if t is None:
            continue
        if t.span is not None:
            span = widen(t.span, a.band)
            old = spans.get(a.id, (a.low, a.high))
            span = (max(span[0], old[0]), min(span[1], old[1]))
            if span[0] > span[1]:
                return None
            spans[a.id] = span
            known.add(a.id)
            mask = span_mask(book.cuts.get(f"{slot}.{a.id}", ()), *span, a.whole)
        elif t.values is not None:
            mask = sum(1 << a.values.index(v) for v in set(t.values))
        else:
            continue
        masks[a.id] = masks.get(a.id, full_mask(book, slot, a)) & mask
        if not masks[a.id]:
            return None
    return c._replace(masks=masks, spans=spans, known=frozenset(known))


def slots_of(book: Book, build: Build, instances: tuple[Instance, ...]) -> tuple[str, ...]:
    """The slots that a question touches: those told of and those its rules read."""
    wanted = set(build.slots) | {v.split(".")[0] for i in instances for v in i.reads}
    wanted |= {s for i in instances for s in i.about + i.partners}
    for i in instances:
        for case in i.cases:
            for row in case.rows:
                for test in row:
                    wanted.update(bound(n, i.bind) for n in test.get("of") or ())
            wanted |= _set_by(book, i, [a for alt in case.additions for a in alt])
    wanted |= {name.split(".")[0] for r in build.relations for name in r.of}
    return tuple(s for s in book.slot_order if s in wanted)


def _set_by(book: Book, inst: Instance, additions: list[str]) -> set[str]:
    """The slots that additions, and what they need, set or copy from."""
    out: set[str] = set()
    todo, done = list(additions), set()
    while todo:
        a = todo.pop()
        if a not in done:
            done.add(a)
            record = book.data["additions"][a]
            todo += record.get("needs") or ()
            for name, value in (record.get("sets") or {}).items():
                out.update(bound(n, inst.bind).split(".")[0] for n in (name, value.get("same_as")) if n)
    return out & set(book.slot_kind)


def part_product(space_part: dict[str, int], candidates: dict[str, tuple[Candidate, ...]], slots: tuple[str, ...]):
    """All combinations of candidates of some slots as (boxes on the part variables, candidates); None if too many."""
    if prod(len(candidates[s]) for s in slots) > PRODUCT_LIMIT:
        return None
    ranges = [list(enumerate(candidates[s])) for s in slots]
    return [({space_part[s]: 1 << i for s, (i, _) in zip(slots, combo)}, [c for _, c in combo])
            for combo in product(*ranges)]
