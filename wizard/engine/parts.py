"""What each part that may be in a slot can be: most questions about one slot are answered by going through its parts."""
from __future__ import annotations

from typing import Sequence

from .local import kind_tables, plain_ties
from .question import NODES, Question
from .space import keep
from .tables import Network, network, propagate, search

Share = tuple[tuple[int, int], ...]     # variables of one slot, each with the values asked for


def apart_slots(q: Question) -> frozenset[str]:
    """The slots whose parts nothing ties to others and whose attributes are not ours to set."""
    if "apart slots" not in q.memo:
        space, book = q.space, q.book
        tied = {s for _, _, h, _ in plain_ties(q) for s in h}
        q.memo["apart slots"] = frozenset(
            s for s in space.part if s not in tied and all(
                v not in space.ours and q.free_dom[v] == space.dom[v] for v in book.layout.places[s].attributes.values())
            and q.free_dom[space.part[s]] == space.dom[space.part[s]])
    return q.memo["apart slots"]


def parts_meet(q: Question, dom: Sequence[int], masks: dict[int, int]) -> bool | None:
    """Whether some parts left to their slots can have what a box asks of them; None where something ties these slots."""
    apart, shares = apart_slots(q), {}
    for v, m in masks.items():
        home = q.space.homes[v]
        if len(home) != 1 or home[0] not in apart or v in q.space.feeds:
            return None
        shares.setdefault(home[0], []).append((v, m))
    return all(_some_part_has(q, dom, slot, tuple(share)) for slot, share in shares.items())


def _some_part_has(q: Question, dom: Sequence[int], slot: str, share: Share) -> bool:
    space = q.space
    left = dom[space.part[slot]]
    key = (slot, left, share)
    memo = keep(q.book, ("parts", space.said[slot]), dict)
    if key not in memo:
        memo[key] = any(left >> i & 1 and part_has(q, dom, slot, i, share) for i in range(len(slot_rows(q, slot))))
    return memo[key]


def part_has(q: Question, dom: Sequence[int], slot: str, candidate: int, share: Share) -> bool:
    """Whether one candidate of a slot can have its share of a box; the share lies within `dom`."""
    row, plain = slot_rows(q, slot)[candidate]
    if not row or not all(m & row[v] for v, m in share):
        return False
    return plain or not any(row[v] & (row[v] - 1) for v, _ in share) or _can_have(q, dom, slot, candidate, share)


def slot_rows(q: Question, slot: str) -> list[tuple[dict[int, int] | None, bool]]:
    """For each candidate of a slot its own domains, and whether nothing in them is left open."""
    key = ("rows", slot)
    memo = keep(q.book, ("parts", q.space.said[slot]), dict) if slot in apart_slots(q) else q.memo
    if key not in memo:
        space, rows = q.space, []
        net = _slot_net(q, slot)
        for i in range(len(space.candidates[slot])):
            dom = list(q.free_dom)
            dom[space.part[slot]] &= 1 << i
            if not dom[space.part[slot]] or not propagate(dom, net):
                rows.append((None, True))
                continue
            own = {v: dom[v] for v in net.watch}
            rows.append((own, not any(m & (m - 1) for m in own.values())))
        memo[key] = rows
    return memo[key]


def _slot_net(q: Question, slot: str) -> Network:
    key = ("net", slot)
    if key not in q.memo:
        q.memo[key] = network([t for t in q.base.tables if {s for v in t.vars for s in q.space.homes[v]} == {slot}])
    return q.memo[key]


def _can_have(q: Question, start: Sequence[int], slot: str, candidate: int, share) -> bool:
    """Whether a candidate whose attributes are not all fixed can have its share, asked of what its kind imposes."""
    vars_ = [v for v, _ in share]
    key = ("felt", slot, *vars_)
    if key not in q.memo:
        q.memo[key] = network(kind_tables(q.book.layout.places[slot], vars_))
    net, row = q.memo[key], slot_rows(q, slot)[candidate][0]
    felt = {*net.watch, *vars_}
    dom = [1] * (max(felt) + 1)
    for v in felt:
        dom[v] = row[v] & start[v]
    for v, m in share:
        dom[v] &= m
    if 0 in dom:
        return False
    found = search(dom, net, limit=NODES)
    return found.dom is not None or found.limit
