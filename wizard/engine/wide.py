"""A unit's boxes on everything that could be, worked out once, from which those of a build are read off.

What a unit comes to does not depend on what is told; what is told only leaves some of its boxes out. So the second
time that a unit is asked about other parts its boxes are not worked out anew.
"""
from __future__ import annotations

from typing import Callable, Sequence

from .layout import match_tables
from .model import Book
from .outcome import Box, Unit
from .settling import boxes_of
from .space import keep
from .tables import network, propagate

MOST = 300          # boxes of a unit beyond which they are worked out for each build
Share = tuple[tuple[int, int], ...]             # variables of one slot, each with the values asked for
Possible = Callable[[str, Share], bool]


def wide_boxes(book: Book, unit: Unit) -> tuple[Box, ...] | None:
    """The boxes of a unit whatever is told; None the first time that it is asked, and where they are too many."""
    count = keep(book, ("asked", unit.id), lambda: [0])
    count[0] += 1
    return all_boxes(book, unit) if count[0] > 1 else None


def all_boxes(book: Book, unit: Unit) -> tuple[Box, ...] | None:
    """The boxes of a unit whatever is told; None where they are too many."""
    return keep(book, ("wide", unit.id), lambda: _wide(book, unit))


def _wide(book: Book, unit: Unit) -> tuple[Box, ...] | None:
    layout = book.layout
    own = network([*(t for s in unit.slots for t in layout.places[s].tables), *match_tables(book, unit.touched)])
    got, hit = boxes_of(book, unit, layout.dom, layout.values,
                        lambda state, v: propagate(state, own, own.watch.get(v, ())), MOST)
    return None if hit or any(b.limited for b in got) else tuple(got)


def read_off(book: Book, wide: Sequence[Box], dom: Sequence[int], homes: Sequence[tuple[str, ...]],
             possible: Possible) -> list[Box] | None:
    """Those of the boxes that can be within a domain, with masks of only what it leaves open.

    `possible` says whether the part in a slot can have several values at once; `homes` are the slots of variables.

    None where a comparison with a value that no record names would need more boxes.
    """
    out: list[Box] = []
    for box in wide:
        masks: dict[int, int] | None = {}
        for v, m in box.masks.items():
            left = dom[v] & m
            if not left:
                masks = None
                break
            if left != dom[v]:
                masks[v] = left
        if masks is None:
            continue
        for match in [v for v in box.masks if v in book.layout.matches]:
            said = _by_value(book, match, box.masks[match], masks, dom)
            if said is None:
                return None
            masks = said
        if 0 in masks.values():
            continue
        if len(masks) > 1 and not all(possible(slot, share) for slot, share in by_slot(homes, masks)):
            continue
        out.append(box._replace(masks=masks))
    return out


def by_slot(homes: Sequence[tuple[str, ...]], masks: dict[int, int]) -> list[tuple[str, Share]]:
    """What is asked of single slots in more than one variable, slot by slot."""
    out: dict[str, list[tuple[int, int]]] = {}
    for v, m in masks.items():
        if len(homes[v]) == 1:
            out.setdefault(homes[v][0], []).append((v, m))
    return [(slot, tuple(share)) for slot, share in out.items() if len(share) > 1]


def _by_value(book: Book, match: int, mask: int, masks: dict[int, int], dom: Sequence[int]) -> dict[int, int] | None:
    """The masks with that of a match said by the one attribute that is open, where the other has one value.

    A mask of nothing says that the box cannot be; None that no single mask says it.
    """
    t = book.layout.matches[match]
    a, b, flag = t.vars[:3]
    ma, mb = masks.get(a, dom[a]), masks.get(b, dom[b])
    rows = [row for row in t.boxes if row[0] & ma and row[1] & mb and row[2] & dom[flag]]
    met = [row for row in rows if row[3] & mask]
    rest = {v: m for v, m in masks.items() if v != match}
    if not met:
        return {**rest, match: 0}
    if len(met) == len(rows):
        return rest
    if ma & (ma - 1) and mb & (mb - 1):
        return {**rest, match: mask}
    if any(row[2] != 3 for row in rows):
        return None
    one, k, left = (b, 1, mb) if not ma & (ma - 1) else (a, 0, ma)
    union = 0
    for row in met:
        union |= row[k]
    return {**rest, one: left & union}
