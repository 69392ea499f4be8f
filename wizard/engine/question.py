"""One question: a space, the rules in question as units, and each unit's boxes on the narrowed domain."""
from __future__ import annotations

from typing import NamedTuple, Sequence

from .build import Build
from .model import Book, Instance
from .derived import make_space
from .groups import make_units
from .layout import match_tables
from .origin import bound_by_facts
from .outcome import Box, Unit
from .settling import boxes_of
from .space import Space, keep, number
from .tables import Network, Table, network, propagate, search, table

NODES = 20000           # search nodes of one satisfiability question
ANY = -1                # the mask of a variable that a box does not limit


class Boxes(NamedTuple):
    """What a unit comes to where: its disjoint boxes, what they look at, and whether they all come to the same."""

    id: int                         # a number that no other boxes on the book have
    boxes: tuple[Box, ...]
    limited: bool
    vars: tuple[int, ...]
    alike: bool                     # every box has the same verdict
    tables: dict[int, Table | None]     # what holds exactly where the unit is no worse than a verdict, once asked


class Question(NamedTuple):
    """A space with its rules as units, each with its boxes on the narrowed domain.

    Islands (islands.py) are questions as well: some of the units, with the base tables that these can feel.
    """

    book: Book
    space: Space
    dom: tuple[int, ...]            # narrowed by the base tables, open parts among the listed ones
    free_dom: tuple[int, ...]       # the same with open parts also freely specified
    units: tuple[Unit, ...]
    found: tuple[Boxes, ...]        # of each unit, on free_dom
    consistent: bool
    cut: bool                       # whether any world can be was not settled within the limit
    memo: dict                      # what was worked out about the question

    @property
    def boxes(self) -> tuple[tuple[Box, ...], ...]:
        """The boxes of each unit."""
        return tuple(f.boxes for f in self.found)

    @property
    def limit(self) -> bool:
        """Whether some unit has more boxes than are looked at, or something before them was cut short."""
        return self.cut or self.space.loose or any(f.limited for f in self.found)

    @property
    def base(self) -> Network:
        """The base tables: of an island its own, else all that the space has."""
        if "base" not in self.memo:
            self.memo["base"] = network([*self.space.tables, *match_tables(self.book, {v for f in self.found for v in f.vars})])
        return self.memo["base"]


def question_space(book: Book, build: Build, rules: Sequence[Instance], stops: Sequence[Instance] = (),
                   drop: frozenset = frozenset()) -> Space:
    """The space of rules and stops, without worlds in which a word of origin hides an established failure."""
    space = make_space(book, build, (*rules, *stops), drop)
    return bound_by_facts(book, space, rules, [r for r in build.right if ("right", *r) not in drop])


class Narrowed(NamedTuple):
    """The domains after the base tables; the slots that tables tie together, with those tables and their own."""

    dom: tuple[int, ...]
    tied: frozenset[str]
    net: Network
    consistent: bool
    cut: bool


def narrowed(space: Space) -> Narrowed:
    """What the tables that tie slots together leave of a space; each slot is narrowed by its own tables already."""
    dom = list(space.dom)
    ties = space.tables[space.cross:]
    tied = frozenset(s for t in ties for v in t.vars for s in space.homes[v])
    net = network([*ties, *(t for s in sorted(tied & space.own.keys()) for t in space.tables[slice(*space.own[s])])])
    if space.empty or 0 in dom or not propagate(dom, net, range(len(ties))):
        return Narrowed(tuple(dom), tied, net, False, False)
    found = search(dom, net, limit=NODES, start=()) if ties else None
    possible = found is None or found.dom is not None or found.limit
    return Narrowed(tuple(dom), tied, net, possible, space.cut or found is not None and found.limit)


def ask(book: Book, build: Build, space: Space, rules: Sequence[Instance],
        known: dict | None = None, buying: frozenset[str] | None = None, speaking: frozenset[str] | None = None) -> Question:
    """Work out the narrowed domains and every unit's boxes.

    `known` keeps what was worked out of one space between questions on it; `buying` names the slots whose lack of a
    listed part matters here (all by default), `speaking` the rules that are answered for (all by default).
    """
    known = {} if known is None else known
    if "narrowed" not in known:
        known["narrowed"] = narrowed(space)
    got: Narrowed = known["narrowed"]
    if not got.consistent:
        return Question(book, space, (), (), (), (), False, False, {})
    shut = [s for s in space.free if buying is None or s in buying]
    dom = _among_listed(book, build, space, got, shut) if shut else got.dom
    units = tuple(u for u in make_units(book, build, rules)
                  if speaking is None or any(u.rules[i].inst.key in speaking for i in u.speaks))
    if "moved" not in known:
        known["moved"] = {v: m for v, m in enumerate(got.dom) if m != space.dom[v]} if space.ties else {}
    found = tuple(unit_boxes(book, space, unit, got.dom, known["moved"]) for unit in units)
    return Question(book, space, dom, got.dom, units, found, True, got.cut, {})


