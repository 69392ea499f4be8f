"""Seeded small books and builds in book form, with every kind of record, slot state and statement.

`python -m tests.oracle.small_books --seed 1 --count 500` prints how the verdicts of brute force are spread.
"""

from __future__ import annotations

import argparse
from collections import Counter
from random import Random
from typing import Any, NamedTuple

from tests.oracle.brute import TooMany, Verdict, brute_force
from tests.oracle.ground import Json, Option
from tests.oracle.parts import Kind, parts
from tests.oracle.small_rules import add_additions, add_rules, add_stops
from tests.oracle.small_builds import random_build

LETTERS = "abc"
BASE = {"layer": "demo", "invented": True, "source": "demo", "checked": "2026-11-25", "note": None}


class Shape(NamedTuple):
    """What a generated book may hold."""

    numbers: bool = True
    told_only: bool = True
    kinds: tuple[int, int] = (2, 4)
    rules: tuple[int, int] = (1, 5)
    mood: str | None = None


def random_book(rng: Random, shape: Shape = Shape()) -> tuple[Json, Json]:
    """Return a small book whose references all resolve, and for each kind the part its rules mostly like."""
    book: Json = {"schema": 1, "edition": "2026-11-25.00000000", "layers": [
        {"id": "demo", "layer": "demo", "title": "Demo", "invented": True, "about": "Invented.", "source": None,
         "checked": None, "note": None}]}
    book |= {name: {} for name in ("kinds", "slots", "families", "sets", "offers", "rules", "stops", "additions",
                                   "subjects", "sums", "sources", "find_out", "codes", "terms", "builds")}
    book["sources"]["demo"] = {**BASE, "id": "demo", "source": None, "kind": "invented", "title": "Demo sheet",
                               "publisher": None, "document": None, "year": None}
    book["find_out"]["look"] = {**BASE, "id": "look", "title": "Look", "steps": ["Look at it."], "expect": {},
                                "tools": [], "time": "1 minute", "ease": "look", "hazard": None}
    for n in range(rng.randint(1, 3)):
        book["subjects"][f"subject_{n}"] = {**BASE, "id": f"subject_{n}", "title": f"Subject {n}",
                                            "question": f"Will subject {n} work?", **({"always": True} if n == 2 else {})}
    for n in range(rng.randint(*shape.kinds)):
        _add_kind(rng, book, f"kind_{n}", shape)
    for kind in book["kinds"]:
        for n in range(rng.randint(1, 3)):
            _add_family(rng, book, kind, f"{kind}_family_{n}")
    _name_identities(book)
    for n in range(rng.choice([0, 0, 1, 2])):
        _add_set(rng, book, f"set_{n}")
    add_additions(rng, book)
    model = _model_parts(rng, book)
    add_rules(rng, book, rng.randint(*shape.rules), model)
    add_stops(rng, book)
    for name, order in (("slots", "slot_order"), ("rules", "rule_order"), ("subjects", "subject_order")):
        book[order] = sorted(book[name])
    return book, model


def _model_parts(rng: Random, book: Json) -> Json:
    """Return one part of each kind; the rules are made to like it, and the builds to hold it."""
    model = {}
    for kind in book["kinds"]:
        own = sorted(f for f, one in book["families"].items() if one["kind"] == kind)
        family = rng.choice([None, *own])
        model[kind] = rng.choice(list(parts({**book, "rules": {}, "stops": {}}, Kind(book, kind, {}), Option(family, {}))))
    return model


def _add_kind(rng: Random, book: Json, kind: str, shape: Shape) -> None:
    attributes: list[Json] = []
    for n in range(rng.randint(2, 4)):
        attributes.append(_attribute(rng, f"attr_{n}", attributes, shape))
    values = [a for a in attributes if a["type"] == "values"]
    never = []
    if len(values) >= 2 and rng.random() < 0.3:
        one, two = rng.sample(values, 2)
        never.append({a["id"]: [rng.choice(a["values"])[0]] for a in (one, two)})
    names = [f"slot_{kind[-1]}"] if rng.random() < 0.7 else [f"slot_{kind[-1]}_{side}" for side in ("left", "right")]
    if_unsaid = rng.choice(["not_sure", "not_sure", "maybe", "none"])
    record = {**BASE, "id": kind, "title": f"Kind {kind[-1]}", "means": "A kind of part.", "attributes": attributes,
              "never": never, "changeable": rng.choice(["whole", "ways", "never"]), "slots": names,
              "open_from": rng.choice(["listed", "listed", "listed", "made_to_order"])}
    book["kinds"][kind] = record
    if not list(parts({**book, "rules": {}, "stops": {}}, Kind(book, kind, {}), Option(None, {}))):
        record["never"] = []
    for name in names:
        book["slots"][name] = {"id": name, "kind": kind, "title": name.replace("_", " ").capitalize(),
                               "if_unsaid": if_unsaid, "per": None}


