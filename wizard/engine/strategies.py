"""A choice for each outcome: unknown worlds and choices played against each other until one side has no answer."""
from __future__ import annotations

from typing import Sequence

from .decision import Choice, choice_for_all
from .model import ADDITIONS
from .question import NODES, Question, to_specify
from .tables import moved, network, propagate, search, table

STRATEGIES = 12         # choices held against the unknown worlds


def choice_for_each(q: Question) -> tuple[tuple[Choice, ...], bool]:
    """Choices such that every world has a good one: (choices or none, cut short)."""
    ours_slots = _slots_we_choose(q)
    if not ours_slots:
        return (), False
    mirrored = _Mirror(q, ours_slots)
    strategies: list[Choice] = []
    while len(strategies) < STRATEGIES:
        found = mirrored.world_against(strategies)
        if found.limit:
            return (), True
        if found.dom is None:
            return tuple(strategies), False
        narrowed = [found.dom[v] if v in mirrored.shared else q.dom[v] for v in range(len(q.dom))]
        if not propagate(narrowed, q.base):
            return (), True
        choice, cut = choice_for_all(q, ADDITIONS, narrowed)
        if choice is None:
            return (), cut
        made = choice.made
        fixed = [made.get(v, d) for v, d in enumerate(q.dom)]
        if not propagate(fixed, q.base):
            return (), True
        strategies.append(Choice(tuple(fixed), made))
    return (), True


def _slots_we_choose(q: Question) -> frozenset[str]:
    return frozenset(s for v in q.space.ours for s in (q.space.feeds.get(v) or (q.space.names[v].split(".")[0],))
                     if s in q.space.part and (q.space.part[s] in q.space.ours
                                               or to_specify(q.space, s)))


class _Mirror:
    """The unknown world shared by all choices, beside a copy of each choice's own parts.

    What a chosen part's own attributes are is not the same unknown for two different parts, so each strategy has its
    own copy of the variables of chosen slots and of what is derived from them.
    """

    def __init__(self, q: Question, ours_slots: frozenset[str]) -> None:
        self.q = q
        own = set()
        for v, name in enumerate(q.space.names):
            slots = set(q.space.feeds.get(v, ())) or {name.split(".")[0]}
            if slots & ours_slots or (name.startswith("same ") and any(
                    n.split(".")[0] in ours_slots for n in name.split(" ")[1:])):
                own.add(v)
        self.own = tuple(sorted(own))
        self.shared = frozenset(range(len(q.dom))) - own

    def world_against(self, strategies: Sequence[Choice]):
        """A world in which every strategy so far comes to worse than works-with-additions."""
        q, n = self.q, len(self.q.dom)
        dom = list(q.dom)
        tables = list(q.base.tables)
        for k, strategy in enumerate(strategies):
            at = {v: n + k * len(self.own) + i for i, v in enumerate(self.own)}
            dom += [strategy.dom[v] for v in self.own]
            tables += [moved(t, at) for t in q.base.tables if any(v in at for v in t.vars)]
            bad = [b for boxes in q.boxes for b in boxes if b.verdict > ADDITIONS]
            vars_ = tuple(sorted({at.get(v, v) for b in bad for v in b.masks}))
            back = {w: v for v, w in at.items()}
            tables.append(table(vars_, tuple(tuple(b.masks.get(back.get(w, w), dom[w]) for w in vars_) for b in bad)))
        net = network(tables)
        return search(dom, net, over=[v for v in sorted(self.shared) if v in net.watch], limit=NODES)
