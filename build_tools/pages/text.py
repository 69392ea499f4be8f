"""Turns plain text of the facts into Markdown that shows exactly that text, and numbers and dates into words."""

from __future__ import annotations

import re
from collections.abc import Iterable

MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December")
SPECIAL = re.compile(r"([\\`*_{}\[\]|])")
LIST_LIKE = re.compile(r"^(\s*)([-+#]|\d+\.)(?=\s)")


def md(text: object) -> str:
    """Return the text so that Markdown shows it letter by letter, on one line."""
    one_line = " ".join(str(text).split())
    safe = one_line.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    safe = SPECIAL.sub(r"\\\1", safe)
    return LIST_LIKE.sub(lambda found: found[1] + found[2][:-1] + "\\" + found[2][-1], safe)


def number(value: float | int | None) -> str:
    """Return a number without a needless point, with a thin space between thousands and a true minus sign."""
    if value is None:
        return ""
    whole = f"{value:.10g}"
    sign, digits = ("\u2212", whole[1:]) if whole.startswith("-") else ("", whole)
    if "e" in digits:
        return sign + digits
    head, point, tail = digits.partition(".")
    if len(head) > 4:
        head = re.sub(r"(?<=\d)(?=(\d{3})+$)", "\u202f", head)
    return sign + head + point + tail


def quantity(value: float | int | None, unit: str | None) -> str:
    """Return a number and its unit, kept on one line."""
    return f"{number(value)}\u00a0{unit}" if unit else number(value)


def span(low: float | int, high: float | int, unit: str | None) -> str:
    """Return one number, or `from x to y`, with the unit once."""
    return quantity(low, unit) if low == high else f"{number(low)} to {quantity(high, unit)}"


def percent(fraction: float) -> str:
    """Return a fraction as a percentage."""
    return f"{number(round(fraction * 100, 6))}\u00a0%"


def day(checked: str | None) -> str:
    """Return a date in words, or `never` when there is none."""
    if not checked:
        return "never"
    year, month, date = (int(part) for part in checked.split("-"))
    return f"{date} {MONTHS[month - 1]} {year}"


def either(words: Iterable[str], last: str = "or") -> str:
    """Return `a`, `a or b`, `a, b or c`."""
    listed = list(words)
    return listed[0] if len(listed) == 1 else f"{', '.join(listed[:-1])} {last} {listed[-1]}" if listed else ""


def counted(count: int, one: str, many: str | None = None) -> str:
    """Return a count with its noun."""
    return f"{number(count)} {one if count == 1 else many or one + 's'}"


def capital(text: str) -> str:
    """Return the text with a capital first letter."""
    return text[:1].upper() + text[1:]
