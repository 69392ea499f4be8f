"""Seeded rules, additions and stops for a small book."""

from __future__ import annotations

from random import Random
from typing import Any

from tests.oracle.bands import inside
from tests.oracle.ground import Json

BASE = {"layer": "demo", "invented": True, "source": "demo", "checked": "2026-11-25", "note": None}
TYPES = ["buy", "make", "wire", "program", "set", "move"]


def slots_of(book: Json, kind: str) -> list[str]:
    """Return the slots of a kind."""
    return book["kinds"][kind]["slots"]


def _kind(book: Json, place: str, each: Json | None) -> str:
    return each[place] if each and place in each else book["slots"][place]["kind"]


def _attributes(book: Json, place: str, each: Json | None) -> list[Json]:
    return book["kinds"][_kind(book, place, each)]["attributes"]


def _some(rng: Random, values: list[str]) -> list[str]:
    return sorted(rng.sample(values, rng.randint(1, max(1, len(values) - 1))))


def likely_test(rng: Random, book: Json, places: list[str], each: Json | None, helpers: list[str], model: Json) -> Json:
    """Return a test that mostly holds of the model parts, so that works is not rare."""
    wanted = rng.random() < 0.88
    for _ in range(8):
        test = random_test(rng, book, places, each, helpers)
        if not wanted or holds(book, test, each, helpers, model):
            return test
    return test


def holds(book: Json, test: Json, each: Json | None, helpers: list[str], model: Json) -> bool:
    """Return whether a test holds of the model parts, helpers not being fitted."""
    if "relation" in test:
        return test["relation"] != "listed_together" and test["is"] == "yes"
    values = []
    for name in (test[key] for key in ("on", "same_as", "low", "high") if isinstance(test.get(key), str)):
        place, attr = name.split(".")
        if attr == "fitted":
            return ("no" if place in helpers else "yes") in test["in"]
        values.append(None if place in helpers else model[_kind(book, place, each)][attr])
    if None in values:
        return False
    if "in" in test:
        return values[0] in test["in"]
    if "same_as" in test:
        return (values[0] == values[1] != "other") == test["is"]
    return len(values) == 1 and inside(values[0], test["low"], test["low_open"], test["high"], test["high_open"])


def random_test(rng: Random, book: Json, places: list[str], each: Json | None, helpers: list[str]) -> Json:
    """Return one test over the slots a rule may read."""
    roll = rng.random()
    if roll < 0.12 and len(places) >= 2:
        of = rng.sample(places, 2 if len(places) == 2 or rng.random() < 0.7 else 3)
        relation = rng.choice(["came_together", "made_for", "listed_together"])
        return {"relation": relation, "of": sorted(of), "is": rng.choice(["yes", "yes", "no"])}
    place = rng.choice(places)
    if roll < 0.2 or (place in helpers and roll < 0.45):
        return {"on": f"{place}.fitted", "in": [rng.choice(["yes", "yes", "no"])]}
    one = rng.choice([a for a in _attributes(book, place, each) if not a["told_only"] or roll < 0.3]
                     or _attributes(book, place, each))
    on = f"{place}.{one['id']}"
    if one["type"] == "number":
        return _number_test(rng, book, places, each, on, one)
    alike = [f"{other}.{a['id']}" for other in places if other != place for a in _attributes(book, other, each)
             if a["type"] == one["type"] and not a["told_only"]]
    if alike and not one["told_only"] and rng.random() < (0.6 if one["type"] == "identity" else 0.2):
        return {"on": on, "same_as": rng.choice(alike), "is": rng.random() < 0.65}
    values = [v for v, _ in one["values"]] + (["other"] if one["type"] == "identity" else [])
    return {"on": on, "in": _some(rng, values)}


def _number_test(rng: Random, book: Json, places: list[str], each: Json | None, on: str, one: Json) -> Json:
    others = [f"{p}.{a['id']}" for p in places for a in _attributes(book, p, each)
              if a["type"] == "number" and f"{p}.{a['id']}" != on and a["unit"] == one["unit"]]
    limit: Any = rng.randint(one["low"] + 1, one["high"] - 1)
    if others and rng.random() < 0.4:
        limit = rng.choice(others)
    test = {"on": on, "low": None, "low_open": False, "high": None, "high_open": False}
    end = rng.choice(["low", "high"])
    test |= {end: limit, f"{end}_open": rng.random() < 0.4}
    if not isinstance(limit, str) and rng.random() < 0.2:
        test |= {"low": limit, "high": limit + rng.randint(1, 4), "low_open": False}
    return test


def add_additions(rng: Random, book: Json) -> None:
    """Add a few additions; none takes a value from what another one sets."""
    helpers = [s for s, one in book["slots"].items() if one["if_unsaid"] == "none"]
    doubled = [k for k in book["kinds"] if len(slots_of(book, k)) > 1]
    everything = sorted(book["slots"])
    targets: set[str] = set()
    copied: set[str] = set()
    for n in range(rng.randint(2, 6)):
        each = {"item": rng.choice(doubled)} if doubled and rng.random() < 0.25 else None
        places = everything + (["item"] * 3 if each else [])
        sets: Json = {}
        if helpers and rng.random() < 0.4:
            sets[f"{rng.choice(helpers)}.fitted"] = {"to": "yes"}
        for _ in range(rng.choice([0, 1, 1, 2])):
            _add_set(rng, book, places, each, sets, targets, copied)
        targets |= {_plain(book, each, var) for var in sets}
        name = f"addition_{n}"
        earlier = [a for a, one in book["additions"].items() if not one["each"] or one["each"] == each]
        needs = [rng.choice(earlier)] if earlier and rng.random() < 0.2 else []
        book["additions"][name] = {
            **BASE, "id": name, "title": f"Addition {n}", "type": rng.choice(TYPES), "each": each,
            "changes": sorted(rng.sample(places, 1)) if rng.random() < 0.4 else [], "sets": sets, "needs": needs,
            "do": "Add it.", "checks": [], "cautions": []}


