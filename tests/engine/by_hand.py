"""Books of a few records, written out so that the right answer can be seen without a machine."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from wizard.engine import Book, answer, load

Json = dict[str, Any]
BASE = {"layer": "demo", "invented": True, "source": "demo", "checked": "2026-11-25", "note": None}


def attribute(name: str, *values: str, **more: Any) -> Json:
    """Return an attribute with these values; without any, a number of millimetres from 10 to 40 told exactly."""
    number = {"type": "number", "unit": "mm", "low": 10, "high": 40} if not values else {}
    plain = {"unit": None, "low": None, "high": None, "band": 0, "whole": False, "reads": None, "applies_when": None,
             "find_out": "look", "told_only": False, "type": "values"}
    return {**plain, **number, "id": name, "title": name.capitalize(), "ask": f"What is the {name}?",
            "values": [[value, value] for value in values], **more}


def kind(name: str, *attributes: Json, slots: Sequence[str] = (), **more: Any) -> Json:
    """Return a kind of part that takes listed parts and can be changed whole."""
    return {**BASE, "id": name, "title": name.capitalize(), "means": "A kind of part.", "attributes": list(attributes),
            "never": [], "changeable": "whole", "slots": list(slots) or [name], "open_from": "listed",
            "if_unsaid": "not_sure", **more}


def family(name: str, of: str, price: int | None = None, stock: str | None = None, **values: str | tuple[int, int]) -> Json:
    """Return a listed part with its values; a pair is what a number lies between."""
    known = {attr: {"is": [value] if isinstance(value, str) else {"from": value[0], "to": value[1]}, "depends_on": None,
                    "source": "demo", "checked": "2026-11-25"} for attr, value in values.items()}
    return {**BASE, "id": name, "kind": of, "title": name.replace("_", " ").capitalize(), "also_called": [],
            "stock": stock, "price": price, "attributes": known}


def at(on: str, *values: str) -> Json:
    """Return a test for values."""
    return {"on": on, "in": list(values)}


def between(on: str, low: float | str | None, high: float | str | None) -> Json:
    """Return a test for a number, ends included."""
    return {"on": on, "low": low, "low_open": False, "high": high, "high_open": False}


def alike(on: str, other: str) -> Json:
    """Return a test for two attributes being the same."""
    return {"on": on, "same_as": other, "is": True}


def case(verdict: str, *tests: Json, additions: Iterable[Sequence[str]] = (), name: str = "") -> Json:
    """Return a case that matches where all tests hold."""
    return {"case": name or verdict, "when": [list(tests)], "verdict": verdict, "because": f"It {verdict}.",
            "additions": [list(way) for way in additions], "goes_wrong": None, "codes": [], "cautions": [],
            "sources": ["demo"]}


def rule(name: str, about: Sequence[str], *cases: Json, last: str = "will-not-work", **more: Any) -> Json:
    """Return a rule that ends in a case for everything else."""
    end = {**case(last), "case": "otherwise"}
    return {**BASE, "id": name, "title": f"Rule {name}", "mechanism": "X-01", "subject": "light", "each": None,
            "about": list(about), "partners": [], "helpers": [], "means": "A mechanism.", "cases": [*cases, end],
            "goes_wrong": "It stops.", "codes": [], "cautions": [], "sources": ["demo"], **more}


def addition(name: str, sets: Mapping[str, str] | None = None, **more: Any) -> Json:
    """Return something to wire that sets values."""
    return {**BASE, "id": name, "title": name.replace("_", " ").capitalize(), "type": "wire", "each": None, "changes": [],
            "sets": {var: {"to": value} for var, value in (sets or {}).items()}, "needs": [], "do": "Add it.",
            "checks": [], "cautions": [], **more}


def stop(name: str, *tests: Json) -> Json:
    """Return a stop that holds the work up where all tests hold."""
    return {**BASE, "id": name, "title": f"Stop {name}", "mechanism": "X-01", "effect": "hold", "each": None, "order": 0,
            "about": sorted({test["on"].partition(".")[0] for test in tests}), "partners": [], "helpers": [],
            "when": [list(tests)], "say": "Stop.", "why": "It is dangerous.", "instead": "Look first.", "sources": ["demo"]}


def book(kinds: Sequence[Json], rules: Sequence[Json], families: Sequence[Json] = (), additions: Sequence[Json] = (),
         **more: Any) -> Book:
    """Return the book of some records, loaded; subjects are those that rules name."""
    data: Json = {name: {} for name in ("sets", "offers", "stops", "sums", "codes", "terms", "builds")}
    data |= {"schema": 1, "edition": "2026-11-25.00000000", "layers": []}
    data["sources"] = {"demo": {**BASE, "id": "demo", "source": None, "kind": "invented", "title": "Demo sheet",
                                "publisher": None, "document": None, "year": None}}
    data["find_out"] = {"look": {**BASE, "id": "look", "title": "Look", "steps": ["Look at it."], "expect": {},
                                 "tools": [], "time": "1 minute", "ease": "look", "hazard": None}}
    for section, records in (("kinds", kinds), ("families", families), ("rules", rules), ("additions", additions)):
        data[section] = {one["id"]: one for one in records}
    data["slots"] = {slot: {"id": slot, "kind": one["id"], "title": slot.replace("_", " ").capitalize(),
                            "if_unsaid": one["if_unsaid"], "per": None} for one in kinds for slot in one["slots"]}
    subjects = list(dict.fromkeys(one["subject"] for one in rules))
    data["subjects"] = {name: {**BASE, "id": name, "title": name.capitalize(), "question": f"Will the {name} work?"}
                        for name in subjects}
    data |= {"slot_order": list(data["slots"]), "rule_order": list(data["rules"]), "subject_order": subjects, **more}
    return load(json.dumps(data))


def told(**values: Any) -> Json:
    """Return what is said of a part that is described."""
    return {"told": values}


def ask(loaded: Book, slots: Json, **more: Any) -> Json:
    """Return the answer to a build."""
    return json.loads(answer(loaded, json.dumps({"slots": slots, **more})))


def fired(found: Json, name: str) -> set[str]:
    """Return the cases that a rule may come to."""
    return {one["case"] for reason in found["reasons"] if reason["rule"] == name for one in reason["cases"]}
