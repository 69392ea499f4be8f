"""Every way one part can be: all assignments of its attributes that a kind allows and that what was said leaves."""

from __future__ import annotations

from typing import Any, Iterator

from tests.oracle.bands import Band, Interval, constants, cut, touches
from tests.oracle.ground import Json, Option, OTHER
from tests.oracle.held import once_a_book

Part = dict[str, Any]  # attribute -> value, Band, or None where it does not apply


class Kind:
    """The attributes of one kind with their whole domains, parents before children."""

    def __init__(self, book: Json, kind: str, points: dict[str, list[float]] | None = None) -> None:
        points = constants(book) if points is None else points
        record = book["kinds"][kind]
        self.id = kind
        self.attributes: dict[str, Json] = {}
        left = list(record["attributes"])
        while left:
            ready = [a for a in left if set(a["applies_when"] or {}) <= set(self.attributes)]
            assert ready, f"attributes of {kind} apply in a circle"
            for one in ready:
                self.attributes[one["id"]] = one
                left.remove(one)
        self.never = record["never"]
        self.domains = {a: self._domain(one, points.get(f"{kind}.{a}", [])) for a, one in self.attributes.items()}

    def _domain(self, one: Json, points: list[float]) -> list[Any]:
        if one["type"] == "number":
            return list(cut(one["low"], one["high"], points, one["whole"]))
        return [value for value, _ in one["values"]] + ([OTHER] if one["type"] == "identity" else [])

    def applies(self, attr: str, part: Part) -> bool:
        """Return whether an attribute applies to a part whose other attributes are fixed."""
        needs = self.attributes[attr]["applies_when"] or {}
        return all(part[parent] is not None and part[parent] in values for parent, values in needs.items())

    def possible(self, part: Part) -> bool:
        """Return whether a whole part is outside every combination that never exists."""
        return not any(all(part[a] in values for a, values in box.items()) for box in self.never)


@once_a_book
def all_kinds(book: Json) -> dict[str, Kind]:
    """Return every kind of a book."""
    return {kind: Kind(book, kind) for kind in book["kinds"]}


def told_set(told: Any) -> tuple[list[Any] | None, Interval | None]:
    """Return a told value as a list of values or an unwidened interval; both None when it was said unknown."""
    if isinstance(told, dict) and "is" in told:
        told = told["is"]
    if told == "unknown":
        return None, None
    if isinstance(told, dict):
        return None, Interval(told["from"], told["to"])
    if isinstance(told, (int, float)):
        return None, Interval(told, told)
    return (list(told) if isinstance(told, list) else [told]), None


def known_interval(book: Json, kind: Kind, option: Option, attr: str) -> Interval | None:
    """Return the interval a numeric attribute is known to lie in, None when what was said leaves none."""
    one = kind.attributes[attr]
    low, high = float(one["low"]), float(one["high"])
    if attr in option.told:
        _, told = told_set(option.told[attr])
        if told is not None:
            low = max(low, told.low - abs(told.low) * one["band"])
            high = min(high, told.high + abs(told.high) * one["band"])
    listed = listed_value(book, option, attr)
    if listed is not None:
        low, high = max(low, listed["from"]), min(high, listed["to"])
    return Interval(low, high) if low <= high else None


def listed_value(book: Json, option: Option, attr: str) -> Any:
    """Return what the family's sheet says of an attribute, None when there is no family or it says nothing."""
    if option.family is None:
        return None
    entry = book["families"][option.family]["attributes"].get(attr)
    return None if entry is None else entry["is"]


def is_told(option: Option, attr: str) -> bool:
    """Return whether a value was told, which implies that the attribute applies."""
    return attr in option.told and told_set(option.told[attr]) != (None, None)


def allowed(book: Json, kind: Kind, option: Option, attr: str) -> list[Any]:
    """Return the values an attribute can still have if it applies."""
    domain = kind.domains[attr]
    one = kind.attributes[attr]
    if one["type"] == "number":
        interval = known_interval(book, kind, option, attr)
        return [] if interval is None else [b for b in domain if touches(b, interval, one["whole"])]
    values = told_set(option.told[attr])[0] if attr in option.told else None
    listed = listed_value(book, option, attr)
    return [v for v in domain if (values is None or v in values) and (listed is None or v in listed)]


def is_said(book: Json, option: Option, attr: str, strict_family: bool = True) -> bool:
    """Return whether a value was told or stands on the family's sheet, either of which implies that it applies."""
    return is_told(option, attr) or (strict_family and listed_value(book, option, attr) is not None)


def parts(book: Json, kind: Kind, option: Option, strict_family: bool = True) -> Iterator[Part]:
    """Yield every possible part that agrees with an option."""
    names = list(kind.attributes)

    def extend(part: Part, index: int) -> Iterator[Part]:
        if index == len(names):
            if kind.possible(part):
                yield dict(part)
            return
        attr = names[index]
        if not kind.applies(attr, part):
            if is_said(book, option, attr, strict_family):
                return
            choices: list[Any] = [None]
        else:
            choices = allowed(book, kind, option, attr)
        for value in choices:
            part[attr] = value
            yield from extend(part, index + 1)
            del part[attr]

    yield from extend({}, 0)


def show(value: Any) -> str:
    """Return a value as a person can read it."""
    if isinstance(value, Band):
        return f"{value.low:g}" if value.is_point else f"({value.low:g}, {value.high:g})"
    return "n/a" if value is None else str(value)
