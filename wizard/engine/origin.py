"""A word of origin cannot stand against facts.

A rule may let parts pass because they came together from one donor, or were made for each other. That is a reason to
believe what nobody has measured; it does not change what was. So a world in which only such a word saves a rule from
a failure that its other tests have established is not a world that can be.
"""
from __future__ import annotations

from typing import Sequence

from .model import FAILS, Book, Instance
from .outcome import OUT, Prepared, decide, prepare
from .space import Space
from .tables import network, propagate, table

LIMIT = 3000        # boxes looked at for one rule; beyond it the rule excludes nothing, which only errs to cannot-tell


def bound_by_facts(book: Book, space: Space, rules: Sequence[Instance], right: Sequence[tuple]) -> Space:
    """The space without the worlds in which a word of origin alone hides a failure."""
    if space.empty:
        return space
    extra = []
    base = network(space.tables)
    start = list(space.dom)
    if not propagate(start, base):
        return space
    for rule in rules:
        if (rule.rule, rule.slot) in right or (rule.rule, None) in right:
            continue
        words = {v for v, name in enumerate(space.names) if name.startswith(("came_together ", "made_for "))}
        p = prepare(book, space, rule)
        bare = p._replace(cases=tuple(tuple(row for row in rows if not any(t[1] in words for t in row))
                                      for rows in p.cases))
        if bare.cases != p.cases and any(start[t[1]] & 1 for rows in p.cases for row in rows for t in row if t[1] in words):
            made = _possible(p, bare, start, space, base)
            if made is not None:
                extra.append(made)
    return space._replace(tables=space.tables + tuple(extra)) if extra else space


def _possible(p: Prepared, bare: Prepared, start: Sequence[int], space: Space, base):
    """A table of the boxes that can be, or None when every one can."""
    last = len(p.cases) - 1
    good: list[dict[int, int]] = []
    todo: list[tuple[list[int], frozenset[int]]] = [(list(start), frozenset())]
    cut = False
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
        if hidden:
            cut = True
        else:
            good.append({v: state[v] for v in touched})
    if not cut:
        return None
    vars_ = tuple(sorted({v for box in good for v in box} or {p.gates[0] if p.gates else 0}))
    return table(vars_, [tuple(box.get(v, start[v]) for v in vars_) for box in good])
