"""What to add, as an answer carries it: always, in one of several ways, only if, and by title what else may be needed."""
from __future__ import annotations

from typing import Any, Sequence

from .conditions import conditions
from .findings import Adding, Reason
from .model import Book
from .outcome import Box
from .plans import Key
from .question import Question
from . import wording

BRANCHES_IN_FULL = 10   # branches of `only_if` with their conditions; of the others only what they would add


def additions_json(q: Question, dom: Sequence[int], add: Adding, found: Sequence[Reason]) -> tuple[dict[str, Any], int]:
    """What to add always, in one of several ways, and only if; and how many branches of the last there are.

    Branches that add the same are one; what is needed anyway is not said again.
    """
    book, named = q.book, _why(found)
    branches: dict[tuple[Key, ...], list[Box]] = {}
    for boxes, keys in add.only_if:
        rest = tuple(k for k in keys if k not in add.certain)
        if rest:
            branches.setdefault(rest, []).extend(boxes)
    told = list(branches.items())[:BRANCHES_IN_FULL]
    shown = {k for keys, _ in told for k in keys}
    more = sorted({k for keys in list(branches)[BRANCHES_IN_FULL:] for k in keys} - shown, key=str)
    only_if = []
    for keys, boxes in told:
        rows, others = conditions(q, boxes, dom)
        only_if.append({"when": wording.when_text(rows, others), "conditions": rows, "more_conditions": others,
                        "then": [_addition(book, k, named) for k in keys]})
    return {"certain": [_addition(book, k, named) for k in add.certain],
            "one_of": [[[_addition(book, k, named) for k in way] for way in ways] for ways in add.one_of],
            "only_if": only_if,
            "more": [{"addition": k[0], "slot": k[1], "title": _addition(book, k, named)["title"],
                      "type": book.data["additions"][k[0]]["type"]} for k in more]}, len(branches)


def _why(found: Sequence[Reason]) -> dict[Key, list[str]]:
    out: dict[Key, list[str]] = {}
    for r in found:
        for c, _ in r.cases:
            for alt in r.inst.cases[c].additions:
                for a in alt:
                    for key in ((a, None), (a, r.inst.slot)):
                        if r.inst.rule not in out.setdefault(key, []):
                            out[key].append(r.inst.rule)
    return out


def _addition(book: Book, key: Key, named: dict[Key, list[str]]) -> dict[str, Any]:
    record = book.data["additions"][key[0]]
    offer = book.data["offers"].get(key[0]) or {}
    slot = key[1]
    name = next(iter(record["each"])) if record.get("each") else ""

    def fill(text: str | None) -> str | None:
        return text.replace("{" + name + "}", wording.lower_first(wording.slot_title(book, slot))) if text and slot else text

    return {"addition": key[0], "slot": slot, "title": fill(record["title"]), "type": record["type"],
            "do": fill(record.get("do")), "checks": [fill(t) for t in record.get("checks") or ()],
            "cautions": [fill(t) for t in record.get("cautions") or ()], "stock": offer.get("stock"),
            "price": offer.get("price"), "for": sorted(named.get(key, []))}
