"""A word of origin cannot stand against facts.

A rule may let parts pass because they came together from one donor, or were made for each other. That is a reason to
believe what nobody has measured; it does not change what was. So a world in which only such a word saves a rule from
a failure that its other tests have established is not a world that can be.
"""
from __future__ import annotations

from typing import Sequence

from .model import FAILS, Book, Instance
from .outcome import OUT, Prepared, by_values, decide
from .space import Space, keep
from .tables import network, propagate, table

LIMIT = 3000        # boxes looked at for one rule; beyond it the rule excludes nothing, which only errs to cannot-tell


def bound_by_facts(book: Book, space: Space, rules: Sequence[Instance], right: Sequence[tuple]) -> Space:
    """The space without the worlds in which a word of origin alone hides a failure."""
    if space.empty:
        return space
    words = {v for v in book.layout.words if space.dom[v] & 1
             and not space.awaited & set(space.names[v].split(" ", 1)[1].split(" + "))}    # those are decided, not told
    asked = [r for r in rules if words & book.layout.ready[r.key].touched
             and (r.rule, r.slot) not in right and (r.rule, None) not in right]
    if not asked:
        return space
    base = network(space.tables)
    start = list(space.dom)
    if not propagate(start, base, range(space.cross, len(space.tables))):
        return space
    extra = {}
    for rule in asked:
        ready = book.layout.ready[rule.key]
        if not any(v in words and start[v] & 1 for v in ready.touched):
            continue
        key = ("origin", rule.key, tuple(space.said[s] for s in sorted(ready.slots)), space.told,
               tuple(start[v] for v in sorted(ready.touched)))
        made = keep(book, key, lambda: _bare_and_whole(ready, words, start, space, base))
        if made is not None:
            extra[key] = made
    return space._replace(tables=(*space.tables, *extra.values()), ties=(*space.ties, *extra)) if extra else space


def _bare_and_whole(ready, words: set[int], start: Sequence[int], space: Space, base):
    """The table of one rule: its cases as they stand, held against those that test no word of origin."""
    p: Prepared = by_values(ready.rule)
    bare = p._replace(cases=tuple(tuple(row for row in rows if not any(t[1] in words and t[2] == 1 for t in row))
                                  for rows in p.cases))
    inside = set(ready.slots)
    own = network([t for t in base.tables if {s for v in t.vars for s in space.homes[v]} <= inside])
    return None if bare.cases == p.cases else _possible(p, bare, start, space, own)


def _possible(p: Prepared, bare: Prepared, start: Sequence[int], space: Space, base):
    """A table of the boxes that can be, or None when every one can."""
    last = len(p.cases) - 1
    good: list[dict[int, int]] = []
    todo: list[tuple[list[int], frozenset[int]]] = [(list(start), frozenset())]
    cut: list[dict[int, int]] = []
    while todo:
        state, touched = todo.pop()
        if len(good) + len(todo) > LIMIT:
            return None
        with_word, without = decide(p, state, {}, space.values), decide(bare, state, {}, space.values)
        split = with_word if isinstance(with_word, tuple) else without if isinstance(without, tuple) else None
        if split is not None:
            v, mask = split
            for half in (state[v] & ~mask, state[v] & mask):
                new = list(state)
                new[v] = half
                if propagate(new, base, base.watch.get(v, ())):
                    todo.append((new, touched | {v}))
            continue
        hidden = (with_word != OUT and without not in (OUT, last) and p.inst.cases[without].verdict == FAILS
                  and p.inst.cases[with_word].verdict < FAILS)
        (cut if hidden else good).append({v: state[v] for v in touched})
    if not cut:
        return None
    asked = next(t[1] for rows in p.cases for row in rows for t in row)     # a table of no variables would bind nothing
    vars_ = tuple(sorted({v for box in good + cut for v in box})) or (asked,)
    good_rows, cut_rows = ([tuple(box.get(v, start[v]) for v in vars_) for box in boxes] for boxes in (good, cut))
    return table(vars_, good_rows, cut_rows)
