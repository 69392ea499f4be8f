"""The book as the engine reads it: records, slots, rule instances and the shared lists of values.

Nothing here depends on a build. `read_book` turns the text of book.json into a `Book` once; every answer reads it.
"""
from __future__ import annotations

import json
from typing import Any, NamedTuple

BOOK_SCHEMA = 1
OTHER = "other"          # the value of an identity attribute that no record names
VERDICTS = ("works", "works-with-additions", "cannot-tell", "will-not-work")
WORKS, ADDITIONS, CANNOT_TELL, FAILS = range(4)


class BookError(ValueError):
    """The text is not a book that this engine can read; the message says why."""


class Attribute(NamedTuple):
    """One attribute of a kind: `values` are ids; numbers have none and are cut into bands per slot."""

    id: str
    type: str
    values: tuple[str, ...]
    applies_when: tuple[tuple[str, frozenset[str]], ...]
    told_only: bool
    low: float
    high: float
    band: float
    whole: bool
    reads: str | None


class Kind(NamedTuple):
    """One kind of part, with what cannot exist (`never`: boxes of attribute -> values)."""

    id: str
    attributes: tuple[Attribute, ...]
    never: tuple[tuple[tuple[str, frozenset[str]], ...], ...]
    made_to_order: bool
    changeable: str


class Case(NamedTuple):
    """One case of a rule: `rows` are alternatives, each a tuple of normalised tests as in book.json."""

    id: str
    verdict: int
    rows: tuple[tuple[dict[str, Any], ...], ...]
    additions: tuple[tuple[str, ...], ...]


class Instance(NamedTuple):
    """A rule or stop bound to slots: `bind` maps the names its tests use to slots; `key` is `rule` or `rule@slot`."""

    key: str
    rule: str
    slot: str | None
    bind: dict[str, str]
    about: tuple[str, ...]
    partners: tuple[str, ...]
    cases: tuple[Case, ...]
    subject: str
    reads: frozenset[str]           # slot.attr and slot.fitted, never sums
    told_only: frozenset[str]       # the told-only ones among them


class Book(NamedTuple):
    """Everything that every answer shares. `data` is the parsed book.json.

    `layout` says where every variable stands (layout.py). `kept` holds what was worked out before, by key (space.py):
    an answer never depends on it, only how long the answer takes.
    """

    data: dict[str, Any]
    kinds: dict[str, Kind]
    slot_kind: dict[str, str]
    slot_order: tuple[str, ...]
    rules: tuple[Instance, ...]
    stops: tuple[Instance, ...]
    cuts: dict[str, tuple[float, ...]]      # quantity -> constants that rules name
    layout: Any
    kept: dict[tuple, Any]


def read_book(book_json: str) -> Book:
    """Read book.json, without its layout yet; raises `BookError` in words when it is not a book of this schema."""
    try:
        data = json.loads(book_json)
    except ValueError as error:
        raise BookError(f"The book is not valid JSON: {error}") from None
    if not isinstance(data, dict) or data.get("schema") != BOOK_SCHEMA:
        found = data.get("schema") if isinstance(data, dict) else type(data).__name__
        raise BookError(f"This engine reads books of schema {BOOK_SCHEMA}; this one says {found!r}. Build the site again.")
    kinds = {k: _kind(record) for k, record in sorted(data["kinds"].items())}
    slot_kind = {s: record["kind"] for s, record in data["slots"].items()}
    order = tuple(data.get("slot_order") or sorted(slot_kind))
    rules = _instances(data, "rules", data.get("rule_order"), kinds, slot_kind, order)
    stops = _instances(data, "stops", None, kinds, slot_kind, order)
    kinds = _share_identities(kinds, slot_kind, rules + stops)
    return Book(data, kinds, slot_kind, order, rules, stops, _cuts(data, rules + stops), None, {})


def _kind(record: dict[str, Any]) -> Kind:
    attributes = []
    for a in record["attributes"]:
        values = tuple(v[0] for v in a.get("values") or ())
        if a["type"] == "identity":
            values = tuple(v for v in values if v != OTHER) + (OTHER,)
        low, high = a.get("low"), a.get("high")
        attributes.append(Attribute(
            a["id"], a["type"], values,
            tuple((k, frozenset(v)) for k, v in sorted((a.get("applies_when") or {}).items())),
            bool(a.get("told_only")), float("-inf") if low is None else float(low),
            float("inf") if high is None else float(high), float(a.get("band") or 0), bool(a.get("whole")),
            a.get("reads")))
    never = tuple(tuple((k, frozenset(v)) for k, v in sorted(box.items())) for box in record.get("never") or ())
    return Kind(record["id"], tuple(attributes), never, record.get("open_from") == "made_to_order",
                record.get("changeable") or "whole")


