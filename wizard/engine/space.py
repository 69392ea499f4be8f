"""What one build leaves possible: which parts may be in each slot, what is tied, and who decides what.

Every variable has a small domain (an int of bits); the last bit of an attribute is `does not apply`. `ours` are
choices (open slots, parts in hand, made to order); everything else is unknown, and an answer must hold for every
value of it.
"""
from __future__ import annotations

from itertools import product
from math import prod
from typing import Any, NamedTuple

from .build import Build, Entry, Told
from .layout import Layout, full_mask
from .model import Book, Kind
from .numbers import Span, span_mask, widen
from .tables import Network, Table, network, propagate, search, table

PRODUCT_LIMIT = 4096        # combinations of listed parts that one derived variable may be tabulated over
SLOT_NODES = 20000          # search nodes of the question whether any part can be in a slot
KEPT_LIMIT = 20000          # results kept on a book before those that were not used lately are forgotten
COUNT = ("count",)          # where a book counts what was numbered on it
OLDER = ("older",)          # where a book has what was kept until the last time that there was too much


class Candidate(NamedTuple):
    """One part that may be in a slot. `kind`: part, family, none, or free (ours to specify in full)."""

    kind: str
    family: str | None
    masks: dict[str, int]
    spans: dict[str, Span]
    known: frozenset[str]       # numeric attributes whose span was told or listed


class SlotState(NamedTuple):
    """What was told of a slot, worked out: its candidates, tables and domains, and which variables are ours."""

    id: int                     # a number that no other state on the book has
    candidates: tuple[Candidate, ...]
    tables: tuple[Table, ...]
    dom: dict[int, int]         # narrowed by the slot's own tables; empty when nothing is possible
    ours: frozenset[int]
    free: int                   # bit of the candidate that only `freely specified` allows; 0 for none
    listed: dict[int, int]      # the domains without that candidate; empty when nothing is left
    awaited: bool               # not bought yet
    live: bool                  # something about it is undecided
    cut: bool                   # whether anything can be here was not settled within the limit


class Space(NamedTuple):
    """Variables as in the layout (a few may be added at the end) with their domains and tables."""

    names: tuple[str, ...]
    index: dict[str, int]
    values: tuple[tuple[str, ...], ...]
    dom: tuple[int, ...]
    tables: tuple[Table, ...]                   # first those of each slot alone, then those that tie slots together
    own: dict[str, tuple[int, int]]             # slot -> first and last but one of its own tables
    ties: tuple[tuple, ...]                     # what identifies each of the others, in their order
    ours: frozenset[int]
    part: dict[str, int]                        # slot -> variable that says which candidate
    candidates: dict[str, tuple[Candidate, ...]]
    feeds: dict[int, tuple[str, ...]]           # derived variable -> slots whose parts decide it
    free: dict[str, int]                        # slot -> bit of the candidate that only `freely specified` allows
    empty: tuple[str, ...]                      # slots in which nothing can be
    homes: tuple[tuple[str, ...], ...]          # of each variable, the slots whose parts it speaks of
    said: dict[str, int]                        # slot -> number of what was told of it
    told: int                                   # number of all relations told
    awaited: frozenset[str]                     # slots whose part is not bought yet
    live: frozenset[str]                        # slots about which something is undecided
    cut: bool                                   # whether a slot can hold anything was not settled within the limit
    loose: bool                                 # something that is worked out from parts was left open for their number

    @property
    def cross(self) -> int:
        """The first table that may tie slots together."""
        return len(self.tables) - len(self.ties)


def keep(book: Book, key: tuple, make) -> Any:
    """What `make` gives for a key, worked out once for a book: answers repeat most of the last answer's work."""
    kept = book.kept
    if key in kept:
        return kept[key]
    older = kept.get(OLDER)
    made = older.pop(key) if older and key in older else make()
    if len(kept) > KEPT_LIMIT:
        count = kept.get(COUNT, 0)
        kept.pop(OLDER, None)
        before = dict(kept)
        kept.clear()
        kept[OLDER], kept[COUNT] = before, count
    kept[key] = made
    return made


def number(book: Book) -> int:
    """A number not given before on this book, for use in keys: cheaper to compare than what it stands for."""
    book.kept[COUNT] = book.kept.get(COUNT, 0) + 1
    return book.kept[COUNT]


def entry_key(entry: Entry) -> tuple:
    """What identifies what was told of a slot (whether it is kept does not change what it may be)."""
    return (entry.state, entry.families, tuple(sorted(entry.told.items())), tuple(entry_key(o) for o in entry.options))


def entry_of(book: Book, build: Build, slot: str) -> Entry:
    """What was told of a slot, or what its silence counts as."""
    entry = build.slots.get(slot)
    return entry if entry is not None else Entry(book.data["slots"][slot]["if_unsaid"], (), {}, (), False)


def slot_state(book: Book, build: Build, slot: str, drop: frozenset) -> SlotState:
    """The state of a slot, worked out once for whatever was told of it."""
    entry = entry_of(book, build, slot)
    mine = frozenset(k for k in drop if k[1:2] == (slot,)) if drop else drop
    return keep(book, ("slot", slot, entry_key(entry), mine), lambda: _slot_state(book, entry, slot, mine))


