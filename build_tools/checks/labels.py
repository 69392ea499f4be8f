"""Every value of an identity has words of its own that a customer reads, and every label is of such a value."""

from __future__ import annotations

from collections.abc import Iterator

from build_tools.index import Index, as_list, attribute_type, told_values
from build_tools.problems import Problem, near_match
from build_tools.records import Record


def check(index: Index) -> Iterator[Problem]:
    """Yield a problem for each value without a label, each label that names nothing or a value named already, and labels alike.

    Values come from families and kinds together, so this is asked only of facts that are otherwise sound.
    """
    yield from _missing(index)
    yield from _needless(index)
    yield from _alike(index)


def _identities(index: Index) -> Iterator[tuple[Record, str, dict[str, str]]]:
    """Yield kind, attribute and the labels that the kind itself gives, for each identity."""
    for kind in sorted(index.kinds.values(), key=lambda record: record.id):
        for name, data in kind.data.get("attributes", {}).items():
            if attribute_type(data) == "identity":
                yield kind, name, data.get("named", {})


def _missing(index: Index) -> Iterator[Problem]:
    identities = {(kind.id, name) for kind, name, _ in _identities(index)}
    seen: set[str] = set()
    for family in sorted(index.families.values(), key=lambda record: record.id):
        for name, entry in family.data.get("attributes", {}).items():
            for value in as_list(told_values(entry)) if (family.data.get("kind"), name) in identities else ():
                if isinstance(value, str) and value not in seen | index.labels.keys():
                    seen.add(value)
                    yield family.problem(
                        ("attributes", name),
                        "value-label",
                        f"Nothing says what a customer reads for '{value}'.",
                        "Name it in a record of labels, or draw its face.",
                    )


def _needless(index: Index) -> Iterator[Problem]:
    values = {value for kind, name, _ in _identities(index) for value in index.values(kind.id, name)}
    first = {value: kind for kind, _, named in _identities(index) for value in named}
    for record in sorted(index.of("labels").values(), key=lambda one: one.id):
        for value in record.data.get("values", {}):
            path = ("values", value)
            if value not in values:
                near = near_match(value, values)
                yield record.problem(path, "value-label", f"No identity has the value '{value}'.", "Families and kinds give the values.", near)
            elif first.setdefault(value, record) is not record:
                yield record.problem(path, "value-label", f"'{value}' is named in {first[value].file} already.", "Take one of the two out.")


def _alike(index: Index) -> Iterator[Problem]:
    for kind, name, named in _identities(index):
        seen: dict[str, str] = {}
        for value in index.values(kind.id, name):
            label = named.get(value) or index.labels.get(value, value)
            first = seen.setdefault(label, value)
            if first != value:
                yield kind.problem(
                    ("attributes", name),
                    "value-label",
                    f"'{first}' and '{value}' of '{kind.id}.{name}' both read \"{label}\".",
                    "Say what tells them apart.",
                )
