"""Wires by themselves: fuse, crimp, joint, drip loop and measured loss, and charts of when a wire is live or a contact shut."""

from __future__ import annotations

from build_tools.drawings.figure import Drawing, Panel
from build_tools.drawings.ink import across, arrow, battery, box, cross, dot, line, path, run, words


def fuse_place() -> Drawing:
    """Return a feed with its fuse at the source, and one whose fuse protects only its last piece."""
    right = (battery(16, 74) + words(50, 140, "battery", "middle", "d-name") + run([(32, 66), (32, 40), (92, 40)], "d-key") + _fuse(92, 40, "d-keypart") + run([(122, 40), (250, 40), (250, 74)])
             + _load() + across(32, 92, 22, "180 mm at most", 12))
    wrong = (battery(16, 74) + words(50, 140, "battery", "middle", "d-name") + run([(32, 66), (32, 40), (196, 40)], "d-wrong") + _fuse(196, 40, "d-wrongpart") + run([(226, 40), (250, 40), (250, 74)])
             + _load() + words(116, 30, "nothing protects this", "middle", "d-wrongtext") + words(150, 62, "a short here burns it", "middle", "d-wrongtext"))
    return Drawing(
        (Panel(right, 154, "A wire leaves battery positive and reaches its fuse after 180 millimetres at most; from there on the fuse protects it up to the load.", "At the source"),
         Panel(wrong, 154, "The fuse sits near the load. The long wire between battery and fuse is not protected, so a short in it burns the wire.", "At the far end")),
        "A fuse protects only what lies behind it. It is chosen by what the wire stands, never by the load alone. A cable with a source at each end, like the charge cable, has its fuse at the battery.")


def _fuse(x: float, y: float, name: str) -> str:
    return box(x, y - 8, 30, 16, name, 3) + line(x + 5, y, x + 25, y)


def _load() -> str:
    return box(216, 74, 76, 40, "d-part", 4) + words(254, 99, "load", "middle", "d-name")


def crimp() -> Drawing:
    """Return a terminal from the side with both crimps and its seal, and the same with the usual faults."""
    right = (_terminal() + line(176, 90, 306, 90, "d-tube") + line(176, 90, 306, 90, "d-bore") + line(116, 90, 182, 90, "d-heavy d-key") + _wings(124, 20, "d-part") + _wings(196, 18, "d-part") + box(222, 76, 26, 28, "d-keypart", 8)
             + words(134, 46, "strands here", "middle", "d-keytext") + line(134, 52, 134, 74, "d-thin") + words(186, 144, "insulation here", "middle") + line(200, 130, 204, 108, "d-thin")
             + words(250, 46, "seal, whole", "middle", "d-keytext") + line(238, 52, 236, 72, "d-thin"))
    wrong = (_terminal() + line(120, 90, 306, 90, "d-tube") + line(120, 90, 306, 90, "d-bore") + path("M116 86L104 76M116 94L102 102", "d-wrong") + _wings(124, 20, "d-wrongpart") + _wings(196, 18, "d-part")
             + words(140, 46, "insulation in the crimp", "middle", "d-wrongtext") + line(134, 52, 134, 74, "d-thin") + words(104, 146, "strands outside", "middle", "d-wrongtext") + line(104, 132, 104, 106, "d-thin")
             + box(222, 76, 26, 28, "d-thin d-dash", 8) + words(246, 146, "no seal", "middle", "d-wrongtext") + line(236, 132, 236, 108, "d-thin"))
    return Drawing(
        (Panel(right, 158, "A terminal from the side: the front wings hold bare strands, the rear wings hold the insulation, and a seal sits on the wire behind them.", "As it is made for"),
         Panel(wrong, 158, "The front wings were closed on insulation, strands stand out of them, and there is no seal on the wire.", "Faults")),
        "The seal goes on the wire before the terminal is crimped, and every empty cavity gets a plug. Pull each wire by hand: none may move.")


def _terminal() -> str:
    return path("M30 80H96L112 86H120V100H216V106H112L96 102H30Z", "d-part") + line(40, 91, 92, 91, "d-thin")


def _wings(x: float, width: float, name: str) -> str:
    return box(x, 78, width, 26, name, 6)


