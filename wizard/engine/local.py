"""The few base tables that a handful of variables can feel: what is asked hundreds of times must ask little."""
from __future__ import annotations

from typing import Iterable

from .layout import Place
from .question import Question, homes
from .tables import Network, Table, holds, network


def local_net(q: Question, masks: dict[int, int]) -> Network:
    """The base tables that an assignment of these variables can feel: of their slots, and of slots tied to them.

    A derived variable that is not among them can take a value whatever the rest does, so its tables are left out. So
    are the tables of attributes that nothing asked depends on and that do not tell candidates apart: such an
    attribute can always follow.
    """
    space = q.space
    key = ("local", tuple(sorted(masks)))
    if key in q.memo:
        return q.memo[key]
    derived = {v for v in masks if v in space.feeds}
    slots = {s for v in masks for s in space.homes[v]}
    used = set(masks)
    tables: dict[int, Table] = {}           # by place among the base tables
    grew = True
    while grew:
        grew = False
        for i, t, h, words in plain_ties(q):
            if i not in tables and (used & words if words else h & slots):
                tables[i] = t
                slots |= h
                used.update(t.vars)
                grew = True
    for i, (t, h) in enumerate(_base(q)) if derived else ():
        if any(v in derived for v in t.vars):
            tables[i] = t
            used.update(t.vars)
            slots |= h
    for slot in sorted(slots & space.part.keys()):
        tables |= slot_tables(q, slot, used)
    q.memo[key] = network([tables[i] for i in sorted(tables)])
    return q.memo[key]


def pieces(q: Question, masks: dict[int, int]) -> list[tuple[tuple[int, ...], Network]]:
    """These variables in groups that can feel nothing of each other, each with the base tables that it can feel."""
    key = ("pieces", tuple(masks))
    if key not in q.memo:
        net, free = local_net(q, masks), q.free_dom
        group = {v: i for i, v in enumerate(net.watch)}
        for t in net.tables:
            felt = [v for v in t.vars if free[v] & (free[v] - 1)]
            least = min((group[v] for v in felt), default=0)
            joined = {group[v] for v in felt} - {least}
            if joined:
                group.update((v, least) for v, g in group.items() if g in joined)
        homes_of: dict[int, list[int]] = {}
        for v in sorted(masks):
            homes_of.setdefault(group.get(v, -1 - v), []).append(v)
        q.memo[key] = [
            (tuple(vars_), network([t for t in net.tables if any(group[v] == g and free[v] & (free[v] - 1) for v in t.vars)]))
            for g, vars_ in homes_of.items()]
    return q.memo[key]


def slot_tables(q: Question, slot: str, used: set[int]) -> dict[int, Table]:
    """The tables of one slot that say anything about these variables, by their place among the base tables."""
    place = q.book.layout.places[slot]
    if ("own", slot) not in q.memo:
        q.memo["own", slot] = {i: t for i, (t, h) in enumerate(_base(q)) if h == {slot}}
    own = q.memo["own", slot]
    asked = {v for v in used if v in place.parents}
    parts = [c for c in q.space.candidates[slot] if c.kind != "none"]
    if len(parts) > 1:
        asked |= {place.attributes[a] for c in parts for a in c.masks}
    felt = kind_tables(place, asked)
    idle = [t for t in place.tables if not any(t is x for x in felt)]
    return {i: t for i, t in own.items() if not any(t is x for x in idle)}


def kind_tables(place: Place, vars_: Iterable[int]) -> list[Table]:
    """Those of the tables which a kind imposes that some attributes can feel, by what decides whether they apply."""
    asked = {*vars_, *place.never}
    todo = list(asked)
    while todo:
        for parent in place.parents.get(todo.pop(), ()):
            if parent not in asked:
                asked.add(parent)
                todo.append(parent)
    conditional = [v for v, parents in place.parents.items() if parents]
    return [t for v, t in zip(conditional, place.tables) if v in asked] + list(place.tables[len(conditional):])


def _base(q: Question) -> list[tuple[Table, frozenset[str]]]:
    """The base tables, each with the slots that it speaks of."""
    if "homes" not in q.memo:
        q.memo["homes"] = [(t, homes(q.space, t)) for t in q.base.tables]
    return q.memo["homes"]


def plain_ties(q: Question) -> list[tuple[int, Table, frozenset[str], frozenset[int]]]:
    """The tables other than derived variables' that hold several slots together, with their place and those slots.

    The last is the words of origin that are not settled, where the table says nothing as soon as they are not so:
    such a table is felt only by what speaks of one of them.
    """
    if "plain ties" not in q.memo:
        q.memo["plain ties"] = _plain_ties(q)
    return q.memo["plain ties"]


def _plain_ties(q: Question) -> list[tuple[int, Table, frozenset[str], frozenset[int]]]:
    out = []
    for i, (t, h) in enumerate(_base(q)):
        if len(h) > 1 and not any(v in q.space.feeds for v in t.vars) and not holds(t, q.free_dom):
            words = frozenset(v for v in t.vars if not q.space.homes[v] and q.free_dom[v] == 3)
            without = list(q.free_dom)
            for v in words:
                without[v] = 2
            out.append((i, t, h, words if words and holds(t, without) else frozenset()))
    return out
