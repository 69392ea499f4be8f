"""Measuring points and circuits: the ends of a data link, pulleys, and the two sides an output can switch."""

from __future__ import annotations

from math import acos, atan2, cos, hypot, sin

from build_tools.drawings.figure import Drawing, Panel
from build_tools.drawings.ink import arrow, box, dot, earth, line, number, path, resistor, ring, run, switch, words


def bus_ends() -> Drawing:
    """Return a data link measured with the right number of end resistors, one too few and one too many."""
    return Drawing(
        (_bus(("end", "end"), "Right", "d-keytext"), _bus(("end", ""), "One is missing", "d-wrongtext"), _bus(("end", "end", "middle"), "One too many", "d-wrongtext")),
        "Key off, battery disconnected, meter across the two wires anywhere along them. Resistors side by side: two of 120 Ω make 60 Ω, three make 40 Ω, one alone stays 120 Ω. "
        "54 to 66 Ω is right.")


def _bus(places: tuple[str, ...], title: str, name: str) -> Panel:
    high, low = 44.0, 88.0
    count = sum(1 for place in places if place)
    ohms = 120 / count
    wires = line(62, high, 258, high) + line(62, low, 258, low) + words(160, 34, "CAN high", "middle") + words(212, 106, "CAN low", "middle")
    at = {0: 62.0, 1: 258.0, 2: 214.0}
    ends = "".join(_terminator(at[place], high, low) if what else line(at[place], high, at[place], high + 8, "d-wrong") + line(at[place], low, at[place], low - 8, "d-wrong")
                   for place, what in enumerate(places))
    meter = run([(140, high), (140, 118), (140, 130)], "d-measure") + run([(168, low), (168, 130)], "d-measure") + dot(140, high) + dot(168, low) + box(112, 130, 84, 32, "d-keypart", 6) + words(
        154, 151, f"{number(ohms)} Ω", "middle", name)
    return Panel(wires + ends + meter, 172,
                 f"Two wires with {('no', 'one', 'two', 'three')[count]} resistor{'s' if count != 1 else ''} of 120 ohms between them and a meter across: it shows {number(ohms)} ohms.", title)


def _terminator(x: float, high: float, low: float) -> str:
    left = x < 160 or x == 214
    return resistor(x, high, low - high, down=True) + words(x - 10 if left else x + 10, 71, "120 Ω", "end" if left else "start")


def pulleys() -> Drawing:
    """Return the two pulleys of a belt drive with the diameters that count."""
    crank, alternator = (92.0, 104.0, 58.0), (244.0, 74.0, 24.0)
    parts = _belt(crank, alternator) + "".join(ring(x, y, radius - 4, "d-part") + ring(x, y, 5, "d-open") for x, y, radius in (crank, alternator))
    sizes = arrow(36, 104, 148, 104, "d-key", both=True) + words(92, 96, "A", "middle", "d-keytext") + arrow(222, 74, 266, 74, "d-key", both=True) + words(244, 66, "B", "middle", "d-keytext")
    names = words(92, 186, "crank", "middle", "d-name") + words(252, 130, "alternator", "middle", "d-name")
    return Drawing(
        (Panel(parts + sizes + names, 198, "A belt round the crank pulley and the smaller alternator pulley. The diameter of each is measured where the belt runs, not over the rims."),),
        "Measure both pulleys in the same way, where the belt runs and not over their rims. The alternator turns A divided by B times as fast as the crank.")


def _belt(first: tuple[float, float, float], second: tuple[float, float, float]) -> str:
    """Return a belt round two pulleys: their outer tangents and the arcs between them."""
    (x1, y1, r1), (x2, y2, r2) = first, second
    lean, spread = atan2(y2 - y1, x2 - x1), acos((r1 - r2) / hypot(x2 - x1, y2 - y1))
    upper, lower = lean - spread, lean + spread
    ends = [(x + r * cos(turn), y + r * sin(turn)) for x, y, r, turn in ((x1, y1, r1, upper), (x2, y2, r2, upper), (x2, y2, r2, lower), (x1, y1, r1, lower))]
    a, b, c, d = (f"{x:.1f} {y:.1f}" for x, y in ends)
    return path(f"M{a}L{b}A{r2:g} {r2:g} 0 0 1 {c}L{d}A{r1:g} {r1:g} 0 1 1 {a}Z", "d-heavy")


def output_sides() -> Drawing:
    """Return a relay coil on a low-side and on a high-side output."""
    low = (words(86, 26, "12 V, by a fuse", "middle") + line(86, 34, 86, 50) + _coil(86, 50) + run([(86, 112), (86, 128), (214, 128)], "d-key") + _controller() + run([(214, 128), (252, 128)], "d-key")
           + switch(252, 128, 36, "d-key") + earth(252, 164, "d-key") + words(150, 146, "pulls down", "middle", "d-keytext"))
    high = (run([(214, 50), (86, 50)], "d-key") + _coil(86, 50) + line(86, 112, 86, 150) + earth(86, 150) + _controller() + line(252, 92, 252, 50, "d-key") + run([(214, 50), (252, 50)], "d-key")
            + words(150, 42, "feeds", "middle", "d-keytext") + switch(252, 54, 40, "d-key") + words(260, 112, "12 V", "middle"))
    return Drawing(
        (Panel(low, 202, "Low side: the coil is fed with 12 volts by a fuse, and the controller joins its other end to ground.", "Low-side output"),
         Panel(high, 202, "High side: the controller feeds the coil with 12 volts, and the coil's other end is at ground.", "High-side output")),
        "Look where the coil's other end goes. At 12 V it suits a low-side output, at ground a high-side one. Both ends on the same side: always off, or always on.")


def _coil(x: float, y: float) -> str:
    return line(x, y, x, y + 14) + box(x - 18, y + 14, 36, 34, "d-part") + line(x - 18, y + 48, x + 18, y + 14) + line(x, y + 48, x, y + 62) + words(x - 26, y + 36, "coil", "end", "d-name")


def _controller() -> str:
    return box(214, 28, 92, 162, "d-part", 3) + words(260, 20, "controller", "middle", "d-name")