def joint() -> Drawing:
    """Return a joint that is crimped, covered and held, and joints that lie side by side or hang free."""
    right = (line(16, 80, 304, 80, "d-heavy") + box(132, 66, 56, 28, "d-keypart", 10) + box(144, 74, 32, 12, "d-part", 2) + _clip(92, 80) + _clip(228, 80) + across(92, 132, 128, "40 mm", -22, above=False)
             + across(188, 228, 128, "40 mm", -22, above=False) + words(160, 46, "crimp under tube with glue", "middle", "d-keytext") + line(160, 52, 160, 64, "d-thin") + words(92, 62, "clip", "middle") + words(228, 62, "clip", "middle"))
    wrong = (path("M16 60Q90 60 130 84T304 70", "d-heavy") + box(126, 70, 26, 26, "d-wrongpart", 4) + words(164, 48, "hangs free", "start", "d-wrongtext") + path("M16 124H140M164 124H304", "d-heavy")
             + path("M138 116Q152 130 166 116M138 130Q152 118 166 132", "d-wrong") + words(152, 156, "twisted and taped", "middle", "d-wrongtext") + cross(152, 124, 14))
    return Drawing(
        (Panel(right, 152, "Two wires joined by a crimped barrel under a tube with glue, held by a clip within 40 millimetres on either side.", "Held on both sides"),
         Panel(wrong, 172, "One joint hangs free between far clips, so that the wire breaks beside it. Another is twisted and taped.", "Not like this")),
        "Joints lie away from each other, from bends that move and from heat. A terminal drawn out of its plug and replaced leaves no joint at all. An oxygen sensor's own lead is never joined.")


def _clip(x: float, y: float) -> str:
    return box(x - 5, y - 9, 10, 18, "d-part", 3) + line(x, y + 9, x, y + 20)


def key_feeds() -> Drawing:
    """Return a chart of when each of a controller's feeds must be live."""
    bars, middles = _chart(("off", "accessory", "run", "crank"), (38, 70, 46, 50), (
        ("constant feed", "yyyy"), ("ignition feed", "  yy"), ("accessory wire", " nn ")))
    out = words(middles[3], 160, "goes out", "middle", "d-wrongtext") + arrow(middles[3], 147, middles[3], 137, "d-wrong")
    return Drawing(
        (Panel(bars + out, 172,
               "A chart of four positions of the key: off, accessory, run and crank. The constant feed is live in all four. The ignition feed is live in run and while cranking. "
               "An accessory wire is live in accessory and run, and goes out while cranking, so it cannot feed the controller."),),
        "Hold a test lamp on each key wire in all four positions. The controller's ignition feed stays live while the starter turns; its constant feed is never switched, not even by the key.")


def brake_contacts() -> Drawing:
    """Return a chart of the two contacts of a brake switch, pedal released and pressed."""
    bars, _ = _chart(("released", "pressed"), (100, 100), (("lamp circuit", " y"), ("second circuit", "y ")))
    return Drawing(
        (Panel(bars, 128, "A chart of the two contacts of a brake switch. The lamp circuit is closed only while the pedal is pressed. The second circuit is closed while it is released and opens when it is pressed."),),
        "Meter on the buzzer, plug off: one contact sounds with the pedal released, the other with it pressed. A controller holds one against the other. A switch with one contact has the lamp circuit only.")


def _chart(columns: tuple[str, ...], widths: tuple[float, ...], rows: tuple[tuple[str, str], ...]) -> tuple[str, list[float]]:
    """Return a chart whose cells are filled where a row says y, as wrong where it says n, and the middle of each column."""
    left = 106.0
    starts = [left + sum(widths[:place]) for place in range(len(widths))]
    middles = [start + width / 2 for start, width in zip(starts, widths)]
    marks = "".join(words(middle, 24, name, "middle", "d-name") for middle, name in zip(middles, columns))
    for place, (name, cells) in enumerate(rows):
        y = 36 + place * 34
        marks += words(left - 8, y + 17, name, "end", "d-wrongtext" if "n" in cells else "")
        marks += "".join(box(start + 1, y, width - 2, 24, {"y": "d-keypart", "n": "d-wrongpart"}.get(cell, "d-open"), 3) for start, width, cell in zip(starts, widths, cells))
    return marks, middles


