"""For every slot whose part is ours to choose: what to take, what would still do, what would not and why."""
from __future__ import annotations

from typing import Any

from .build import Build
from .decision import can_be, viable_values
from .forsale import sold
from .islands import apart, islands
from .solutions import Solutions
from .verdict import Decision, stand
from .question import Question, ours_in, rule_tables, unit_table, with_rules
from .model import ADDITIONS, FAILS
from .names import NA
from .numbers import band_text
from .tables import live_boxes, network, propagate
from . import wording


def choices_json(q: Question, build: Build, d: Decision) -> list[dict[str, Any]]:
    """One entry for each open, in-hand or made-to-order slot that a rule in question reads."""
    out = []
    seen = {v for found in q.found for v in found.vars}
    read = {q.space.names[v].split(".")[0] for v in seen} | {s for v in seen for s in q.space.feeds.get(v, ())}
    home = {s: i.question for i in islands(q) for v in i.vars if v in q.space.ours for s in q.space.homes[v]}
    rest = _Rest(all(b.verdict <= ADDITIONS for i in apart(q) for b in q.found[i].boxes) and 0 not in q.dom,
                 [i.question for i in islands(q)])
    for slot in q.book.slot_order:
        entry = build.slots.get(slot)
        if entry is None or entry.state not in ("open", "in_hand", "made_to_order") or slot not in q.space.part:
            continue
        item = {"slot": slot, "title": wording.slot_title(q.book, slot), "state": entry.state, "pick": None,
                "looked_at": slot in read, "find_out_first": bool(d.strategies), "viable": [], "depends": [],
                "not_viable": [], "specification": []}
        if slot in read:
            _weigh(q, home.get(slot, q), d, slot, item, rest)
        out.append(item)
    return out


class _Rest:
    """What the islands come to beside the one that is looked at."""

    def __init__(self, fine: bool, islands: list[Question]) -> None:
        self.fine, self.islands = fine, islands

    def good(self, but: Question) -> bool:
        """Whether all others have a choice that is good for every world."""
        return self.fine and all(stand(q).choice is not None for q in self.islands if q is not but)

    def possible(self, but: Question) -> bool:
        """Whether all others come to something that works in some world."""
        return self.fine and all(can_work(q) for q in self.islands if q is not but)


def can_work(q: Question) -> bool:
    """Whether some world and some choice of listed parts work, remembered for an island."""
    if "can work" not in q.memo:
        q.memo["can work"] = can_be(q, ADDITIONS, free=False)[0]
    return q.memo["can work"]


def _weigh(q: Question, home: Question, d: Decision, slot: str, item: dict[str, Any], rest: _Rest) -> None:
    p, candidates = q.space.part[slot], q.space.candidates[slot]
    if d.choice is not None and p in q.space.ours:
        i = d.choice.made[p].bit_length() - 1
        item["pick"] = _part(q, slot, i)
    good = d.verdict != FAILS and stand(home).choice is not None and rest.good(home)
    some = d.verdict != FAILS and rest.possible(home)
    for i, c in enumerate(candidates):
        if c.kind == "free" or len(candidates) == 1 and c.kind != "family":
            continue
        part = _part(q, slot, i)
        if good and viable_values(home, stand(home).choice).get((p, 1 << i)):
            item["viable"].append(part)
        elif some and home.dom[p] >> i & 1 and possible_with(home, p, 1 << i):
            item["depends"].append(part)
        else:
            item["not_viable"].append(part | _in_the_way(q, home, p, i))
    made = [c.kind for c in candidates] == ["free"] and slot not in q.space.free
    if made and d.choice is not None:
        item["specification"] = _chosen(q, d, slot)
    elif not item["viable"] and not item["depends"] and (made or slot in q.space.free) and d.verdict != FAILS:
        item["specification"] = _needed(home, slot)


def _part(q: Question, slot: str, i: int) -> dict[str, Any]:
    c = q.space.candidates[slot][i]
    record = q.book.data["families"].get(c.family or "")
    title = record["title"] if record else f"number {i + 1} in hand"
    return {"family": c.family, "title": title, "index": i, "price": (record or {}).get("price"),
            "stock": (record or {}).get("stock"), "for_sale": sold(q.book, c.family)}


