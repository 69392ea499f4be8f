"""Every fixed drawing, and some of each sort that is drawn from values, by a name that tells them apart."""

from __future__ import annotations

from typing import Any

from build_tools.drawings import crank, faces, injectors
from build_tools.drawings.figure import Drawing
from build_tools.drawings.registry import FIXED
from tests.site.building import real_book


def plug(outline: str, rows: list[int], latch: str, ribs: list[str]) -> dict[str, Any]:
    """Return a plug as the book holds it."""
    return {"name": "plug", "outline": outline, "rows": rows, "latch": latch, "ribs": ribs}


MADE_UP = {
    "wide": plug("rectangle", [40, 40, 39], "lever", ["bottom_left", "bottom_right"]),
    "tall": plug("rectangle", [2] * 8, "side", ["left", "right"]),
    "single": plug("round", [1], "none", ["bottom"]),
    "ring of six": plug("round", [2, 2, 2], "top", ["bottom_left"]),
    "triangle": plug("triangle", [1, 2, 3], "top", ["left", "right", "bottom"]),
    "oval": plug("oval", [9], "wire_clip", ["bottom"]),
}


def all_drawings() -> dict[str, Drawing]:
    """Return the drawings by name."""
    found = {name: make() for name, make in sorted(FIXED.items())}
    for name, one in MADE_UP.items():
        for harness in (False, True):
            found[f"face {name} {'harness' if harness else 'part'}"] = faces.faces([one], "sockets" if harness else "pins", harness)
    for name, face in sorted(real_book()["faces"].items()):
        found[f"face {name}"] = faces.faces(face["plugs"])
    found |= {f"injector {length}": injectors.of_length(length) for length in (20.0, 38.0, 48.5, 100.0)}
    return found | {f"wheel {places} {missing}": crank.wheel(places, missing) for places, missing in ((12, 1), (24, 0), (58, 2))}
