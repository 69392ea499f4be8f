"""Constraint tables over small domains: propagation and search.

A domain is an int whose set bits are the values still possible. A table is a union of boxes, each box a mask per
variable of the table: the assignment must lie in at least one box. Propagation keeps exactly the values that some
live box supports (generalised arc consistency; for unions of boxes compare smart tables, Mairy, Deville and Lecoutre,
CPAIOR 2015, and for live boxes as one bit set compact tables, Demeulenaere et al., CP 2016). Variable order: smallest
domain over conflict weight (Boussemart, Hemery, Lecoutre and Sais, ECAI 2004). All cited from memory.
"""
from __future__ import annotations

from typing import NamedTuple, Sequence


class Table(NamedTuple):
    """Variables and the boxes of which one must hold. `bad` are boxes that cover what the others leave out, if known.

    `seen` and `kept` remember, for each variable, which boxes a domain leaves alive and what live boxes support, and
    `held` whether the table holds: it is asked thousands of times about a few dozen domains.
    """

    vars: tuple[int, ...]
    boxes: tuple[tuple[int, ...], ...]
    bad: tuple[tuple[int, ...], ...] | None
    seen: tuple[dict[int, int], ...]
    kept: tuple[dict[int, int], ...]
    held: dict[tuple[int, ...], bool]


class Found(NamedTuple):
    """What a search came to: `dom` is a full assignment or None; `limit` says that it was cut short."""

    dom: list[int] | None
    limit: bool


class Network(NamedTuple):
    """Tables with the index of which of them a variable touches."""

    tables: tuple[Table, ...]
    watch: dict[int, tuple[int, ...]]


def table(vars_: Sequence[int], boxes: Sequence[tuple[int, ...]], bad: Sequence[tuple[int, ...]] | None = None) -> Table:
    """A table ready to be asked."""
    n = len(vars_)
    return Table(tuple(vars_), tuple(boxes), None if bad is None else tuple(bad),
                 tuple({} for _ in range(n)), tuple({} for _ in range(n)), {})


def moved(t: Table, to: dict[int, int]) -> Table:
    """The same table over other variables; it goes on remembering together with the first."""
    return t._replace(vars=tuple(to.get(v, v) for v in t.vars))


def network(tables: Sequence[Table]) -> Network:
    """Index the tables by variable."""
    watch: dict[int, list[int]] = {}
    for i, t in enumerate(tables):
        for v in t.vars:
            watch.setdefault(v, []).append(i)
    return Network(tuple(tables), {v: tuple(ids) for v, ids in watch.items()})


def live_boxes(t: Table, dom: Sequence[int]) -> int:
    """The boxes that the domains leave alive, as bits."""
    live = -1
    for k, v in enumerate(t.vars):
        d = dom[v]
        memo = t.seen[k]
        alive = memo.get(d)
        if alive is None:
            alive = 0
            for i, box in enumerate(t.boxes):
                if box[k] & d:
                    alive |= 1 << i
            memo[d] = alive
        live &= alive
        if not live:
            return 0
    return live


def support(t: Table, k: int, live: int) -> int:
    """The values of the table's variable `k` that some live box has."""
    memo = t.kept[k]
    mask = memo.get(live)
    if mask is None:
        mask = 0
        left = live
        while left:
            bit = left & -left
            mask |= t.boxes[bit.bit_length() - 1][k]
            left ^= bit
        memo[live] = mask
    return mask


def propagate(dom: list[int], net: Network, start: Sequence[int] | None = None,
              weight: dict[int, int] | None = None) -> bool:
    """Narrow `dom` in place until nothing changes; False when some table has no live box left."""
    queue = list(range(len(net.tables))) if start is None else list(start)
    waiting = set(queue)
    tables, watch = net.tables, net.watch
    while queue:
        i = queue.pop()
        waiting.discard(i)
        t = tables[i]
        live = live_boxes(t, dom)
        if not live:
            if weight is not None:
                weight[i] = weight.get(i, 1) + 1
            return False
        for k, v in enumerate(t.vars):
            old = dom[v]
            if old & (old - 1):
                new = old & support(t, k, live)
                if new != old:
                    if not new:
                        return False
                    dom[v] = new
                    for j in watch[v]:
                        if j not in waiting and j != i:
                            waiting.add(j)
                            queue.append(j)
    return True


def search(dom: Sequence[int], net: Network, over: Sequence[int] = (), limit: int = 20000,
           start: Sequence[int] | None = None) -> Found:
    """Find one assignment, or that there is none, within `limit` nodes; `over` are settled first and in full.

    Lowest value first, so the order of values in a domain is the order of preference. Tables that hold whatever
    comes are not branched on. `start` names the only tables that `dom` has not been narrowed by yet (all by default).
    """
    state = list(dom)
    if 0 in state or not propagate(state, net, start):
        return Found(None, False)
    weight: dict[int, int] = {}
    nodes = 0
    open_: Sequence[int] = range(len(net.tables))     # a table that holds whatever comes goes on to hold
    stack: list[tuple[list[int], int, int, Sequence[int]]] = []   # state before the choice, variable, values to try, open
    while True:
        v = _first(state, net, over, weight)
        if v < 0:
            v, open_ = _undecided(state, net, weight, open_)
        if v < 0:
            return Found([m & -m for m in state], False)
        stack.append((state, v, state[v], open_))
        while stack:
            before, v, left, open_ = stack.pop()
            if not left:
                continue
            bit = left & -left
            stack.append((before, v, left ^ bit, open_))
            nodes += 1
            if nodes > limit:
                return Found(None, True)
            state = list(before)
            state[v] = bit
            if propagate(state, net, net.watch.get(v, ()), weight):
                break
        else:
            return Found(None, False)


def _first(state: Sequence[int], net: Network, among: Sequence[int], weight: dict[int, int]) -> int:
    best, best_score = -1, 0.0
    for v in among:
        size = state[v].bit_count()
        if size > 1:
            score = size / (sum(weight.get(i, 1) for i in net.watch.get(v, ())) or 1)
            if best < 0 or score < best_score:
                best, best_score = v, score
    return best


def _undecided(state: Sequence[int], net: Network, weight: dict[int, int],
               among: Sequence[int]) -> tuple[int, Sequence[int]]:
    """The next variable to branch on among tables that do not hold yet whatever comes, and those tables; -1 when all do."""
    best, best_score = -1, 0.0
    left: list[int] = []
    for place, i in enumerate(among):
        t = net.tables[i]
        now = tuple([state[v] for v in t.vars])
        held = t.held.get(now)
        if held is None:
            held = t.held[now] = holds(t, state)
        if held:
            continue
        left.append(i)
        for v in t.vars:
            size = state[v].bit_count()
            if size > 1:
                score = size / weight.get(i, 1)
                if best < 0 or score < best_score:
                    best, best_score = v, score
        if not weight:
            return best, among[place:]      # no conflict yet: any table will do to go on with
    return best, left


def holds(t: Table, state: Sequence[int]) -> bool:
    """Whether every assignment left is allowed, as far as is easily seen."""
    live = live_boxes(t, state)
    if live & (live - 1) == 0 or not any(state[v] & (state[v] - 1) for v in t.vars):
        return True             # one live box, and every value left is in it
    if t.bad is not None and not any(all(m & state[v] for m, v in zip(box, t.vars)) for box in t.bad):
        return True
    while live:
        bit = live & -live
        live ^= bit
        if all(state[v] & ~m == 0 for m, v in zip(t.boxes[bit.bit_length() - 1], t.vars)):
            return True
    return False
