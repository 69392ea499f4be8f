"""The condition that some boxes stand for, said as shortly as it stays true."""
from __future__ import annotations

from typing import Sequence

from .model import OTHER
from .names import NA
from .outcome import Box
from .question import Question
from . import wording

LIMIT = 2               # alternatives that are spelt out; the rest are counted
Row = dict[int, int]
Pair = tuple[Row, tuple[tuple[int, int, str], ...]]     # a row, and the comparisons (a, b, yes or no) that it makes beside


def conditions(q: Question, boxes: Sequence[Box], dom: Sequence[int], limit: int = LIMIT) -> tuple[list[list[str]], int]:
    """Alternatives, each a list of clauses that hold together, and how many more alternatives there are."""
    plain, said = [], []
    for row in merge([narrowed(b, dom) for b in boxes]):
        for one, compared in _matched(q, {v: m for v, m in row.items() if m != dom[v]}, dom):
            (said if compared else plain).append((one, compared))
    rows: list[Pair] = plain + said
    for pair in _compared(q):
        rows = _as_comparison(q, rows, pair, dom)
    rows = _unlike([(_without_implied(q, row), said) for row, said in rows])
    return [_clauses(q, row, said, dom) for row, said in rows[:limit]], max(0, len(rows) - limit)


def when_text(q: Question, boxes: Sequence[Box], dom: Sequence[int]) -> str:
    """The condition as one clause for a sentence that begins with `if`."""
    return wording.when_text(*conditions(q, boxes, dom))


def narrowed(box: Box, dom: Sequence[int]) -> Row:
    """What a box asks beyond what is so anyway."""
    return {v: m & dom[v] for v, m in box.masks.items() if m & dom[v] != dom[v]}


def merge(boxes: list[Row]) -> list[Row]:
    """Fewer boxes that cover the same: join those that differ in one variable only."""
    rows = [dict(b) for b in boxes]
    changed = True
    while changed:
        changed = False
        for v in sorted({v for row in rows for v in row}):
            groups: dict[tuple, Row] = {}
            for row in rows:
                rest = (v in row, *((w, m) for w, m in sorted(row.items()) if w != v))
                if rest in groups and v in row:
                    groups[rest][v] |= row[v]
                    changed = True
                else:
                    groups.setdefault(rest, row)
            rows = list(groups.values())
    return rows


def _without_implied(q: Question, row: Row) -> Row:
    """The row without what its other conditions presuppose: that a part is there, and what an attribute needs."""
    book, space = q.book, q.space
    drop: set[int] = set()
    for v in row:
        slot, _, attr = space.names[v].partition(".")
        if not attr or " " in space.names[v] or slot not in book.slot_kind or attr == "fitted":
            continue
        if space.values[v][-1] == NA and row[v] >> (len(space.values[v]) - 1) & 1:
            continue
        drop.add(space.index[f"{slot}.fitted"])
        waiting = [attr]
        while waiting:
            here = waiting.pop()
            kind = book.kinds[book.slot_kind[slot]]
            for parent, allowed in next(a for a in kind.attributes if a.id == here).applies_when:
                p = space.index[f"{slot}.{parent}"]
                needed = sum(1 << i for i, x in enumerate(space.values[p]) if x in allowed)
                if p in row and not needed & ~row[p]:
                    drop.add(p)
                waiting.append(parent)
    return {v: m for v, m in row.items() if v not in drop}


def _compared(q: Question) -> list[tuple[int, int, int]]:
    """The pairs of attributes that some rule in question holds against each other, with the variable for both unlisted."""
    if "compared" not in q.memo:
        q.memo["compared"] = sorted({(t[1], t[2], t[3]) for unit in q.units for p in unit.rules for case in p.cases
                                     for row in case for t in row if t[0] == "same"})
    return q.memo["compared"]


def _matched(q: Question, row: Row, dom: Sequence[int]) -> list[Pair]:
    """A row with what it says of matches as comparisons; where one of the two does not apply, that is said instead."""
    out: list[Pair] = [(row, ())]
    for match in sorted(row.keys() & q.book.layout.matches.keys()):
        a, b = q.book.layout.matches[match].vars[:2]
        split: list[Pair] = []
        for one, said in out:
            rest = {v: m for v, m in one.items() if v != match}
            split += [(rest, (*said, (a, b, word))) for bit, word in ((1, "yes"), (2, "no")) if row[match] & bit]
            for v in (a, b) if row[match] & 4 else ():
                na = 1 << (len(q.space.values[v]) - 1)
                if rest.get(v, dom[v]) & na:
                    split.append((rest | ({} if dom[v] == na else {v: na}), said))
        out = split
    return out


def _as_comparison(q: Question, rows: list[Pair], pair: tuple[int, int, int], dom: Sequence[int]) -> list[Pair]:
    """Rows that go through all unlike (or all like) values of two attributes, said as one: they are different (the same)."""
    a, b, flag = pair
    groups: dict[tuple, list[Pair]] = {}
    for number, (row, said) in enumerate(rows):
        rest = tuple((v, m) for v, m in sorted(row.items()) if v not in pair)
        groups.setdefault((rest, said) if a in row and b in row else (number,), []).append((row, said))
    out: list[Pair] = []
    for group in groups.values():
        row, said = group[0]
        covered = {(x, y) for one, _ in group for x in _bits(one.get(a, 0)) for y in _bits(one.get(b, 0))}
        last = 1 << (len(q.space.values[a]) - 1)
        if len(group) == 1 or any(last in xy for xy in covered) or q.space.values[a] != q.space.values[b]:
            out += group
            continue
        unlike = {(x, y) for x in _bits(dom[a] & ~last) for y in _bits(dom[b] & ~last) if x != y}
        alike = {(x, x) for x in _bits(dom[a] & dom[b] & ~last)}
        other = 1 << q.space.values[a].index(OTHER) if OTHER in q.space.values[a] else 0
        listed = covered - {(other, other)}
        kept = {v: m for v, m in row.items() if v not in pair}
        if listed == unlike:
            out.append((kept, (*said, (a, b, "no"))))
        elif listed == alike - {(other, other)}:
            out.append((kept, (*said, (a, b, "yes"))))
        else:
            out += group
    return out


def _bits(mask: int) -> list[int]:
    return [1 << i for i in range(mask.bit_length()) if mask >> i & 1]


def _unlike(rows: list[Pair]) -> list[Pair]:
    """The rows without those that another one covers, shortest first."""
    out: list[Pair] = []
    for row, said in sorted(rows, key=lambda one: len(one[0]) + len(one[1])):
        if not any(set(also) <= set(said) and all(v in row and not row[v] & ~m for v, m in wide.items()) for wide, also in out):
            out.append((row, said))
    return out


def _clauses(q: Question, row: Row, compared: Sequence[tuple[int, int, str]], dom: Sequence[int]) -> list[str]:
    """One clause a variable; that parts did not come together, or the like, is said last, as what it does not count for."""
    said, never = [], []
    for v, m in sorted(row.items()):
        kind, _, rest = q.space.names[v].partition(" ")
        if kind in ("came_together", "made_for", "listed_together") and not m & 1:
            never.append((kind, rest.split(" + ")))
        else:
            said.append(wording.mask_text(q.book, q.space, v, m, dom[v]))
    said += [wording.relation_text(q.book, "same", [q.space.names[a], q.space.names[b]], wanted) for a, b, wanted in compared]
    if not said:
        return wording.relations_texts(q.book, never, "no")
    return said + ([f"unless {', or '.join(wording.relations_texts(q.book, never, 'yes'))}"] if never else [])
