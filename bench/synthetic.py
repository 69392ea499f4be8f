"""A synthetic book of a given size, seeded, for the reasoning benchmark: no fact in it means anything."""
from __future__ import annotations

import json
import random
from typing import Any


def make_book(rules: int = 150, slots: int = 40, families: int = 15, seed: int = 7) -> dict[str, Any]:
    """A book with one kind a slot, five attributes each, and rules over two or three slots."""
    rng = random.Random(seed)
    kinds, slot_records, listed = {}, {}, {}
    for i in range(slots):
        attributes = [_attribute(f"a{j}", [f"v{k}" for k in range(rng.randint(2, 4))]) for j in range(5)]
        attributes[4]["applies_when"] = {"a0": [attributes[0]["values"][0][0]]}
        kinds[f"k{i}"] = {"id": f"k{i}", "title": f"Kind {i}", "attributes": attributes, "never": [],
                          "slots": [f"s{i}"], "open_from": "listed", "changeable": "whole"}
        slot_records[f"s{i}"] = {"id": f"s{i}", "kind": f"k{i}", "title": f"Slot {i}",
                                 "if_unsaid": rng.choice(["not_sure", "not_sure", "maybe"])}
        for f in range(families):
            claims = {}
            for a in attributes:
                ids = [v[0] for v in a["values"]]
                some = sorted(rng.sample(ids, 1 if rng.random() < .9 else 2))
                if a["applies_when"] and claims["a0"]["is"] != a["applies_when"]["a0"]:
                    continue
                claims[a["id"]] = {"is": some}
            listed[f"f{i}_{f}"] = {"id": f"f{i}_{f}", "kind": f"k{i}", "title": f"Family {i} {f}", "attributes": claims,
                                   "price": rng.randint(1, 500)}
    rule_records, additions = {}, {}
    for r in range(rules):
        rule_records[f"r{r}"] = _rule(rng, r, kinds, slots, additions)
    return {"schema": 1, "edition": "synthetic", "kinds": kinds, "slots": slot_records,
            "slot_order": list(slot_records), "families": listed, "sets": {}, "offers": {}, "rules": rule_records,
            "rule_order": list(rule_records), "stops": {}, "additions": additions,
            "subjects": {f"t{i}": {"id": f"t{i}", "title": f"Subject {i}"} for i in range(30)}, "sums": {},
            "sources": {"s": {"id": "s", "kind": "invented", "title": "Invented"}}, "find_out": {}, "codes": {},
            "terms": {}, "builds": {}, "layers": []}


def _attribute(name: str, ids: list[str]) -> dict[str, Any]:
    return {"id": name, "title": name, "ask": f"{name}?", "type": "values", "values": [[v, v] for v in ids],
            "unit": None, "low": None, "high": None, "band": 0, "whole": False, "reads": None, "applies_when": {},
            "find_out": None, "told_only": False}


def _rule(rng: random.Random, number: int, kinds, slots: int, additions) -> dict[str, Any]:
    near = rng.randrange(slots)
    among = [near, (near + rng.randint(1, 3)) % slots] + ([(near + rng.randint(4, 6)) % slots] if rng.random() < .3 else [])
    cases = []
    for c in range(rng.randint(2, 4)):
        row = []
        for s in among:
            a = rng.choice(kinds[f"k{s}"]["attributes"])
            ids = [v[0] for v in a["values"]]
            row.append({"on": f"s{s}.{a['id']}", "in": sorted(rng.sample(ids, rng.randint(1, len(ids) - 1)))})
        verdict = "will-not-work" if c == 0 else "works-with-additions" if c == 1 and rng.random() < .5 else "works"
        named = []
        if verdict == "works-with-additions":
            name = f"x{number}"
            additions[name] = {"id": name, "title": name, "type": "buy", "changes": [], "sets": {}, "needs": [],
                               "do": "", "checks": [], "cautions": [], "each": None}
            named = [[name]]
        cases.append({"case": f"c{c}", "verdict": verdict, "when": [row], "additions": named, "because": "Because.",
                      "codes": [], "cautions": [], "sources": ["s"], "goes_wrong": None})
    # works by far the most often, so that whole builds can be answered at all
    cases.append({"case": "usual", "verdict": "works", "when": [[{"on": f"s{among[0]}.fitted", "in": ["yes"]}]],
                  "additions": [], "because": "Because.", "codes": [], "cautions": [], "sources": ["s"],
                  "goes_wrong": None})
    cases.append({"case": "otherwise", "verdict": "cannot-tell", "when": [[]], "additions": [], "because": "Because.",
                  "codes": [], "cautions": [], "sources": ["s"], "goes_wrong": None})
    about = [f"s{s}" for s in dict.fromkeys(among)]
    return {"id": f"r{number}", "title": f"Rule {number}", "subject": f"t{near % 30}", "each": None, "about": about,
            "partners": [], "helpers": [], "cases": cases}


def make_builds(book: dict[str, Any], opened: int, count: int, seed: int = 11) -> list[str]:
    """Builds with every slot told as a listed family but `opened` of them open, as JSON texts."""
    rng = random.Random(seed)
    by_kind: dict[str, list[str]] = {}
    for f, record in book["families"].items():
        by_kind.setdefault(record["kind"], []).append(f)
    out = []
    for _ in range(count):
        slots: dict[str, Any] = {s: {"family": rng.choice(by_kind[r["kind"]])} for s, r in book["slots"].items()}
        for s in rng.sample(sorted(slots), min(opened, len(slots))):
            slots[s] = "open"
        out.append(json.dumps({"slots": slots}, sort_keys=True))
    return out
