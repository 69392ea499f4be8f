"""Reads what follows the `#` of an address into a build; whatever cannot be used is named, and nothing is guessed."""
from __future__ import annotations

import re
from typing import Any

from .model import OTHER, Book

STATES = ("not_sure", "maybe", "open", "made_to_order", "none")
RELATIONS = ("came_together", "made_for", "same")
TYPES = ("buy", "make", "wire", "program", "set", "move")
ANSWERS = ("yes", "no", "not_sure")
KEEP, EXISTS, UNKNOWN = "keep", "fitted", "unknown"
NAME = re.compile(r"\.?([a-z0-9_]+)(?:\.([0-9]{1,3}))?")
NUMBER = re.compile(r"-?[0-9]{1,15}(?:\.[0-9]{1,25})?(?:e-?[0-9]{1,3})?")
ENCODED = re.compile(r"(?:%[0-9A-Fa-f]{2})+")
SHOWN = 80

NO_VALUE = "It is not of the form name=value."
NO_PARAMETER = "These facts know no part and no setting of that name."
TWICE = "It is said twice; the first one counts."
NOT_BOTH = "Something else is said of the same part; only one of them can be meant."
NO_FAMILY = "No such part is listed there, so the part counts as not known."
NO_ATTRIBUTE = "Nothing of that name can be said of this part."
NO_VALUE_OF = "It is not a value this can have, so the value counts as not known."
NO_HAND = "No such part is listed there, so it is left out of those in hand."
NO_SUBJECT = "These facts know no subject of that name."
NO_RULE = "These facts know no rule of that name."
NO_RELATION = "It does not name parts, or values of parts, that these facts know."
NO_ANSWER = "It is not one of the answers this can have."

Unused = list[dict[str, str]]


def from_address(book: Book, text: str) -> tuple[dict[str, Any], Unused]:
    """Return the build that the text stands for, and what of it was not used as {name, value, why}.

    Never raises: any text gives a build that the engine can read. A part or value that these facts do not know counts
    as not known, never as not mentioned, because leaving out a part can make a verdict better than it is.
    """
    build: dict[str, Any] = {"slots": {}}
    unused: Unused = []
    hands: dict[str, list[tuple[int, str, str]]] = {}
    seen: set[Any] = set()
    for piece in _decoded(text.strip().removeprefix("#")).split("&"):
        name, equals, value = piece.partition("=")
        slot, number = _slot_name(book, name)
        key = name if slot is None or name in SETTINGS else (slot, number)
        if not piece:
            continue
        if not equals or not name or not value:
            _drop(unused, name, value, NO_VALUE)
        elif name in RELATIONS:
            _relation(book, build, unused, name, value)
        elif key in seen:
            _drop(unused, name, value, TWICE)
        elif name in SETTINGS:
            SETTINGS[name](book, build, unused, name, value)
        elif slot is None:
            _drop(unused, name, value, NO_PARAMETER)
        elif number is not None:
            hands.setdefault(slot, []).append((number, name, value))
        else:
            build["slots"][slot] = _entry(book, unused, slot, value)
        seen.add(key)
    for slot, parts in hands.items():
        _in_hand(book, build, unused, slot, sorted(parts))
    build["slots"] = {slot: _tidy(entry) for slot, entry in sorted(build["slots"].items())}
    return build, unused


def _decoded(text: str) -> str:
    """The text with percent codes read once; bytes that are no text become a mark."""
    return ENCODED.sub(lambda found: bytes.fromhex(found[0].replace("%", "")).decode("utf-8", "replace"), text)


def _drop(unused: Unused, name: str, value: str, why: str) -> None:
    short = [part if len(part) <= SHOWN else f"{part[:SHOWN]}…" for part in (name, value)]
    unused.append({"name": short[0], "value": short[1], "why": why})


def _slot_name(book: Book, name: str) -> tuple[str | None, int | None]:
    found = NAME.fullmatch(name)
    if found is None or found[1] not in book.data["slots"]:
        return None, None
    return found[1], None if found[2] is None else int(found[2])


