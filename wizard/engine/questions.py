"""Which questions can still change the answer, the most useful first."""
from __future__ import annotations

from typing import Any, NamedTuple, Sequence

from .build import Build
from .question import Question
from .model import FAILS, Book
from .outcome import Box
from .names import NA
from .space import Candidate, family_candidate
from . import wording

EASE = ("ask", "look", "count", "read", "measure", "drive", "dismantle")
LIMIT = 12              # questions in one answer; the rest are counted
WHICH_FROM = 3          # attributes of a part that nobody spoke of, from which its name is the better question
HARDER = 0.08           # what each step of EASE takes from a question's weight
LEAST_SHARE = 0.3       # what a question counts for in a rule that it has a part in, but settles by no answer
TO_SUIT = 0.2           # what is left of the weight for a part that is made to suit the others: they come first


class Ask(NamedTuple):
    """A question: `name` is slot.attr, slot.fitted, a slot (which of the listed), or a relation; `units` it touches."""

    name: str
    settles: tuple[str, ...]
    touches: tuple[str, ...]
    weight: float
    units: tuple[int, ...]
    decides: bool                       # some answer leaves a single outcome of some unit


class _Found:
    """What was gathered of one question while going through the units."""

    def __init__(self) -> None:
        self.weight = 0.0
        self.settles: set[str] = set()
        self.touches: set[str] = set()
        self.units: set[int] = set()
        self.decides = False

    def add(self, unit: int, rules: Sequence[str], share: float) -> None:
        self.weight += max(share, LEAST_SHARE) * len(rules)
        self.touches.update(rules)
        self.units.add(unit)
        self.decides = self.decides or share > 0
        if share == 1:
            self.settles.update(rules)

    def take(self, other: "_Found") -> None:
        self.weight += other.weight
        self.touches |= other.touches
        self.units |= other.units


def open_questions(q: Question, build: Build, dom: Sequence[int], live: Sequence[tuple[Box, ...]]) -> tuple[list[Ask], int]:
    """The first questions, and how many more there are.

    What must be known before a question can be asked (is it fitted, which kind, which part) is asked in its place;
    the order is by how many undecided rules the answer settles, less for what is harder to find out.
    """
    plain = _gather(q, live, dom, frozenset())
    several = {s for s in {n.split(".")[0] for n in plain if " " not in n} if _unspoken(q, build, s)
               and sum(1 for n in plain if n.startswith(f"{s}.") and not n.endswith(".fitted")) >= WHICH_FROM}
    found = _gather(q, live, dom, frozenset(several)) if several else plain
    _widest_first(found)
    asks = [Ask(name, tuple(sorted(f.settles)), tuple(sorted(f.touches)),
                _weight(q, name, f.weight), tuple(sorted(f.units)), f.decides)
            for name, f in found.items()]
    order = {s: i for i, s in enumerate(q.book.slot_order)}
    asks.sort(key=lambda a: (-a.weight, order.get(a.name.split(".")[0], 999), a.name))
    return asks[:LIMIT], max(0, len(asks) - LIMIT)


def _weight(q: Question, name: str, weight: float) -> float:
    """What an answer settles, less for what is hard to find out or made to suit the rest."""
    slot = name.split(".")[0]
    suits = slot in q.book.slot_kind and q.book.kinds[q.book.slot_kind[slot]].made_to_order
    return round(weight * (1 - HARDER * _ease(q.book, name)) * (TO_SUIT if suits else 1), 6)


def _gather(q: Question, live: Sequence[tuple[Box, ...]], dom: Sequence[int], which: frozenset[str]) -> dict[str, _Found]:
    found: dict[str, _Found] = {}
    for number, (unit, boxes) in enumerate(zip(q.units, live)):
        if len({(b.verdict, b.options) for b in boxes}) < 2:
            continue
        rules = [unit.rules[i].inst.key for i in unit.speaks]
        touched = sorted(v for v in spoken_of(q, boxes) if dom[v].bit_count() > 1)
        shares: dict[str, float] = {}
        felt: dict[str, set[str]] = {}
        for v in touched:
            mine = [r for r in rules if v in q.book.layout.ready[r].touched] or rules
            for name in _ask_names(q, v, dom, which):
                felt.setdefault(name, set()).update(mine)
                whole = "." not in name and " " not in name
                share = 1 / len(touched) if whole else _share(boxes, v, dom)
                shares[name] = shares.get(name, 0) + share if name in which else max(share, shares.get(name, 0))
        for name, share in shares.items():
            found.setdefault(name, _Found()).add(number, sorted(felt[name]), min(share, 1))
    return found


