"""What to tell of a decided question: which cases each rule may come to, and what to add, always or only if."""
from __future__ import annotations

from typing import NamedTuple, Sequence

from .decision import reaches
from .islands import apart, islands
from .verdict import Decision
from .question import Question
from .model import ADDITIONS, CANNOT_TELL, FAILS, Instance
from .outcome import OUT, Box, Key, Unit


class Reason(NamedTuple):
    """One rule with the cases it may come to (in their order) and the verdict each leads to."""

    inst: Instance
    cases: tuple[tuple[int, int], ...]      # (case, verdict after additions)
    blocked: tuple[Key, ...]                # additions that were ruled out
    boxes: tuple[Box, ...]                  # reachable boxes of its unit
    position: int                           # of the rule in its unit
    unit: Unit
    found: int                              # number of the boxes of its unit

    @property
    def worst(self) -> int:
        return max(v for _, v in self.cases)

    @property
    def settled(self) -> bool:
        return len(self.cases) == 1


class Adding(NamedTuple):
    """What to add: always; one of several ways; only where some boxes are."""

    certain: tuple[Key, ...]
    one_of: tuple[tuple[tuple[Key, ...], ...], ...]
    only_if: tuple[tuple[tuple[Box, ...], tuple[Key, ...]], ...]


def view(q: Question, d: Decision) -> tuple[int, ...]:
    """The domain that findings speak of: with the choice made where one is good for all."""
    if d.choice is not None:
        return d.choice.dom
    return q.free_dom if d.verdict == FAILS or 0 in q.dom else q.dom


def reachable(q: Question, dom: Sequence[int]) -> list[tuple[Box, ...]]:
    """The boxes of every unit that some assignment within `dom` reaches."""
    out = [found.boxes for found in q.found]
    for island in islands(q):
        key = ("live", tuple([dom[v] for v in island.vars]))
        memo = island.question.memo
        if key not in memo:
            seen: dict = {}
            memo[key] = [tuple(b for b in boxes if reaches(island.question, dom, b, seen)[0])
                         for boxes in island.question.boxes]
        for i, live in zip(island.at, memo[key]):
            out[i] = live
    seen = {}
    for i in apart(q):
        if len(out[i]) > 1:
            out[i] = tuple(b for b in out[i] if reaches(q, dom, b, seen)[0])
    return out


def reasons(q: Question, live: Sequence[tuple[Box, ...]]) -> list[Reason]:
    """One reason a rule in question, in the order of the book; rules out of question everywhere are left out."""
    out = []
    for unit, found, boxes in zip(q.units, q.found, live):
        for i in unit.speaks:
            p = unit.rules[i]
            cases: dict[int, int] = {}
            blocked: list[Key] = []
            for b in boxes:
                c = b.cases[i]
                if c == OUT:
                    continue
                verdict = p.inst.cases[c].verdict
                if verdict == ADDITIONS and b.verdict == FAILS and b.blocked:
                    mine = {(a, s) for alt in p.inst.cases[c].additions for a in alt for s in (None, p.inst.slot)}
                    here = [k for k in b.blocked if k in mine]
                    if here:
                        verdict = FAILS
                        blocked += [k for k in here if k not in blocked]
                elif verdict > b.verdict:
                    verdict = b.verdict
                if p.right:
                    verdict = 0
                cases[c] = max(verdict, cases.get(c, 0))
            if cases:
                out.append(Reason(p.inst, tuple(sorted(cases.items())), tuple(blocked), boxes, i, unit, found.id))
    order = {inst.key: n for n, inst in enumerate(q.book.rules)}
    return sorted(out, key=lambda r: order[r.inst.key])


def adding(q: Question, live: Sequence[tuple[Box, ...]]) -> Adding:
    """Sort the additions of every unit by whether they are needed always, in one of several ways, or only sometimes."""
    certain: list[Key] = []
    one_of: list[tuple[tuple[Key, ...], ...]] = []
    only_if: list[tuple[tuple[Box, ...], tuple[Key, ...]]] = []
    for unit, boxes in zip(q.units, live):
        if not any(b.options for b in boxes):
            continue
        beside = {k for i, p in enumerate(unit.rules) if i not in (*unit.speaks, *unit.felt)
                  for k in q.book.layout.ready[p.inst.key].plans}
        mine = {k for i in (*unit.speaks, *unit.felt) for k in q.book.layout.ready[unit.rules[i].inst.key].plans}
        boxes = tuple(b._replace(options=tuple(dict.fromkeys(o - (beside - mine) for o in b.options))) for b in boxes)
        fine = [b for b in boxes if b.verdict <= ADDITIONS]
        if not fine:
            continue
        each = [frozenset.intersection(*b.options) if b.options else frozenset() for b in fine]
        always = frozenset.intersection(*each) if len(fine) == len(boxes) else frozenset()
        certain += [k for k in sorted(always, key=str) if k not in certain]
        groups: dict[tuple[tuple[Key, ...], ...], list[Box]] = {}
        for b in fine:
            ways = tuple(dict.fromkeys(tuple(sorted(o - always, key=str)) for o in b.options))
            groups.setdefault(ways, []).append(b)
        for ways, where in groups.items():
            if not ways or () in ways:      # nothing to add, or only because of a way that another rule offers
                continue
            if len(where) == len(boxes):
                if ways not in one_of:
                    one_of.append(ways)
            else:
                only_if.append((tuple(where), ways[0]))
    return Adding(tuple(certain), tuple(one_of), tuple(only_if))


def deciding(found: Sequence[Reason], verdict: int, asked: frozenset[str] = frozenset()) -> Reason | None:
    """The one rule that best says why: it comes to the verdict on its own, settled before unsettled.

    Of the unsettled, one of those that the first question is about (`asked`), so that reason and question agree.
    """
    mine = [r for r in found if r.worst == verdict]
    if verdict == FAILS:
        mine = [r for r in found if all(v == FAILS for _, v in r.cases)]
    elif verdict == CANNOT_TELL or not mine:        # one that may even fail leaves it as open as one that cannot tell
        mine = [r for r in found if r.worst >= verdict]
    return min(mine, key=lambda r: (not r.settled, r.inst.key not in asked), default=None)
