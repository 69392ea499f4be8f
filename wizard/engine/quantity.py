"""Sums and comparisons of numbers as variables, and numbers that are ours to set.

A sum is an interval by which parts are taken; the bands that it touches are its possible values. Where one of its
inputs belongs to a part made to order and nobody told it, that number is ours to set: a finite set of settings is
enough to try, because between the settings at which an end of some interval crosses a limit nothing changes.
"""
from __future__ import annotations

from typing import NamedTuple, Sequence

from wizard.sums import REGISTRY

from .model import Book, bound
from .numbers import Span, corners, span_mask, widen
from .space import NA, Candidate, Maker, part_product

SETTINGS = 80       # settings of one number that are tried; more are thinned out evenly
STEPS = 60          # halvings in search of a crossing


class Quantity(NamedTuple):
    """`terms`: one sum, or two quantities of which the first less the second is meant; with the names they bind."""

    terms: tuple[str, ...]
    bind: dict[str, str]
    cuts: tuple[float, ...]


def input_span(book: Book, name: str, c: Candidate) -> Span:
    """The interval of a numeric attribute of one candidate: as told or listed, else the plausible range."""
    slot, _, attr = name.partition(".")
    a = next(a for a in book.kinds[book.slot_kind[slot]].attributes if a.id == attr)
    return c.spans.get(attr, (a.low, a.high))


def sum_span(book: Book, sum_id: str, inputs: dict[str, str], of: dict[str, Candidate],
             given: dict[str, Span] | None = None) -> Span | None:
    """The interval of a sum for given parts, widened by its own uncertainty; None where it gives no number."""
    record, given = book.data["sums"][sum_id], given or {}
    spans = {p: given.get(v) or input_span(book, v, of[v.split(".")[0]]) for p, v in inputs.items()}
    span = corners(REGISTRY[record["function"]].function, spans)
    return None if span is None else widen(span, record.get("uncertainty") or 0)


def quantity_inputs(book: Book, quantity: Quantity) -> dict[str, dict[str, str]]:
    """For each term its inputs, parameter -> slot.attr."""
    out: dict[str, dict[str, str]] = {}
    for term in quantity.terms:
        if term.startswith("sum."):
            out[term] = {p: bound(n, quantity.bind) for p, n in book.data["sums"][term[4:]]["inputs"].items()}
        else:
            out[term] = {"": bound(term, quantity.bind)}
    return out


def quantity_span(book: Book, quantity: Quantity, of: dict[str, Candidate], given: dict[str, Span]) -> Span | None:
    """The interval of a quantity for given parts and settings; None where it gives no number."""
    spans = []
    for term, inputs in quantity_inputs(book, quantity).items():
        if term.startswith("sum."):
            spans.append(sum_span(book, term[4:], inputs, of, given))
        else:
            name = inputs[""]
            spans.append(given.get(name) or input_span(book, name, of[name.split(".")[0]]))
    if None in spans:
        return None
    return spans[0] if len(spans) == 1 else (spans[0][0] - spans[1][1], spans[0][1] - spans[1][0])


def add_quantities(maker: Maker, book: Book, part: dict, candidates: dict, quantities: dict[str, Quantity]) -> None:
    """Add a variable for each quantity, and one for each number that is ours to set."""
    settings = _settings(maker, book, part, candidates, quantities)
    aims: dict[str, int] = {}
    for name, values in sorted(settings.items()):
        slot, _, attr = name.partition(".")
        aim = aims[name] = maker.add(f"aim {name}", tuple(repr(x) for x in values))
        maker.ours.add(aim)
        maker.feeds[aim] = (slot,)
        a = next(a for a in book.kinds[book.slot_kind[slot]].attributes if a.id == attr)
        v = maker.index[name]
        na = 1 << (len(maker.values[v]) - 1)
        cuts = book.cuts.get(name, ())
        maker.box_table([{v: maker.dom[v] & na}] * bool(maker.dom[v] & na)
                        + [{aim: 1 << k, v: span_mask(cuts, x, x, a.whole)} for k, x in enumerate(values)])
    for name, quantity in sorted(quantities.items()):
        _add(maker, book, part, candidates, name, quantity, settings, aims)