def spoken_of(q: Question, boxes: Sequence[Box]) -> set[int]:
    """The variables that boxes look at; whether two attributes match is said of the two."""
    matches = q.book.layout.matches
    return {w for b in boxes for v in b.masks for w in (matches[v].vars[:2] if v in matches else (v,))}


def _widest_first(found: dict[str, _Found]) -> None:
    """Of the questions whether parts came together, ask the widest: a yes answers for every pair in it."""
    sets = {n: frozenset(n.split(" ", 1)[1].split(" + ")) for n in found if n.startswith("came_together ")}
    for name in sorted(sets, key=lambda n: (len(sets[n]), n)):
        wider = [n for n in sets if n in found and sets[n] > sets[name]]
        if wider:
            found[min(wider, key=lambda n: (-len(sets[n]), n))].take(found.pop(name))


def _share(boxes: Sequence[Box], v: int, dom: Sequence[int]) -> float:
    """The part of the variable's values that would leave one outcome only, other than failure."""
    bits = [1 << i for i in range(dom[v].bit_length()) if dom[v] >> i & 1]
    alone = 0
    for bit in bits:
        outcomes = {(b.verdict, b.options) for b in boxes if b.masks.get(v, -1) & bit}
        alone += len(outcomes) == 1 and next(iter(outcomes))[0] != FAILS
    return alone / len(bits)


def _unspoken(q: Question, build: Build, slot: str) -> bool:
    """Whether nobody said anything of a part that may be a listed one: asking for its name is then worth it."""
    return slot in q.space.part and slot not in build.slots and bool(_listed(q.book, slot))


def _ask_names(q: Question, v: int, dom: Sequence[int], which: frozenset[str] = frozenset()) -> list[str]:
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
                    out += _first(q, n, dom, which)
        return out
    if name.startswith(("came_together", "made_for", "same ")):
        rest = name.split(" ", 1)[1].replace(" + ", " ").split(" ")
        return [s for n in rest if (s := n.split(".")[0]) in which] or [name]
    if name.startswith("listed_together"):
        of = name.split(" ", 1)[1].split(" + ")
        return [n for s in of for n in _which(q, s)] if _may_be_a_set(q, of, dom) else []
    return _first(q, name, dom, which)


def _rough(q: Question, name: str, c: Candidate) -> bool:
    """Whether a number could be known better: nobody told it, or what was told is wider than a measurement."""
    slot, _, attr = name.partition(".")
    if attr not in c.known:
        return True
    low, high = c.spans[attr]
    band = next(a.band for a in q.book.kinds[q.book.slot_kind[slot]].attributes if a.id == attr)
    return high - low > 2.1 * band * max(abs(low), abs(high))


def _which(q: Question, slot: str) -> list[str]:
    """The question which of the listed parts it is; none where none can be meant, or the part is ours to choose."""
    kinds = [c.kind for c in q.space.candidates[slot]]
    open_to_names = "family" in kinds and len(kinds) > 1 or kinds == ["part"] and bool(_meant(q, slot))
    return [slot] if open_to_names and q.space.part[slot] not in q.space.ours else []


def _listed(book: Book, slot: str) -> list[str]:
    """The listed parts of a slot's kind."""
    return sorted(f["id"] for f in book.data["families"].values() if f["kind"] == book.slot_kind[slot])


def _meant(q: Question, slot: str) -> list[str]:
    """The listed parts that may be in a slot by what was told of it."""
    named = [c.family for c in q.space.candidates[slot] if c.family]
    return sorted(named) or [f for f in _listed(q.book, slot) if any(_fits(q, slot, c, f) for c in q.space.candidates[slot])]


def _fits(q: Question, slot: str, c: Candidate, family: str) -> bool:
    """Whether a part that was described may be this listed one."""
    one = family_candidate(q.book, slot, family)
    apart = any(one.spans[a][0] > high or one.spans[a][1] < low for a, (low, high) in c.spans.items() if a in one.spans)
    return c.kind != "none" and not apart and all(one.masks.get(a, mask) & mask for a, mask in c.masks.items())


