"""One question: a space, the rules in question as units, and each unit's boxes on the narrowed domain."""
from __future__ import annotations

from typing import NamedTuple, Sequence

from .build import Build
from .model import Book, Instance
from .derived import make_space
from .origin import bound_by_facts
from .outcome import Box, Prepared, Unit, boxes_of, prepare
from .plans import Key, Plan, make_plan
from .space import Space
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


def make_rule(book: Book, build: Build, space: Space, rule: Instance) -> tuple[Prepared, dict[Key, Plan], set[int]]:
    """A rule on the space's variables, the additions it may call for, and the variables that it or they touch."""
    right = set(build.right)
    p = prepare(book, space, rule, (rule.rule, rule.slot) in right or (rule.rule, None) in right)
    plans: dict[Key, Plan] = {}
    todo = [a for c in rule.cases for alt in c.additions for a in alt]
    while todo:
        a = todo.pop()
        plan = make_plan(book, build, space, rule, a)
        if plan.key not in plans:
            plans[plan.key] = plan
            todo += book.data["additions"][a].get("needs") or ()
    tests = [t for rows in p.cases for row in rows for t in row]
    touched = {v for t in tests for v in (t[1:3] if t[0] == "same" else t[1:2])} | set(p.gates)
    for plan in plans.values():
        touched |= set(plan.sets) | {x for how, x in plan.sets.values() if how == "as"}
    return p, plans, touched


def make_units(book: Book, build: Build, space: Space, rules: Sequence[Instance], known: dict) -> tuple[Unit, ...]:
    """Group rules that an addition ties together; every other rule is a unit of its own."""
    for r in rules:
        if ("rule", r.key) not in known:
            known["rule", r.key] = make_rule(book, build, space, r)
    made = [known["rule", r.key] for r in rules]
    prepared, plans_of = [p for p, _, _ in made], [plans for _, plans, _ in made]
    set_by = {v for plans in plans_of for plan in plans.values() for v in plan.sets}
    parent = list(range(len(prepared)))

    def root(i: int) -> int:
        while parent[i] != i:
            i = parent[i]
        return i

    owner: dict[int, int] = {}
    for i, (_, _, touched) in enumerate(made):
        for v in sorted(touched & set_by):
            parent[root(i)] = root(owner.setdefault(v, i))
    groups: dict[int, list[int]] = {}
    for i in range(len(prepared)):
        groups.setdefault(root(i), []).append(i)
    return tuple(Unit(tuple(prepared[i] for i in g), {k: v for i in g for k, v in plans_of[i].items()})
                 for g in groups.values())


def question_space(book: Book, build: Build, rules: Sequence[Instance], stops: Sequence[Instance] = (),
                   drop: frozenset = frozenset()) -> Space:
    """The space of rules and stops, without worlds in which a word of origin hides an established failure."""
    space = make_space(book, build, tuple(rules) + tuple(stops), drop)
    return bound_by_facts(book, space, rules, [r for r in build.right if ("right", *r) not in drop])


def ask(book: Book, build: Build, space: Space, rules: Sequence[Instance],
        known: dict | None = None, buying: frozenset[str] | None = None) -> Question:
    """Work out the narrowed domains and every unit's boxes; `known` keeps what was worked out between questions on one space."""
    known = {} if known is None else known
    base = network(space.tables)
    free = list(space.dom)
    consistent = not space.empty and propagate(free, base)
    if consistent:
        found = search(free, base, limit=NODES)
        consistent = found.dom is not None or found.limit
    if not consistent:
        return Question(book, space, (), (), base, base, (), (), False, False, known)
    dom = list(free)
    for slot, bit in space.free.items():
        if buying is not None and slot not in buying:
            continue            # these rules do not look at it, so what to buy there is no matter of theirs
        dom[space.part[slot]] &= ~bit
    if 0 not in dom and not propagate(dom, base):
        dom = [0] * len(dom)
    units = make_units(book, build, space, rules, known)
    boxes, limit = [], False
    for unit in units:
        key = tuple(p.inst.key for p in unit.rules)
        if key not in known:
            got, hit = boxes_of(book, unit, free, space.values, lambda state, v: possible(base, state, v))
            known[key] = tuple(got), hit or any(b.limited for b in got)
        boxes.append(known[key][0])
        limit = limit or known[key][1]
    near = network(relevant(space, boxes, known))
    return Question(book, space, tuple(dom), tuple(free), base, near, units, tuple(boxes), True, limit, known)


def relevant(space: Space, boxes: Sequence[Sequence[Box]], known: dict) -> tuple[Table, ...]:
    """The base tables that touch what the rules read; the others hold by themselves and need not be asked again."""
    if "homes" not in known:
        known["homes"] = [frozenset(s for v in t.vars for s in space.homes[v]) for t in space.tables]
    homes = known["homes"]
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


