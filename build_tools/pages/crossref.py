"""Who points at whom: for each record, the records that read it, add it, cite it or set it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, NamedTuple

from build_tools.statements import statements

Record = Mapping[str, Any]
Book = Mapping[str, Any]
Refs = dict[str, tuple[str, ...]]


class Reads(NamedTuple):
    """What a rule or stop reads: (kind, attribute) pairs, `fitted` included, and sums."""

    attributes: frozenset[tuple[str, str]]
    sums: frozenset[str]


class Crossref(NamedTuple):
    """The reverse links of the book; every list is in order of id. Attributes are keyed `kind.attribute`, what symptoms lead to `rule/id`."""

    rules_of_attribute: Refs
    rules_of_kind: Refs
    rules_of_subject: Refs
    rules_of_code: Refs
    rules_of_addition: Refs
    rules_of_sum: Refs
    stops_of_kind: Refs
    additions_of_attribute: Refs
    families_of_kind: Refs
    sets_of_family: Refs
    attributes_of_find_out: Refs
    symptoms_of: Refs
    cited_by: dict[str, tuple[tuple[str, str], ...]]


def crossref(book: Book) -> Crossref:
    """Return the reverse links of the book."""
    found: dict[str, dict[str, set[str]]] = {name: defaultdict(set) for name in Crossref._fields}
    for rule in book["rules"].values():
        _rule(book, rule, found)
    for stop in book["stops"].values():
        for kind, _ in reads(book, stop).attributes | {(kind, "") for kind in kinds_of(book, stop)}:
            found["stops_of_kind"][kind].add(stop["id"])
    for addition in book["additions"].values():
        for name in addition["sets"]:
            slot, _, attribute = name.partition(".")
            kind = (addition.get("each") or {}).get(slot) or book["slots"].get(slot, {}).get("kind", slot)
            found["additions_of_attribute"][f"{kind}.{attribute}"].add(addition["id"])
    for family in book["families"].values():
        found["families_of_kind"][family["kind"]].add(family["id"])
    for record in book["sets"].values():
        for name in (name for names in record["families"].values() for name in names):
            found["sets_of_family"][name].add(record["id"])
    for kind in book["kinds"].values():
        for attribute in kind["attributes"]:
            if attribute["find_out"]:
                found["attributes_of_find_out"][attribute["find_out"]].add(f"{kind['id']}.{attribute['id']}")
    for symptom in book["symptoms"].values():
        for key, name in ((key, cause[key]) for cause in symptom["causes"] for key in ("rule", "find_out", "sum", "code") if cause[key]):
            found["symptoms_of"][f"{key}/{name}"].add(symptom["id"])
        for name in symptom["stops"]:
            found["symptoms_of"][f"stop/{name}"].add(symptom["id"])
    plain = {name: {key: tuple(sorted(ids)) for key, ids in found[name].items()} for name in Crossref._fields if name != "cited_by"}
    return Crossref(**plain, cited_by=_cited_by(book))


def reads(book: Book, record: Record) -> Reads:
    """Return what the tests of a rule or stop read, the inputs of its sums included."""
    attributes: set[tuple[str, str]] = set()
    sums: set[str] = set()
    whens = [case["when"] for case in record["cases"]] if "cases" in record else [record["when"]]
    for test in (test for when in whens for row in when for test in row):
        for name in (test.get("on"), test.get("same_as"), test.get("low"), test.get("high")):
            if isinstance(name, str):
                _read(book, record, name, attributes, sums)
    return Reads(frozenset(attributes), frozenset(sums))


def kinds_of(book: Book, record: Record) -> tuple[str, ...]:
    """Return the kinds of the slots a rule or stop looks at, sorted."""
    each = record.get("each") or {}
    slots = [*record["about"], *record["partners"], *record["helpers"]]
    return tuple(sorted({each.get(slot) or book["slots"][slot]["kind"] for slot in slots if slot in each or slot in book["slots"]}))


def needed_by(book: Book, names: Iterable[str]) -> tuple[str, ...]:
    """Return the additions named with everything they need, in order of id."""
    found: set[str] = set()
    waiting = list(names)
    while waiting:
        name = waiting.pop()
        if name not in found:
            found.add(name)
            waiting.extend(book["additions"].get(name, {}).get("needs", ()))
    return tuple(sorted(found))


def claims(book: Book) -> Iterator[tuple[str, str, str]]:
    """Yield (source cited, type of record, id) for each citation of each single statement of the book."""
    for record_type, name, cited in statements(book):
        yield from ((source, record_type, name) for source in cited)


def _cited_by(book: Book) -> dict[str, tuple[tuple[str, str], ...]]:
    found: dict[str, set[tuple[str, str]]] = defaultdict(set)
    for cited, record_type, name in claims(book):
        found[cited.partition("#")[0]].add((record_type, name))
    return {source: tuple(sorted(records)) for source, records in found.items()}


def _rule(book: Book, rule: Record, found: dict[str, dict[str, set[str]]]) -> None:
    name = rule["id"]
    read = reads(book, rule)
    for kind, attribute in read.attributes:
        found["rules_of_attribute"][f"{kind}.{attribute}"].add(name)
    for total in read.sums:
        found["rules_of_sum"][total].add(name)
    for kind in kinds_of(book, rule):
        found["rules_of_kind"][kind].add(name)
    found["rules_of_subject"][rule["subject"]].add(name)
    for case in rule["cases"]:
        for code in case["codes"]:
            found["rules_of_code"][code].add(name)
        for addition in needed_by(book, (a for alternative in case["additions"] for a in alternative)):
            found["rules_of_addition"][addition].add(name)


def _read(book: Book, record: Record, name: str, attributes: set[tuple[str, str]], sums: set[str]) -> None:
    head, _, tail = name.partition(".")
    if head == "sum":
        sums.add(tail)
        for source in book["sums"].get(tail, {}).get("inputs", {}).values():
            _read(book, record, source, attributes, sums)
        return
    kind = (record.get("each") or {}).get(head) or book["slots"].get(head, {}).get("kind")
    if kind:
        attributes.add((kind, tail))