def _may_be_a_set(q: Question, of: Sequence[str], dom: Sequence[int]) -> bool:
    """Whether some set of the shop may still turn out to list these parts together, so that a part's name can help."""
    def stands(slot: str, c: Candidate, names: Sequence[str]) -> bool:
        if c.kind in ("family", "none"):
            return c.family in names if c.family else not names
        return any(_fits(q, slot, c, f) for f in names)
    return any(all(any(stands(s, c, record["families"].get(s, ())) for i, c in enumerate(q.space.candidates[s])
                       if dom[q.space.part[s]] >> i & 1) for s in of) for record in q.book.data["sets"].values())


def _first(q: Question, name: str, dom: Sequence[int], which: frozenset[str]) -> list[str]:
    """The attribute, or what must be known before it can be asked: is it fitted, which part, or what it depends on."""
    slot, _, attr = name.partition(".")
    if slot not in q.space.part or q.space.part[slot] in q.space.ours:
        return []           # nobody can look at a part that is not bought
    if dom[q.space.index[f"{slot}.fitted"]] == 3:
        return [f"{slot}.fitted"]
    if slot in which:
        return [slot]
    if attr in ("", "fitted"):
        return [name]
    record = wording.attribute(q.book, name)
    for parent in (record or {}).get("applies_when") or {}:
        if dom[q.space.index[f"{slot}.{parent}"]].bit_count() > 1 and _may_not_apply(q, name, dom):
            return _first(q, f"{slot}.{parent}", dom, which)
    return [name]


def _may_not_apply(q: Question, name: str, dom: Sequence[int]) -> bool:
    v = q.space.index[name]
    return q.space.values[v][-1] == NA and bool(dom[v] >> (len(q.space.values[v]) - 1) & 1)


def _ease(book: Book, name: str) -> int:
    """How hard it is to find out, 0 for what somebody can tell; a part's name is read off its label."""
    if " " in name:
        return EASE.index("ask")
    if name.endswith(".fitted"):
        return EASE.index("look")
    if "." not in name:
        return EASE.index("read")
    find = book.data["find_out"].get((wording.attribute(book, name) or {}).get("find_out") or "")
    return EASE.index(find["ease"]) if find and find.get("ease") in EASE else len(EASE)


def question_json(q: Question, ask: Ask, dom: Sequence[int]) -> dict[str, Any]:
    """A question as the answer carries it: words, the values it can have, and how to find out."""
    book, name = q.book, ask.name
    slot, _, attr = name.partition(".")
    out: dict[str, Any] = {
        "ask": name, "slot": slot if slot in book.slot_kind else None, "attr": attr or None, "values": [],
        "unit": None, "low": None, "high": None, "find_out": None, "settles": list(ask.settles),
        "touches": list(ask.touches), "relation": None, "of": [], "leads": [], "bands": [], "with": None}
    kind, _, rest = name.partition(" ")
    if rest:
        of = rest.split(" " if kind == "same" else " + ")
        return out | {"relation": kind, "of": of, "slot": None, "attr": None,
                      "text": wording.relation_question(book, kind, of), "values": [["yes", "yes"], ["no", "no"]]}
    if attr == "fitted":
        return out | {"text": wording.fitted_question(book, slot), "values": [["yes", "yes"], ["no", "no"]]}
    if not attr:
        described = any(c.kind == "part" and c.masks for c in q.space.candidates[slot])
        return out | {"text": wording.which_question(book, slot, described),
                      "values": [[f, wording.part_text(book, f)] for f in _meant(q, slot)]}
    record = wording.attribute(book, name) or {}
    out |= {"text": record.get("ask") or name, "find_out": record.get("find_out")}
    if record.get("type") == "number":
        return out | {"unit": record.get("unit"), "low": record.get("low"), "high": record.get("high")}
    v = q.space.index[name]
    ids = [x for i, x in enumerate(q.space.values[v]) if dom[v] >> i & 1 and x != NA]
    return out | {"values": [[x, wording.value_text(book, name, x)] for x in ids]}
