"""Says the tests of a rule or stop in words, with links to what they read. Words only: nothing here decides anything."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from build_tools.pages.places import Links, attribute_of
from build_tools.pages.text import either, md, number, quantity, span
from build_tools.pages.words import RELATIONS

OTHER = "other"
FITTED = "fitted"
Record = Mapping[str, Any]


class Condition(NamedTuple):
    """One test in words, as Markdown: of which part, which of its attributes, and what it must be."""

    part: str
    what: str
    must: str


def rows(links: Links, record: Record) -> list[list[Condition]]:
    """Return the rows of a case or stop: alternatives, each a list of conditions that hold together."""
    return [[condition(links, record, test) for test in row] for row in record["when"]]


def case_rows(links: Links, rule: Record, case: Record) -> list[list[Condition]]:
    """Return the rows of a case of a rule."""
    return [[condition(links, rule, test) for test in row] for row in case["when"]]


def condition(links: Links, rule: Record, test: Record) -> Condition:
    """Return one test in words."""
    bound = bound_kinds(rule)
    if "relation" in test:
        return _relation(links, bound, test)
    name = test["on"]
    head, _, tail = name.partition(".")
    if head == "sum":
        return Condition("Sum", links.to("sum", tail), _limits(links, bound, test, links.book["sums"][tail]["unit"]))
    part = part_title(links, bound, head)
    if tail == FITTED:
        return Condition(part, "Fitted", "yes" if "yes" in test["in"] else "no")
    attribute = attribute_of(links.book, kind_of(links, bound, head), tail) or {"title": tail, "values": [], "unit": None, "type": "values"}
    return Condition(part, links.attribute(name, bound), _must(links, bound, test, attribute))


def bound_kinds(rule: Record) -> dict[str, str]:
    """Return what the rule calls each slot of a kind, with the kind; empty for a rule without `each`."""
    return dict(rule.get("each") or {})


def kind_of(links: Links, bound: Mapping[str, str], slot: str) -> str:
    """Return the kind of a slot or of a bound name."""
    return bound.get(slot) or links.book["slots"][slot]["kind"]


def part_title(links: Links, bound: Mapping[str, str], slot: str) -> str:
    """Return the title of a slot, or `each` of its kind for a bound name, as Markdown."""
    if slot in bound:
        return f"Each {md(links.book['kinds'][bound[slot]]['title'].lower())}"
    return md(links.book["slots"][slot]["title"])


def variable(links: Links, bound: Mapping[str, str], name: str) -> str:
    """Return `part: attribute` with a link, or a link to a sum."""
    head, _, tail = name.partition(".")
    if head == "sum":
        return links.to("sum", tail)
    if tail == FITTED:
        return f"{part_title(links, bound, head)}: fitted"
    return f"{part_title(links, bound, head)}: {links.attribute(name, dict(bound))}"


def value_label(attribute: Record, value: str) -> str:
    """Return the label of a value; an identity's other value is `another one`."""
    return dict(attribute["values"]).get(value) or ("another one" if value == OTHER else value.replace("_", " "))


def told(attribute: Record, is_: Any) -> str:
    """Return what a family says of an attribute: labels, one number or a range."""
    if isinstance(is_, Mapping):
        return span(is_["from"], is_["to"], attribute["unit"])
    return either([md(value_label(attribute, value)) for value in is_])


def _must(links: Links, bound: Mapping[str, str], test: Record, attribute: Record) -> str:
    if "same_as" in test:
        return f"{'the same as' if test['is'] else 'different from'} {variable(links, bound, test['same_as'])}"
    if "in" not in test:
        return _limits(links, bound, test, attribute["unit"])
    known = [value for value, _ in attribute["values"]] + ([OTHER] if attribute["type"] == "identity" else [])
    left_out = [value for value in known if value not in test["in"]]
    if len(left_out) * 2 < len(known) and len(test["in"]) > 2:
        return f"anything but: {md(either(value_label(attribute, value) for value in left_out))}"
    return md(either([value_label(attribute, value) for value in known if value in test["in"]]))


def _limits(links: Links, bound: Mapping[str, str], test: Record, unit: str | None) -> str:
    low, high = test.get("low"), test.get("high")
    if low is not None and low == high:
        return _limit(links, bound, low, unit)
    if isinstance(low, int | float) and isinstance(high, int | float) and not (test["low_open"] or test["high_open"]):
        return f"from {number(low)} to {quantity(high, unit)}"
    said = []
    if low is not None:
        said.append(f"{'above' if test['low_open'] else 'at least'} {_limit(links, bound, low, unit)}")
    if high is not None:
        said.append(f"{'below' if test['high_open'] else 'at most'} {_limit(links, bound, high, unit)}")
    return " and ".join(said)


def _limit(links: Links, bound: Mapping[str, str], limit: Any, unit: str | None) -> str:
    return variable(links, bound, limit) if isinstance(limit, str) else quantity(limit, unit)


def _relation(links: Links, bound: Mapping[str, str], test: Record) -> Condition:
    parts = either([_named(links, bound, slot) for slot in test["of"]], "and")
    said = RELATIONS[test["relation"]].format(parts=parts[:1].upper() + parts[1:])
    return Condition("", said, test["is"])


def _named(links: Links, bound: Mapping[str, str], slot: str) -> str:
    found = part_title(links, bound, slot)
    return "the " + (found.removeprefix("Each ") if slot in bound else found[:1].lower() + found[1:])