def _instances(data, section, wanted_order, kinds, slot_kind, slot_order) -> tuple[Instance, ...]:
    out = []
    for rule_id in wanted_order or sorted(data[section]):
        record = data[section][rule_id]
        each = record.get("each") or {}
        if each:
            (name, kind), = each.items()
            slots = [s for s in slot_order if slot_kind[s] == kind]
        else:
            name, slots = "", [None]
        for slot in slots:
            out.append(_instance(record, section, name, slot, kinds, slot_kind, data["sums"]))
    return tuple(out)


def _instance(record, section, name, slot, kinds, slot_kind, sums) -> Instance:
    roles = [*record.get("about", ()), *record.get("partners", ()), *record.get("helpers", ())]
    bind = {r: r for r in roles}
    if slot is not None:
        bind[name] = slot
    if section == "stops":
        cases = (Case("stop", FAILS, _rows(record["when"]), ()), Case("otherwise", WORKS, ((),), ()))
    else:
        cases = tuple(Case(c["case"], VERDICTS.index(c["verdict"]), _rows(c["when"]),
                           tuple(tuple(a) for a in c.get("additions") or ())) for c in record["cases"])
    reads: set[str] = set()
    for case in cases:
        for row in case.rows:
            for test in row:
                reads.update(_read_by(test, bind, sums))
    told_only = {v for v in reads if _attribute(kinds, slot_kind, v) and _attribute(kinds, slot_kind, v).told_only}
    key = record["id"] if slot is None else f"{record['id']}@{slot}"
    return Instance(key, record["id"], slot, bind, tuple(bind[r] for r in record.get("about", ())),
                    tuple(bind[r] for r in record.get("partners", ())), cases,
                    record.get("subject") or "", frozenset(reads), frozenset(told_only))


def _rows(when) -> tuple[tuple[dict[str, Any], ...], ...]:
    return tuple(tuple(row) for row in when)


def _attribute(kinds: dict[str, Kind], slot_kind: dict[str, str], name: str) -> Attribute | None:
    slot, _, attr = name.partition(".")
    return next((a for a in kinds[slot_kind[slot]].attributes if a.id == attr), None)


def bound(name: str, bind: dict[str, str]) -> str:
    """`sensor.plug` with sensor bound to a slot -> `that_slot.plug`; sums keep their name."""
    head, dot, tail = name.partition(".")
    return name if head == "sum" else bind.get(head, head) + dot + tail


def _read_by(test: dict[str, Any], bind: dict[str, str], sums: dict[str, Any]) -> set[str]:
    names = [n for n in (test.get("on"), test.get("same_as"), test.get("low"), test.get("high")) if isinstance(n, str)]
    out: set[str] = set()
    for name in names:
        if name.startswith("sum."):
            out.update(bound(i, bind) for i in sums[name[4:]]["inputs"].values())
        else:
            out.add(bound(name, bind))
    return out


def _share_identities(kinds, slot_kind, instances) -> dict[str, Kind]:
    """Identity attributes that a rule compares get one list of values, or `another one` would mean two things."""
    parent: dict[tuple[str, str], tuple[str, str]] = {}

    def root(x):
        while parent.setdefault(x, x) != x:
            x = parent[x]
        return x

    for inst in instances:
        for case in inst.cases:
            for test in (t for row in case.rows for t in row if "same_as" in t):
                a, b = (tuple(bound(test[k], inst.bind).split(".")) for k in ("on", "same_as"))
                parent[root((slot_kind[a[0]], a[1]))] = root((slot_kind[b[0]], b[1]))
    shared: dict[tuple[str, str], set[str]] = {}
    for kind in kinds.values():
        for a in kind.attributes:
            if a.type == "identity":
                shared.setdefault(root((kind.id, a.id)), set()).update(a.values)
    out = {}
    for kind in kinds.values():
        attributes = tuple(
            a._replace(values=tuple(sorted(shared[root((kind.id, a.id))] - {OTHER})) + (OTHER,))
            if a.type == "identity" else a for a in kind.attributes)
        out[kind.id] = kind._replace(attributes=attributes)
    return out


def _cuts(data, instances) -> dict[str, tuple[float, ...]]:
    cuts: dict[str, set[float]] = {}
    for inst in instances:
        for case in inst.cases:
            for test in (t for row in case.rows for t in row if "low" in t or "high" in t):
                name = bound(test["on"], inst.bind)
                for limit in (test.get("low"), test.get("high")):
                    if isinstance(limit, (int, float)):
                        cuts.setdefault(name, set()).add(float(limit))
    return {k: tuple(sorted(v)) for k, v in sorted(cuts.items())}
