"""The strokes every drawing is made of: SVG text that takes its colours from the page and carries no ids."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape
from math import atan2, cos, pi, sin

WIDTH = 320
LETTER = 13
LEADING = 16
HEAD = 8.0
Point = tuple[float, float]


def number(value: float) -> str:
    """Return a coordinate with at most one decimal, without a needless point or minus."""
    text = f"{value:.1f}".removesuffix(".0")
    return "0" if text == "-0" else text


def _class(name: str) -> str:
    return f' class="{name}"' if name else ""


def line(x1: float, y1: float, x2: float, y2: float, name: str = "") -> str:
    """Return a straight stroke."""
    return path(f"M{number(x1)} {number(y1)}L{number(x2)} {number(y2)}", name)


def run(points: Iterable[Point], name: str = "", close: bool = False) -> str:
    """Return a stroke through the points, closed on request."""
    return path("M" + "L".join(f"{number(x)} {number(y)}" for x, y in points) + ("Z" if close else ""), name)


def path(d: str, name: str = "") -> str:
    """Return a stroke of any form."""
    return f'<path{_class(name)} d="{d}"/>'


def box(x: float, y: float, width: float, height: float, name: str = "", corner: float = 0) -> str:
    """Return a rectangle with rounded corners of the radius given."""
    rounded = f' rx="{number(corner)}"' if corner else ""
    return f'<rect{_class(name)} x="{number(x)}" y="{number(y)}" width="{number(width)}" height="{number(height)}"{rounded}/>'


def ring(x: float, y: float, radius: float, name: str = "") -> str:
    """Return a circle."""
    return f'<circle{_class(name)} cx="{number(x)}" cy="{number(y)}" r="{number(radius)}"/>'


def dot(x: float, y: float, radius: float = 2.5, name: str = "d-solid") -> str:
    """Return a filled dot, as where wires join."""
    return ring(x, y, radius, name)


def words(x: float, y: float, text: str, at: str = "start", name: str = "") -> str:
    """Return text with its first base line at y; each line break starts another line below."""
    return "".join(
        f'<text{_class(name)} x="{number(x)}" y="{number(y + place * LEADING)}" text-anchor="{at}">{escape(one, quote=False)}</text>'
        for place, one in enumerate(text.split("\n")) if one)


def head(x: float, y: float, angle: float, name: str = "d-solid", size: float = HEAD) -> str:
    """Return the head of an arrow that points along the angle, in radians, with its tip at the point."""
    sides = [(x - size * cos(angle + turn), y - size * sin(angle + turn)) for turn in (0.42, -0.42)]
    return run([(x, y), *sides], name, close=True)


def arrow(x1: float, y1: float, x2: float, y2: float, name: str = "", both: bool = False) -> str:
    """Return a stroke with a head at its end, or at both ends."""
    angle = atan2(y2 - y1, x2 - x1)
    solid = f"d-solid {name}".strip()
    start = (x1 + HEAD * 0.7 * cos(angle), y1 + HEAD * 0.7 * sin(angle)) if both else (x1, y1)
    end = (x2 - HEAD * 0.7 * cos(angle), y2 - HEAD * 0.7 * sin(angle))
    return line(*start, *end, name) + head(x2, y2, angle, solid) + (head(x1, y1, angle + pi, solid) if both else "")


def across(x1: float, x2: float, y: float, text: str, reach: float = 0, above: bool = True, name: str = "d-measure") -> str:
    """Return a dimension from x1 to x2 at height y; `reach` is how far its end marks go down to what is measured (up when negative)."""
    marks = "".join(line(x, y - (5 if reach >= 0 else -5), x, y + reach, "d-thin") for x in (x1, x2))
    return marks + arrow(x1, y, x2, y, name, both=True) + words((x1 + x2) / 2, y - 8 if above else y + 15, text, "middle", "d-name")


def upright(x: float, y1: float, y2: float, text: str, reach: float = 0, name: str = "d-measure", gap: float = 8) -> str:
    """Return a dimension from y1 to y2 at x, its words to the right (to the left with a negative gap)."""
    marks = "".join(line(x - (5 if reach >= 0 else -5), y, x + reach, y, "d-thin") for y in (y1, y2))
    lines = text.count("\n")
    return (marks + arrow(x, y1, x, y2, name, both=True)
            + words(x + gap, (y1 + y2) / 2 + 5 - lines * LEADING / 2, text, "start" if gap > 0 else "end", "d-name"))


def pointer(x1: float, y1: float, x2: float, y2: float) -> str:
    """Return a thin line from a name to what it names, ending in a dot there."""
    return line(x1, y1, x2, y2, "d-thin") + dot(x2, y2, 2)


def hatch(x: float, y: float, width: float, height: float, step: float = 7, name: str = "d-thin") -> str:
    """Return slanting lines that fill a rectangle, drawn one by one so that no pattern needs an id."""
    parts = []
    start = step
    while start < width + height:
        x1, y1 = (x + start, y) if start <= width else (x + width, y + start - width)
        x2, y2 = (x, y + start) if start <= height else (x + start - height, y + height)
        parts.append(f"M{number(x1)} {number(y1)}L{number(x2)} {number(y2)}")
        start += step
    return path("".join(parts), name)


def resistor(x: float, y: float, length: float = 46, down: bool = False, name: str = "") -> str:
    """Return a resistor as the open box of IEC 60617 with its leads, starting at the point, to the right or downwards."""
    lead, body, half = (length - 26) / 2, 26.0, 5.5
    if down:
        return line(x, y, x, y + lead, name) + box(x - half, y + lead, 2 * half, body, name) + line(x, y + lead + body, x, y + length, name)
    return line(x, y, x + lead, y, name) + box(x + lead, y - half, body, 2 * half, name) + line(x + lead + body, y, x + length, y, name)


def earth(x: float, y: float, name: str = "") -> str:
    """Return the sign for a ground, its wire coming from above."""
    bars = "".join(line(x - half, y + 8 + place * 4.5, x + half, y + 8 + place * 4.5, name) for place, half in enumerate((10, 6.5, 3)))
    return line(x, y, x, y + 8, name) + bars


def switch(x: float, y: float, length: float = 40, name: str = "") -> str:
    """Return an open switch that stands upright, starting at the point."""
    return (line(x, y, x, y + 8, name) + ring(x, y + 10, 2, name) + line(x - 11, y + 13, x, y + length - 12, name)
            + ring(x, y + length - 10, 2, name) + line(x, y + length - 8, x, y + length, name))


def battery(x: float, y: float, width: float = 70, height: float = 44) -> str:
    """Return a battery with its two posts, plus at the left."""
    posts = box(x + 10, y - 8, 12, 8, "d-part") + box(x + width - 22, y - 8, 12, 8, "d-part")
    plus = line(x + 12, y + 12, x + 20, y + 12) + line(x + 16, y + 8, x + 16, y + 16)
    return posts + box(x, y, width, height, "d-part", 3) + plus + line(x + width - 20, y + 12, x + width - 12, y + 12)


def cross(x: float, y: float, size: float = 7, name: str = "d-wrong") -> str:
    """Return a cross that strikes something out."""
    return line(x - size, y - size, x + size, y + size, name) + line(x - size, y + size, x + size, y - size, name)


def arc(x: float, y: float, radius: float, start: float, end: float, name: str = "") -> str:
    """Return the part of a circle between two angles in degrees, counted from the right, upwards positive; `start` below `end`."""
    (x1, y1), (x2, y2) = (turned(x, y, radius, angle) for angle in (start, end))
    return path(f"M{number(x1)} {number(y1)}A{number(radius)} {number(radius)} 0 {int(end - start > 180)} 0 {number(x2)} {number(y2)}", name)


def turned(x: float, y: float, radius: float, angle: float) -> Point:
    """Return the point on a circle at an angle in degrees, counted from the right, upwards positive."""
    return x + radius * cos(angle * pi / 180), y - radius * sin(angle * pi / 180)