def _kind(book: Book, slot: str) -> str:
    return book.data["slots"][slot]["kind"]


def _entry(book: Book, unused: Unused, slot: str, value: str, in_hand: bool = False) -> dict[str, Any]:
    """What one parameter says of a part; an empty entry when it only says that there is one."""
    entry: dict[str, Any] = {}
    dropped = False
    for item in value.split(";"):
        attribute, colon, told = item.partition(":")
        if colon:
            dropped |= not _tell(book, unused, slot, entry, attribute, told)
        elif item == KEEP and not in_hand:
            entry["keep"] = True
        elif {"family", "one_of", "state"} & entry.keys():
            _drop(unused, slot, item, NOT_BOTH)
        elif item in STATES and not in_hand:
            entry["state"] = item
        elif item and item != EXISTS:
            families = [family for family in item.split(",") if family]
            if families and all(_is_family(book, slot, family) for family in families):
                entry |= {"family": families[0]} if len(families) == 1 else {"one_of": families}
            else:
                _drop(unused, slot, item, NO_HAND if in_hand else NO_FAMILY)
                dropped = True
    if dropped and not {"family", "one_of", "state", "told"} & entry.keys():
        entry["state"] = "not_sure"
    return entry


def _is_family(book: Book, slot: str, family: str) -> bool:
    return book.data["families"].get(family, {}).get("kind") == _kind(book, slot)


def _tidy(entry: dict[str, Any]) -> Any:
    return entry["state"] if list(entry) == ["state"] else entry


def _in_hand(book: Book, build: dict[str, Any], unused: Unused, slot: str, parts: list[tuple[int, str, str]]) -> None:
    entry = build["slots"].get(slot, {})
    if {"family", "one_of", "state"} & entry.keys():
        for _, name, value in parts:
            _drop(unused, name, value, NOT_BOTH)
        return
    read = [_entry(book, unused, slot, value, in_hand=True) for _, _, value in parts]
    held = [part for part in read if "state" not in part]
    build["slots"][slot] = entry | ({"in_hand": held} if held else {"state": "not_sure"})


def _tell(book: Book, unused: Unused, slot: str, entry: dict[str, Any], name: str, text: str) -> bool:
    """Put a told value into the entry; False when the kind has no such attribute or it was told before."""
    attribute = next((a for a in book.data["kinds"][_kind(book, slot)]["attributes"] if a["id"] == name), None)
    told = entry.get("told", {})
    if attribute is None or name in told:
        _drop(unused, f"{slot}.{name}", text, NO_ATTRIBUTE if attribute is None else TWICE)
        return False
    plain, colon, mark = text.partition(":")
    value = _value(attribute, plain) if mark in ("", "assumed") else None
    if value is None:
        _drop(unused, f"{slot}.{name}", text, NO_VALUE_OF)
        value = UNKNOWN
    elif colon and mark:
        value = {"is": value, "assumed": True}
    entry["told"] = told | {name: value}
    return True


def _value(attribute: dict[str, Any], text: str) -> Any:
    """The told value in the form a build has it, or None when the attribute cannot have it."""
    if text == UNKNOWN:
        return UNKNOWN
    if attribute["type"] == "number":
        return _range(attribute, text)
    allowed = {value for value, _ in attribute.get("values") or ()} | ({OTHER} if attribute["type"] == "identity" else set())
    values = text.split(",")
    return None if set(values) - allowed else values[0] if len(values) == 1 else values


def _range(attribute: dict[str, Any], text: str) -> Any:
    low, dots, high = text.partition("..")
    if dots:
        ends = _number(attribute, low), _number(attribute, high)
        ordered = None not in ends and _size(ends[0]) <= _size(ends[1])
        return {"from": ends[0], "to": ends[1]} if ordered else None
    numbers = [_number(attribute, part) for part in text.split(",")]
    if None in numbers or len(numbers) > 1 and any(isinstance(number, str) for number in numbers):
        return None
    return numbers[0] if len(numbers) == 1 else numbers


