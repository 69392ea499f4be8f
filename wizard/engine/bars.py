"""Which choices a failing box rules out, without naming the unknown world that would reach it.

The unknowns of different slots are independent, so a box worse than allowed is reached as soon as each slot's part
can reach its own share of it. For every slot that is ours to choose this leaves a set of candidates that would, and
the box is avoided exactly when some slot's candidate is outside its set. Boxes on variables that tie slots together
(sums over chosen parts, sameness told across slots, matched sets) are left to search and learning.
"""
from __future__ import annotations

from typing import Sequence

from .names import NA
from .outcome import Box
from .parts import part_has, slot_rows
from .question import Question
from .tables import Table, holds, table


def static_bars(q: Question, worst: int, start: Sequence[int]) -> tuple[list[Table] | None, list[Box]]:
    """Bars of all boxes worse than `worst` that can be barred outright, and the boxes left to learning.

    None in place of the bars: some box is reached whatever is chosen.
    """
    tied = _tied_slots(q)
    reach: dict = q.memo.setdefault("reach", {}) if start is q.dom else {}
    bars: dict[tuple, Table] = {}
    hard: list[Box] = []
    for boxes in q.boxes:
        for box in boxes:
            if box.verdict <= worst:
                continue
            for masks in (m for row in _by_values(q, box.masks, tied) for m in _by_inputs(q, row)):
                if any(not start[v] & m for v, m in masks.items()):
                    continue
                derived = [v for v in masks if _is_derived(q, v)]
                asked = {v: m for v, m in masks.items() if v not in derived}
                slots = {s for v in asked for s in q.space.homes[v]}
                if (slots | {s for v in derived for s in q.space.homes[v]}) & tied or any(
                        len(q.space.homes[v]) > 1 for v in asked):
                    hard.append(box._replace(masks=masks))
                    continue
                safe: list[dict[int, int]] | None = []      # what keeps clear of the box; None: nothing needs to
                for slot in sorted(slots):
                    share = tuple((v, m & start[v]) for v, m in sorted(asked.items()) if q.space.homes[v] == (slot,))
                    if (slot, share) not in reach:
                        reach[slot, share] = _reach(q, start, slot, share)
                    got = reach[slot, share]
                    if got is None:
                        safe = None
                        break
                    safe += [{v: start[v] & ~m} for v, m in got if start[v] & ~m]
                for v in derived if safe is not None else ():
                    if (v, masks[v]) not in reach:
                        clear = _clear_of_match if v in q.book.layout.matches else _clear_of
                        reach[v, masks[v]] = clear(q, start, v, masks[v])
                    got = reach[v, masks[v]]
                    if got is None:
                        safe = None
                        break
                    safe += got
                if safe is None:
                    continue
                if not safe:
                    return None, []
                vars_ = tuple(sorted({v for row in safe for v in row}))
                rows = tuple(tuple(row.get(v, start[v]) for v in vars_) for row in safe)
                bars.setdefault((vars_, rows), table(vars_, rows))
    return list(bars.values()), hard


def _is_derived(q: Question, v: int) -> bool:
    return v in q.space.feeds and not q.space.names[v].startswith("aim ")


def _by_inputs(q: Question, masks: dict[int, int]) -> list[dict[int, int]]:
    """A box as several that cover it: each derived number has a value and all its inputs do, or some input has none.

    Whether it has a value cannot be read off the table of its values, which leaves `does not apply` open throughout.
    """
    out = [masks]
    for v in masks:
        na = 1 << (len(q.space.values[v]) - 1)
        if not _is_derived(q, v) or q.space.values[v][-1] != NA:
            continue
        inputs = [q.space.index[name] for name in q.space.names[v].replace(" - ", " ").split(" ")
                  if "." in name and not name.startswith("sum.")]
        lack = {i: 1 << (len(q.space.values[i]) - 1) for i in inputs}
        split = []
        for row in out:
            if row[v] & ~na:
                split.append({**row, v: row[v] & ~na, **{i: row.get(i, q.space.dom[i]) & ~lack[i] for i in inputs}})
            if row[v] & na:
                rest = {w: m for w, m in row.items() if w != v}
                split += [{**rest, i: row.get(i, q.space.dom[i]) & lack[i]} for i in inputs]
        out = split
    return out