def _free_inputs(candidates: dict, read: Sequence[str]) -> list[str]:
    """The numbers among some inputs that are ours to set: of a part made to order, and not told."""
    out = []
    for name in read:
        slot, _, attr = name.partition(".")
        only = candidates[slot][0] if len(candidates[slot]) == 1 else None
        if only is not None and only.kind == "free" and attr not in only.known:
            out.append(name)
    return out


def _settings(maker: Maker, book: Book, part, candidates, quantities) -> dict[str, list[float]]:
    """For each number that is ours to set, the settings worth trying."""
    crossings: dict[str, set[float]] = {}
    for quantity in quantities.values():
        read = sorted({v for named in quantity_inputs(book, quantity).values() for v in named.values()})
        free = _free_inputs(candidates, read)
        if len(free) != 1 or maker.index[free[0].split(".")[0]] not in _made(maker, free[0]):
            continue            # two numbers to set at once are left as unknowns: that errs to cannot-tell
        name = free[0]
        slots = tuple(sorted({n.split(".")[0] for n in read}))
        found = crossings.setdefault(name, set(book.cuts.get(name, ())))
        for _, chosen in part_product(part, candidates, slots) or ():
            of = dict(zip(slots, chosen))
            if all(c.kind != "none" for c in chosen):
                low, high = input_span(book, name, of[name.split(".")[0]])
                for cut in quantity.cuts:
                    for end in (0, 1):
                        found |= _crossing(book, quantity, of, name, low, high, cut, end)
    out = {}
    for name, found in crossings.items():
        low, high = input_span(book, name, candidates[name.split(".")[0]][0])
        marks = sorted({low, high} | {x for x in found if low <= x <= high})
        marks = sorted(set(marks) | {(a + b) / 2 for a, b in zip(marks, marks[1:])})
        if len(marks) > SETTINGS:
            marks = [marks[i * (len(marks) - 1) // (SETTINGS - 1)] for i in range(SETTINGS)]
        out[name] = marks
    return out


def _made(maker: Maker, name: str) -> set[int]:
    """The part variable of a slot whose attributes are ours, as a set; empty when they are not."""
    slot = name.split(".")[0]
    return {maker.index[slot]} if maker.index[name] in maker.ours else set()


def _crossing(book: Book, quantity: Quantity, of, name: str, low: float, high: float, cut: float, end: int) -> set[float]:
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


def _add(maker: Maker, book: Book, part, candidates, name: str, quantity: Quantity, settings, aims) -> None:
    read = sorted({v for named in quantity_inputs(book, quantity).values() for v in named.values()})
    slots = tuple(sorted({n.split(".")[0] for n in read}))
    cuts = quantity.cuts
    full = (1 << (2 * len(cuts) + 1)) - 1
    v = maker.add(name, tuple(f"band{i}" for i in range(2 * len(cuts) + 1)) + (NA,))
    na = full + 1
    maker.feeds[v] = slots
    vars_ = [maker.index[n] for n in read]
    nas = [1 << (len(maker.values[i]) - 1) for i in vars_]
    maker.box_table([{v: full} | {i: maker.dom[i] & ~n for i, n in zip(vars_, nas)}]
                    + [{v: na, i: maker.dom[i] & n} for i, n in zip(vars_, nas)])
    combos = part_product(part, candidates, slots)
    if combos is None:
        return
    free = [n for n in _free_inputs(candidates, read) if n in aims]
    rows = []
    for box, chosen in combos:
        of = dict(zip(slots, chosen))
        if any(c.kind == "none" for c in chosen):
            rows.append({**box, v: na})
            continue
        for k, x in enumerate(settings[free[0]] if len(free) == 1 else [None]):
            given = {} if x is None else {free[0]: (x, x)}
            span = quantity_span(book, quantity, of, given)
            mask = full if span is None else span_mask(cuts, *span)
            rows.append({**box, v: mask | na} | ({} if x is None else {aims[free[0]]: 1 << k}))
    maker.box_table(rows)