def _in_the_way(q: Question, home: Question, p: int, i: int) -> dict[str, Any]:
    """The rule that rules out a part whatever else is known or chosen, its own island's rules first."""
    state = list(home.free_dom)
    state[p] &= 1 << i
    if state[p] and propagate(state, home.base, home.base.watch.get(p, ())):
        for unit, found in (*zip(home.units, home.found), *zip(q.units, q.found)):
            fine = unit_table(found, ADDITIONS)
            if fine is None or fine.boxes and live_boxes(fine, state):
                continue
            live = [b for b in found.boxes if all(state[v] & m for v, m in b.masks.items())]
            if live:
                b = max(live, key=lambda b: b.verdict)
                for rule, c in zip(unit.rules, b.cases):
                    if c >= 0 and rule.inst.cases[c].verdict > ADDITIONS:
                        record = q.book.data["rules"][rule.inst.rule]["cases"][c]
                        return {"rule": rule.inst.rule, "case": rule.inst.cases[c].id,
                                "because": wording.fill(q.book, rule.inst, record["because"])}
    return {"rule": None, "case": None, "because": wording.ONLY_TOGETHER}


def possible_with(q: Question, p: int, bit: int) -> bool:
    """Whether a part can come to something that works in some world, other choices being free.

    Every world found answers for all the parts in it.
    """
    if "worlds" not in q.memo:
        tables = rule_tables(q, ADDITIONS)
        q.memo["worlds"] = None if tables is None else Solutions(q.dom, network(with_rules(q, tables)), ours_in(q))
    worlds = q.memo["worlds"]
    return worlds is not None and worlds.has(p, bit) is not False


def _chosen(q: Question, d: Decision, slot: str) -> list[dict[str, Any]]:
    """What a part made to order must be, as far as rules read it."""
    read = {v for found in q.found for v in found.vars}
    out = []
    for a in q.book.kinds[q.book.slot_kind[slot]].attributes:
        v = q.space.index[f"{slot}.{a.id}"]
        aim = q.space.index.get(f"aim {slot}.{a.id}")
        if a.type == "number" and aim in d.choice.made:
            value = float(q.space.values[aim][d.choice.made[aim].bit_length() - 1])
            record = wording.attribute(q.book, f"{slot}.{a.id}")
            text = wording.span_text(value, value, record.get("unit") or "")
            out.append({"attr": a.id, "title": record["title"], "values": [[text, text]]})
        elif v in read and a.type == "number":
            out += _stretch(q, slot, a.id, d.choice.made.get(v, q.dom[v]))
        elif v in read:
            out += _line(q, slot, a.id, d.choice.made.get(v, q.dom[v]))
    return out


def _stretch(q: Question, slot: str, attr: str, mask: int) -> list[dict[str, Any]]:
    """A number to be made, as what lies between the limits that rules name; nothing where it was told or may be any."""
    name = f"{slot}.{attr}"
    v = q.space.index[name]
    bands, every = (m & ~q.book.layout.places[slot].na[attr] for m in (mask, q.dom[v]))
    if not bands or attr in q.space.candidates[slot][0].known or bands == every and bands.bit_count() > 1:
        return []
    record = wording.attribute(q.book, name)
    text = wording.span_text(*band_text(q.book.cuts.get(name, ()), bands), record.get("unit") or "")
    return [{"attr": attr, "title": record["title"], "values": [[text, text]]}]


def _needed(q: Question, slot: str) -> list[dict[str, Any]]:
    """What a part must be so that nothing fails, where no listed one will do: only what is narrowed."""
    tables = rule_tables(q, ADDITIONS)
    if tables is None:
        return []
    dom = list(q.free_dom)
    if slot in q.space.free:
        dom[q.space.part[slot]] = q.space.free[slot]
    found, out = Solutions(dom, network(with_rules(q, tables))), []
    for a in q.book.kinds[q.book.slot_kind[slot]].attributes:
        v = q.space.index[f"{slot}.{a.id}"]
        bits = [1 << i for i in range(len(q.space.values[v])) if dom[v] >> i & 1]
        fit = sum(b for b in bits if found.has(v, b))
        if fit and fit != dom[v] and a.type != "number":
            out += _line(q, slot, a.id, fit)
    return out


def _line(q: Question, slot: str, attr: str, mask: int) -> list[dict[str, Any]]:
    name = f"{slot}.{attr}"
    ids = [x for i, x in enumerate(q.space.values[q.space.index[name]]) if mask >> i & 1 and x != NA]
    if not ids:
        return []
    record = wording.attribute(q.book, name)
    return [{"attr": attr, "title": record["title"],
             "values": [[x, wording.value_text(q.book, name, x)] for x in ids]}]
