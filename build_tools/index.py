"""Looks things up across the records: slots, attributes, and the values an attribute may have."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from build_tools.records import Facts, Record

OTHER = "other"
AttributeKey = tuple[str, str]


@dataclass(frozen=True)
class Index:
    """The records by id with what checks and compile look up most."""

    facts: Facts
    kinds: dict[str, Record]
    slots: dict[str, str]
    families: dict[str, Record]
    identities: dict[AttributeKey, tuple[str, ...]]
    labels: dict[str, str]

    def of(self, record_type: str) -> dict[str, Record]:
        """Return the records of a type by id."""
        return self.facts.of(record_type)

    def attributes(self, kind: str) -> dict[str, dict[str, Any]]:
        """Return the attributes of a kind by id; none when there is no such kind."""
        return self.kinds[kind].data.get("attributes", {}) if kind in self.kinds else {}

    def values(self, kind: str, attribute: str) -> tuple[str, ...]:
        """Return the value ids of an attribute, without another one; none for numbers."""
        data = self.attributes(kind).get(attribute, {})
        if "values" in data:
            return tuple(data["values"])
        return self.identities.get((kind, attribute), ())

    def names(self, record: Record) -> dict[str, str]:
        """Return what the record's tests may call a slot, and the kind of each: slots and its own `each`."""
        return {**self.slots, **record.data.get("each", {})}


def index(facts: Facts) -> Index:
    """Return the index of the facts; records that could not be read are simply not in it."""
    kinds = facts.of("kind")
    slots: dict[str, str] = {}
    for kind in kinds.values():
        for slot in kind.data.get("slots", {}):
            slots.setdefault(slot, kind.id)
    families = facts.of("family")
    return Index(facts, kinds, slots, families, _identities(facts, kinds, slots, families), _labels(facts, kinds))


def attribute_type(data: dict[str, Any]) -> str:
    """Return values, number or identity, whichever the attribute is."""
    return "values" if "values" in data else "number" if "number" in data else "identity"


def told_values(entry: Any) -> Any:
    """Return what a family says of an attribute, without source, date and reason."""
    return entry["is"] if isinstance(entry, dict) and "is" in entry else entry


def as_list(value: Any) -> list[Any]:
    """Return the value as a list: itself if it is one, else a list of it alone."""
    return value if isinstance(value, list) else [value]


def rows_of(when: Any) -> list[tuple[tuple[Any, ...], dict[str, Any]]]:
    """Return each row of a `when` with its path below it; one mapping is one row."""
    if isinstance(when, list):
        return [((number,), row) for number, row in enumerate(when)]
    return [((), when)] if when else []


def whens(record: Record) -> Iterator[tuple[tuple[Any, ...], Any]]:
    """Yield the path and the value of each `when` of a rule or stop."""
    if record.type == "stop" and "when" in record.data:
        yield ("when",), record.data["when"]
    for number, case in enumerate(record.data.get("cases", [])):
        if "when" in case:
            yield ("cases", number, "when"), case["when"]


def _labels(facts: Facts, kinds: dict[str, Record]) -> dict[str, str]:
    """Return the label of each value of an identity: a kind's own words, or those of the layer, or the title of its face."""
    found = {name: title[:1].lower() + title[1:] for name, face in facts.of("face").items() for title in [face.data.get("title", name)]}
    for name in sorted(facts.of("labels")):
        found.update(facts.of("labels")[name].data.get("values", {}))
    for name in sorted(kinds, reverse=True):
        for data in reversed(kinds[name].data.get("attributes", {}).values()):
            found.update(data.get("named", {}))
    return found


def _pairs(record: Record) -> Iterator[tuple[str, str]]:
    if record.type == "addition":
        for target, value in record.data.get("sets", {}).items():
            if isinstance(value, dict) and "same_as" in value:
                yield target, value["same_as"]
    for _, when in whens(record):
        for _, row in rows_of(when):
            for name, test in row.items():
                if isinstance(test, dict):
                    yield from ((name, test[key]) for key in ("same_as", "differs_from") if key in test)


def _identities(
    facts: Facts, kinds: dict[str, Record], slots: dict[str, str], families: dict[str, Record]
) -> dict[AttributeKey, tuple[str, ...]]:
    found: dict[AttributeKey, set[str]] = {}
    for kind in kinds.values():
        for attribute, data in kind.data.get("attributes", {}).items():
            if attribute_type(data) == "identity":
                found[kind.id, attribute] = set(data.get("named", {}))
    for family in families.values():
        for attribute, entry in family.data.get("attributes", {}).items():
            key = (family.data.get("kind", ""), attribute)
            if key in found:
                found[key].update(v for v in as_list(told_values(entry)) if isinstance(v, str))
    return _shared(found, facts, slots)


def _shared(
    found: dict[AttributeKey, set[str]], facts: Facts, slots: dict[str, str]
) -> dict[AttributeKey, tuple[str, ...]]:
    """Give identities that are compared with each other one list, or 'another one' would mean two things."""
    leader = {key: key for key in found}

    def lead(key: AttributeKey) -> AttributeKey:
        while leader[key] != key:
            key = leader[key]
        return key

    for record in facts.records:
        names = {**slots, **record.data.get("each", {})}
        for pair in _pairs(record):
            keys = [(names.get(name.partition(".")[0], ""), name.partition(".")[2]) for name in pair]
            if all(key in found for key in keys):
                first, second = sorted(lead(key) for key in keys)
                leader[second] = first
    groups: dict[AttributeKey, set[str]] = {}
    for key, values in found.items():
        groups.setdefault(lead(key), set()).update(values)
    return {key: tuple(sorted(groups[lead(key)] - {OTHER})) for key in found}
