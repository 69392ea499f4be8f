"""One question: a space, the rules in question as units, and each unit's boxes on the narrowed domain."""
from __future__ import annotations

from typing import NamedTuple, Sequence

from .build import Build
from .model import Book, Instance
from .derived import make_space
from .origin import bound_by_facts
from .outcome import Box, Unit, boxes_of
from .plans import Key, Plan, closure, key_of
from .space import Space, keep
from .tables import Network, Table, holds, network, propagate, search, table

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


def make_unit(book: Book, build: Build, rules: Sequence[Instance], speaks: tuple[int, ...]) -> Unit:
    """Rules that are answered together, with what this build takes as right and rules out."""
    right = set(build.right)
    prepared, plans = [], {}
    for rule in rules:
        ready = book.layout.ready[rule.key]
        taken = (rule.rule, rule.slot) in right or (rule.rule, None) in right
        prepared.append(ready.rule._replace(right=True) if taken else ready.rule)
        for key, plan in ready.plans.items():
            plans[key] = plan._replace(blocked=True) if is_blocked(build, plan) else plan
    return Unit(tuple(prepared), plans, speaks)


def is_blocked(build: Build, plan: Plan) -> bool:
    """Whether what the customer said rules an addition out."""
    kept = any(s in build.slots and build.slots[s].keep for s in plan.changes)
    return kept or (build.allowed_types is not None and plan.type not in build.allowed_types)


Group = tuple[tuple[Instance, ...], tuple[int, ...]]


def groups(book: Book, rules: Sequence[Instance]) -> tuple[Group, ...]:
    """Rules to be answered together, with the positions of those that the group answers for."""
    return keep(book, ("groups", tuple(r.key for r in rules)), lambda: tuple(_groups(book, rules)))


def _groups(book: Book, rules: Sequence[Instance]) -> list[Group]:
    """Rules are tied by additions: one names an addition that sets what another reads.

    Where every addition that sets something is the only way its case offers, the rules that merely read are each
    answered beside the rules that set, and not beside one another: in any world there is then one set of additions in
    the end, and the worst of all rules is the worst of those answers.
    """
    ready = {r.key: book.layout.ready[r.key] for r in rules}
    out: list[Group] = []
    for group in _tied(ready, rules):
        setting = [r for r in group if any(plan.sets for plan in ready[r.key].plans.values())]
        lone = all(len(case.additions) == 1 for r in setting for case in r.cases
                   if any(_sets(ready[r.key].plans, r, book, alt) for alt in case.additions))
        if len(group) == 1 or not lone:
            out.append((group, tuple(range(len(group)))))
            continue
        out += [(g, tuple(range(len(g)))) for g in _tied(ready, setting)]
        for rule in (r for r in group if r not in setting):
            beside = _setters(ready, setting, rule)
            out.append(((*beside, rule), (len(beside),)))
    return out


def _sets(plans: dict[Key, Plan], rule: Instance, book: Book, alternative: Sequence[str]) -> bool:
    return any(plans[k].sets for k in closure(plans, [key_of(book, rule, a) for a in alternative]))


def _setters(ready: dict, setting: Sequence[Instance], rule: Instance) -> tuple[Instance, ...]:
    """The rules whose additions set something that a rule reads, and those whose additions they feel in turn."""
    reads = set(ready[rule.key].touched)
    found: list[Instance] = []
    grew = True
    while grew:
        grew = False
        for other in setting:
            if other not in found and any(v in reads for plan in ready[other.key].plans.values() for v in plan.sets):
                found.append(other)
                reads |= ready[other.key].touched
                grew = True
    return tuple(sorted(found, key=setting.index))


def _tied(ready: dict, rules: Sequence[Instance]) -> list[tuple[Instance, ...]]:
    """Rules with all that any addition ties to them."""
    set_by = {v for r in rules for plan in ready[r.key].plans.values() for v in plan.sets}
    parent = list(range(len(rules)))

    def root(i: int) -> int:
        while parent[i] != i:
            i = parent[i]
        return i

    owner: dict[int, int] = {}
    for i, r in enumerate(rules):
        for v in sorted(ready[r.key].touched & set_by):
            parent[root(i)] = root(owner.setdefault(v, i))
    found: dict[int, list[Instance]] = {}
    for i, rule in enumerate(rules):
        found.setdefault(root(i), []).append(rule)
    return [tuple(g) for g in found.values()]


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


def local_net(q: Question, masks: dict[int, int]) -> Network:
    """The base tables that an assignment of these variables can feel: of their slots, and of slots tied to them.

    A derived variable that is not among them can take a value whatever the rest does, so its tables are left out. So
    are the tables of attributes that nothing asked depends on and that do not tell candidates apart: such an
    attribute can always follow.
    """
    space = q.space
    if "plain ties" not in q.memo:
        q.memo["plain ties"] = _plain_ties(q)
    key = ("local", tuple(sorted(masks)))
    if key in q.memo:
        return q.memo[key]
    derived = {v for v in masks if v in space.feeds}
    slots = {s for v in masks for s in space.homes[v]}
    used = set(masks)
    tables: dict[int, Table] = {}
    grew = True
    while grew:
        grew = False
        for t, h, words in q.memo["plain ties"]:
            if id(t) not in tables and (used & words if words else h & slots):
                tables[id(t)] = t
                slots |= h
                used.update(t.vars)
                grew = True
    for t, h in zip(space.tables, table_homes(space, q.memo)):
        if any(v in derived for v in t.vars):
            tables[id(t)] = t
            used.update(t.vars)
            slots |= h
    for slot in sorted(slots & space.part.keys()):
        for t in slot_tables(q, slot, used):
            tables[id(t)] = t
    q.memo[key] = network(list(tables.values()))
    return q.memo[key]


def slot_tables(q: Question, slot: str, used: set[int]) -> list[Table]:
    """The tables of one slot that say anything about these variables."""
    place = q.book.layout.places[slot]
    if ("own", slot) not in q.memo:
        q.memo["own", slot] = [t for t, h in zip(q.space.tables, table_homes(q.space, q.memo)) if h == {slot}]
    own = q.memo["own", slot]
    asked = {v for v in used if v in place.parents} | place.never
    parts = [c for c in q.space.candidates[slot] if c.kind != "none"]
    if len(parts) > 1:
        asked |= {place.attributes[a] for c in parts for a in c.masks}
    todo = list(asked)
    while todo:
        for parent in place.parents[todo.pop()]:
            if parent not in asked:
                asked.add(parent)
                todo.append(parent)
    conditional = [v for v, parents in place.parents.items() if parents]
    idle = {id(t) for v, t in zip(conditional, place.tables) if v not in asked}
    return [t for t in own if id(t) not in idle]


def _plain_ties(q: Question) -> list[tuple[Table, frozenset[str], frozenset[int]]]:
    """The tables other than derived variables' that hold several slots together, with those slots.

    The third is the words of origin that are not settled, where the table says nothing as soon as they are not so:
    such a table is felt only by what speaks of one of them.
    """
    out = []
    for t, h in zip(q.space.tables, table_homes(q.space, q.memo)):
        if len(h) > 1 and not any(v in q.space.feeds for v in t.vars) and not holds(t, q.free_dom):
            words = frozenset(v for v in t.vars if not q.space.homes[v] and q.free_dom[v] == 3)
            without = list(q.free_dom)
            for v in words:
                without[v] = 2
            out.append((t, h, words if words and holds(t, without) else frozenset()))
    return out


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