def _number(attribute: dict[str, Any], text: str) -> int | float | str | None:
    """The number, or the size code where the attribute may be told as one; None outside the attribute's range."""
    if NUMBER.fullmatch(text):
        number = int(text) if re.fullmatch("-?[0-9]+", text) else float(text)
        return number if _within(attribute, number) else None
    size = _size(text) if attribute.get("reads") == "tyre_size" else None
    return text if size is not None and _within(attribute, size) else None


def _within(attribute: dict[str, Any], value: float) -> bool:
    low, high = attribute.get("low"), attribute.get("high")
    return (low is None or low <= value) and (high is None or value <= high)


def _size(value: Any) -> float | None:
    if isinstance(value, str):
        from wizard.sums.tyre import read_tyre_size
        return read_tyre_size(value)
    return value


def _relation(book: Book, build: dict[str, Any], unused: Unused, kind: str, value: str) -> None:
    names, *marks = value.split(":")
    of = names.split(",")
    checked = marks[-1:] == ["checked"]
    answers = marks[:-1] if checked else marks
    known = all(_is_name(book, kind, name) for name in of)
    if not known or len(of) < 2 or kind == "same" and len(of) != 2:
        return _drop(unused, kind, value, NO_RELATION)
    if len(answers) > 1 or answers and answers[0] not in ANSWERS:
        return _drop(unused, kind, value, NO_ANSWER)
    said = {kind: of, "is": answers[0] if answers else "yes"} | ({"says": "checked"} if checked else {})
    build.setdefault("relations", []).append(said)


def _is_name(book: Book, kind: str, name: str) -> bool:
    slot, dot, attribute = name.partition(".")
    if slot not in book.data["slots"] or bool(dot) != (kind == "same"):
        return False
    return not dot or any(a["id"] == attribute for a in book.data["kinds"][_kind(book, slot)]["attributes"])


def _asks(book: Book, build: dict[str, Any], unused: Unused, name: str, value: str) -> None:
    named = value.split(",")
    for subject in named:
        if subject not in book.data["subjects"]:
            _drop(unused, name, subject, NO_SUBJECT)
    known = sorted({subject for subject in named if subject in book.data["subjects"]})
    build |= {"asks": known} if known else {}


def _whole_swap(book: Book, build: dict[str, Any], unused: Unused, name: str, value: str) -> None:
    if value == "yes":
        build["whole_swap"] = True
    else:
        _drop(unused, name, value, NO_ANSWER)


def _nothing_added(book: Book, build: dict[str, Any], unused: Unused, name: str, value: str) -> None:
    word, colon, listed = value.partition(":")
    if value != "yes" and (word != "except" or not colon):
        return _drop(unused, name, value, NO_ANSWER)
    allowed = listed.split(",") if colon else []
    for one in allowed:
        if one not in TYPES:
            _drop(unused, name, one, NO_ANSWER)
    known = sorted({one for one in allowed if one in TYPES})
    build["nothing_added"] = {"except": known} if known else True


def _taken_as_right(book: Book, build: dict[str, Any], unused: Unused, name: str, value: str) -> None:
    said = []
    for one in value.split(","):
        rule, colon, slot = one.partition(":")
        if rule not in book.data["rules"] or colon and slot not in book.data["slots"]:
            _drop(unused, name, one, NO_RULE)
        else:
            said.append({"rule": rule} | ({"slot": slot} if colon else {}))
    whole = {one["rule"] for one in said if "slot" not in one}
    said = [one for one in said if "slot" not in one or one["rule"] not in whole]
    build |= {"taken_as_right": said} if said else {}


SETTINGS = {"asks": _asks, "whole_swap": _whole_swap, "nothing_added": _nothing_added, "taken_as_right": _taken_as_right}
