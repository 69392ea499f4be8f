"""The shapes a value in a file may have; `schema_read` holds a file against them."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, Union


@dataclass(frozen=True)
class Text:
    """Words; `pattern` narrows them and `like` shows a good one."""

    pattern: str = ""
    like: str = ""
    sentence: bool = False


@dataclass(frozen=True)
class Word:
    """One of a closed list of words."""

    choices: tuple[str, ...]


@dataclass(frozen=True)
class YesNo:
    """The quoted words "yes" and "no", kept as true and false."""


@dataclass(frozen=True)
class TrueFalse:
    """The bare words true and false of a build."""


@dataclass(frozen=True)
class Number:
    """A plain decimal number, kept as int or float."""

    whole: bool = False
    positive: bool = False


@dataclass(frozen=True)
class Percent:
    """A text such as 5%, kept as a fraction."""


@dataclass(frozen=True)
class Date:
    """A quoted ISO date, kept as text."""


@dataclass(frozen=True)
class Value:
    """A value of some attribute: a label or a number, told apart later by the attribute."""


@dataclass(frozen=True)
class ListOf:
    """A list, each entry of one shape, none twice."""

    item: "Shape"
    least: int = 0
    exactly: int = 0


@dataclass(frozen=True)
class MapOf:
    """A mapping from ids (or other texts) to values of one shape."""

    key: Text
    value: "Shape"
    least: int = 0
    special: "dict[str, Shape]" = field(default_factory=dict)
    exactly: int = 0


@dataclass(frozen=True)
class Either:
    """A shape for each way of writing a value: one entry, a list, or a mapping."""

    scalar: "Shape | None" = None
    sequence: "Shape | None" = None
    mapping: "Shape | None" = None


@dataclass(frozen=True)
class Key:
    """One key of a mapping: the shape of its value, whether it must be there, what it says."""

    shape: "Shape"
    needed: bool = False
    says: str = ""


@dataclass(frozen=True)
class Fields:
    """A mapping with named keys and no others."""

    what: str
    keys: dict[str, Key] = field(default_factory=dict)


@dataclass(frozen=True)
class Chosen:
    """A mapping whose shape is named by whichever of these keys it holds."""

    what: str
    by: dict[str, Fields] = field(default_factory=dict)


Shape = Union[Text, Word, YesNo, TrueFalse, Number, Percent, Date, Value, ListOf, MapOf, Either, Fields, Chosen]
Plain = Any

SNAKE = Text(r"[a-z][a-z0-9]*(_[a-z0-9]+)*", "throttle_body")
KEBAB = Text(r"[a-z][a-z0-9]*(-[a-z0-9]+)*", "heater-return")
LABEL = Text(r"[a-z0-9]+(_[a-z0-9]+)*", "own_wire")
SOURCE = Text(r"[a-z][a-z0-9]*(-[a-z0-9]+)*(#.+)?", "trade-practice, or some-book#page 12")
WORDS = Text()
SENTENCE = Text(sentence=True)
SENTENCES = ListOf(SENTENCE)


def one_or_more(item: Shape) -> Either:
    """Return the shape of one entry written alone, or of a list of them."""
    return Either(scalar=item, sequence=ListOf(item, least=1))


def need(shape: Shape, says: str = "") -> Key:
    """Return a key that must be there."""
    return Key(shape, True, says)


def may(shape: Shape, says: str = "") -> Key:
    """Return a key that may be left out."""
    return Key(shape, False, says)
