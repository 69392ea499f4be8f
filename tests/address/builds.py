"""Hypothesis strategies for every build that a book allows, and for addresses that somebody damaged."""

from __future__ import annotations

from math import ceil, floor
from typing import Any

from hypothesis import strategies as st

from wizard.engine.address_read import ANSWERS, STATES, TYPES
from wizard.engine.model import OTHER, Book

Json = dict[str, Any]
TYRE_SIZES = ("225/60R16", "31x10.50R15", "676 mm", '33"', "P245/45 R 18")


def builds(book: Book) -> st.SearchStrategy[Json]:
    """Return builds in every form that a build can have."""
    data = book.data
    names = sorted(f"{slot}.{a['id']}" for slot, record in data["slots"].items() for a in data["kinds"][record["kind"]]["attributes"])
    slots = st.sets(st.sampled_from(sorted(data["slots"])), max_size=15).flatmap(
        lambda chosen: st.fixed_dictionaries({slot: entries(book, slot) for slot in sorted(chosen)}))
    of_slots = st.lists(st.sampled_from(sorted(data["slots"])), min_size=2, max_size=4, unique=True)
    relations = st.one_of(*(
        st.fixed_dictionaries({kind: of}, optional={"is": st.sampled_from(ANSWERS), "says": st.sampled_from(["customer", "checked"])})
        for kind, of in (("came_together", of_slots), ("made_for", of_slots),
                         ("same", st.lists(st.sampled_from(names), min_size=2, max_size=2, unique=True)))))
    rules = sorted(data["rules"])
    slot_or_all = st.one_of(st.just({}), st.fixed_dictionaries({"slot": st.sampled_from(sorted(data["slots"]))}))
    right = st.lists(st.tuples(st.sampled_from(rules), slot_or_all), max_size=3, unique_by=lambda one: one[0]).map(
        lambda said: [{"rule": rule, **slot} for rule, slot in said])
    types = st.lists(st.sampled_from(TYPES), min_size=1, max_size=6, unique=True)
    return st.fixed_dictionaries({"slots": slots}, optional={
        "asks": st.lists(st.sampled_from(sorted(data["subjects"])), max_size=3, unique=True),
        "whole_swap": st.booleans(),
        "nothing_added": st.one_of(st.booleans(), st.fixed_dictionaries({"except": types})),
        "relations": st.lists(relations, max_size=4),
        "taken_as_right": right,
    })


def entries(book: Book, slot: str) -> st.SearchStrategy[Any]:
    """Return what can be said of one slot."""
    kind = book.data["slots"][slot]["kind"]
    families = sorted(name for name, record in book.data["families"].items() if record["kind"] == kind)
    told = {"told": tellings(book, kind)}
    more = {**told, "keep": st.booleans()}
    forms = [st.sampled_from(STATES), st.fixed_dictionaries({}, optional=more),
             st.fixed_dictionaries({"state": st.sampled_from(STATES)}, optional=more)]
    option = [st.fixed_dictionaries({}, optional=told)]
    if families:
        forms.append(st.fixed_dictionaries({"family": st.sampled_from(families)}, optional=more))
        option.append(st.fixed_dictionaries({"family": st.sampled_from(families)}, optional=told))
    if len(families) > 1:
        several = st.lists(st.sampled_from(families), min_size=2, max_size=4, unique=True)
        forms.append(st.fixed_dictionaries({"one_of": several}, optional=more))
    in_hand = st.lists(st.one_of(option), min_size=1, max_size=12)
    return st.one_of(*forms, st.fixed_dictionaries({"in_hand": in_hand}, optional=more))


def tellings(book: Book, kind: str) -> st.SearchStrategy[Json]:
    """Return told values of any of a kind's attributes."""
    return st.fixed_dictionaries({}, optional={a["id"]: told_value(a) for a in book.data["kinds"][kind]["attributes"]})


def told_value(attribute: Json) -> st.SearchStrategy[Any]:
    """Return what can be told of one attribute, assumed or not."""
    if attribute["type"] == "number":
        low, high = attribute["low"], attribute["high"]
        number = st.one_of(st.integers(ceil(low), floor(high)), st.floats(low, high, allow_nan=False).map(lambda x: x + 0.0))
        ranges = st.tuples(number, number).map(lambda ends: {"from": min(ends), "to": max(ends)})
        forms: list[st.SearchStrategy[Any]] = [number, ranges, st.lists(number, min_size=1, max_size=3)]
        if attribute["reads"]:
            forms.append(st.sampled_from(TYRE_SIZES))
    else:
        values = [value for value, _ in attribute["values"]] + ([OTHER] if attribute["type"] == "identity" else [])
        forms = [st.sampled_from(values), st.lists(st.sampled_from(values), min_size=1, max_size=3, unique=True)]
    plain = st.one_of(st.just("unknown"), *forms)
    return st.one_of(plain, st.fixed_dictionaries({"is": plain}, optional={"assumed": st.booleans()}))


def damaged(address: str) -> st.SearchStrategy[str]:
    """Return the address with one stretch replaced by something else, empty or not."""
    place = st.integers(0, len(address))
    return st.tuples(place, place, st.text(max_size=6)).map(
        lambda cut: address[:min(cut[:2])] + cut[2] + address[max(cut[:2]):])
