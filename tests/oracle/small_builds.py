"""Seeded builds for a book: every state a slot can have and every form a statement can take."""

from __future__ import annotations

from random import Random
from typing import Any

from tests.oracle.ground import Json, Option
from tests.oracle.parts import Kind, Part, parts

MOODS = {
    "told": ["family"] * 4 + ["told"] * 6 + ["none"],
    "unsure": ["family"] * 2 + ["told"] * 4 + ["not_sure", "maybe", "one_of"],
    "buying": ["family"] * 2 + ["told"] * 3 + ["open"] * 3 + ["in_hand", "made_to_order"],
    "mixed": ["family", "told", "told", "not_sure", "maybe", "open", "in_hand", "one_of", "made_to_order", "none"],
}


def random_build(rng: Random, book: Json, model: Json, mood: str | None = None) -> Json:
    """Return a build that mostly holds the model parts; about one in ten says things that cannot all be true."""
    mood = mood or rng.choice(["told", "told", "told", "unsure", "buying", "mixed"])
    junk = 0.04 if rng.random() < 0.5 else 0.0
    slots: Json = {}
    for slot in sorted(book["slots"]):
        chance = 0.5 if book["slots"][slot]["if_unsaid"] == "none" else 0.9
        if rng.random() < chance:
            slots[slot] = _said(rng, book, slot, rng.choice(MOODS[mood]), mood, junk, model)
    build: Json = {"slots": slots}
    if rng.random() < 0.15:
        build["asks"] = sorted(rng.sample(sorted(book["subjects"]), 1))
    if rng.random() < 0.08:
        build["whole_swap"] = True
    if rng.random() < 0.15:
        build["nothing_added"] = rng.choice([True, {"except": ["wire", "buy"]}, {"except": ["program", "set", "make"]}])
    if len(slots) >= 2 and rng.random() < 0.4:
        build["relations"] = [_relation(rng, book, slots) for _ in range(rng.choice([1, 1, 2]))]
        build["relations"] = [one for one in build["relations"] if one]
    if rng.random() < 0.06:
        build["taken_as_right"] = [{"rule": rng.choice(sorted(book["rules"]))}]
    return build


def _whole_part(rng: Random, book: Json, slot: str, family: str | None, model: Json) -> Part:
    """Return a part of the family, or of any, as near the model part as half a dozen draws come."""
    kind = book["slots"][slot]["kind"]
    every = list(parts(book, Kind(book, kind), Option(family, {})))
    if rng.random() < 0.12:
        return rng.choice(every)
    return max(every, key=lambda part: sum(_alike(part[a], model[kind][a]) for a in part))


def _alike(one: Any, other: Any) -> bool:
    """Return whether a value is the model's; a model number lies in a band or is not known so finely."""
    if hasattr(one, "low") and hasattr(other, "low"):
        return one.low >= other.low and one.high <= other.high
    return one == other


def _family(rng: Random, book: Json, slot: str) -> str:
    kind = book["slots"][slot]["kind"]
    return rng.choice(sorted(f for f, one in book["families"].items() if one["kind"] == kind))


def told_of(rng: Random, book: Json, slot: str, part: Part, share: float, junk: float, plain: bool = False) -> Json:
    """Return some of what is so of a part, as a customer would tell it."""
    told: Json = {}
    for one in book["kinds"][book["slots"][slot]["kind"]]["attributes"]:
        value = part[one["id"]]
        if rng.random() >= share or (value is None and rng.random() >= junk):
            continue
        told[one["id"]] = _told_value(rng, one, value, junk, plain)
    return told


def _told_value(rng: Random, one: Json, value: Any, junk: float, plain: bool) -> Any:
    if one["type"] == "number":
        number: Any = rng.randint(one["low"], one["high"])
        if value is not None and rng.random() >= junk:
            inside = [n for n in range(one["low"], one["high"] + 1) if value.low <= n <= value.high]
            number = rng.choice(inside) if inside else number
        if not plain and one["band"] == 0 and rng.random() < 0.3:
            number = {"from": number, "to": min(one["high"], number + rng.randint(0, 2))}
        said: Any = number
    else:
        values = [v for v, _ in one["values"]] + (["other"] if one["type"] == "identity" else [])
        said = rng.choice(values) if value is None or rng.random() < junk else value
        if not plain and rng.random() < 0.12:
            said = sorted({said, rng.choice(values)})
    if not plain and rng.random() < 0.08:
        return "unknown"
    return {"is": said, "assumed": True} if rng.random() < 0.06 else said


def _said(rng: Random, book: Json, slot: str, how: str, mood: str, junk: float, model: Json) -> Any:
    share = 0.97 if mood == "told" else 0.75
    own = sorted(f for f, one in book["families"].items() if one["kind"] == book["slots"][slot]["kind"])
    if how in ("not_sure", "none"):
        return {"keep": True} if how == "not_sure" and rng.random() < 0.15 else how
    if how == "maybe":
        return "maybe"
    if how == "family":
        family = _family(rng, book, slot)
        said: Json = {"family": family}
        told = told_of(rng, book, slot, _whole_part(rng, book, slot, family, model), 0.4, junk)
        if told:
            said["told"] = told
    elif how == "told":
        told = told_of(rng, book, slot, _whole_part(rng, book, slot, None, model), share, junk)
        if not told:
            return "not_sure"
        said = {"told": told}
    elif how == "one_of":
        said = {"one_of": sorted(rng.sample(own, min(len(own), 2)))}
    elif how == "in_hand":
        said = {"in_hand": [_in_hand(rng, book, slot, model) for _ in range(rng.choice([2, 2, 3]))]}
    else:
        said = {"state": how}
        family = _family(rng, book, slot) if how == "open" and rng.random() < 0.7 else None
        told = told_of(rng, book, slot, _whole_part(rng, book, slot, family, model), 0.25, junk, plain=True)
        if told:
            said["told"] = told
        return said if told and rng.random() < 0.9 else how
    if rng.random() < 0.15:
        said["keep"] = True
    return said


def _in_hand(rng: Random, book: Json, slot: str, model: Json) -> Json:
    if rng.random() < 0.5:
        return {"family": _family(rng, book, slot)}
    return {"told": told_of(rng, book, slot, _whole_part(rng, book, slot, None, model), 0.85, 0.0)}


def _relation(rng: Random, book: Json, slots: Json) -> Json | None:
    settled = [s for s, said in slots.items() if isinstance(said, dict)
               and not {"in_hand", "state", "one_of"} & set(said)]
    answer = {"is": rng.choice(["yes", "yes", "no", "not_sure"]), "says": rng.choice(["customer", "checked"])}
    which = rng.choice(["came_together", "came_together", "made_for", "same"])
    if which != "same":
        some = rng.sample(sorted(slots), 2 if len(slots) == 2 or rng.random() < 0.7 else 3)
        return {which: sorted(some), **answer}
    alike = [(f"{a}.{x['id']}", f"{b}.{y['id']}") for a in settled for b in settled if a < b
             for x in book["kinds"][book["slots"][a]["kind"]]["attributes"]
             for y in book["kinds"][book["slots"][b]["kind"]]["attributes"]
             if x["type"] == y["type"] != "number" and not x["applies_when"] and not y["applies_when"]]
    return {"same": list(rng.choice(alike)), **answer} if alike else None
