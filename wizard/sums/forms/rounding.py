"""Rounding for show: significant digits, a no-break space between thousands, never used to compare."""
from __future__ import annotations

import math

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
    text = f"{value:,.6f}".rstrip("0").rstrip(".") if abs(value) >= 1e-3 or value == 0 else f"{value:.6g}"
    return text.replace(",", SPACE)
