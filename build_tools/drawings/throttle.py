"""Throttle bodies and pedals: what to measure on the flange, and how two position tracks belong together."""

from __future__ import annotations

from build_tools.drawings.figure import Drawing, Panel
from build_tools.drawings.ink import across, arrow, box, line, number, path, ring, run, upright, words

HOLES = ((92, 46), (212, 46), (212, 150), (92, 150))


def flange() -> Drawing:
    """Return a throttle flange with its bolt distances and bore, and the step between bore and opening."""
    front = (box(74, 28, 156, 140, "d-part", 16) + ring(152, 98, 46, "d-open") + line(152, 52, 152, 144, "d-thin d-dash") + "".join(ring(x, y, 7, "d-open") + line(x - 3, y, x + 3, y) + line(x, y - 3, x, y + 3) for x, y in HOLES)
             + across(92, 212, 18, "", 24) + words(152, 13, "hole to hole", "middle", "d-name") + upright(248, 46, 150, "hole\nto hole", -32)
             + arrow(106, 98, 198, 98, "d-key", both=True) + words(176, 117, "bore", "middle", "d-keytext"))
    side = (path("M20 40H150V56H20ZM20 142H150V158H20Z", "d-part") + path("M158 40H300V66H158ZM158 132H300V158H158Z", "d-part") + line(154, 34, 154, 62, "d-thin") + line(154, 136, 154, 164, "d-thin")
            + line(128, 57, 140, 141, "d-thin d-dash") + line(91, 99, 177, 99, "d-heavy") + ring(134, 99, 3, "d-solid") + upright(38, 56, 142, "bore", 0, "d-key") + upright(278, 66, 132, "opening", 0, "d-key", gap=-8)
            + words(86, 30, "throttle body", "middle", "d-name") + words(230, 30, "manifold", "middle", "d-name") + words(160, 184, "the open blade swings past the joint", "middle")
            + ring(177, 99, 10, "d-wrong"))
    return Drawing(
        (Panel(front, 196, "A throttle flange from the front: the distances between the centres of neighbouring bolt holes, across and down, and the bore in the middle.", "The flange from the front"),
         Panel(side, 196, "Throttle body and manifold cut along the air. The bore is measured where the blade sits and the opening behind the joint. The edge of the open blade swings past the joint "
               "and must not touch a ledge or the gasket.", "Cut along the air")),
        "Count the bolts, then measure from the centre of one hole to the centre of the next, all the way round. Measure bore and opening in two directions each. "
        "After it is bolted on with its gasket, the blade must sweep freely.")


def tracks() -> Drawing:
    """Return the voltages of two position tracks over the travel: two sound pairs and one with a fault."""
    return Drawing(
        (_plot("One half as steep", ((0.5, 4.5), (0.25, 2.25)), (), "Track 2 always gives half of track 1."),
         _plot("One rises, one falls", ((0.5, 4.5), (4.5, 0.5)), (), "Track 2 falls as track 1 rises; the two always add up to the same."),
         _plot("A fault", ((0.5, 4.5), (0.25, 2.25)), (0.45, 0.58), "Track 2 drops out in the middle of the travel, so the two no longer agree.")),
        "Two tracks tell the controller the same position in two ways, so that it can hold one against the other. Which pair a part has belongs to its set: both kinds are sound. "
        "On a scan tool both must move smoothly together; any jump, drop or crossing wire is a fault to repair, never to hide. The voltages are examples.")


def _plot(title: str, ends: tuple[tuple[float, float], ...], drop: tuple[float, ...], says: str) -> Panel:
    left, right, top, foot = 44.0, 300.0, 20.0, 142.0

    def at(travel: float, volts: float) -> tuple[float, float]:
        return left + travel * (right - left), foot - volts / 5 * (foot - top)

    axes = line(left, top - 6, left, foot) + line(left, foot, right + 8, foot)
    ticks = "".join(line(left - 4, at(0, volts)[1], left, at(0, volts)[1]) + words(left - 8, at(0, volts)[1] + 5, f"{volts} V", "end") for volts in (0, 5))
    curves = run([at(0, ends[0][0]), at(1, ends[0][1])], "d-key")
    low, high = ends[1]
    if drop:
        before, after = drop
        value = [low + (high - low) * share for share in drop]
        curves += run([at(0, low), at(before, value[0]), at(before + 0.02, 0.1), at(after - 0.02, 0.1), at(after, value[1]), at(1, high)], "d-wrong d-dash")
    else:
        curves += run([at(0, low), at(1, high)], "d-dash")
    names = words(at(0.36, 0)[0], at(0, 3.0)[1], "track 1", "end", "d-keytext") if ends[1][0] < 1 else words(at(0.74, 0)[0], at(0, 4.3)[1], "track 1", "end", "d-keytext")
    second = words(at(0.98, 0)[0], at(0, 0.9)[1], "track 2", "end", "d-wrongtext" if drop else "d-name")
    if ends[1][0] > 1:
        second = words(at(0.74, 0)[0], at(0, 0.5)[1], "track 2", "end", "d-name")
    foot_words = words(left, foot + 18, "released", "start") + words(right, foot + 18, "pressed fully", "end")
    shown = f"Track 1 rises from {number(ends[0][0])} to {number(ends[0][1])} volts."
    return Panel(axes + ticks + curves + names + second + foot_words, 172, f"Voltage over travel. {shown} {says}", title)
