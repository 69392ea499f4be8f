"""Coolant, fuel in its tank, the lead of an oxygen sensor, and the gap of a torque converter."""

from __future__ import annotations

from build_tools.drawings.figure import Drawing, Panel
from build_tools.drawings.ink import across, arrow, box, dot, line, path, ring, run, words


def coolant_way() -> Drawing:
    """Return the way of the coolant with header tank, bleed hose, bypass and the controller's sensor."""
    engine = box(28, 92, 96, 84, "d-part", 6) + words(76, 146, "engine", "middle", "d-name") + dot(110, 104, 5, "d-solid d-key") + line(110, 104, 110, 84, "d-thin") + words(114, 78, "sensor, in the flow", "middle", "d-keytext")
    radiator = box(252, 92, 34, 92, "d-part", 3) + "".join(line(x, 98, x, 178, "d-thin") for x in (260, 269, 278)) + words(269, 202, "radiator", "middle", "d-name")
    stat = box(146, 92, 26, 24, "d-part", 3) + line(150, 104, 168, 104, "d-heavy") + line(124, 104, 146, 104) + arrow(172, 104, 250, 104) + words(212, 96, "when warm", "middle")
    back = run([(252, 168), (124, 168)]) + arrow(210, 168, 180, 168, "d-measure")
    bypass = run([(159, 116), (159, 168)], "d-key") + arrow(159, 130, 159, 156, "d-key") + words(166, 142, "way round", "start", "d-keytext")
    tank = box(206, 22, 74, 34, "d-keypart", 8) + words(243, 44, "header", "middle", "d-keytext") + path("M44 92V38H206", "d-key") + arrow(150, 38, 180, 38, "d-key") + words(120, 28, "bleed hose", "middle", "d-keytext") + run([(280, 46), (302, 46), (302, 168), (286, 168)])
    return Drawing(
        (Panel(engine + radiator + stat + back + bypass + tank, 212,
               "A bleed hose leads from the top of the engine to the header tank, which stands higher than everything else. While the thermostat is shut, coolant goes by a way round back to the engine; "
               "when it is warm the thermostat opens the way to the radiator. The controller's sensor sits where coolant always flows, ahead of the thermostat."),),
        "Air rises and insulates the head, so it has to reach the highest point. The way round must not be one that the heater's valve can shut. A sensor in air or in a dead end reads cool while the engine boils. Never open it hot.")


def tank_inside() -> Drawing:
    """Return a tank whose pickup stays covered in a bend and whose vent holds fuel back, and a plain one."""
    right = (_tank() + path("M30 132Q160 124 290 74", "d-thin") + box(120, 96, 64, 54, "d-keypart", 3) + line(152, 40, 152, 138) + box(142, 116, 20, 26, "d-part", 3)
             + words(192, 122, "pot round\nthe pump", "start", "d-keytext") + path("M230 56V34H262", "d-key") + ring(230, 42, 8, "d-keypart") + words(308, 26, "rollover valve", "end", "d-keytext") + words(92, 34, "to the rail", "middle") + arrow(152, 52, 152, 32))
    wrong = (_tank() + path("M30 142Q160 138 290 66", "d-thin") + line(96, 40, 96, 128) + dot(96, 128, 4, "d-solid d-wrong") + words(108, 110, "draws air", "start", "d-wrongtext") + arrow(96, 52, 96, 32)
             + words(160, 178, "in a bend the fuel runs to one side", "middle") + path("M230 56V40", "d-wrong") + words(230, 34, "open pipe", "middle", "d-wrongtext"))
    return Drawing(
        (Panel(right, 190, "A pot round the pump keeps fuel at the pickup while the rest runs to one side. The vent leaves the tank through a rollover valve.", "Covered, vented"),
         Panel(wrong, 190, "A plain tank in a bend: the fuel runs to one side and the pickup draws air. An open pipe lets vapour out, and fuel when the vehicle lies on its roof.", "A plain tank")),
        "An injection pump that draws air for a moment starves the rail. Look in only with a lamp made for explosive vapour, tank cold, in the open air.")


