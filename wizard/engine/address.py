"""A build as what follows the `#` of an address: named, sorted parameters that a person can read, and back again.

    came_together=pedal,throttle_body:not_sure&controller=family_a;keep&harness=made_to_order
    &speed_source.1=family_b&speed_source.2=output:hall&throttle_body=bore:70;plug:style_b:assumed

One parameter per part. Its items stand between `;`: a listed family, several with `,` (one of them), or a word (not
bought yet, none fitted and the like), then `keep`, then `attribute:value`. Parts in hand are numbered.
"""
from __future__ import annotations

import re
from typing import Any, Iterable, Iterator

from .address_read import EXISTS, KEEP, RELATIONS, STATES, UNKNOWN, from_address
from .model import Book

__all__ = ["from_address", "to_address"]

WORDS = frozenset((*STATES, EXISTS, KEEP))
PARAMETERS = frozenset((*RELATIONS, "asks", "nothing_added", "taken_as_right", "whole_swap"))
PLAIN = re.compile(rb"[A-Za-z0-9_./-]")


def to_address(book: Book, build: dict[str, Any]) -> str:
    """Return the build as sorted parameters suited after `#`; empty for a build that says nothing.

    The build must be one that the engine reads. What is left at its default is left out, so builds that mean the same
    give the same text whatever order they were told in.
    """
    found = [item for slot, said in (build.get("slots") or {}).items() for item in _slot(slot, said)]
    found += [(kind, 0, _relation(kind, said)) for said in build.get("relations") or () for kind in RELATIONS if kind in said]
    if build.get("asks"):
        found.append(("asks", 0, _list(sorted(set(build["asks"])))))
    if build.get("whole_swap"):
        found.append(("whole_swap", 0, "yes"))
    if build.get("nothing_added"):
        found.append(("nothing_added", 0, _nothing_added(build["nothing_added"])))
    if build.get("taken_as_right"):
        found.append(("taken_as_right", 0, _taken_as_right(build["taken_as_right"])))
    return "&".join(f"{name}.{number}={value}" if number else f"{name}={value}" for name, number, value in sorted(found))


def _slot(slot: str, said: Any) -> Iterator[tuple[str, int, str]]:
    """Yield (name, number, value) of each parameter of a slot; the number is 0 but for parts in hand."""
    name = f".{slot}" if slot in PARAMETERS else slot
    entry = {"state": said} if isinstance(said, str) else said
    hand = entry.get("in_hand") or ()
    for number, part in enumerate(hand, start=1):
        yield name, number, ";".join(_items(part)) or EXISTS
    items = list(_items(entry))
    if items or not hand:
        yield name, 0, ";".join(items) or EXISTS


def _items(entry: dict[str, Any]) -> Iterator[str]:
    families = entry.get("one_of") or ([entry["family"]] if entry.get("family") else [])
    if families:
        listed = _list(families)
        yield f",{listed}" if listed in WORDS else listed
    elif entry.get("state"):
        yield _atom(entry["state"])
    if entry.get("keep"):
        yield KEEP
    for attribute, told in sorted((entry.get("told") or {}).items()):
        yield f"{_atom(attribute)}:{_told(told)}"


def _told(told: Any) -> str:
    if isinstance(told, dict) and "is" in told:
        return _told(told["is"]) + (":assumed" if told.get("assumed") else "")
    if isinstance(told, dict):
        return f"{_atom(told['from'])}..{_atom(told['to'])}"
    return _list(told) if isinstance(told, list) else _atom(UNKNOWN if told is None else told)


def _relation(kind: str, said: dict[str, Any]) -> str:
    value = said.get("is", "yes")
    checked = ":checked" if said.get("says") == "checked" else ""
    return _list(sorted(said[kind])) + ("" if value == "yes" else f":{value}") + checked


def _nothing_added(said: Any) -> str:
    allowed = said.get("except") if isinstance(said, dict) else ()
    return f"except:{_list(sorted(set(allowed)))}" if allowed else "yes"


def _taken_as_right(said: list[dict[str, Any]]) -> str:
    """The rules taken as right; one taken as a whole needs no slot beside it."""
    right = {(one["rule"], one.get("slot") or "") for one in said}
    needed = sorted((rule, slot) for rule, slot in right if not slot or (rule, "") not in right)
    return ",".join(f"{_atom(rule)}:{_atom(slot)}" if slot else _atom(rule) for rule, slot in needed)


def _list(values: Iterable[Any]) -> str:
    return ",".join(_atom(value) for value in values)


def _atom(value: Any) -> str:
    """One id, number or size as text; what has a meaning in an address or may not stand in one is percent-encoded."""
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        text = f"{value:.12f}".rstrip("0").rstrip(".") if isinstance(value, float) else str(value)
        return repr(value) if isinstance(value, float) and float(text) != value else text
    return "".join(chr(byte) if PLAIN.fullmatch(bytes((byte,))) else f"%{byte:02X}" for byte in str(value).encode())
