"""A question cut into islands: rules that share nothing undecided can be answered apart.

What is told fixes most of a build, and a fixed variable ties nothing together. Two rules belong to one island when
both look at something undecided about one slot, or when a table (a sum over chosen parts, sameness told across slots,
matched sets, a word of origin) ties the slots they look at. The worlds of the whole are all combinations of the
islands' worlds, and so are the choices, so the verdict of the whole is the worst of the islands' verdicts. An island
that nothing told anew concerns keeps what was worked out of it.
(Independent subproblems of a constraint network: Freuder and Quinn, IJCAI 1985, cited from memory.)
"""
from __future__ import annotations

from typing import Hashable, NamedTuple

from .layout import match_tables
from .question import Question
from .space import Space, keep
from .tables import Table, holds, network

Node = Hashable         # a slot, or the number of a variable that belongs to none


class Island(NamedTuple):
    """Some units of a question: where they stand in it, the question of them alone, and all that it can feel."""

    at: tuple[int, ...]
    question: Question
    vars: tuple[int, ...]


def islands(q: Question) -> tuple[Island, ...]:
    """The islands of a question. Units that come to the same whatever happens, and choose nothing, are on none."""
    if "islands" not in q.memo:
        q.memo["islands"] = tuple(_islands(q))
    return q.memo["islands"]


def apart(q: Question) -> tuple[int, ...]:
    """The places of the units that are on no island: each comes to one verdict whatever is unknown or chosen."""
    if "apart" not in q.memo:
        inside = {i for island in islands(q) for i in island.at}
        q.memo["apart"] = tuple(i for i in range(len(q.units)) if i not in inside)
    return q.memo["apart"]


class _Bridges:
    """Which nodes hang together (union-find)."""

    def __init__(self) -> None:
        self.up: dict[Node, Node] = {}

    def root(self, x: Node) -> Node:
        up = self.up
        if x not in up:
            up[x] = x
        while up[x] != x:
            up[x] = up[up[x]]
            x = up[x]
        return x

    def join(self, nodes: list[Node]) -> None:
        for other in nodes[1:]:
            a, b = self.root(nodes[0]), self.root(other)
            if a != b:
                self.up[b] = a


def _islands(q: Question) -> list[Island]:
    space, free = q.space, q.free_dom
    choosing = {s for v in space.ours for s in space.homes[v]}
    bridges, first = _Bridges(), {}
    read: set[int] = set()
    for i, found in enumerate(q.found):
        if not found.vars or found.alike and not any(s in choosing for v in found.vars for s in space.homes[v]):
            continue
        nodes = _nodes(space, found.vars)
        bridges.join(nodes)
        first[i] = nodes[0]
        read.update(found.vars)
    if not first:
        return []
    ties: list[tuple[tuple, Table, Node]] = []
    for key, t in zip(space.ties, space.tables[space.cross:]):
        worked_out = [v for v in t.vars if v in space.feeds and not space.names[v].startswith("aim ")]
        if worked_out and not any(v in read for v in worked_out) or holds(t, free):
            continue
        nodes = _nodes(space, [v for v in t.vars if free[v] & (free[v] - 1)])
        if nodes:
            bridges.join(nodes)
            ties.append((key, t, nodes[0]))
    units: dict[Node, list[int]] = {}
    for i, node in first.items():
        units.setdefault(bridges.root(node), []).append(i)
    tied: dict[Node, list[tuple[tuple, Table]]] = {}
    for key, t, node in ties:
        tied.setdefault(bridges.root(node), []).append((key, t))
    return [_island(q, at, tied.get(root, [])) for root, at in units.items()]


def _nodes(space: Space, vars_) -> list[Node]:
    """What variables hang on: the slots about which something is undecided; the variable itself where it has none,
    or where it is worked out, so that rules that read one number are answered together."""
    out: dict[Node, None] = {}
    for v in vars_:
        near = [s for s in space.homes[v] if s in space.live]
        if not near or v in space.feeds:
            out[v] = None
        out.update(dict.fromkeys(near))
    return list(out)


def _island(q: Question, at: list[int], ties: list[tuple[tuple, Table]]) -> Island:
    """The island of some units, with what was worked out of it before where nothing of it is told anew."""
    space = q.space
    felt = {v for i in at for v in q.found[i].vars} | {v for _, t in ties for v in t.vars}
    slots = sorted({s for v in felt for s in space.homes[v]})
    tables = [t for s in slots for t in space.tables[slice(*space.own[s])]]
    felt.update(v for t in tables for v in t.vars)
    vars_ = tuple(sorted(felt))
    moved = [(v, q.free_dom[v], q.dom[v]) for v in vars_
             if q.free_dom[v] != space.dom[v] or q.dom[v] != q.free_dom[v] or not space.homes[v]]
    key = ("island", tuple([q.found[i].id for i in at]), tuple([space.said[s] for s in slots]), space.told,
           tuple([k for k, _ in ties]), tuple(moved))

    def make() -> Question:
        base = network([*tables, *(t for _, t in ties), *match_tables(q.book, felt)])
        return q._replace(units=tuple(q.units[i] for i in at), found=tuple(q.found[i] for i in at), memo={"base": base})

    return Island(tuple(at), keep(q.book, key, make), vars_)
