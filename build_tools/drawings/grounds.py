"""How current gets back to the battery, what a missing strap does, and why a sensor's return is not a ground."""

from __future__ import annotations

from build_tools.drawings.figure import Drawing, Panel
from build_tools.drawings.ink import arrow, battery, box, cross, dot, line, path, resistor, run, words


def straps() -> Drawing:
    """Return the grounds of battery, block and body, whole and with the engine's own one missing."""
    whole = (_parts() + run([(66, 118), (66, 142), (118, 142)], "d-heavy d-key") + words(22, 160, "heavy cable", "start", "d-keytext")
             + run([(206, 142), (262, 142), (262, 176)], "d-heavy d-key") + words(222, 134, "strap", "start", "d-keytext")
             + run([(252, 66), (252, 108), (206, 108)], "d-key"))
    missing = (_parts() + path("M66 132V142H118", "d-dash") + cross(92, 142) + words(24, 168, "missing", "start", "d-wrongtext")
               + run([(66, 118), (66, 126), (14, 126), (14, 188), (40, 188)], "d-heavy")
               + path("M206 142H232V176", "d-wrong d-dash") + words(240, 150, "throttle", "start", "d-wrongtext") + words(240, 166, "cable", "start", "d-wrongtext")
               + path("M252 66V108H206", "d-wrong d-dash") + words(259, 92, "thin", "start", "d-wrongtext") + words(259, 108, "wires", "start", "d-wrongtext"))
    return Drawing(
        (Panel(whole, 206, "A heavy cable joins battery negative to the block, a strap joins the block to the body, and the controller's grounds end on the block.",
               "As it should be"),
         Panel(missing, 206, "Battery negative goes to the body only and nothing heavy joins the block. The starter's current comes back through control cables and thin wires.",
               "Engine cable missing")),
        "The starter draws hundreds of amperes. What has no heavy way back takes a thin one: control cables and bearings burn, and everything that is measured against the block is off. "
        "While cranking, a meter from the battery's negative post to the block shows 0.2 V or less if the way is good.")


def _parts() -> str:
    block = box(118, 84, 88, 74, "d-part", 4) + words(162, 126, "block", "middle", "d-name")
    controller = box(212, 26, 92, 40, "d-part", 3) + words(258, 51, "controller", "middle", "d-name")
    body = box(40, 176, 264, 20, "d-part", 2) + words(172, 191, "body", "middle", "d-name")
    power = battery(12, 74) + words(46, 56, "battery", "middle", "d-name")
    return power + block + controller + body


def sensor_returns() -> Drawing:
    """Return a sensor whose return goes to the controller, and one whose return was landed on the block."""
    right = (_pair() + run([(106, 120), (214, 120)], "d-key") + words(160, 138, "own return", "middle", "d-keytext") + _ground_path()
             + words(160, 174, "other currents, lost volts", "middle"))
    wrong = (_pair() + run([(62, 142), (62, 196)], "d-wrong") + dot(62, 196, 4, "d-solid d-wrong") + _ground_path()
             + path("M110 120H214", "d-thin d-dash") + words(160, 138, "not joined", "middle", "d-wrongtext")
             + words(160, 174, "these volts are added", "middle", "d-wrongtext"))
    return Drawing(
        (Panel(right, 220, "A sensor's signal and its return both go to the controller. The loss in the ground path lies outside that loop and changes nothing.",
               "To the controller's low reference"),
         Panel(wrong, 220, "The sensor's return is landed on the block. The volts that other currents lose between block and controller are added to its reading.",
               "Landed on the block")),
        "A return that is landed on metal reads right with everything off and wanders when fans, lamps and pump run. Each return goes to its own cavity and nowhere else.")


def _pair() -> str:
    sensor = box(18, 58, 88, 84, "d-part", 4) + words(62, 50, "sensor", "middle", "d-name")
    controller = box(214, 58, 92, 84, "d-part", 3) + words(260, 50, "controller", "middle", "d-name")
    signal = run([(106, 80), (214, 80)]) + words(160, 72, "signal", "middle") + words(224, 85, "input", "start") + words(224, 125, "low ref.", "start")
    return sensor + controller + signal + words(62, 105, "case on", "middle") + words(62, 121, "the block", "middle")


def _ground_path() -> str:
    block = line(22, 196, 118, 196, "d-heavy") + words(24, 213, "block", "start", "d-name")
    loss = resistor(118, 196, 84) + line(202, 196, 260, 196, "d-heavy") + line(260, 196, 260, 142)
    return block + loss + arrow(132, 184, 188, 184, "d-measure")
