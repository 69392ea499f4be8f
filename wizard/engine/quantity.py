"""Sums, and comparisons of two numbers, as intervals over what is known of their inputs."""
from __future__ import annotations

from typing import Any, NamedTuple

from wizard.sums.functions import FUNCTIONS

from .model import Book, bound
from .numbers import Span, corners, widen


class Quantity(NamedTuple):
    """`terms`: one sum, or two quantities of which the first less the second is meant; with the names they bind."""

    terms: tuple[str, ...]
    bind: dict[str, str]
    cuts: tuple[float, ...]


def input_span(book: Book, name: str, c: Any) -> Span:
    """The interval of a numeric attribute of one candidate: as told or listed, else the plausible range."""
    slot, _, attr = name.partition(".")
    a = next(a for a in book.kinds[book.slot_kind[slot]].attributes if a.id == attr)
    return c.spans.get(attr, (a.low, a.high))


def sum_span(book: Book, sum_id: str, inputs: dict[str, str], of: dict[str, Any],
             given: dict[str, Span] | None = None) -> Span | None:
    """The interval of a sum for given parts, widened by its own uncertainty; None where it gives no number."""
    record, given = book.data["sums"][sum_id], given or {}
    spans = {p: given.get(v) or input_span(book, v, of[v.split(".")[0]]) for p, v in inputs.items()}
    span = corners(FUNCTIONS[record["function"]], spans)
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


def quantity_span(book: Book, quantity: Quantity, of: dict[str, Any], given: dict[str, Span]) -> Span | None:
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
