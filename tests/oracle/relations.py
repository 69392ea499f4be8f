"""What was said of two parts at once: which relations are settled, which stay open, which contradict."""

from __future__ import annotations

from tests.oracle.ground import Json


def said(build: Json, relation: str) -> list[tuple[frozenset[str], str]]:
    """Return the (slots or attributes, yes/no) statements of one relation; what is not sure says nothing."""
    return [(frozenset(one[relation]), one["is"]) for one in build.get("relations", [])
            if relation in one and one["is"] != "not_sure"]


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


def settled(build: Json, relation: str, slots: frozenset[str]) -> str | None:
    """Return "yes" or "no" where what was said settles a relation over these slots, else None."""
    if relation == "came_together":
        if any(slots <= g for g in groups(build)):
            return "yes"
        whole = _closure(build, slots)
        return "no" if any(how == "no" and denied <= whole for denied, how in said(build, relation)) else None
    told = {how for these, how in said(build, relation) if these == slots}
    return told.pop() if len(told) == 1 else None


def contradict(build: Json) -> bool:
    """Return whether the relations said deny each other, whatever the parts are."""
    if any(how == "no" and any(denied <= g for g in groups(build)) for denied, how in said(build, "came_together")):
        return True
    for relation in ("made_for", "same", "listed_together"):
        told = said(build, relation)
        if any(a == b and x != y for a, x in told for b, y in told):
            return True
    return False
