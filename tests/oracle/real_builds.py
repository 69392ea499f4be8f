"""Seeded builds over a whole book: one or two subjects asked, the parts their rules read told more or less fully."""

from __future__ import annotations

from random import Random
from typing import Any

from tests.oracle.bands import Interval
from tests.oracle.ground import Json, Option, instances
from tests.oracle.parts import Kind, Part, allowed, is_said, known_interval


def random_part(rng: Random, book: Json, kind: Kind, option: Option) -> Part | None:
    """Return a random part that an option leaves possible, None when none was met in some tries."""
    for _ in range(30):
        part: Part = {}
        for attr in kind.attributes:
            if not kind.applies(attr, part):
                part[attr] = None
                if is_said(book, option, attr):
                    break
                continue
            left = allowed(book, kind, option, attr)
            if not left:
                break
            part[attr] = rng.choice(left)
        if len(part) == len(kind.attributes) and kind.possible(part):
            return part
    return None


def random_real_build(seed: int, book: Json, kinds: dict[str, Kind], about: list[str] | None = None) -> Json:
    """Return a seeded build about one or two subjects of a book; about those named, everything is told."""
    rng = Random(seed)
    subjects = about or rng.sample(sorted({rule["subject"] for rule in book["rules"].values()}), rng.choice([1, 1, 2]))
    roles: dict[str, str] = {}
    for rule in book["rules"].values():
        if rule["subject"] in subjects:
            for one in instances(book, rule):
                for role, slots in (("helper", one.helpers), ("partner", one.partners), ("about", one.about)):
                    roles |= {slot: role for slot in slots if role == "about" or roles.get(slot) != "about"}
    slots: Json = {}
    vague = 0.0 if about else rng.choice([0.0, 0.0, 0.1, 0.25])
    for slot in sorted(roles):
        chance = {"about": 0.95, "partner": 0.7, "helper": 0.25}[roles[slot]]
        if rng.random() < (0.9 if about else chance):
            slots[slot] = _said(rng, book, kinds, slot, vague, ALL_TOLD if about else HOW)
    build: Json = {"asks": sorted(subjects), "slots": slots}
    if rng.random() < 0.15:
        build["nothing_added"] = rng.choice([True, {"except": ["wire", "make"]}, {"except": ["buy", "program"]}])
    relations = _relations(rng, book, subjects, slots)
    if relations:
        build["relations"] = relations
    return build


HOW = {"told": 60, "family": 20, "not_sure": 3, "maybe": 3, "none": 3, "open": 6, "one_of": 3, "in_hand": 2,
       "made_to_order": 2}
ALL_TOLD = {"told": 3, "family": 1}


def _said(rng: Random, book: Json, kinds: dict[str, Kind], slot: str, vague: float, ways: dict[str, int]) -> Any:
    kind = kinds[book["slots"][slot]["kind"]]
    families = sorted(f for f, one in book["families"].items() if one["kind"] == kind.id)
    how = rng.choices(list(ways), list(ways.values()))[0]
    if how in ("not_sure", "maybe", "none", "open", "made_to_order"):
        return how
    if how == "one_of" and len(families) >= 2:
        return {"one_of": sorted(rng.sample(families, 2))}
    if how == "in_hand" and families:
        return {"in_hand": [{"family": rng.choice(families)}, {"told": _told(rng, book, kind, Option(None, {}), 0.0)}]}
    said: Json = {}
    option = Option(None, {})
    if how == "family" and families:
        option = Option(rng.choice(families), {})
        said["family"] = option.family
    told = _told(rng, book, kind, option, vague)
    if told:
        said["told"] = told
    if said and rng.random() < 0.12:
        said["keep"] = True
    return said or "not_sure"


def _told(rng: Random, book: Json, kind: Kind, option: Option, vague: float) -> Json:
    part = random_part(rng, book, kind, option) or {}
    told: Json = {}
    for attr, value in part.items():
        if value is None:
            continue
        if rng.random() < vague:
            if rng.random() < 0.4:
                told[attr] = "unknown"
            continue
        number = kind.attributes[attr]["type"] == "number"
        known = known_interval(book, kind, option, attr) if number else None
        told[attr] = _plain(rng, kind, attr, value, known)
    return told


def _plain(rng: Random, kind: Kind, attr: str, value: Any, known: Interval | None) -> Any:
    if not hasattr(value, "low"):
        return {"is": value, "assumed": True} if rng.random() < 0.03 else value
    low, high = (max(value.low, known.low), min(value.high, known.high)) if known else value
    middle = low + (high - low) * (0.5 if rng.random() < 0.7 else rng.random())
    return round(middle) if kind.attributes[attr]["whole"] else float(f"{middle:.6g}")


def _relations(rng: Random, book: Json, subjects: list[str], slots: Json) -> list[Json]:
    found: dict[tuple[str, tuple[str, ...]], None] = {}
    for rule in book["rules"].values():
        if rule["subject"] in subjects:
            for one in instances(book, rule):
                for test in one.tests:
                    if test.get("relation") in ("came_together", "made_for") and all(
                            _is_there(slots.get(slot)) for slot in test["of"]):
                        found[test["relation"], tuple(sorted(test["of"]))] = None
    return [{relation: list(of), "is": rng.choice(["yes", "no", "no", "no", "not_sure"]), "says": "checked"}
            for relation, of in found if rng.random() < 0.7]


def _is_there(said: Any) -> bool:
    """Return whether a slot is mentioned and its part is not still to be bought, which settles where it came from."""
    return said is not None and said not in ("open", "made_to_order", "none")
