"""A build as the customer told it, read from JSON into plain records; what it says twice is kept, not merged."""
from __future__ import annotations

import json
from typing import Any, NamedTuple

from .model import Book

STATES = ("not_sure", "maybe", "open", "made_to_order", "none")
RELATIONS = ("came_together", "made_for", "same")


class BuildError(ValueError):
    """The build cannot be read; the message says where and what is allowed."""


class Told(NamedTuple):
    """A told value: `values` ids, or `span` for numbers; both None when said to be unknown."""

    values: tuple[str, ...] | None
    span: tuple[float, float] | None
    assumed: bool


class Entry(NamedTuple):
    """What was said of one slot. `state` is family, one_of, in_hand, described, exists or one of STATES."""

    state: str
    families: tuple[str, ...]
    told: dict[str, Told]
    options: tuple["Entry", ...]      # for in_hand
    keep: bool


class Relation(NamedTuple):
    """What was said of several parts: `of` are slots, or attributes for `same`; `value` yes, no or not_sure."""

    kind: str
    of: tuple[str, ...]
    value: str
    assumed: bool


class Build(NamedTuple):
    """The whole of what was told."""

    asks: tuple[str, ...]
    whole_swap: bool
    allowed_types: frozenset[str] | None      # None: any addition; else only these types
    slots: dict[str, Entry]
    relations: tuple[Relation, ...]
    right: tuple[tuple[str, str | None], ...]


def read_build(book: Book, text: str) -> Build:
    """Read build JSON; raises `BuildError` naming the place, the value and what is allowed."""
    try:
        data = json.loads(text)
    except ValueError as error:
        raise BuildError(f"The build is not valid JSON: {error}") from None
    if not isinstance(data, dict):
        raise BuildError("A build is an object with slots.")
    slots = {}
    for slot, said in sorted((data.get("slots") or {}).items()):
        if slot not in book.slot_kind:
            raise BuildError(f"slots: {slot!r} is not a slot of this book. Slots: {', '.join(book.slot_order)}.")
        slots[slot] = _entry(book, slot, said)
    for subject in data.get("asks") or ():
        if subject not in book.data["subjects"]:
            raise BuildError(f"asks: {subject!r} is not a subject of this book.")
    nothing = data.get("nothing_added") or False
    allowed = None if not nothing else frozenset(nothing.get("except") or ()) if isinstance(nothing, dict) else frozenset()
    relations = tuple(_relation(book, r) for r in data.get("relations") or ())
    right = tuple(sorted(((r["rule"], r.get("slot")) for r in data.get("taken_as_right") or ()), key=str))
    for rule, _ in right:
        if rule not in book.data["rules"]:
            raise BuildError(f"taken_as_right: {rule!r} is not a rule of this book.")
    return Build(tuple(sorted(data.get("asks") or ())), bool(data.get("whole_swap")), allowed, slots,
                 tuple(sorted(relations)), right)


def _entry(book: Book, slot: str, said: Any) -> Entry:
    kind = book.slot_kind[slot]
    if isinstance(said, str):
        said = {"state": said}
    if not isinstance(said, dict):
        raise BuildError(f"slots.{slot}: {said!r} is neither a state nor an object.")
    told = {a: _told(book, kind, f"slots.{slot}.told.{a}", a, v) for a, v in sorted((said.get("told") or {}).items())}
    keep = bool(said.get("keep"))
    state = said.get("state")
    if state is not None and state not in STATES:
        raise BuildError(f"slots.{slot}: {state!r} is not a state. States: {', '.join(STATES)}.")
    forms = [f for f in ("family", "one_of", "in_hand", "state") if said.get(f)]
    if len(forms) > 1:
        raise BuildError(f"slots.{slot}: says {' and '.join(forms)}; only one of them can be meant.")
    if "in_hand" in forms:
        return Entry("in_hand", (), told, tuple(_entry(book, slot, s) for s in said["in_hand"]), keep)
    families = tuple(said.get("one_of") or ([said["family"]] if said.get("family") else ()))
    for f in families:
        record = book.data["families"].get(f)
        if record is None or record["kind"] != kind:
            raise BuildError(f"slots.{slot}: {f!r} is not a listed {kind}.")
    if families:
        return Entry("one_of" if said.get("one_of") else "family", families, told, (), keep)
    return Entry(state or ("described" if told else "exists"), (), told, (), keep)


