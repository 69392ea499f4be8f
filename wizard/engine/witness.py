"""Whether there is a world in which no rule fails, sought close to one that is known already.

Whether a clash is minimal is asked again and again with other statements taken back, and nearly always the answer is
that the rest can stand. One world that shows it is enough, and it seldom differs from the last one in more than the
parts spoken of (repairing a solution: Verfaillie and Schiex, AAAI 1994, cited from memory). What a unit comes to does
not depend on what is told, so its boxes on everything that could be serve for all such questions.
"""
from __future__ import annotations

from typing import NamedTuple, Sequence

from .build import Build
from .groups import make_units
from .layout import match_tables
from .model import CANNOT_TELL, Book, Instance
from .outcome import Box, Unit
from .question import ANY, NODES, question_space
from .settling import boxes_of
from .space import Space, keep
from .tables import Table, live_boxes, network, propagate, search, table

NEAR = 200          # search nodes spent on a world close by
MOST = 300          # boxes of a unit beyond which no world is sought


class World(NamedTuple):
    """A value of each variable, and the tables that it is known to satisfy."""

    values: list[int]
    met: dict[tuple[int, ...], list[Table]]     # by their variables


def stands(book: Book, build: Build, rules: Sequence[Instance], drop: frozenset) -> bool | None:
    """Whether in some world none of the rules fails, with these statements taken back; None where that was not settled."""
    units = make_units(book, build, rules)
    key = ("witness", tuple([u.id for u in units]))
    ruled = keep(book, (*key, "tables"), lambda: _ruled(book, units))
    if ruled is None:
        return None
    space = question_space(book, build, rules, (), drop)
    if space.empty or space.cut or space.loose or 0 in space.dom:
        return None
    known: list[World] = keep(book, key, list)
    values = _close(space, ruled, known[0]) if known else None
    if values is None:
        found = search(space.dom, network([*space.tables, *ruled]), limit=NODES)
        if found.dom is None:
            return None if found.limit else False
        values = found.dom
    met: dict[tuple[int, ...], list[Table]] = {}
    for t in space.tables:
        met.setdefault(t.vars, []).append(t)
    known[:] = [World(values, met)]
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


def all_boxes(book: Book, unit: Unit) -> tuple[Box, ...] | None:
    """The boxes of a unit whatever is told; None where they are too many."""
    return keep(book, ("wide", unit.id), lambda: _wide(book, unit))


def _wide(book: Book, unit: Unit) -> tuple[Box, ...] | None:
    layout = book.layout
    own = network([*(t for s in unit.slots for t in layout.places[s].tables), *match_tables(book, unit.touched)])
    got, hit = boxes_of(book, unit, layout.dom, layout.values,
                        lambda state, v: propagate(state, own, own.watch.get(v, ())), MOST)
    return None if hit or any(b.limited for b in got) else tuple(got)


def _close(space: Space, ruled: Sequence[Table], known: World) -> list[int] | None:
    """A world that keeps all values but those near what the space rules out of the known one."""
    n = len(known.values)
    values = [known.values[v] & m if v < n else 0 for v, m in enumerate(space.dom)]
    loose = {v for v, m in enumerate(values) if not m}
    for v in loose:
        values[v] = space.dom[v]
    for t in space.tables:
        if not any(t is x for x in known.met.get(t.vars, ())) and not live_boxes(t, values):
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
