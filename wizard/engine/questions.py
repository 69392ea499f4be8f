"""Which questions can still change the answer, the most useful first."""
from __future__ import annotations

from typing import NamedTuple, Sequence

from .build import Build
from .question import Question
from .model import Book
from .outcome import OUT, Box
from .names import NA
from .space import Candidate
from . import wording

EASE = ("ask", "look", "count", "read", "measure", "drive", "dismantle")
LIMIT = 12


class Ask(NamedTuple):
    """A question: `name` is slot.attr, slot.fitted, a slot (which of the listed), or a relation."""

    name: str
    settles: tuple[str, ...]
    touches: tuple[str, ...]
    score: float
    rank: int


def open_questions(q: Question, build: Build, dom: Sequence[int], live: Sequence[tuple[Box, ...]]) -> list[Ask]:
    """Questions ordered: what must be known first, then by how many undecided rules the answer settles."""
    found: dict[str, list] = {}
    for unit, boxes in zip(q.units, live):
        if len({(b.verdict, b.options) for b in boxes}) < 2:
            continue
        rules = [p.inst.key for i, p in enumerate(unit.rules) if any(b.cases[i] != OUT for b in boxes)]
        touched = sorted({v for b in boxes for v in b.masks if dom[v].bit_count() > 1})
        for v in touched:
            share = _share(boxes, v, dom)
            for name in _ask_names(q, build, v, dom):
                entry = found.setdefault(name, [0.0, set(), set()])
                entry[0] += share
                entry[2].update(rules)
                if share == 1:
                    entry[1].update(rules)
    asks = [Ask(name, tuple(sorted(s)), tuple(sorted(t)), score, _rank(q, name, dom))
            for name, (score, s, t) in found.items()]
    order = {s: i for i, s in enumerate(q.book.slot_order)}
    asks.sort(key=lambda a: (a.rank, -round(a.score, 6), _ease(q.book, a.name),
                             order.get(a.name.split(".")[0], 999), a.name))
    return asks[:LIMIT]


def _share(boxes: Sequence[Box], v: int, dom: Sequence[int]) -> float:
    """The part of the variable's values that would leave one outcome only."""
    bits = [1 << i for i in range(dom[v].bit_length()) if dom[v] >> i & 1]
    alone = 0
    for bit in bits:
        outcomes = {(b.verdict, b.options) for b in boxes if b.masks.get(v, -1) & bit}
        alone += len(outcomes) <= 1
    return alone / len(bits)


def _ask_names(q: Question, build: Build, v: int, dom: Sequence[int]) -> list[str]:
    """What to ask a person in order to know a variable; nothing where it is ours to choose."""
    space, name = q.space, q.space.names[v]
    if v in space.ours:
        return []
    if v in space.feeds and not name.startswith("listed_together"):
        out = []
        for n in name.replace(" - ", " ").split(" "):
            if "." in n and not n.startswith("sum."):
                slot, _, attr = n.partition(".")
                if any(_rough(q, n, c) for c in space.candidates[slot] if c.kind != "none"):
                    out += _first(q, n, dom)
        return out
    if name.startswith(("came_together", "made_for", "same ")):
        return [name]
    if name.startswith("listed_together"):
        return [n for s in name.split(" ", 1)[1].split(" + ") for n in _which(q, s)]
    return _first(q, name, dom)


def _rough(q: Question, name: str, c: Candidate) -> bool:
    """Whether a number could be known better: nobody told it, or what was told is wider than a measurement."""
    slot, _, attr = name.partition(".")
    if attr not in c.known:
        return True
    low, high = c.spans[attr]
    band = next(a.band for a in q.book.kinds[q.book.slot_kind[slot]].attributes if a.id == attr)
    return high - low > 2.1 * band * max(abs(low), abs(high))


def _which(q: Question, slot: str) -> list[str]:
    entry = [c.kind for c in q.space.candidates[slot]]
    return [slot] if len(entry) > 1 and q.space.part[slot] not in q.space.ours or entry == ["part"] else []


def _first(q: Question, name: str, dom: Sequence[int]) -> list[str]:
    """The attribute, or what must be known before it can be asked: whether it is fitted, or what it depends on."""
    slot, _, attr = name.partition(".")
    if slot not in q.space.part or q.space.part[slot] in q.space.ours:
        return []           # nobody can look at a part that is not bought
    if dom[q.space.index[f"{slot}.fitted"]] == 3:
        return [f"{slot}.fitted"]
    if attr in ("", "fitted"):
        return [name]
    record = wording.attribute(q.book, name)
    for parent in (record or {}).get("applies_when") or {}:
        if dom[q.space.index[f"{slot}.{parent}"]].bit_count() > 1 and _may_not_apply(q, name, dom):
            return _first(q, f"{slot}.{parent}", dom)
    return [name]


def _may_not_apply(q: Question, name: str, dom: Sequence[int]) -> bool:
    v = q.space.index[name]
    return q.space.values[v][-1] == NA and bool(dom[v] >> (len(q.space.values[v]) - 1) & 1)


def _rank(q: Question, name: str, dom: Sequence[int]) -> int:
    """0 for whether it is fitted, 1 for what other attributes depend on, 2 for the rest."""
    slot, _, attr = name.partition(".")
    if attr == "fitted":
        return 0
    if attr and slot in q.space.part:
        kind = q.book.kinds[q.book.slot_kind[slot]]
        if any(attr in dict(a.applies_when) and dom[q.space.index[f"{slot}.{a.id}"]].bit_count() > 1
               for a in kind.attributes):
            return 1
    return 2


def _ease(book: Book, name: str) -> int:
    record = wording.attribute(book, name) if "." in name else None
    find = book.data["find_out"].get((record or {}).get("find_out") or "")
    return EASE.index(find["ease"]) if find and find.get("ease") in EASE else len(EASE)


def question_json(q: Question, ask: Ask, dom: Sequence[int]) -> dict:
    """A question as the answer carries it: words, the values it can have, and how to find out."""
    book, name = q.book, ask.name
    slot, _, attr = name.partition(".")
    out = {"ask": name, "slot": slot if slot in book.slot_kind else None, "attr": attr or None, "values": [],
           "unit": None, "low": None, "high": None, "find_out": None, "settles": list(ask.settles),
           "touches": list(ask.touches), "relation": None, "of": []}
    kind, _, rest = name.partition(" ")
    if rest:
        of = rest.split(" " if kind == "same" else " + ")
        out |= {"relation": kind, "of": of, "slot": None, "attr": None,
                "text": f"Is it so that {wording.relation_text(book, kind, of)}?",
                "values": [["yes", "yes"], ["no", "no"]]}
        return out
    if attr == "fitted":
        title = wording.lower_first(wording.slot_title(book, slot))
        return out | {"text": f"Is there a {title}?", "values": [["yes", "there is one"], ["no", "there is none"]]}
    if not attr:
        title = wording.lower_first(wording.slot_title(book, slot))
        values = [[c.family, wording.part_text(book, c.family)] for c in q.space.candidates[slot] if c.family]
        return out | {"text": f"Which {title} is it?", "values": values}
    record = wording.attribute(book, name) or {}
    out |= {"text": record.get("ask") or name, "find_out": record.get("find_out")}
    if record.get("type") == "number":
        return out | {"unit": record.get("unit"), "low": record.get("low"), "high": record.get("high")}
    v = q.space.index[name]
    ids = [x for i, x in enumerate(q.space.values[v]) if dom[v] >> i & 1 and x != NA]
    return out | {"values": [[x, wording.value_text(book, name, x)] for x in ids]}