def _among_listed(book: Book, build: Build, space: Space, got: Narrowed, shut: Sequence[str]) -> tuple[int, ...]:
    """The domains with these open slots filled from what is listed; all nothing when that cannot be."""
    dom = list(got.dom)
    for slot in shut:
        dom[space.part[slot]] &= ~space.free[slot]
    own = network([t for s in shut for t in space.tables[slice(*space.own[s])]])
    if 0 in dom or not propagate(dom, own):
        return (0,) * len(dom)
    if got.tied & set(shut) and not propagate(dom, got.net):
        return (0,) * len(dom)
    return tuple(dom)


def unit_boxes(book: Book, space: Space, unit: Unit, free: Sequence[int], moved: dict[int, int]) -> Boxes:
    """A unit's boxes, kept for as long as nothing that the unit can feel is told anew.

    `moved` holds the domains that something other than what was told of their own slot has narrowed.
    """
    said = space.said
    key = ("boxes", unit.id, space.told, *[said[s] for s in unit.slots])
    far = [v for v in unit.touched if not space.homes[v] or v in space.feeds]
    if far:
        key += (tuple([free[v] for v in far]),)
    if moved:
        near = [(v, moved[v]) for v in unit.touched if v in moved]
        key += (tuple(near),) if near else ()

    def make() -> Boxes:
        inside = set(unit.slots)
        own = network([*(t for s in unit.slots for t in space.tables[slice(*space.own[s])]),
                       *(t for t in space.tables[space.cross:] if homes(space, t) <= inside and homes(space, t)),
                       *match_tables(book, unit.touched)])
        got, hit = boxes_of(book, unit, free, space.values, lambda state, v: possible(own, state, v))
        verdicts = {b.verdict for b in got}
        return Boxes(number(book), tuple(got), hit or any(b.limited for b in got),
                     tuple(sorted({v for b in got for v in b.masks})), len(verdicts) < 2, {})

    return keep(book, key, make)


def homes(space: Space, t: Table) -> frozenset[str]:
    """The slots that a table speaks of."""
    return frozenset(s for v in t.vars for s in space.homes[v])


def ours_in(q: Question) -> tuple[int, ...]:
    """The variables that are ours to choose and that some rule in question can tell apart."""
    if "ours" not in q.memo:
        watched = {v for t in q.base.tables for v in t.vars} | {v for f in q.found for v in f.vars}
        q.memo["ours"] = tuple(sorted(q.space.ours & watched))
    return q.memo["ours"]


def possible(base: Network, state: list[int], changed: int) -> bool:
    """Narrow `state` by what follows from a change of one variable; False when the base tables leave nothing."""
    return propagate(state, base, base.watch.get(changed, ()))


def unit_table(found: Boxes, worst: int) -> Table | None:
    """The boxes of a unit that are no worse than `worst` as a table; None when that is all of them."""
    if worst not in found.tables:
        rows = [(b.verdict <= worst, tuple([b.masks.get(v, ANY) for v in found.vars])) for b in found.boxes]
        every = all(good for good, _ in rows)
        found.tables[worst] = None if every else table(
            found.vars, [row for good, row in rows if good], [row for good, row in rows if not good])
    return found.tables[worst]


def rule_tables(q: Question, worst: int) -> list[Table] | None:
    """Tables that hold exactly where every unit is no worse than `worst`; None if some unit never is."""
    out = []
    for found in q.found:
        allowed = unit_table(found, worst)
        if allowed is not None:
            if not allowed.boxes:
                return None
            if allowed.vars:
                out.append(allowed)
    return out


def with_rules(q: Question, tables: Sequence[Table]) -> list[Table]:
    """The base tables with those that rules make of them; a match that none of these asks for follows by itself."""
    read = {v for t in tables for v in t.vars}
    matches = q.book.layout.matches
    return [*(t for t in q.base.tables if t.vars[-1] not in matches or t.vars[-1] in read), *tables]


def to_specify(space: Space, slot: str) -> bool:
    """Whether a slot's part is made to order, so that its attributes are ours."""
    return [c.kind for c in space.candidates[slot]] == ["free"] and slot not in space.free
