"""What the answers to a question would lead to, which bands of a number matter, and which other question to ask with it."""
from __future__ import annotations

from typing import Any, Iterator, Sequence

from .model import FAILS, VERDICTS
from .names import NA
from .numbers import band_text
from .outcome import Box
from .question import Question, possible
from .questions import Ask, _ask_names, spoken_of
from . import wording

PAIR_VALUES = 64        # combinations of two questions' values that are looked at
PAIR_BOXES = 200        # boxes of a unit in which a pair is looked for
PAIRED = 3              # questions, of the first, for which a second is looked for


def add_leads(q: Question, ask: Ask, out: dict[str, Any], dom: Sequence[int], live: Sequence[tuple[Box, ...]],
              pair: bool) -> None:
    """Fill `leads` (one a value), `bands` (of a number) and, with `pair`, `with` (a second question) of a question."""
    units = [live[n] for n in ask.units]
    v = q.space.index.get(ask.name)
    if v is not None and out["unit"] is None and out["low"] is None:
        ids = q.space.values[v]
        if all(value in ids for value, _ in out["values"]):
            out["leads"] = [_lead(q, units, dom, v, 1 << ids.index(value)) for value, _ in out["values"]]
    elif v is not None:
        out["bands"] = _bands(q, units, dom, v)
    if pair and not ask.decides and v is not None:
        out["with"] = _partner(q, units, dom, v, ask.name)


def _lead(q: Question, units: Sequence[Sequence[Box]], dom: Sequence[int], v: int, mask: int) -> dict[str, Any] | None:
    """The best and the worst that the rules asking can come to with the variable in `mask`; None when it cannot be."""
    state = list(dom)
    state[v] &= mask
    if not state[v] or not possible(q.base, state, v):
        return None
    best = worst = 0
    for boxes in units:
        met = [b.verdict for b in boxes if all(state[w] & m for w, m in b.masks.items())]
        if met:
            best, worst = max(best, min(met)), max(worst, max(met))
    return {"best": VERDICTS[best], "worst": VERDICTS[worst]}


def _bands(q: Question, units: Sequence[Sequence[Box]], dom: Sequence[int], v: int) -> list[dict[str, Any]]:
    """The stretches of a number between the limits that matter, neighbours that lead to the same joined."""
    name, values = q.space.names[v], q.space.values[v]
    cuts = q.book.cuts.get(name, ())
    last = len(values) - 1 if values[-1] == NA else len(values)
    joined: list[tuple[int, dict[str, Any], tuple]] = []
    for i in range(last):
        if not dom[v] >> i & 1:
            continue
        lead = _lead(q, units, dom, v, 1 << i)
        if lead is None:
            continue
        here = tuple(b.verdict for boxes in units for b in boxes if b.masks.get(v, -1) >> i & 1)
        if joined and joined[-1][2] == here and joined[-1][1] == lead:
            joined[-1] = (joined[-1][0] | 1 << i, lead, here)
        else:
            joined.append((1 << i, lead, here))
    unit = (wording.attribute(q.book, name) or {}).get("unit") or ""
    return [{"text": wording.span_text(*band_text(cuts, mask), unit), "lead": lead} for mask, lead, _ in joined] \
        if len(joined) > 1 else []


def _partner(q: Question, units: Sequence[Sequence[Box]], dom: Sequence[int], v: int, name: str) -> dict[str, str] | None:
    """The second question that with this one settles most, where neither does alone; None when no pair does."""
    best: tuple[float, str] | None = None
    for boxes in (one for one in units if len(one) <= PAIR_BOXES):
        for w in sorted(w for w in spoken_of(q, boxes) if w != v and dom[w].bit_count() > 1):
            names = [n for n in _ask_names(q, w, dom) if n != name]
            if not names or dom[v].bit_count() * dom[w].bit_count() > PAIR_VALUES:
                continue
            share = _pair_share(q, boxes, v, w, dom)
            if share and (best is None or (-share, names[0]) < (-best[0], best[1])):
                best = share, names[0]
    return None if best is None else {"ask": best[1], "text": wording.question_text(q.book, best[1])}


def _pair_share(q: Question, boxes: Sequence[Box], v: int, w: int, dom: Sequence[int]) -> float:
    match, t = next(((m, t) for m, t in q.book.layout.matches.items() if {v, w} == set(t.vars[:2])), (-1, None))

    def meets(x: Box, a: int, b: int) -> bool:
        first, second = (a, b) if t is None or t.vars[0] == v else (b, a)
        return bool(x.masks.get(v, -1) & a and x.masks.get(w, -1) & b) and (match not in x.masks or any(
            row[0] & first and row[1] & second and row[3] & x.masks[match] for row in t.boxes))

    pairs = [(a, b) for a in _bits(dom[v]) for b in _bits(dom[w])]
    alone = 0
    for a, b in pairs:
        outcomes = {(x.verdict, x.options) for x in boxes if meets(x, a, b)}
        alone += len(outcomes) == 1 and next(iter(outcomes))[0] != FAILS
    return alone / len(pairs)


def _bits(mask: int) -> Iterator[int]:
    return (1 << i for i in range(mask.bit_length()) if mask >> i & 1)
