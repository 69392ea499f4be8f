"""Works out which thing to look at next so that fewer listed parts are left: a tree over attributes, with no verdict in it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from build_tools.pages import words
from build_tools.pages.text import capital, span

FOLDER = "identify"
DEEPEST = 5
MOST_STEPS = 60
MOST_CHOICES = 10
FEWEST_PARTS = 3
NAMED_LATER = 3
EASE = tuple(words.EASE)
Record = Mapping[str, Any]


class Choice(NamedTuple):
    """One thing that may be seen: its label, what the build is told then, the listed parts left, and what to look at next."""

    label: str
    told: Mapping[str, Any]
    left: tuple[str, ...]
    then: "Step | None"


class Step(NamedTuple):
    """One attribute to find out, with what may be seen."""

    attribute: str
    choices: tuple[Choice, ...]


def narrowing(book: Record, kind: str) -> Step | None:
    """Return the first step for a kind of part, or None when nothing tells its listed parts apart.

    Only parts that can be changed whole, and of which several are listed, are narrowed down. Easy things come before hard
    ones, what anybody can see before names that only a list knows, what somebody has to be asked last, and among equally
    easy ones the one that leaves fewest parts. At most `DEEPEST` steps follow each other and `MOST_STEPS` are made in all; where they run out,
    the parts left stand side by side.
    """
    families = tuple(sorted(name for name, family in book["families"].items() if family["kind"] == kind))
    budget = [MOST_STEPS]
    worth = len(families) >= FEWEST_PARTS and book["kinds"][kind]["changeable"] == "whole"
    return _step(book, book["kinds"][kind], families, {}, DEEPEST, budget) if worth else None


def page_of(book: Record, kind: str) -> str:
    """Return the page that narrows a kind down, or nothing when it has none."""
    return f"{FOLDER}/{kind}.md" if narrowing(book, kind) else ""


def steps_of(step: Step | None) -> int:
    """Return how many steps a tree has."""
    return 0 if step is None else 1 + sum(steps_of(choice.then) for choice in step.choices)


def _step(book: Record, kind: Record, left: tuple[str, ...], told: Mapping[str, Any], deep: int, budget: list[int]) -> Step | None:
    if len(left) < 2 or not deep or not budget[0]:
        return None
    found = []
    for place, attribute in enumerate(kind["attributes"]):
        way = book["find_out"].get(attribute["find_out"] or "")
        if way is None or attribute["told_only"] or attribute["id"] in told or not _applies(book, attribute, left, told):
            continue
        choices = _choices(book, kind, attribute, left, told)
        largest = max((len(names) for _, _, names in choices), default=0)
        if len(choices) > 1 and largest < len(left) and len(choices) <= MOST_CHOICES:
            found.append(((_effort(attribute, way), sum(len(names) ** 2 for _, _, names in choices), place), attribute["id"], choices))
    if not found:
        return None
    budget[0] -= 1
    _, name, choices = min(found)
    made = []
    for label, value, names in choices:
        now = told if value is None else {**told, name: value}
        made.append(Choice(label, now, names, _step(book, kind, names, now, deep - 1, budget)))
    return Step(name, tuple(made))


def _effort(attribute: Record, way: Record) -> int:
    """Return how late an attribute is asked for: by the ease of its way, names later, and what has to be asked of somebody last."""
    late = NAMED_LATER if attribute["type"] == "identity" else 0
    return len(EASE) + late if way["ease"] == "ask" else EASE.index(way["ease"]) + late


def what_else(book: Record, kind: Record, told: Mapping[str, Any], weight: Mapping[str, int], most: int) -> list[Record]:
    """Return the attributes that still matter of a part of which this was told: easy ones first, then those that more rules read."""
    ranked = []
    for place, attribute in enumerate(kind["attributes"]):
        way = book["find_out"].get(attribute["find_out"] or "")
        needed = all(told.get(name) in values for name, values in attribute["applies_when"].items())
        if way and needed and not attribute["told_only"] and attribute["id"] not in told:
            ranked.append((_effort(attribute, way), -weight.get(attribute["id"], 0), place, attribute))
    return [attribute for _, _, _, attribute in sorted(ranked, key=lambda entry: entry[:3])[:most]]


def _applies(book: Record, attribute: Record, left: tuple[str, ...], told: Mapping[str, Any]) -> bool:
    """Return whether all parts left have the attribute, by what was told or by what they are."""
    for needed, values in attribute["applies_when"].items():
        if needed in told:
            if told[needed] not in values:
                return False
        elif not all(_values(book, name, needed) and set(_values(book, name, needed)) <= set(values) for name in left):
            return False
    return True


def _values(book: Record, family: str, attribute: str) -> tuple[str, ...]:
    entry = book["families"][family]["attributes"].get(attribute)
    return tuple(entry["is"]) if entry and isinstance(entry["is"], list) else ()


def _choices(book: Record, kind: Record, attribute: Record, left: tuple[str, ...], told: Mapping[str, Any]) -> list[tuple[str, Any, tuple[str, ...]]]:
    """Return label, told value and parts left for each thing that may be seen; a part that says nothing stays with every one."""
    if attribute["type"] == "number":
        return _figures(book, attribute, left)
    name = attribute["id"]
    choices = []
    for value, label in attribute["values"]:
        names = tuple(family for family in left if not _values(book, family, name) or value in _values(book, family, name))
        if _possible(kind, {**told, name: value}) and (names or attribute["type"] == "values"):
            choices.append((capital(label), value, names))
    if attribute["type"] == "identity":
        choices.append(("None of these", None, tuple(family for family in left if not _values(book, family, name))))
    return choices


def _possible(kind: Record, told: Mapping[str, Any]) -> bool:
    """Return whether all that was told can be true of one part: nothing that cannot be, and whatever was told of applies."""
    applies = all(told[needed] in values for a in kind["attributes"] if a["id"] in told for needed, values in a["applies_when"].items() if needed in told)
    return applies and not any(_meets(box, told) for box in kind["never"])


def _meets(box: Mapping[str, Any], told: Mapping[str, Any]) -> bool:
    return all(told.get(name) in values for name, values in box.items())


def _figures(book: Record, attribute: Record, left: tuple[str, ...]) -> list[tuple[str, Any, tuple[str, ...]]]:
    """Return one choice for each figure of the parts left, parts within the attribute's band together, and one for any other."""
    band, groups, silent = attribute["band"] or 0, [], []
    figures = {name: book["families"][name]["attributes"].get(attribute["id"]) for name in left}
    for name in sorted(left, key=lambda one: (figures[one]["is"]["from"], one) if figures[one] else (0, one)):
        entry = figures[name]
        if entry is None:
            silent.append(name)
        elif groups and entry["is"]["from"] * (1 - band) <= groups[-1][1] * (1 + band):
            groups[-1] = (groups[-1][0], max(groups[-1][1], entry["is"]["to"]), [*groups[-1][2], name])
        else:
            groups.append((entry["is"]["from"], entry["is"]["to"], [name]))
    if not groups:
        return []
    about = "" if attribute["whole"] else "About "
    made = [(f"{about}{span(low, high, attribute['unit'])}", low if low == high else {"from": low, "to": high}, tuple(sorted([*names, *silent])))
            for low, high, names in groups]
    return [*made, ("Another figure", None, tuple(sorted(silent)))]
