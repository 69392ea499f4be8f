"""Rounding for show: significant digits, a no-break space between thousands, never used to compare."""
from __future__ import annotations

import math
import re

from ..copper import nearest_awg
from .units import to_other

SPACE = "\u00a0"


def rounded(value: float, digits: int) -> str:
    """Return a number rounded to significant digits, without exponent or closing zeros, thousands set apart."""
    if value == 0 or not math.isfinite(value):
        return "0" if value == 0 else str(value)
    places = digits - 1 - int(f"{value:e}".split("e")[1])
    text = f"{round(value, places):,.{max(places, 0)}f}"
    text = text.rstrip("0").rstrip(".") if places > 0 else text
    return text.replace(",", SPACE)


def shown(value: float, unit: str, digits: int) -> str:
    """Return a rounded number with its unit."""
    return f"{rounded(value, digits)}{SPACE}{unit}"


def shown_other(value: float, unit: str, digits: int) -> str:
    """Return the same in the other unit system (a section as a gauge number); empty where both use the same unit."""
    if unit == "mm²" and value > 0:
        gauge = round(nearest_awg(value), 1)
        return f"AWG{SPACE}{gauge:g}" if gauge > 0 else f"AWG{SPACE}{1 - gauge:g}/0"
    other = to_other(value, unit)
    return shown(other[0], other[1], digits) if other else ""


def plain(value: object) -> str:
    """Return an input as it was said: a number without needless zeros, thousands set apart; a text in quotes."""
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return repr(value)
    return f"{value:,.10g}".replace(",", SPACE)


def shown_input(value: float, said: object, unit: str) -> str:
    """Return an input with its unit: a number as it was said, one that was read from another unit or a size by four digits.

    Where the text has more digits than four, so has what is shown.
    """
    written = re.search(r"\d[\d.,\u00a0 ]*", said) if isinstance(said, str) else None
    if written is None or written[0].strip() == said.strip().lstrip("-\u2212+"):
        return f"{plain(value)}{SPACE}{unit}"
    digits = len(re.sub(r"\D", "", written[0]).lstrip("0"))
    return shown(value, unit, max(4, min(digits, 10)))