def _attribute(rng: Random, name: str, earlier: list[Json], shape: Shape) -> Json:
    sort = rng.choice(["values"] * 6 + ["identity"] * 2 + ["number"] * (2 if shape.numbers else 0))
    one: Json = {"id": name, "title": f"Attribute {name[-1]}", "ask": f"What is {name}?", "type": sort, "values": [],
                 "unit": None, "low": None, "high": None, "band": 0, "whole": False, "reads": None,
                 "applies_when": None, "find_out": "look", "told_only": False, "source": "demo",
                 "checked": "2026-11-25"}
    if sort == "values":
        one["values"] = [[v, f"value {v}"] for v in LETTERS[:rng.randint(2, 3)]]
        one["told_only"] = shape.told_only and rng.random() < 0.12
    elif sort == "identity":
        one["values"] = [[v, f"plug {v}"] for v in ("plug_a", "plug_b")]
    else:
        one |= {"unit": "mm", "low": 10, "high": 40, "band": 0.03}
        if rng.random() < 0.4:
            one |= {"unit": "count", "low": 1, "high": 6, "band": 0, "whole": True}
    parents = [a for a in earlier if a["type"] == "values" and not a["told_only"]]
    if parents and rng.random() < 0.4:
        chosen = rng.sample(parents, 1 if rng.random() < 0.8 else min(2, len(parents)))
        one["applies_when"] = {}
        for parent in chosen:
            own = [v for v, _ in parent["values"]]
            one["applies_when"][parent["id"]] = sorted(rng.sample(own, rng.randint(1, len(own) - 1)))
    return one


def _add_family(rng: Random, book: Json, kind: str, name: str) -> None:
    record = book["kinds"][kind]
    whole = rng.choice(list(parts({**book, "rules": {}, "stops": {}}, Kind(book, kind, {}), Option(None, {}))))
    known: Json = {}
    for one in record["attributes"]:
        parents = one["applies_when"] or {}
        settled = all(p in known and set(known[p]["is"]) <= set(values) for p, values in parents.items())
        if whole[one["id"]] is None or (not settled and rng.random() < 0.5) or one["told_only"] or rng.random() < 0.15:
            continue
        if one["type"] == "number":
            low = rng.randint(one["low"], one["high"])
            high = min(one["high"], low + (rng.randint(1, 5) if rng.random() < 0.3 else 0))
            value: Any = {"from": low, "to": high}
        else:
            value = [whole[one["id"]]]
            if rng.random() < 0.2:
                value = sorted({*value, rng.choice(one["values"])[0]} - {"other"}) or value
        known[one["id"]] = {"is": value, "depends_on": None, "source": "demo", "checked": "2026-11-25"}
    box_free = Kind(book, kind, {})
    if not list(parts({**book, "families": {name: {"attributes": known}}, "rules": {}, "stops": {}}, box_free,
                      Option(name, {}))):
        known = {}
    book["families"][name] = {**BASE, "id": name, "kind": kind, "title": f"Part {name}", "also_called": [],
                              "stock": None, "price": None, "attributes": known}


def _name_identities(book: Json) -> None:
    """A family's plug is never the implicit other one: the sheet would have named it."""
    for family in book["families"].values():
        for attr, entry in list(family["attributes"].items()):
            if isinstance(entry["is"], list):
                entry["is"] = [v for v in entry["is"] if v != "other"]
                if not entry["is"]:
                    del family["attributes"][attr]


def _add_set(rng: Random, book: Json, name: str) -> None:
    slots = sorted(rng.sample(sorted(book["slots"]), min(len(book["slots"]), rng.randint(2, 3))))
    families = {}
    for slot in slots:
        own = sorted(f for f, one in book["families"].items() if one["kind"] == book["slots"][slot]["kind"])
        families[slot] = sorted(rng.sample(own, rng.randint(1, min(2, len(own)))))
    book["sets"][name] = {**BASE, "id": name, "title": f"Set {name}", "families": families}


def random_pair(seed: int, shape: Shape = Shape()) -> tuple[Json, Json]:
    """Return a book and a build of any size, for what needs no oracle."""
    rng = Random(seed)
    book, model = random_book(rng, shape)
    return book, random_build(rng, book, model, shape.mood)


def random_case(seed: int, shape: Shape = Shape(), cap: int = 300) -> tuple[Json, Json, Verdict]:
    """Return a book, a build and what brute force says of it, the first of this seed within the cap."""
    rng = Random(seed)
    while True:
        book, model = random_book(rng, shape)
        for _ in range(4):
            build = random_build(rng, book, model, shape.mood)
            try:
                return book, build, brute_force(book, build, cap=cap)
            except TooMany:
                continue


def spread(seed: int, count: int) -> Counter[str]:
    """Return how often each outcome comes among seeded cases."""
    found: Counter[str] = Counter()
    for n in range(seed, seed + count):
        _, build, verdict = random_case(n)
        found[str(verdict.verdict)] += 1
        found["refused"] += verdict.refused
        found["possible stops"] += bool(verdict.possible)
        found["worlds"] += verdict.worlds
        found["overall worse than every subject"] += _worse(verdict)
        found["some open"] += any(_state(s) in ("open", "made_to_order", "in_hand") for s in build["slots"].values())
    return found


def _state(said: Any) -> str:
    if isinstance(said, str):
        return said
    return said.get("state") or next((key for key in ("in_hand", "one_of", "family") if key in said), "told")


def _worse(verdict: Verdict) -> bool:
    order = ["works", "works-with-additions", "cannot-tell", "will-not-work"]
    worst = max((order.index(v) for v in verdict.subjects.values()), default=0)
    return verdict.verdict is not None and not verdict.refused and order.index(verdict.verdict) > worst


def main() -> None:
    """Print the spread of outcomes."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--count", type=int, default=500)
    given = parser.parse_args()
    for name, times in sorted(spread(given.seed, given.count).items()):
        print(f"{name:36} {times}")


if __name__ == "__main__":
    main()
