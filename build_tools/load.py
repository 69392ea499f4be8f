"""Reads one YAML file strictly, keeping the line of every value and guessing at nothing."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, NamedTuple, Union

import yaml

from build_tools.problems import Problem

FAST = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


class Scalar(NamedTuple):
    """A single value as written; `plain` means it stands without quotes."""

    text: str
    plain: bool
    line: int


class Sequence(NamedTuple):
    """A list with the line it starts on."""

    items: tuple[Any, ...]
    line: int


class Mapping(NamedTuple):
    """Keys and values in the order written, with the line it starts on."""

    pairs: tuple[tuple[Scalar, Any], ...]
    line: int


Node = Union[Scalar, Sequence, Mapping]

WORDS = frozenset("yes no on off true false y n".split())
NUMBER = re.compile(r"[-+]?(0|[1-9][0-9]*)(\.[0-9]+)?")
ODD_NUMBER = re.compile(
    r"[-+]?(0[0-9_]+|0x[0-9a-fA-F_]+|0o[0-7_]+|0b[01_]+"
    r"|[0-9][0-9_]*(\.[0-9_]*)?([eE][-+]?[0-9]+)?|\.[0-9][0-9_]*([eE][-+]?[0-9]+)?"
    r"|\.(inf|Inf|INF))|\.(nan|NaN|NAN)"
)
CLOCK = re.compile(r"[-+]?[0-9][0-9_]*(:[0-9]{1,2})+(\.[0-9_]*)?")
DATE = re.compile(r"[0-9]{4}-[0-9]{1,2}-[0-9]{1,2}([Tt ].*)?")


def reading(scalar: Scalar) -> str:
    """Name what YAML makes of a scalar: text, null, word, number, odd number, clock or date."""
    if not scalar.plain:
        return "text"
    text = scalar.text
    if text in ("", "~") or text.lower() == "null":
        return "null"
    if text.lower() in WORDS:
        return "word"
    for name, form in (("number", NUMBER), ("date", DATE), ("clock", CLOCK), ("odd number", ODD_NUMBER)):
        if form.fullmatch(text):
            return name
    return "text"


def load(raw: bytes, file: str) -> tuple[Node | None, list[Problem]]:
    """Return the tree of one document and what is wrong with it; the tree is None when unreadable."""
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        return None, [Problem(file, line, "The file is not UTF-8 text.", "not-utf8", "Save it as UTF-8.")]
    problems = list(_tabs(text, file))
    if problems:
        return None, problems
    try:
        events = list(yaml.parse(text, Loader=FAST))
    except yaml.YAMLError as error:
        return None, [_broken(error, file)]
    problems = list(_refused(events, file))
    if problems:
        return None, problems
    starts = [event for event in events if isinstance(event, yaml.DocumentStartEvent)]
    if not starts:
        return None, [_empty(file)]
    stream = iter(events[2:])
    node = _tree(next(stream), stream, file, problems)
    if isinstance(node, Scalar) and reading(node) == "null":
        return None, [_empty(file)]
    return node, problems


def _tabs(text: str, file: str) -> Iterator[Problem]:
    for number, line in enumerate(text.split("\n"), start=1):
        if "\t" in line:
            yield Problem(file, number, "The line holds a tab.", "tab", "Use spaces; two for each step inwards.")


def _broken(error: yaml.YAMLError, file: str) -> Problem:
    mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    line = mark.line + 1 if mark else 1
    return Problem(
        file,
        line,
        "YAML cannot read the file from here on.",
        "not-yaml",
        "Look here and in the line before for a missing colon, quote, bracket or space,"
        " or for text with ': ' or '#' in it, which must stand in quotes.",
    )


def _empty(file: str) -> Problem:
    return Problem(
        file, 1, "The file is empty.", "empty-file", "A file holds one record; delete the file if it has none."
    )


def _refused(events: list[Any], file: str) -> Iterator[Problem]:
    documents = 0
    for event in events:
        line = event.start_mark.line + 1
        if isinstance(event, yaml.DocumentStartEvent):
            documents += 1
            if documents == 2:
                yield Problem(
                    file,
                    line,
                    "A second document starts here.",
                    "many-documents",
                    "A file holds one record; give each record a file of its own.",
                )
            if event.version or event.tags:
                yield Problem(
                    file,
                    line,
                    "The file opens with a % directive.",
                    "tag",
                    "Take it out; plain text, numbers, lists and mappings are enough.",
                )
        if isinstance(event, yaml.AliasEvent):
            yield Problem(
                file,
                line,
                f"'*{event.anchor}' repeats a value from elsewhere.",
                "anchor-or-alias",
                "Write the value out.",
            )
        elif getattr(event, "anchor", None):
            yield Problem(
                file,
                line,
                f"'&{event.anchor}' names a value to repeat it elsewhere.",
                "anchor-or-alias",
                "Take the name off and write each value out.",
            )
        if getattr(event, "tag", None) and not isinstance(event, yaml.DocumentStartEvent):
            name = event.tag.replace("tag:yaml.org,2002:", "!!")
            yield Problem(
                file,
                line,
                f"'{name}' is a tag.",
                "tag",
                "Take it out; plain text, numbers, lists and mappings are enough.",
            )


def _tree(event: Any, stream: Iterator[Any], file: str, problems: list[Problem]) -> Node:
    line = event.start_mark.line + 1
    if isinstance(event, yaml.ScalarEvent):
        return Scalar(event.value, event.style in (None, ""), line)
    if isinstance(event, yaml.SequenceStartEvent):
        items = []
        while not isinstance(entry := next(stream), yaml.SequenceEndEvent):
            items.append(_tree(entry, stream, file, problems))
        return Sequence(tuple(items), line)
    pairs: list[tuple[Scalar, Node]] = []
    seen: dict[str, int] = {}
    while not isinstance(entry := next(stream), yaml.MappingEndEvent):
        key = _tree(entry, stream, file, problems)
        value = _tree(next(stream), stream, file, problems)
        if not isinstance(key, Scalar):
            problems.append(
                Problem(
                    file,
                    key.line,
                    "A list or a mapping stands where a key should.",
                    "wrong-shape",
                    "A key is a word, followed by a colon.",
                )
            )
        elif key.text in seen:
            problems.append(
                Problem(
                    file,
                    key.line,
                    f"'{key.text}' stands here a second time; it is already in line {seen[key.text]}.",
                    "duplicate-key",
                    "Keep one of the two.",
                )
            )
        else:
            seen[key.text] = key.line
            pairs.append((key, value))
    return Mapping(tuple(pairs), line)
