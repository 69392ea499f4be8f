"""A world in which no rule fails, found close to one that is known already.

Whether a clash is minimal is asked again and again with other statements taken back, and nearly always the answer is
that the rest can stand. One world that shows it is enough, and it seldom differs from the last one in more than the
parts spoken of (repairing a solution: Verfaillie and Schiex, AAAI 1994, cited from memory).
"""
from __future__ import annotations

from typing import NamedTuple, Sequence

from .build import Build
from .groups import make_units
from .layout import match_tables
from .model import CANNOT_TELL, Book, Instance
from .outcome import Unit
from .question import ANY, NODES, question_space
from .space import Space, keep
from .tables import Table, live_boxes, network, search, table
from .wide import all_boxes

NEAR = 200          # search nodes spent on a world close by


class World(NamedTuple):
    """A value of each variable, and the tables that it is known to satisfy, by identity."""

    values: list[int]
    met: dict[int, Table]


def stands(book: Book, build: Build, rules: Sequence[Instance], drop: frozenset) -> bool:
    """Whether a world is found in which none of the rules fails, with these statements taken back; no says nothing."""
    units = make_units(book, build, rules)
    key = ("witness", tuple([u.id for u in units]))
    ruled = keep(book, (*key, "tables"), lambda: _ruled(book, units))
    if ruled is None:
        return False
    space = question_space(book, build, rules, (), drop)
    if space.empty or space.cut or space.loose or 0 in space.dom:
        return False
    known: World | None = book.kept.get(key)
    values = _first(space, ruled) if known is None else _close(space, ruled, known)
    if values is None:
        return False
    book.kept[key] = World(values, {id(t): t for t in (*space.tables, *ruled)})
    return True


def _ruled(book: Book, units: Sequence[Unit]) -> tuple[Table, ...] | None:
    """Where no unit fails, as tables; None when some unit has too many boxes."""
    out: list[Table] = []
    touched: set[int] = set()
    for unit in units:
        boxes = all_boxes(book, unit)
        if boxes is None:
            return None
        vars_ = tuple(sorted({v for b in boxes for v in b.masks}))
        if vars_ and any(b.verdict > CANNOT_TELL for b in boxes):
            touched.update(vars_)
            rows = [(b.verdict <= CANNOT_TELL, tuple([b.masks.get(v, ANY) for v in vars_])) for b in boxes]
            out.append(table(vars_, [row for good, row in rows if good], [row for good, row in rows if not good]))
        elif not vars_ and boxes[0].verdict > CANNOT_TELL:
            return None
    return (*out, *match_tables(book, touched))


def _first(space: Space, ruled: Sequence[Table]) -> list[int] | None:
    return search(space.dom, network([*space.tables, *ruled]), limit=NODES).dom


def _close(space: Space, ruled: Sequence[Table], known: World) -> list[int] | None:
    """A world that keeps all values but those near what the space rules out of the known one."""
    n = len(known.values)
    values = [known.values[v] & m if v < n else 0 for v, m in enumerate(space.dom)]
    loose = {v for v, m in enumerate(values) if not m}
    for v in loose:
        values[v] = space.dom[v]
    for t in space.tables:
        if id(t) not in known.met and not live_boxes(t, values):
            loose.update(t.vars)
    if not loose:
        return values
    tables = [*space.tables, *ruled]
    for _ in range(2):      # first only what has to move, then what shares a table with it
        for v in loose:
            values[v] = space.dom[v]
        felt = [t for t in tables if not loose.isdisjoint(t.vars)]
        found = search(values, network(felt), limit=NEAR)
        if found.dom is not None:
            return found.dom
        loose.update(v for t in felt for v in t.vars)
    return None
