"""The toothed wheel on the crank: its count, and the gap to its sensor."""

from __future__ import annotations

from math import cos, pi, sin

from build_tools.drawings.figure import Drawing, Panel
from build_tools.drawings.ink import arc, box, dot, head, line, path, pointer, ring, run, upright, words


def wheel(positions: int, missing: int) -> Drawing:
    """Return a wheel with evenly spaced teeth and one gap, with as many teeth as the numbers say."""
    there = positions - missing
    middle, high, root, tip = 160.0, 126.0, 78.0, 90.0
    step = 360 / positions
    points = []
    for place in range(positions):
        start = 90 - (place + missing / 2) * step if missing else 90 - place * step
        for share, radius in ((0.0, root), (0.12, tip), (0.46, tip), (0.58, root)):
            if place < there:
                angle = (start - share * step) * pi / 180
                points.append((middle + radius * cos(angle), high - radius * sin(angle)))
    body = _outline(points, middle, high, root) + ring(middle, high, 20, "d-open")
    first = (90 - missing / 2 * step - 0.29 * step) * pi / 180
    chalk = dot(middle + (tip - 5) * cos(first), high - (tip - 5) * sin(first), 4.5, "d-solid d-key")
    way = arc(middle, high, 52, -20, 70, "d-measure") + head(middle + 52 * cos(pi / 9), high + 52 * sin(pi / 9), 0.6 * pi, "d-solid d-measure")
    way += words(middle, high + 44, "count round", "middle")
    gap = words(middle, 22, "gap", "middle", "d-keytext") if missing else ""
    total = words(middle, 240, f"{there} teeth and a gap of {missing}" if missing else f"{there} teeth", "middle", "d-name")
    names = words(252, 34, "start here", "start", "d-keytext") + pointer(250, 38, middle + (tip + 1) * cos(first), high - (tip + 1) * sin(first))
    says = f"A wheel with {there} evenly spaced teeth" + (f" and one gap where {missing} {'tooth is' if missing == 1 else 'teeth are'} missing, which makes {positions} places." if missing else " and no gap.")
    return Drawing((Panel(body + chalk + way + gap + names + total, 252, says),),
                   f"{says} Mark the first tooth behind the gap with chalk and count once round." if missing else says)


def _outline(points: list[tuple[float, float]], x: float, y: float, radius: float) -> str:
    """Return the rim; the gap between the last tooth and the first follows the root circle."""
    start, last = points[0], points[-1]
    d = "M" + "L".join(f"{one[0]:.1f} {one[1]:.1f}" for one in points)
    return path(f"{d}A{radius:g} {radius:g} 0 0 1 {start[0]:.1f} {start[1]:.1f}Z", "d-part") if last != start else run(points, "d-part", close=True)


def gap() -> Drawing:
    """Return the two depths whose difference is the gap between sensor and tooth."""
    block = path("M24 60H120V108H24ZM184 60H296V108H184Z", "d-part") + words(60, 90, "block", "middle", "d-name")
    sensor = box(126, 40, 52, 20, "d-keypart", 3) + box(138, 60, 28, 84, "d-keypart") + words(152, 30, "sensor", "middle", "d-keytext")
    tooth = path("M24 190V174H60V158H96V174H134V158H170V174H208V158H282V174H296V190Z", "d-part") + words(60, 206, "toothed wheel", "middle", "d-name")
    depth = upright(268, 60, 158, "", -22) + words(276, 134, "depth", "start", "d-name")
    length = upright(196, 60, 144, "", -30) + words(202, 130, "length", "start", "d-name")
    between = line(112, 144, 138, 144, "d-thin") + line(112, 158, 134, 158, "d-thin") + words(66, 140, "gap", "end", "d-keytext") + pointer(70, 138, 124, 151)
    return Drawing(
        (Panel(block + tooth + sensor + depth + length + between, 216,
               "A sensor in its hole above a tooth. The depth runs from the sensor's seat to the tooth, the length from under the sensor's flange to its tip. The gap is depth less length."),),
        "Gap = depth less length. Measure the depth from the seat to a tooth, not to the hollow between two, and at three places round the wheel.")