def _tank() -> str:
    return box(30, 56, 260, 94, "d-part", 10)


def oxygen_lead() -> Drawing:
    """Return a sensor's lead with slack, clear of exhaust and shaft, and one that is tight and lies on the pipe."""
    right = (_exhaust() + path("M92 108Q96 64 140 58T222 44", "d-key") + box(222, 32, 28, 22, "d-keypart", 3) + line(250, 43, 304, 43) + words(236, 24, "plug, clipped high", "middle", "d-keytext")
             + _clip(148, 57) + words(150, 88, "50 mm to spare", "start", "d-keytext") + words(304, 62, "harness", "end"))
    wrong = (_exhaust() + path("M92 108L108 123H214L236 60", "d-wrong") + box(222, 38, 28, 22, "d-wrongpart", 3) + line(250, 49, 304, 49) + words(150, 104, "lies on the pipe", "middle", "d-wrongtext") + words(258, 86, "tight", "start", "d-wrongtext"))
    return Drawing(
        (Panel(right, 200, "The lead rises from the sensor in a soft curve, is clipped, and reaches its plug high up with at least 50 millimetres to spare, clear of the exhaust and of the shaft.", "Slack, high and clear"),
         Panel(wrong, 200, "The lead lies on the exhaust pipe and is tight at its plug.", "Not like this")),
        "The engine moves on its mounts: rock it and see that the lead never gets tight. Measure the route with a string, from the sensor's hole to the plug. What is missing is made up on the harness side.")


def _exhaust() -> str:
    return line(12, 134, 308, 134, "d-tube") + line(12, 134, 308, 134, "d-bore") + line(92, 134, 92, 108, "d-heavy") + words(30, 116, "exhaust", "start", "d-name") + box(12, 172, 296, 14, "d-part", 3) + words(160, 166, "propshaft, turning", "middle")


def _clip(x: float, y: float) -> str:
    return ring(x, y, 6, "d-open")


def converter_gap() -> Drawing:
    """Return a converter that sits home in its pump with a gap to the flexplate, and one that the bolts press back."""
    home = _bell(False) + across(106, 124, 36, "2 to 5 mm", 14) + words(250, 36, "sits home", "middle", "d-keytext")
    pressed = _bell(True) + words(84, 36, "no gap", "middle", "d-wrongtext") + words(250, 36, "not home", "middle", "d-wrongtext") + arrow(118, 170, 160, 170, "d-wrong") + words(206, 175, "presses", "middle", "d-wrongtext")
    return Drawing(
        (Panel(home, 190, "With the transmission bolted to the engine and no converter bolt in, the converter sits home in the pump and leaves a gap of 2 to 5 millimetres to the flexplate.", "Before the bolts go in"),
         Panel(pressed, 190, "The converter is not home: there is no gap, and the flexplate's bolts would press it back into the pump.", "Stop here")),
        "Turn the converter by hand: it must turn freely, and it is then pulled forward onto the flexplate by 2 to 5 mm. Bolts never pull the housings together. The transmission is heavy: use a jack and stands.")


def _bell(tight: bool) -> str:
    x = 106.0 if tight else 124.0
    crank = box(20, 84, 62, 36, "d-part", 3) + words(50, 107, "crank", "middle", "d-name")
    plate = box(98, 50, 8, 104, "d-wrongpart" if tight else "d-keypart") + line(82, 102, 98, 102, "d-heavy")
    converter = path(f"M{x} 60H{x + 20}Q{x + 66} 66 {x + 66} 102T{x + 20} 144H{x}Z", "d-part") + words(x + 30, 107, "converter", "middle") + line(x + 66, 102, 232, 102, "d-body")
    pump = box(228, 64, 22, 76, "d-wrongpart" if tight else "d-part", 2) + words(286, 107, "pump", "middle", "d-name") + line(250, 102, 264, 102, "d-thin")
    return crank + plate + converter + pump
