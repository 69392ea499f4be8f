"""Changes to a build or a book whose effect on the answer is known beforehand."""

from __future__ import annotations

import copy
from random import Random
from typing import Any, Iterator

from tests.oracle.ground import Json, statement
from tests.oracle.parts import Part, all_kinds
from tests.oracle.real_builds import random_part


def shuffled(rng: Random, build: Json) -> Json:
    """Return the same statements in another order."""
    def mixed(value: Any) -> Any:
        if not isinstance(value, dict):
            return value
        keys = list(value)
        rng.shuffle(keys)
        return {key: mixed(value[key]) for key in keys}

    new = mixed(build)
    if "relations" in new:
        new["relations"] = [{**one} for one in rng.sample(new["relations"], len(new["relations"]))]
        for one in new["relations"]:
            which = next(iter(set(one) - {"is", "says"}))
            one[which] = rng.sample(one[which], len(one[which]))
    return new


def unknown_slots(book: Json, build: Json) -> list[str]:
    """Return the slots of a build about whose part something is told, and more could be."""
    return [slot for slot, said in build["slots"].items()
            if said == "not_sure" or (isinstance(said, dict) and set(said) <= {"family", "told", "keep"})]


def _told(value: Any) -> Any:
    if hasattr(value, "low"):
        middle = (value.low + value.high) / 2
        return int(middle) if float(middle).is_integer() else middle
    return value


def _whole(rng: Random, book: Json, build: Json, slot: str) -> Part | None:
    """Return one part that what was said of a slot leaves possible, None when none was met."""
    said = statement(book, build, slot)
    kind = all_kinds(book)[book["slots"][slot]["kind"]]
    options = list(said.options)
    rng.shuffle(options)
    return next((part for part in (random_part(rng, book, kind, option) for option in options) if part), None)


def _answerable(book: Json, slot: str, attr: str, part: Part) -> bool:
    """Return whether a value can be told so exactly that it stays inside what was known: numbers told vaguely cannot."""
    one = next(a for a in book["kinds"][book["slots"][slot]["kind"]]["attributes"] if a["id"] == attr)
    return part[attr] is not None and one["type"] != "number" and not one["told_only"]


def one_more_answer(rng: Random, book: Json, build: Json) -> Json | None:
    """Return the build with one unknown attribute of a mentioned part answered, None when nothing is left to answer."""
    slots = unknown_slots(book, build)
    rng.shuffle(slots)
    for slot in slots:
        part = _whole(rng, book, build, slot)
        said = build["slots"][slot]
        said = {} if isinstance(said, str) else said
        told = said.get("told", {})
        left = [a for a in part or {} if told.get(a, "unknown") == "unknown" and _answerable(book, slot, a, part)]
        if left:
            attr = rng.choice(left)
            return {**build, "slots": {**build["slots"], slot: {**said, "told": {**told, attr: _told(part[attr])}}}}
    return None


def completions(rng: Random, book: Json, build: Json, count: int) -> Iterator[Json]:
    """Yield builds in which every mentioned part that is not ours to choose is told as fully as can be."""
    for _ in range(count):
        slots = dict(build["slots"])
        for slot in unknown_slots(book, build):
            part = _whole(rng, book, build, slot)
            said = {} if isinstance(slots[slot], str) else slots[slot]
            if part is not None:
                more = {a: _told(v) for a, v in part.items()
                        if said.get("told", {}).get(a, "unknown") == "unknown" and _answerable(book, slot, a, part)}
                if said or more:
                    slots[slot] = {**said, "told": {**said.get("told", {}), **more}}
        for slot, said in slots.items():
            if said == "maybe" and rng.random() < 0.5:
                slots[slot] = "none"
            elif isinstance(said, dict) and "one_of" in said:
                slots[slot] = {**{k: v for k, v in said.items() if k != "one_of"}, "family": rng.choice(said["one_of"])}
        yield {**build, "slots": slots}


def forgotten(rng: Random, book: Json, build: Json) -> Json | None:
    """Return the build with what is known of one part, or one relation, forgotten; None when nothing is known."""
    known = [slot for slot, said in build["slots"].items()
             if isinstance(said, dict) and set(said) <= {"family", "told", "keep"} and not _told_only(book, slot, said)]
    relations = build.get("relations", [])
    if relations and (not known or rng.random() < 0.3):
        gone = rng.randrange(len(relations))
        return {**build, "relations": [{**one, "is": "not_sure"} if n == gone else one
                                       for n, one in enumerate(relations)]}
    if not known:
        return None
    slot = rng.choice(known)
    said = build["slots"][slot]
    told = said.get("told", {})
    roll = rng.random()
    if roll < 0.5 and told:
        attr = rng.choice(sorted(told))
        return {**build, "slots": {**build["slots"], slot: {**said, "told": {**told, attr: "unknown"}}}}
    keep = {"keep": True} if said.get("keep") else {}
    return {**build, "slots": {**build["slots"], slot: {**keep, "state": "not_sure"} if keep else "not_sure"}}


def _told_only(book: Json, slot: str, said: Json) -> bool:
    """Return whether forgetting the part would take a rule out of question, which may better a verdict."""
    kind = book["kinds"][book["slots"][slot]["kind"]]
    return any(a["told_only"] and a["id"] in said.get("told", {}) for a in kind["attributes"])


def renamed(rng: Random, book: Json, build: Json) -> tuple[Json, Json, dict[str, str]]:
    """Return book and build with the ids of every record changed, one for one, and old name -> new name."""
    names: dict[str, str] = {}
    for section in ("kinds", "slots", "families", "rules", "stops", "additions", "subjects", "sets"):
        ids = sorted(book[section])
        numbers = rng.sample(range(100, 999), len(ids))
        joint = "-" if section in ("rules", "stops") else "_"
        names |= {old: f"{section[:3]}{joint}{number}" for old, number in zip(ids, numbers)}

    def change(value: Any) -> Any:
        if isinstance(value, dict):
            return {change(key): change(inner) for key, inner in value.items()}
        if isinstance(value, list):
            return [change(inner) for inner in value]
        if isinstance(value, str):
            place, dot, attr = value.partition(".")
            return names.get(place, place) + dot + names.get(attr, attr)     # an id may be an attribute's too
        return value

    changed = change({key: value for key, value in book.items()})
    for order, section in (("slot_order", "slots"), ("rule_order", "rules"), ("subject_order", "subjects")):
        changed[order] = [names[name] for name in book[order]]
        assert set(changed[order]) == set(changed[section])
    return changed, change(build), names


def is_ours(said: Any) -> bool:
    """Return whether a slot's part is to be chosen."""
    state = said if isinstance(said, str) else said.get("state", "in_hand" if said.get("in_hand") else "")
    return state in ("open", "made_to_order", "in_hand")


def without_addition(book: Json, addition: str) -> Json:
    """Return the book in which no case can bring an addition; a case left without any way will not work."""
    new = copy.deepcopy(book)
    for rule in new["rules"].values():
        for case in rule["cases"]:
            if case["additions"]:
                case["additions"] = [way for way in case["additions"] if not needs(book, way, addition)]
                if not case["additions"]:
                    case["verdict"] = "will-not-work"
    return new


def needs(book: Json, way: list[str], addition: str) -> bool:
    """Return whether a way of adding brings an addition, by way of what it needs too."""
    left, seen = list(way), set()
    while left:
        one = left.pop()
        if one not in seen:
            seen.add(one)
            left += book["additions"][one]["needs"]
    return addition in seen