def _slot_state(book: Book, entry: Entry, slot: str, drop: frozenset) -> SlotState:
    layout: Layout = book.layout
    place, kind = layout.places[slot], book.kinds[book.slot_kind[slot]]
    found = _candidates(book, entry, slot, kind, drop)
    dropped = ("slot", slot) in drop
    awaited = entry.state in ("open", "made_to_order")
    if not found:
        return SlotState(number(book), (), (), {}, frozenset(), 0, {}, awaited, False, False)
    listed_only = entry.state == "open" and not kind.made_to_order and not dropped
    free = 1 << (len(found) - 1) if listed_only and found[-1].kind == "free" else 0
    ours = {place.part} if entry.state in ("open", "in_hand") and not dropped else set()
    if [c.kind for c in found] == ["free"] and not free:
        ours.update(place.attributes.values())
    boxes = []
    for i, c in enumerate(found):
        row = [1 << i, 2 if c.kind == "none" else 1]
        for a in kind.attributes:
            if c.kind == "none":
                row.append(place.na[a.id])
            else:
                row.append(c.masks.get(a.id, full_mask(book, slot, a) | (place.na[a.id] if a.applies_when else 0)))
        boxes.append(tuple(row))
    tables = (table((place.part, place.fitted, *place.attributes.values()), boxes), *place.tables)
    dom = list(layout.dom)
    dom[place.part] = (1 << len(found)) - 1
    net = network(tables)
    narrowed, cut = _narrowed(dom, net)
    dom[place.part] &= ~free
    listed_dom = _narrowed(dom, net)[0] if free and dom[place.part] else {} if free else narrowed
    live = any(m & (m - 1) for m in narrowed.values())
    return SlotState(number(book), tuple(found), tables, narrowed, frozenset(ours), free, listed_dom, awaited, live, cut)


def _narrowed(dom: list[int], net: Network) -> tuple[dict[int, int], bool]:
    """What a slot's own tables leave of its domains, nothing when no part can be there; and whether that was cut short."""
    state = list(dom)
    if not propagate(state, net):
        return {}, False
    found = search(state, net, limit=SLOT_NODES, start=())
    return ({v: state[v] for v in net.watch} if found.dom is not None or found.limit else {}), found.limit


def _candidates(book: Book, entry: Entry, slot: str, kind: Kind, drop: frozenset) -> list[Candidate]:
    state = entry.state
    if ("slot", slot) in drop and state in ("family", "one_of", "in_hand", "none", "open", "made_to_order"):
        state = "maybe" if state == "none" else "not_sure"
    told = {a: t for a, t in entry.told.items() if ("told", slot, a) not in drop}
    part = Candidate("part", None, {}, {}, frozenset())
    if state == "none":
        return [Candidate("none", None, {}, {}, frozenset())]
    if state in ("family", "one_of"):
        raw = [family_candidate(book, slot, f) for f in entry.families]
    elif state == "in_hand":
        raw = []
        for i, option in enumerate(entry.options):
            base = family_candidate(book, slot, option.families[0]) if option.families else part
            said = {a: t for a, t in option.told.items() if ("hand", slot, i, a) not in drop}
            narrowed = _narrow(book, slot, kind, base, said)
            raw += [narrowed] if narrowed else []
    elif state == "made_to_order" or (state == "open" and kind.made_to_order):
        raw = [Candidate("free", None, {}, {}, frozenset())]
    elif state == "open":
        raw = [family_candidate(book, slot, f) for f in listed(book, kind.id)]
        raw += [Candidate("free", None, {}, {}, frozenset())]
    else:
        raw = [part]
    out = [c for c in (_narrow(book, slot, kind, c, told) for c in raw) if c is not None]
    if state == "maybe":
        out.insert(0, Candidate("none", None, {}, {}, frozenset()))
    return out


def listed(book: Book, kind: str) -> list[str]:
    """The listed families of a kind, cheapest first, those without a price last."""
    def order(f: str) -> tuple:
        price = book.data["families"][f].get("price")
        return price is None, price or 0, f
    return keep(book, ("listed", kind), lambda: sorted(
        (f for f, r in book.data["families"].items() if r["kind"] == kind), key=order))


def family_candidate(book: Book, slot: str, family: str) -> Candidate:
    """A listed part as it would stand in a slot."""
    return keep(book, ("family", slot, family), lambda: _family(book, slot, book.kinds[book.slot_kind[slot]], family))


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
    if not told:
        return c
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


def part_product(part: dict[str, int], candidates: dict[str, tuple[Candidate, ...]], slots: tuple[str, ...]):
    """All combinations of candidates of some slots as (boxes on the part variables, candidates); None if too many."""
    if prod(len(candidates[s]) for s in slots) > PRODUCT_LIMIT:
        return None
    ranges = [list(enumerate(candidates[s])) for s in slots]
    return [({part[s]: 1 << i for s, (i, _) in zip(slots, combo)}, [c for _, c in combo])
            for combo in product(*ranges)]
