"""Which values of a variable have a solution, when hundreds are asked of one network.

A solution answers for every value in it. Another value is first tried close to a solution that is at hand, everything
kept but the variables that share a table with it (the idea of repairing a solution: Verfaillie and Schiex, AAAI 1994,
cited from memory); only where that fails is the whole network asked.
"""
from __future__ import annotations

from typing import Mapping, NamedTuple, Sequence

from .tables import Network, holds, live_boxes, network, propagate, search

REPAIR = 60         # search nodes of one attempt close by
WHOLE = 20000       # search nodes of the whole network


class Solutions:
    """Solutions of one network within one domain, found as they are asked for."""

    def __init__(self, dom: Sequence[int], net: Network, over: Sequence[int] = ()) -> None:
        """`over` are the variables that a solution settles in full."""
        self.dom = list(dom)
        self.none = 0 in self.dom or not propagate(self.dom, net)
        self.net = network([] if self.none else [t for t in net.tables if not holds(t, self.dom)])
        self.over = over
        self.seen: set[tuple[int, int]] = set()
        self.last: Sequence[int] | None = None
        self.rooms: dict[int, _Room] = {}

    def has(self, v: int, bit: int) -> bool | None:
        """Whether some solution has this value; None where the limit was reached."""
        if self.none or not self.dom[v] & bit:
            return False
        if (v, bit) in self.seen or v not in self.net.watch and self.last is not None:
            return True
        found = self._close(v, bit)
        if found is None:
            state = list(self.dom)
            state[v] = bit
            whole = search(state, self.net, over=self.over, limit=WHOLE, start=self.net.watch.get(v, ()))
            if whole.limit:
                return None
            found = whole.dom
        if found is None:
            return False
        self.last = found
        self.seen.update((w, found[w]) for w in self.net.watch)
        self.seen.add((v, bit))
        return True

    def _close(self, v: int, bit: int) -> list[int] | None:
        """A solution that differs from the last one only near the variable."""
        if self.last is None or v not in self.net.watch:
            return None
        if v not in self.rooms:
            self.rooms[v] = _room(self.net, v, self.over)
        room = self.rooms[v]
        state = list(self.last)
        for w in room.free:
            state[w] = self.dom[w]
        state[v] = bit
        return search(state, room.net, over=room.over, limit=REPAIR).dom


def mended(dom: Sequence[int], net: Network, near: Mapping[int, int]) -> list[int] | None:
    """A solution close to `near`, which may be outside the domain or break tables; None if none is close.

    Everything keeps its value but what is outside, and what shares a table with something outside or in a broken one.
    """
    state = list(dom)
    loose = set()
    for v in net.watch:
        state[v] = near.get(v, 0) & dom[v]
        if not state[v]:
            state[v] = dom[v]
            if dom[v] & (dom[v] - 1):
                loose.add(v)
    for t in net.tables:
        if not live_boxes(t, state):
            loose.update(t.vars)
    for v in [w for v in loose for i in net.watch[v] for w in net.tables[i].vars]:
        state[v] = dom[v]
        loose.add(v)
    felt = sorted({i for v in loose for i in net.watch[v]})
    return search(state, network([net.tables[i] for i in felt]), limit=REPAIR).dom


class _Room(NamedTuple):
    """What may move when one variable takes another value: those it shares a table with, and all tables that feel it."""

    free: tuple[int, ...]
    net: Network
    over: tuple[int, ...]


def _room(net: Network, v: int, over: Sequence[int]) -> _Room:
    free = {w for i in net.watch[v] for w in net.tables[i].vars} - {v}
    felt = sorted({i for w in (v, *free) for i in net.watch[w]})
    return _Room(tuple(sorted(free)), network([net.tables[i] for i in felt]), tuple(w for w in over if w in free))
