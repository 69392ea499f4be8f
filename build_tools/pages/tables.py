"""Small tables of listed parts against each other, as far as one rule goes. The engine decides each cell."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from build_tools.pages.site import Site

Book = Mapping[str, Any]
MOST_CELLS = 24
MOST_COLUMNS = 5


class ListedTable(NamedTuple):
    """One rule's table: a slot down, a slot across, and a verdict (or None where the rule is out) in each cell."""

    down: str
    across: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, tuple[str | None, ...]], ...]


def listed_tables(site: Site) -> dict[str, ListedTable]:
    """Return a table for each rule that looks at exactly two slots with a few listed parts each; none for the rest."""
    book = site.book
    wanted = {rule["id"]: pair for rule in book["rules"].values() if (pair := _pair(book, rule))}
    def cell(rule: str, slots: Mapping[str, str]) -> str | None:
        build = {"slots": {slot: {"family": family} for slot, family in slots.items()}, "asks": [book["rules"][rule]["subject"]],
                 "taken_as_right": _siblings(book, rule)}
        answer = site.ask(build)
        return answer["verdict"] if any(reason["rule"] == rule for reason in answer["reasons"]) else None

    tables = {}
    for rule, (down, across) in sorted(wanted.items()):
        columns = _families(book, across)
        rows = tuple((family, tuple(cell(rule, {down: family, across: other}) for other in columns)) for family in _families(book, down))
        tables[rule] = ListedTable(down, across, columns, rows)
    return tables


def _pair(book: Book, rule: Mapping[str, Any]) -> tuple[str, str] | None:
    if rule["each"] or len(rule["about"]) != 2 or rule["partners"]:
        return None
    counts = [len(_families(book, slot)) for slot in rule["about"]]
    if min(counts) == 0 or counts[0] * counts[1] > MOST_CELLS:
        return None
    down, across = rule["about"] if counts[1] <= counts[0] else reversed(rule["about"])
    return (down, across) if min(counts) <= MOST_COLUMNS else None


def _siblings(book: Book, rule: str) -> list[dict[str, str]]:
    """Return the other rules of the subject, slot by slot, as taken as right: what is left is this rule's own verdict."""
    subject = book["rules"][rule]["subject"]
    others = [other for name, other in sorted(book["rules"].items()) if other["subject"] == subject and name != rule]
    plain = [{"rule": other["id"]} for other in others if not other["each"]]
    by_slot = [{"rule": other["id"], "slot": slot} for other in others if other["each"]
               for slot in sorted(book["slots"]) if book["slots"][slot]["kind"] in other["each"].values()]
    return plain + by_slot


def _families(book: Book, slot: str) -> tuple[str, ...]:
    kind = book["slots"][slot]["kind"]
    return tuple(sorted(name for name, family in book["families"].items() if family["kind"] == kind))
