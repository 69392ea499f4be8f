"""Injectors: what their length is, and how injectors of different lengths stand beside each other at one scale."""

from __future__ import annotations

from build_tools.drawings.figure import Drawing, Panel
from build_tools.drawings.ink import box, line, number, path, pointer, run, upright, words

SCALE = 2.3
TYPICAL = (38.0, 48.0, 60.0)


def measure() -> Drawing:
    """Return an injector with the length that counts and the one that does not, and the room it has to fill."""
    body = _injector(118, 52, 110) + upright(160, 52, 162, "between\nthe seals", -30) + upright(70, 22, 188, "overall:\nnot this", 36, gap=-8)
    names = words(252, 26, "inlet", "start") + pointer(248, 22, 126, 28) + words(252, 192, "spray end", "start") + pointer(248, 188, 124, 180)
    rail = (box(40, 14, 150, 30, "d-part", 4) + words(56, 34, "rail", "start", "d-name") + run([(92, 44), (92, 74), (98, 74), (98, 44)], "d-part") + run([(132, 44), (132, 74), (138, 74), (138, 44)], "d-part")
            + path("M40 154H94V176H40M190 154H136V176H190", "d-part") + words(42, 194, "manifold", "start", "d-name"))
    room = rail + _injector(115, 60, 104, quiet=True) + upright(206, 60, 164, "rail set to\nthis length,\n1 mm more\nor less", -76)
    return Drawing(
        (Panel(body + names, 204, "An injector from the side, inlet at the top. Its length is measured from the middle of the lower O-ring to the middle of the upper one, not over the whole body.",
               "The injector"),
         Panel(room, 204, "An injector between manifold and rail. The distance between the sealing bands of pocket and cup must be the injector's length to within 1 millimetre.",
               "The room for it")),
        "The length that counts lies between the middles of the two O-rings. With the rail bolted down, the room between the sealing bands must be the same to within 1 mm, "
        "and both seals pressed. An injector that is too short leaks fuel on a hot engine.")


def typical() -> Drawing:
    """Return injectors of the usual lengths side by side at one scale."""
    parts, foot = [], 44 + TYPICAL[-1] * SCALE
    for place, length in enumerate(TYPICAL):
        x = 62.0 + place * 98
        parts.append(_injector(x, foot - length * SCALE, length * SCALE) + words(x, foot + 54, f"{number(length)} mm", "middle", "d-name"))
    level = line(10, foot, 310, foot, "d-thin d-dash")
    return Drawing(
        (Panel(level + "".join(parts), round(foot + 66), "Three injectors at one scale with their lower O-rings on one line: 38, 48 and 60 millimetres between the seals."),),
        "Lengths often met, at one scale, lower O-rings on one line. The plug may point anywhere: turn the injector so that plug and wires stand clear of rail and manifold.")


def of_length(millimetres: float) -> Drawing:
    """Return one injector drawn to scale by its length between the seals, with the usual lengths marked beside it."""
    tall = max(TYPICAL[-1], millimetres) * SCALE
    foot = 44 + tall
    top = foot - millimetres * SCALE
    marks = "".join(line(208, foot - length * SCALE, 226, foot - length * SCALE, "d-thin") + words(232, foot - length * SCALE + 5, f"{number(length)} mm", "start") for length in TYPICAL)
    scale = line(208, foot, 208, foot - TYPICAL[-1] * SCALE, "d-thin") + line(208, foot, 226, foot, "d-thin") + words(232, foot + 5, "0", "start")
    shown = f"{number(millimetres)} mm"
    return Drawing(
        (Panel(_injector(88, top, foot - top) + upright(132, top, foot, shown, -32) + scale + marks, round(foot + 44),
               f"An injector to scale: {number(millimetres)} millimetres from the middle of the lower O-ring to the middle of the upper one, beside marks at 38, 48 and 60."),),
        f"To scale: {number(millimetres)} mm between the middles of its O-rings, beside lengths often met.")


def _injector(x: float, top: float, length: float, quiet: bool = False) -> str:
    """Return an injector whose upper O-ring has its middle at `top` and whose lower one lies `length` below."""
    foot, seal = top + length, 16.0
    inlet = box(x - 9, top - 26, 18, 26 + length * 0.2, "d-part", 2)
    body = box(x - 15, top + length * 0.2, 30, length * 0.5, "d-part", 4)
    nose = run([(x - 11, top + length * 0.7), (x + 11, top + length * 0.7), (x + 11, foot + 14), (x + 6, foot + 22), (x - 6, foot + 22), (x - 11, foot + 14)], "d-part", close=True)
    plug = "" if quiet else (box(x - 33, top + length * 0.27, 18, 18, "d-part", 2) + line(x - 33, top + length * 0.27 + 6, x - 27, top + length * 0.27 + 6) + line(x - 33, top + length * 0.27 + 12, x - 27, top + length * 0.27 + 12))
    seals = "".join(box(x - seal, y - 5, 2 * seal, 10, "d-keypart", 5) for y in (top, foot))
    return plug + inlet + body + nose + seals
