"""One question: a space, the rules in question as units, and each unit's boxes on the narrowed domain."""
from __future__ import annotations

from typing import NamedTuple, Sequence

from .build import Build
from .model import Book, Instance
from .derived import make_space
from .groups import groups, make_unit
from .origin import bound_by_facts
from .outcome import Box, Unit, boxes_of
from .space import Space, keep
from .tables import Network, Table, network, propagate, search, table

NODES = 20000           # search nodes of one satisfiability question


class Question(NamedTuple):
    """A space with its rules as units, each with its boxes on the narrowed domain."""

    book: Book
    space: Space
    dom: tuple[int, ...]            # narrowed by the base tables, open parts among the listed ones
    free_dom: tuple[int, ...]       # the same with open parts also freely specified
    base: Network
    near: Network                   # the base tables that the rules can feel
    units: tuple[Unit, ...]
    boxes: tuple[tuple[Box, ...], ...]      # of each unit, on free_dom
    consistent: bool
    limit: bool
    memo: dict                      # what was worked out about the space itself, shared by all questions on it


def question_space(book: Book, build: Build, rules: Sequence[Instance], stops: Sequence[Instance] = (),
                   drop: frozenset = frozenset()) -> Space:
    """The space of rules and stops, without worlds in which a word of origin hides an established failure."""
    space = make_space(book, build, (*rules, *stops), drop)
    return bound_by_facts(book, space, rules, [r for r in build.right if ("right", *r) not in drop])


def ask(book: Book, build: Build, space: Space, rules: Sequence[Instance],
        known: dict | None = None, buying: frozenset[str] | None = None) -> Question:
    """Work out the narrowed domains and every unit's boxes.

    `known` keeps what was worked out of one space between questions on it; `buying` names the slots whose lack of a
    listed part matters here (all by default).
    """
    known = {} if known is None else known
    if "base" not in known:
        base = network(space.tables)
        free = list(space.dom)
        consistent = not space.empty and 0 not in free and propagate(free, base)
        if consistent:
            found = search(free, base, limit=NODES, start=())
            consistent = found.dom is not None or found.limit
        known["base"] = base, tuple(free), consistent
    base, free, consistent = known["base"]
    if not consistent:
        return Question(book, space, (), (), base, base, (), (), False, False, known)
    dom = list(free)
    shut = [s for s in space.free if buying is None or s in buying]
    for slot in shut:
        dom[space.part[slot]] &= ~space.free[slot]
    if shut and 0 not in dom and not propagate(dom, base, [i for s in shut for i in base.watch[space.part[s]]]):
        dom = [0] * len(dom)
    units = tuple(make_unit(book, build, g, speaks) for g, speaks in groups(book, rules))
    boxes = [unit_boxes(book, space, unit, free, known) for unit in units]
    limit = any(hit for _, hit in boxes)
    near = network(relevant(space, [b for b, _ in boxes], known))
    return Question(book, space, tuple(dom), free, base, near, units, tuple(b for b, _ in boxes), True, limit, known)


def unit_boxes(book: Book, space: Space, unit: Unit, free: Sequence[int], known: dict) -> tuple[tuple[Box, ...], bool]:
    """A unit's boxes and whether a limit was hit; kept for as long as nothing that the unit can feel is told anew."""
    ready = [book.layout.ready[p.inst.key] for p in unit.rules]
    touched = sorted({v for r in ready for v in r.touched})
    slots = sorted({s for r in ready for s in r.slots})
    key = ("boxes", tuple((p.inst.key, p.right) for p in unit.rules),
           tuple(k for k, plan in unit.plans.items() if plan.blocked), tuple(space.said[s] for s in slots),
           tuple(free[v] for v in touched), space.told)

    def make() -> tuple[tuple[Box, ...], bool]:
        inside = set(slots)
        own = network([t for t, h in zip(space.tables, table_homes(space, known)) if h and h <= inside])
        got, hit = boxes_of(book, unit, free, space.values, lambda state, v: possible(own, state, v))
        return tuple(got), hit or any(b.limited for b in got)

    return keep(book, key, make)


def table_homes(space: Space, known: dict) -> list[frozenset[str]]:
    """The slots that each base table speaks of."""
    if "homes" not in known:
        known["homes"] = [frozenset(s for v in t.vars for s in space.homes[v]) for t in space.tables]
    return known["homes"]


def relevant(space: Space, boxes: Sequence[Sequence[Box]], known: dict) -> tuple[Table, ...]:
    """The base tables that touch what the rules read; the others hold by themselves and need not be asked again."""
    homes = table_homes(space, known)
    slots = {s for unit in boxes for b in unit for v in b.masks for s in space.homes[v]}
    grew = True
    while grew:
        grew = False
        for h in homes:
            if h & slots and not h <= slots:
                slots |= h
                grew = True
    return tuple(t for t, h in zip(space.tables, homes) if h & slots or not h)


def ours_in(q: Question) -> tuple[int, ...]:
    """The variables that are ours to choose and that some rule in question can tell apart."""
    watched = {v for t in q.near.tables for v in t.vars} | {v for unit in q.boxes for b in unit for v in b.masks}
    return tuple(sorted(q.space.ours & watched))


def possible(base: Network, state: list[int], changed: int) -> bool:
    """Narrow `state` by what follows from a change of one variable; False when the base tables leave nothing."""
    return propagate(state, base, base.watch.get(changed, ()))


def unit_table(boxes: Sequence[Box], dom: Sequence[int], worst: int) -> Table | None:
    """The boxes of a unit that are no worse than `worst` as a table; None when that is all of them."""
    if all(b.verdict <= worst for b in boxes):
        return None
    vars_ = tuple(sorted({v for b in boxes for v in b.masks}))
    rows = [(b.verdict <= worst, tuple(b.masks.get(v, dom[v]) for v in vars_)) for b in boxes]
    return table(vars_, [row for good, row in rows if good], [row for good, row in rows if not good])


def rule_tables(q: Question, worst: int) -> list[Table] | None:
    """Tables that hold exactly where every unit is no worse than `worst`; None if some unit never is."""
    out = []
    for boxes in q.boxes:
        allowed = unit_table(boxes, q.free_dom, worst)
        if allowed is not None:
            if not allowed.boxes:
                return None
            if allowed.vars:
                out.append(allowed)
    return out


def to_specify(space: Space, slot: str) -> bool:
    """Whether a slot's part is made to order, so that its attributes are ours."""
    return [c.kind for c in space.candidates[slot]] == ["free"] and slot not in space.free