def controller_mounting() -> Drawing:
    """Return a controller mounted softly with its plugs down and a drip loop, and one into whose plugs water runs."""
    right = (box(40, 30, 14, 92, "d-part") + "".join(box(54, y, 16, 14, "d-keypart", 4) for y in (42, 92)) + box(70, 32, 96, 84, "d-part", 4) + words(118, 78, "controller", "middle", "d-name")
             + box(96, 116, 46, 16, "d-part", 2) + path("M118 132V152Q118 176 148 176T178 150V60H304", "d-heavy") + path("M148 182V192", "d-key") + dot(148, 196, 3, "d-solid d-key") + words(166, 197, "water drips off here", "start", "d-keytext")
             + words(62, 148, "soft", "middle", "d-keytext") + words(62, 164, "mounts", "middle", "d-keytext"))
    wrong = (box(40, 30, 14, 132, "d-part") + box(54, 78, 112, 80, "d-part", 4) + words(110, 122, "controller", "middle", "d-name") + box(86, 62, 46, 16, "d-wrongpart", 2) + path("M108 62V50Q108 34 130 34H304", "d-heavy")
             + arrow(196, 24, 140, 24, "d-wrong") + words(204, 22, "water", "start", "d-wrongtext") + words(142, 58, "runs into the plug", "start", "d-wrongtext") + words(180, 100, "hard on a panel", "start", "d-wrongtext") + words(180, 116, "that shakes", "start", "d-wrongtext"))
    return Drawing(
        (Panel(right, 206, "The controller sits on soft mounts on the body with its plugs down. The harness hangs in a loop below the plugs before it rises, so that water drips off at the lowest point.", "Plugs down, a loop below"),
         Panel(wrong, 206, "The controller is bolted hard to a panel that shakes, with its plugs up. Water runs along the harness into the plug.", "Not like this")),
        "Plugs face down or sideways. Choose a place on the body, away from the exhaust by more than a hand's width, where water never stands.")


def drop_reading() -> Drawing:
    """Return a meter across a cable under load, and the same meter where it tells nothing."""
    right = (_circuit() + run([(96, 40), (96, 18), (126, 18)], "d-key") + run([(214, 40), (214, 18), (186, 18)], "d-key") + dot(96, 40, 4, "d-solid d-key") + dot(214, 40, 4, "d-solid d-key") + _meter("0.2 V"))
    wrong = (_circuit() + run([(214, 40), (214, 18), (186, 18)], "d-wrong") + path("M126 18H112V128H160V156", "d-wrong") + dot(214, 40, 4, "d-solid d-wrong") + dot(160, 150, 4, "d-solid d-wrong") + _meter("13.8 V"))
    return Drawing(
        (Panel(right, 186, "The meter's leads stand on both ends of the same cable while the load runs. It shows what the cable loses, such as 0.2 volts.", "Across the cable"),
         Panel(wrong, 186, "One lead stands on the cable and the other on ground. The meter shows the whole supply, such as 13.8 volts, and nothing of the loss.", "Not against ground")),
        "Both leads stand on the metal of the two ends, at the post and not at the clamp, with the load drawing its current. Without current nothing is lost, and a bad cable reads like a good one. "
        "The way back is measured in the same manner, on the ground side. The readings are examples.")


def _meter(shown: str) -> str:
    return box(126, 2, 60, 30, "d-part", 4) + words(156, 22, shown, "middle", "d-name")


def _circuit() -> str:
    supply = battery(20, 84) + words(54, 148, "battery", "middle", "d-name")
    cable = run([(36, 76), (36, 40), (96, 40)]) + line(96, 40, 214, 40, "d-heavy") + run([(214, 40), (264, 40), (264, 84)]) + words(156, 60, "the cable", "middle")
    load = box(228, 84, 72, 40, "d-part", 4) + words(264, 109, "load", "middle", "d-name")
    return supply + cable + load + run([(264, 124), (264, 156), (100, 156), (100, 68), (74, 68), (74, 76)]) + words(180, 176, "way back", "middle")