def _plain(book: Json, each: Json | None, var: str) -> str:
    place, attr = var.split(".")
    return f"{_kind(book, place, each)}.{attr}"


def _add_set(rng: Random, book: Json, places: list[str], each: Json | None, sets: Json, targets: set[str],
             copied: set[str]) -> None:
    place = rng.choice(places)
    one = rng.choice(_attributes(book, place, each))
    var = f"{place}.{one['id']}"
    if one["type"] == "number" or one["told_only"] or _plain(book, each, var) in copied:
        return
    values = [v for v, _ in one["values"]]
    how: Json = {"to": rng.choice(values)}
    sources = [f"{p}.{a['id']}" for p in places if p != place for a in _attributes(book, p, each)
               if a["type"] == one["type"] and not a["told_only"]]
    sources = [s for s in sources if _plain(book, each, s) not in targets | {_plain(book, each, v) for v in (*sets, var)}]
    if sources and rng.random() < 0.4:
        how = {"same_as": rng.choice(sources)}
        copied.add(_plain(book, each, how["same_as"]))
    sets[var] = how


def _roles(rng: Random, book: Json) -> tuple[Json | None, list[str], list[str], list[str]]:
    doubled = [k for k in book["kinds"] if len(slots_of(book, k)) > 1]
    each = {"item": rng.choice(doubled)} if doubled and rng.random() < 0.6 else None
    helpers = [s for s, one in book["slots"].items() if one["if_unsaid"] == "none"]
    rest = [s for s in sorted(book["slots"]) if s not in helpers
            and not (each and book["slots"][s]["kind"] == each["item"])]
    rng.shuffle(rest)
    about = (["item"] if each else []) + rest[:rng.choice([1, 1, 2])]
    about = about or helpers[:1]
    partners = [s for s in rest if s not in about][:rng.choice([0, 1])]
    free = [h for h in helpers if h not in about and not (each and book["slots"][h]["kind"] == each["item"])]
    return each, about, partners, free[:rng.choice([0, 1, 1])]


def add_rules(rng: Random, book: Json, count: int, model: Json) -> None:
    """Add rules of one to four cases and an otherwise."""
    for n in range(count):
        name = f"rule-{n}"
        each, about, partners, helpers = _roles(rng, book)
        places = about + partners + helpers
        usable = [a for a, one in book["additions"].items() if not one["each"] or one["each"] == each]
        cases = [_case(rng, book, f"case-{k}", places, each, helpers, usable, model) for k in range(rng.randint(1, 4))]
        last = {"case": "otherwise", "when": [[]], "verdict": rng.choice(["cannot-tell", "will-not-work"]),
                "because": "Nothing else holds.", "additions": []}
        for case in [*cases, last]:
            plain = case["verdict"] == "works"
            case |= {"goes_wrong": None if plain else "It stops.", "codes": [], "cautions": [], "sources": ["demo"]}
        book["rules"][name] = {
            **BASE, "id": name, "title": f"Rule {n}", "mechanism": "X-01", "subject": rng.choice(sorted(book["subjects"])),
            "each": each, "about": about, "partners": partners, "helpers": helpers, "means": "A mechanism.",
            "cases": [*cases, last], "goes_wrong": "It stops.", "codes": [], "cautions": [], "sources": ["demo"]}


def _case(rng: Random, book: Json, name: str, places: list[str], each: Json | None, helpers: list[str],
          usable: list[str], model: Json) -> Json:
    verdict = rng.choice(["works"] * 6 + ["works-with-additions"] * 5 + ["cannot-tell"] + ["will-not-work"])
    if verdict == "works-with-additions" and not usable:
        verdict = "works"
    when = [[likely_test(rng, book, places, each, helpers, model) for _ in range(rng.choice([1, 1, 2, 3]))]
            for _ in range(rng.choice([1, 1, 1, 2]))]
    additions: list[list[str]] = []
    if verdict == "works-with-additions":
        additions = [sorted(rng.sample(usable, rng.randint(1, min(2, len(usable)))))
                     for _ in range(rng.choice([1, 1, 2]))]
    because = "Because the {item} says so." if each and rng.random() < 0.5 else "Because it says so."
    return {"case": name, "when": when, "verdict": verdict, "because": because, "additions": additions}


def add_stops(rng: Random, book: Json) -> None:
    """Add up to two stops."""
    for n in range(rng.choice([0, 1, 1, 2])):
        each, about, partners, helpers = _roles(rng, book)
        when = [[random_test(rng, book, about + partners + helpers, each, helpers)
                 for _ in range(rng.choice([1, 2]))]]
        effect = rng.choice(["refuse", "hold"])
        if effect == "hold" and rng.random() < 0.5:
            when = [[]]
        book["stops"][f"stop-{n}"] = {
            **BASE, "id": f"stop-{n}", "title": f"Stop {n}", "effect": effect, "each": each, "about": about,
            "partners": partners, "helpers": helpers, "when": when, "say": "Do not do this.",
            "why": "It hurts.", "instead": "Ask somebody.", "sources": ["demo"]}
