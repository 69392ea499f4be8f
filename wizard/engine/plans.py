"""Additions as a rule means them: what they set, need and may not touch, and what a set of them makes of a world."""
from __future__ import annotations

from typing import Any, NamedTuple, Sequence

from .model import OTHER, Book, Instance, bound
from .names import NA

Key = tuple[str, str | None]            # an addition, and the slot it is bound to
Split = tuple[int, int]                 # variable and mask to split it by
Over = dict[int, tuple[str, int]]       # variable -> ("to", mask) or ("as", other variable)


class Plan(NamedTuple):
    """An addition bound to slots: what it sets, in which slot (its fitted variable), and whether it is ruled out."""

    key: Key
    sets: Over
    where: dict[int, int]
    needs: tuple[Key, ...]
    changes: tuple[str, ...]        # slots that it alters, so none of them may be kept
    type: str
    blocked: bool


def make_plan(book: Book, space: Any, inst: Instance, addition: str) -> Plan:
    """An addition as a rule instance means it, on the variables of a layout; a build may rule it out later."""
    record = book.data["additions"][addition]
    slot = inst.slot if record.get("each") else None
    sets: Over = {}
    where: dict[int, int] = {}
    for name, value in sorted((record.get("sets") or {}).items()):
        v = space.index.get(bound(name, inst.bind))
        if v is None:
            continue            # no such attribute, which the checks on facts report
        where[v] = space.index[f"{bound(name, inst.bind).split('.')[0]}.fitted"]
        if "same_as" in value:
            other = space.index.get(bound(value["same_as"], inst.bind))
            if other is not None:
                sets[v] = ("as", other)
        elif value["to"] in space.values[v]:
            sets[v] = ("to", 1 << space.values[v].index(value["to"]))
    needs = tuple((n, inst.slot if book.data["additions"][n].get("each") else None) for n in record.get("needs") or ())
    changes = tuple(bound(s, inst.bind) for s in record.get("changes") or ())
    return Plan((addition, slot), sets, where, needs, changes, record["type"], False)


def key_of(book: Book, inst: Instance, addition: str) -> Key:
    """The name of an addition as an instance means it."""
    return (addition, inst.slot if book.data["additions"][addition].get("each") else None)


def closure(plans: dict[Key, Plan], keys: Sequence[Key]) -> frozenset[Key]:
    """The additions with everything they need."""
    out: set[Key] = set()
    todo = list(keys)
    while todo:
        k = todo.pop()
        if k not in out:
            out.add(k)
            todo.extend(plans[k].needs)
    return frozenset(out)


def applied(plans: dict[Key, Plan], keys: frozenset[Key], dom: Sequence[int], values) -> Over | Split | None:
    """What the additions set in a world; a split where that is not decided; None where two set different values.

    A part that is not fitted has no attributes, so setting one sets nothing; nor does a copy of what does not apply.
    """
    wanted: dict[int, set[tuple[str, int]]] = {}
    where: dict[int, int] = {}
    for key in keys:
        for v, how in plans[key].sets.items():
            wanted.setdefault(v, set()).add(how)
            where[v] = plans[key].where[v]
    over: Over = {}
    for v in sorted(wanted, key=lambda v: (v != where[v], v)):      # fitted first: the rest looks at it
        if v != where[v]:
            there = over[where[v]][1] if where[v] in over else dom[where[v]]
            if there == 3:
                return where[v], 1
            if there == 2:
                continue
        ways = sorted(wanted[v])
        for how, x in list(ways):
            if how == "as" and x not in wanted:
                na = 1 << (len(values[x]) - 1)
                if dom[x] == na:
                    ways.remove((how, x))
                elif dom[x] & na and values[x][-1] == NA:
                    return x, na
        if len(ways) > 1:
            bits = set()
            for how, x in ways:
                mask = x
                if how == "as":
                    if dom[x] & (dom[x] - 1):
                        return x, dom[x] & -dom[x]
                    mask = translate(dom[x], values[x], values[v])
                bits.add(mask)
            if len(bits) > 1 or values[v][max(bits).bit_length() - 1] == OTHER:
                return None
            ways = [("to", bits.pop())]
        if ways:
            over[v] = ways[0]
    return over


def translate(mask: int, ids: Sequence[str], other: Sequence[str]) -> int:
    """The same values as bits of another variable; values that it does not have are lost."""
    if ids is other or ids == other:
        return mask
    return sum(1 << other.index(x) for i, x in enumerate(ids) if mask >> i & 1 and x in other)
