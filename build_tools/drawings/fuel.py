"""The two ways a fuel rail is fed, told apart by the lines that reach it."""

from __future__ import annotations

from build_tools.drawings.figure import Drawing, Panel
from build_tools.drawings.ink import arrow, box, dot, line, path, ring, run, words


def regulator_lines() -> Drawing:
    """Return a rail with a return line and its regulator, and a rail that ends blind with the regulator near the tank."""
    returned = (_tank() + _rail() + line(74, 92, 74, 62) + run([(74, 62), (74, 48), (148, 48)]) + arrow(96, 48, 124, 48, "d-measure") + words(112, 38, "feed", "middle")
                + ring(280, 78, 14, "d-keypart") + line(280, 56, 280, 64) + run([(280, 92), (280, 150), (106, 150)], "d-key") + arrow(214, 150, 186, 150, "d-key") + words(196, 142, "return", "middle", "d-keytext")
                + path("M266 78H236V106", "d-dash") + words(272, 122, "hose to manifold", "end"))
    blind = (_tank() + _rail() + line(74, 92, 74, 62) + run([(74, 62), (74, 48), (148, 48)]) + words(112, 38, "one line", "middle", "d-keytext") + ring(74, 72, 14, "d-keypart")
             + run([(88, 72), (102, 72), (102, 100)], "d-key") + dot(276, 48, 4) + words(232, 84, "rail ends blind", "middle") + words(114, 110, "regulator", "start", "d-keytext"))
    return Drawing(
        (Panel(returned, 178, "Two lines reach the rail: the feed, and a return from the regulator at its end back to the tank. A small hose may join the regulator to the manifold.",
               "Two lines at the rail"),
         Panel(blind, 178, "One line reaches the rail, which ends blind. The regulator sits near the tank or in it and lets the rest back there.", "One line at the rail")),
        "Count the lines that reach the rail and look for a round can. With a hose to the manifold the pressure follows the manifold, without one it is fixed.")


def _tank() -> str:
    return box(20, 92, 86, 72, "d-part", 8) + words(62, 134, "tank", "middle", "d-name") + line(74, 92, 74, 108) + line(66, 108, 82, 108)


def _rail() -> str:
    return box(148, 40, 144, 16, "d-part", 8) + "".join(box(x - 4, 56, 8, 14, "d-part") for x in (166, 190, 214)) + words(190, 30, "rail", "middle", "d-name")
