"""Holds the single values of a file against a shape: words, numbers, shares, dates and the traps of YAML among them."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from build_tools.load import Scalar, reading
from build_tools.problems import Problem, listed, near_match
from build_tools.schema import Date, Number, Percent, Shape, Text, TrueFalse, Value, Word, YesNo

Path = tuple[Any, ...]
BAD = object()
QUOTE = {
    "word": ("unquoted-word", "is read by YAML as true or false"),
    "number": ("unquoted-number", "is a number, and text is wanted here"),
    "odd number": ("odd-number", "is read by YAML as a number of another base or form"),
    "clock": ("clock-number", "is read by YAML as minutes and seconds, one number"),
    "date": ("unquoted-date", "is read by YAML as a date of its own kind"),
}


@dataclass(frozen=True)
class Outcome:
    """What a reading collects on the way: problems, and the line of every value by its path."""

    file: str
    problems: list[Problem] = field(default_factory=list)
    lines: dict[Path, int] = field(default_factory=dict)

    def say(self, line: int, check: str, what: str, allowed: str = "", near: str = "") -> Any:
        """Note a problem and return the mark of a value that cannot be used."""
        self.problems.append(Problem(self.file, line, what, check, allowed, near))
        return BAD


def called(path: Path) -> str:
    """Name a path the way a reader would: cases 2, when, sensor.plug."""
    parts = [f"{step + 1}" if isinstance(step, int) else str(step) for step in path]
    text = ""
    for step, part in zip(path, parts):
        text += f" {part}" if isinstance(step, int) and text else (f", {part}" if text else part)
    return text or "this record"


def null(node: Scalar, out: Outcome, path: Path) -> Any:
    """Note that nothing stands where a value should."""
    how = f"is '{node.text}', which means nothing" if node.text else "is left empty"
    return out.say(node.line, "null-value", f"'{called(path)}' {how}.", "Write a value, or leave the key out.")


def read_scalar(shape: Shape, node: Scalar, out: Outcome, path: Path) -> Any:
    """Return the plain value of a single value, or BAD after noting in `out` why it has none."""
    kind = reading(node)
    if kind == "null":
        return null(node, out, path)
    if isinstance(shape, TrueFalse):
        return _true_false(node, out, path)
    if isinstance(shape, Number):
        return _number(shape, node, kind, out, path)
    if isinstance(shape, Value) and kind == "number":
        return number_of(node.text)
    if isinstance(shape, Percent) and kind == "number":
        return out.say(
            node.line,
            "bad-percent",
            f"'{called(path)}' is {node.text}.",
            f"Write a share of the value, as in {node.text}%.",
        )
    if kind != "text":
        check, why = QUOTE[kind]
        return out.say(
            node.line,
            check,
            f"'{node.text}' {why}.",
            f'Write "{node.text}" in quotes.'
            if check != "odd-number" or not isinstance(shape, Value)
            else f'Write a plain decimal number, or "{node.text}" in quotes if it is a label.',
        )
    return _words(shape, node, out, path)


def _words(shape: Shape, node: Scalar, out: Outcome, path: Path) -> Any:
    text = node.text.strip() if isinstance(shape, Text) else node.text
    if not text.strip():
        return out.say(
            node.line, "null-value", f"'{called(path)}' is left empty.", "Write a value, or leave the key out."
        )
    if isinstance(shape, YesNo):
        if text not in ("yes", "no"):
            return out.say(node.line, "unknown-word", f"'{called(path)}' is '{text}'.", 'Allowed: "no", "yes".')
        return text == "yes"
    if isinstance(shape, Word):
        if text not in shape.choices:
            return out.say(
                node.line,
                "unknown-word",
                f"'{called(path)}' is '{text}'.",
                listed(shape.choices),
                near_match(text, shape.choices),
            )
        return text
    if isinstance(shape, Percent):
        return _percent(text, node, out, path)
    if isinstance(shape, Date):
        return _date(text, node, out, path)
    if isinstance(shape, Text):
        return _text(shape, text, node, out, path)
    return text


def _text(shape: Text, text: str, node: Scalar, out: Outcome, path: Path) -> Any:
    if shape.pattern and not re.fullmatch(shape.pattern, text):
        return out.say(node.line, "bad-id", f"'{text}' is not written as an id.", f"Write it like: {shape.like}.")
    text = " ".join(text.split())
    if shape.sentence and (text[0].islower() or text[-1] not in ".?!"):
        out.say(
            node.line,
            "not-a-sentence",
            f"'{_short(text)}' is not a whole sentence.",
            "Start with a capital letter and end with a full stop or a question mark.",
        )
    return text


def _short(text: str) -> str:
    return text if len(text) <= 60 else f"{text[:57]}..."


def _true_false(node: Scalar, out: Outcome, path: Path) -> Any:
    if node.plain and node.text in ("true", "false"):
        return node.text == "true"
    return out.say(
        node.line, "unknown-word", f"'{called(path)}' is '{node.text}'.", "Allowed: true or false, without quotes."
    )


def number_of(text: str) -> int | float:
    """Return a plain decimal number as int when it has no decimal part, else as float."""
    return float(text) if "." in text and float(text) != int(float(text)) else int(float(text))


def _number(shape: Number, node: Scalar, kind: str, out: Outcome, path: Path) -> Any:
    if kind == "odd number":
        return out.say(
            node.line,
            "odd-number",
            f"'{node.text}' is read by YAML as a number of another base or form.",
            "Write a plain decimal number, as in 8 or 0.5, without leading zeros.",
        )
    if kind == "clock":
        return out.say(
            node.line,
            "clock-number",
            f"'{node.text}' is read by YAML as minutes and seconds, one number.",
            "Write a plain decimal number, as in 12.5.",
        )
    if kind != "number":
        return out.say(
            node.line,
            "not-a-number",
            f"'{called(path)}' is '{node.text}'.",
            "Write a plain decimal number without unit and without quotes, as in 70 or 4.5.",
        )
    value = number_of(node.text)
    if shape.whole and not isinstance(value, int):
        return out.say(node.line, "not-a-number", f"'{called(path)}' is {node.text}.", "Write a whole number.")
    if shape.positive and value <= 0:
        return out.say(node.line, "not-a-number", f"'{called(path)}' is {node.text}.", "Write a number above 0.")
    return value


def _percent(text: str, node: Scalar, out: Outcome, path: Path) -> Any:
    found = re.fullmatch(r"([0-9]+(?:\.[0-9]+)?) ?%", text)
    if not found or float(found[1]) >= 100:
        return out.say(
            node.line,
            "bad-percent",
            f"'{called(path)}' is '{text}'.",
            "Write a share of the value between 0% and 100%, as in 5%.",
        )
    return float(f"{float(found[1])}e-2")


def _date(text: str, node: Scalar, out: Outcome, path: Path) -> Any:
    try:
        if re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text):
            date.fromisoformat(text)
            return text
    except ValueError:
        pass
    return out.say(
        node.line,
        "bad-date",
        f"'{called(path)}' is '{text}'.",
        'Write year, month and day in quotes, as in "2026-01-31".',
    )