def _told(book: Book, kind: str, where: str, attr: str, value: Any) -> Told:
    attribute = next((a for a in book.kinds[kind].attributes if a.id == attr), None)
    if attribute is None:
        known = ", ".join(a.id for a in book.kinds[kind].attributes)
        raise BuildError(f"{where}: a {kind} has no attribute {attr!r}. It has: {known}.")
    assumed = False
    if isinstance(value, dict) and "is" in value:
        assumed, value = bool(value.get("assumed")), value["is"]
    if value == "unknown" or value is None:
        return Told(None, None, assumed)
    if attribute.type == "number":
        return Told(None, _span(where, attribute, value), assumed)
    values = tuple(value) if isinstance(value, list) else (value,)
    for v in values:
        if not isinstance(v, str) or v not in attribute.values:
            raise BuildError(f"{where}: {v!r} is not a value of it. Values: {', '.join(attribute.values)}.")
    return Told(values, None, assumed)


def _span(where: str, attribute, value: Any) -> tuple[float, float]:
    if isinstance(value, dict) and "from" in value and "to" in value:
        low, high = value["from"], value["to"]
    elif isinstance(value, list) and value:
        low, high = min(value), max(value)
    else:
        low = high = value
    if isinstance(low, str) and attribute.reads == "tyre_size":
        from wizard.sums.tyre import read_tyre_size
        low, high = read_tyre_size(low), read_tyre_size(str(high))
    for v in (low, high):
        if isinstance(v, bool) or not isinstance(v, (int, float)) or not attribute.low <= v <= attribute.high:
            raise BuildError(f"{where}: {value!r} is not a number from {attribute.low:g} to {attribute.high:g}.")
    return float(low), float(high)


def _relation(book: Book, said: dict[str, Any]) -> Relation:
    kind = next((k for k in RELATIONS if k in said), None)
    if kind is None:
        raise BuildError(f"relations: {said!r} names none of {', '.join(RELATIONS)}.")
    of = tuple(sorted(said[kind]))
    value = said.get("is", "yes")
    if value not in ("yes", "no", "not_sure"):
        raise BuildError(f"relations: {kind} is {value!r}; it can be yes, no or not_sure.")
    for name in of:
        slot, _, attr = name.partition(".")
        kind_id = book.slot_kind.get(slot)
        if kind_id is None or (attr and attr not in {a.id for a in book.kinds[kind_id].attributes}):
            raise BuildError(f"relations: {name!r} is not known to this book.")
        if bool(attr) != (kind == "same"):
            raise BuildError(f"relations: {kind} takes {'attributes' if kind == 'same' else 'slots'}, not {name!r}.")
    return Relation(kind, of, value, said.get("says", "customer") != "checked" and value != "not_sure")


def write_build(build: Build) -> dict[str, Any]:
    """The build as JSON data again, in the form that `read_build` takes."""
    out: dict[str, Any] = {"slots": {s: _write_entry(e) for s, e in sorted(build.slots.items())}}
    if build.asks:
        out["asks"] = list(build.asks)
    if build.whole_swap:
        out["whole_swap"] = True
    if build.allowed_types is not None:
        out["nothing_added"] = {"except": sorted(build.allowed_types)} if build.allowed_types else True
    if build.relations:
        out["relations"] = [{r.kind: list(r.of), "is": r.value, "says": "customer" if r.assumed else "checked"}
                            for r in build.relations]
    if build.right:
        out["taken_as_right"] = [{"rule": r} | ({"slot": s} if s else {}) for r, s in build.right]
    return out


def _write_entry(entry: Entry) -> Any:
    out: dict[str, Any] = {}
    if entry.state == "family":
        out["family"] = entry.families[0]
    elif entry.state == "one_of":
        out["one_of"] = list(entry.families)
    elif entry.state == "in_hand":
        out["in_hand"] = [_write_entry(o) for o in entry.options]
    elif entry.state in STATES:
        if not entry.told and not entry.keep:
            return entry.state
        out["state"] = entry.state
    if entry.told:
        out["told"] = {a: _write_told(t) for a, t in entry.told.items()}
    if entry.keep:
        out["keep"] = True
    return out


def _write_told(t: Told) -> Any:
    value: Any = "unknown"
    if t.values is not None:
        value = t.values[0] if len(t.values) == 1 else list(t.values)
    elif t.span is not None:
        value = t.span[0] if t.span[0] == t.span[1] else {"from": t.span[0], "to": t.span[1]}
    return {"is": value, "assumed": True} if t.assumed else value