def _by_values(q: Question, masks: dict[int, int], tied: set[str]) -> list[dict[int, int]]:
    """A box as several that cover it: whether two attributes match is said by their values, unless two listed parts
    that are chosen settle it."""
    out = [masks]
    for match in masks.keys() & q.book.layout.matches.keys():
        if _by_parts(q, match, tied):
            continue
        t = q.book.layout.matches[match]
        split = []
        for row in out:
            rest = {v: m for v, m in row.items() if v != match}
            for box in t.boxes:
                if box[3] & row[match]:
                    new = rest | {v: rest.get(v, q.space.dom[v]) & m for v, m in zip(t.vars[:3], box)}
                    if q.space.dom[t.vars[2]] & ~box[2] == 0:
                        new.pop(t.vars[2])      # the two values are listed ones, or it is told that they are one
                    if all(new.values()):
                        split.append(new)
        out = split
    return out


def _by_parts(q: Question, match: int, tied: set[str]) -> bool:
    """Whether which parts are taken settles a match: each is listed or chosen, with one value."""
    space, (a, b) = q.space, q.book.layout.matches[match].vars[:2]
    for v in (a, b):
        (slot,) = space.homes[v]
        if slot in tied or v in space.ours or space.part[slot] not in space.ours and len(space.candidates[slot]) > 1:
            return False
        if any(row is not None and row[v] & (row[v] - 1) for row, _ in slot_rows(q, slot)):
            return False
    return q.space.homes[a] != q.space.homes[b]


def _clear_of_match(q: Question, start: Sequence[int], match: int, mask: int) -> list[dict[int, int]] | None:
    """The choices of two parts under which the match cannot lie in `mask`; None when it never can."""
    space, t = q.space, q.book.layout.matches[match]
    (slot_a,), (slot_b,) = space.homes[t.vars[0]], space.homes[t.vars[1]]
    safe: dict[int, int] = {}       # of the first slot's parts, those of the second that keep clear with it
    reached = False
    pa, pb = space.part[slot_a], space.part[slot_b]
    rows_b = [(j, row[t.vars[1]]) for j, (row, _) in enumerate(slot_rows(q, slot_b)) if row and start[pb] >> j & 1]
    for i, (row, _) in enumerate(slot_rows(q, slot_a)):
        if not row or not start[pa] >> i & 1:
            continue
        for j, value in rows_b:
            hit = any(box[0] & row[t.vars[0]] and box[1] & value and box[2] & start[t.vars[2]] and box[3] & mask
                      for box in t.boxes)
            reached = reached or hit
            safe[1 << i] = safe.get(1 << i, 0) | (0 if hit else 1 << j)
    if not reached:
        return None
    ours = {p for p in (pa, pb) if p in space.ours}
    return [{p: m for p, m in ((pa, i), (pb, j)) if p in ours} for i, j in safe.items() if j] if ours else []


def _clear_of(q: Question, start: Sequence[int], v: int, mask: int) -> list[dict[int, int]] | None:
    """The choices of ours under which a derived variable cannot lie in `mask`; None when it never can.

    Read off the one table that says what parts and settings make of it.
    """
    source = next((t for t in q.space.tables if v in t.vars and q.space.part.keys()
                   & {q.space.names[w] for w in t.vars}), None)
    if source is None:
        return []           # not tabulated: it may take any value
    at = source.vars.index(v)
    ours = [k for k, w in enumerate(source.vars) if w in q.space.ours]
    hit: dict[tuple[int, ...], bool] = {}
    for row in source.boxes:
        if all(row[k] & start[w] for k, w in enumerate(source.vars) if k != at):
            key = tuple(row[k] & start[source.vars[k]] for k in ours)
            hit[key] = hit.get(key, False) or bool(row[at] & mask & start[v])
    if not any(hit.values()):
        return None
    return [{source.vars[k]: bit for k, bit in zip(ours, key)} for key, reached in hit.items() if not reached] if ours else []


def _tied_slots(q: Question) -> set[str]:
    """Slots that a base table holds together with another."""
    tied: set[str] = set()
    for t in q.base.tables:
        slots = {s for v in t.vars for s in q.space.homes[v]}
        if len(slots) > 1 and not any(v in q.space.feeds for v in t.vars) and not holds(t, q.dom):
            tied |= slots
    return tied


def _reach(q: Question, start: Sequence[int], slot: str, share) -> list[tuple[int, int]] | None:
    """How one slot's part can reach its share of a box: our variables with the values that let it; None if it cannot.

    A slot of ours answers with its candidates, or attribute by attribute when it is made to order; any other slot
    with nothing to choose.
    """
    space = q.space
    part = space.part[slot]
    made = [(v, m) for v, m in share if v in space.ours and v != part]
    if made:
        return made
    found = sum(1 << i for i in range(len(space.candidates[slot]))
                if start[part] >> i & 1 and part_has(q, start, slot, i, share))
    if part in space.ours:
        return [(part, found)] if found else None
    return [] if found else None
