"""Sums and comparisons as variables, and numbers that are ours to set.

A sum is an interval by which parts are taken; the bands that it touches are its possible values. Where one of its
inputs belongs to a part made to order and nobody told it, that number is ours to set: a finite set of settings is
enough to try, because between the settings at which an end of some interval crosses a limit nothing changes.
"""
from __future__ import annotations

from typing import Any, Sequence

from .layout import Layout
from .model import Book
from .numbers import span_mask
from .quantity import Quantity, input_span, quantity_inputs, quantity_span
from .space import Candidate, keep, part_product
from .tables import Table, table

SETTINGS = 80       # settings of one number that are tried; more are thinned out evenly
STEPS = 60          # halvings in search of a crossing

Rows = list[dict[int, int]]


def free_inputs(candidates: dict[str, tuple[Candidate, ...]], read: Sequence[str]) -> list[str]:
    """The numbers among some inputs that are ours to set: of a part made to order, and not told."""
    out = []
    for name in read:
        slot, _, attr = name.partition(".")
        only = candidates[slot][0] if len(candidates[slot]) == 1 else None
        if only is not None and only.kind == "free" and attr not in only.known:
            out.append(name)
    return out


def reads(book: Book, quantity: Quantity) -> tuple[str, ...]:
    """The attributes that a quantity is worked out from."""
    return tuple(sorted({v for named in quantity_inputs(book, quantity).values() for v in named.values()}))


def find_settings(book: Book, part: dict[str, int], candidates: dict, ours: set[int], names: Sequence[str],
                  said: dict[str, int]) -> tuple[dict[str, list[float]], bool]:
    """For each number that is ours to set and that these quantities read, the settings worth trying.

    The second value says whether some had more settings than are tried.
    """
    read = {s for n in names for s in book.layout.homes[book.layout.index[n]]}
    key = ("settings", tuple(names), tuple(said[s] for s in sorted(read)))
    return keep(book, key, lambda: _settings(book, part, candidates, ours, names))


def _settings(book: Book, part: dict[str, int], candidates: dict, ours: set[int],
              names: Sequence[str]) -> tuple[dict[str, list[float]], bool]:
    layout: Layout = book.layout
    crossings: dict[str, set[float]] = {}
    for quantity in (layout.quantities[n] for n in names):
        free = free_inputs(candidates, reads(book, quantity))
        if len(free) != 1 or layout.index[free[0]] not in ours:
            continue            # two numbers to set at once are left as unknowns: that errs to cannot-tell
        name = free[0]
        slots = tuple(sorted({n.split(".")[0] for n in reads(book, quantity)}))
        found = crossings.setdefault(name, set(book.cuts.get(name, ())))
        for _, chosen in part_product(part, candidates, slots) or ():
            of = dict(zip(slots, chosen))
            if all(c.kind != "none" for c in chosen):
                low, high = input_span(book, name, of[name.split(".")[0]])
                for cut in quantity.cuts:
                    for end in (0, 1):
                        found |= _crossing(book, quantity, of, name, low, high, cut, end)
    out, thinned = {}, False
    for name, found in crossings.items():
        low, high = input_span(book, name, candidates[name.split(".")[0]][0])
        marks = sorted({low, high} | {x for x in found if low <= x <= high})
        marks = sorted(set(marks) | {(a + b) / 2 for a, b in zip(marks, marks[1:])})
        thinned = thinned or len(marks) > SETTINGS
        if len(marks) > SETTINGS:
            marks = [marks[i * (len(marks) - 1) // (SETTINGS - 1)] for i in range(SETTINGS)]
        out[name] = marks
    return out, thinned


def _crossing(book: Book, quantity: Quantity, of: dict[str, Any], name: str, low: float, high: float, cut: float,
              end: int) -> set[float]:
    """The setting at which one end of the quantity's interval crosses a limit, if it does."""
    def at(x: float) -> float | None:
        span = quantity_span(book, quantity, of, {name: (x, x)})
        return None if span is None else span[end] - cut

    a, b = low, high
    fa, fb = at(a), at(b)
    if fa is None or fb is None or fa * fb > 0:
        return set()
    for _ in range(STEPS):
        middle = (a + b) / 2
        fm = at(middle)
        if fm is None:
            return set()
        if fm == 0:
            return {middle}
        if fa * fm <= 0:
            b, fb = middle, fm
        else:
            a, fa = middle, fm
    return {a, b}


def setting_table(book: Book, name: str, values: Sequence[float]) -> Table:
    """What a setting makes of the attribute itself."""
    layout: Layout = book.layout
    slot, _, attr = name.partition(".")
    a = next(a for a in book.kinds[book.slot_kind[slot]].attributes if a.id == attr)
    v, aim, na = layout.index[name], layout.index[f"aim {name}"], layout.places[slot].na[attr]
    cuts = book.cuts.get(name, ())
    every = (1 << len(values)) - 1
    rows = [(every, na)] if layout.dom[v] & na else []
    return table((aim, v), rows + [(1 << k, span_mask(cuts, x, x, a.whole)) for k, x in enumerate(values)])


def quantity_tables(book: Book, part: dict[str, int], candidates: dict, settings: dict[str, list[float]], name: str,
                    said: dict[str, int]) -> tuple[Table, ...]:
    """The tables of a quantity: which bands it may lie in, by which parts are taken and how numbers are set."""
    quantity = book.layout.quantities[name]
    read = keep(book, ("reads", name), lambda: reads(book, quantity))
    slots = book.layout.homes[book.layout.index[name]]
    free = [n for n in free_inputs(candidates, read) if n in settings]
    key = ("quantity", name, tuple(said[s] for s in slots), tuple(tuple(settings[n]) for n in free))
    return keep(book, key, lambda: _tables(book, part, candidates, settings, name, quantity, read, slots, free))


def _tables(book, part, candidates, settings, name, quantity, read, slots, free) -> tuple[Table, ...]:
    layout: Layout = book.layout
    v = layout.index[name]
    na = 1 << (len(layout.values[v]) - 1)
    full = na - 1
    rows: Rows = [{v: full}]
    for n in read:
        slot, _, attr = n.partition(".")
        i, bit = layout.index[n], layout.places[slot].na[attr]
        rows[0][i] = layout.dom[i] & ~bit
        rows.append({v: na, i: layout.dom[i] & bit})
    out = [_boxes(layout, rows)]
    combos = part_product(part, candidates, slots)
    if combos is None:
        return tuple(out)
    rows = []
    for box, chosen in combos:
        of = dict(zip(slots, chosen))
        if any(c.kind == "none" for c in chosen):
            rows.append({**box, v: na})
            continue
        for k, x in enumerate(settings[free[0]] if len(free) == 1 else [None]):
            span = quantity_span(book, quantity, of, {} if x is None else {free[0]: (x, x)})
            mask = full if span is None else span_mask(quantity.cuts, *span)
            rows.append({**box, v: mask | na} | ({} if x is None else {layout.index[f"aim {free[0]}"]: 1 << k}))
    return (*out, _boxes(layout, rows, wide={layout.index[f"aim {n}"]: (1 << len(settings[n])) - 1 for n in free}))


def _boxes(layout: Layout, rows: Rows, wide: dict[int, int] | None = None) -> Table:
    """A table from boxes that name only the variables they limit."""
    used = tuple(sorted({v for row in rows for v in row}))
    return table(used, [tuple(row.get(v, (wide or {}).get(v, layout.dom[v])) for v in used) for row in rows])
