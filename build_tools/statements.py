"""Every single statement of the book with the sources it cites, and the weakest of them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, NamedTuple

from build_tools.compile_rules import written_cases

WEAKEST_FIRST = ("invented", "from-memory", "common-practice", "measured", "published")
NO_SOURCE = "none"
WHOLE = (("addition", "additions"), ("sum", "sums"), ("find_out", "find_out"), ("code", "codes"), ("symptom", "symptoms"), ("term", "terms"), ("set", "sets"))


class Statement(NamedTuple):
    """One attribute, value, case, stop or other record: the type and id of the record it stands in, and what it cites."""

    record_type: str
    record: str
    cited: tuple[str, ...]


def statements(book: Mapping[str, Any]) -> Iterator[Statement]:
    """Yield each attribute of a kind, value of a family, case of a rule, stop, and every other record that says something."""
    for kind in book["kinds"].values():
        for attribute in kind["attributes"]:
            yield _said("kind", kind["id"], [attribute["source"] or kind["source"]])
    for family in book["families"].values():
        for value in family["attributes"].values():
            yield _said("family", family["id"], [value["source"] or family["source"]])
    for rule in book["rules"].values():
        for case in written_cases(rule):
            yield _said("rule", rule["id"], case["sources"] or [rule["source"]])
    for stop in book["stops"].values():
        yield _said("stop", stop["id"], stop["sources"] or [stop["source"]])
    for record_type, section in WHOLE:
        for record in book[section].values():
            yield _said(record_type, record["id"], [record["source"]])


def _said(record_type: str, name: str, cited: Iterable[str | None]) -> Statement:
    return Statement(record_type, name, tuple(source or "" for source in cited))


def weakest(book: Mapping[str, Any], cited: Iterable[str]) -> str:
    """Return the kind of the weakest source cited, or `none` when one of them is not in the book."""
    kinds = [book["sources"].get(source.partition("#")[0], {}).get("kind", NO_SOURCE) for source in cited]
    if not kinds or NO_SOURCE in kinds:
        return NO_SOURCE
    return min(kinds, key=WEAKEST_FIRST.index)


def by_weakest(book: Mapping[str, Any]) -> Counter[str]:
    """Return how many statements rest on each kind of source, each counted once, by the weakest that it cites."""
    return Counter(weakest(book, statement.cited) for statement in statements(book))
