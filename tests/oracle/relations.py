"""What was said of two parts at once: which relations are settled, which stay open, which contradict."""

from __future__ import annotations

from tests.oracle.ground import Json, statement


def said(build: Json, relation: str) -> list[tuple[frozenset[str], str]]:
    """Return the (slots or attributes, yes/no) statements of one relation; what is not sure says nothing."""
    return [(frozenset(one[relation]), one.get("is", "yes")) for one in build.get("relations", [])
            if relation in one and one.get("is") != "not_sure"]


def groups(build: Json) -> list[frozenset[str]]:
    """Return the sets of slots whose parts came together, merged."""
    merged: list[frozenset[str]] = []
    for slots, how in said(build, "came_together"):
        if how == "yes":
            touching = [g for g in merged if g & slots]
            merged = [g for g in merged if not g & slots] + [slots.union(*touching)]
    return merged


def _closure(build: Json, slots: frozenset[str]) -> frozenset[str]:
    return slots.union(*[g for g in groups(build) if g & slots])


def _not_yet_bought(book: Json, build: Json, relation: str, slots: frozenset[str]) -> set[str]:
    """Return what follows from a part not being bought yet: it came from no donor and was made for nothing.

    A part made to order is made for what it goes with.
    """
    states = {slot: statement(book, build, slot).state for slot in slots if slot in build.get("slots", {})}
    if relation == "made_for" and "made_to_order" in states.values():
        return {"yes"}
    return {"no"} if {"open", "made_to_order"} & set(states.values()) else set()


def all_said(book: Json, build: Json, relation: str, slots: frozenset[str]) -> set[str]:
    """Return every answer, "yes" and "no", that what was said gives a relation over these slots."""
    if relation == "came_together":
        told = {"yes"} if any(slots <= g for g in groups(build)) else set()
        whole = _closure(build, slots)
        if any(how == "no" and denied <= whole for denied, how in said(build, relation)):
            told.add("no")
    else:
        told = {how for these, how in said(build, relation) if these == slots}
    return told | _not_yet_bought(book, build, relation, slots)


def settled(book: Json, build: Json, relation: str, slots: frozenset[str]) -> str | None:
    """Return "yes" or "no" where what was said settles a relation over these slots, else None."""
    told = all_said(book, build, relation, slots)
    return told.pop() if len(told) == 1 else None


def contradict(book: Json, build: Json) -> bool:
    """Return whether the relations said deny each other, whatever the parts are."""
    for relation in ("came_together", "made_for"):
        if any(len(all_said(book, build, relation, slots)) == 2 for slots, _ in said(build, relation)):
            return True
    told = said(build, "same")
    return any(a == b and x != y for a, x in told for b, y in told)
