"""Throttles, pedals and their springs told apart, and where injectors put the fuel."""

from __future__ import annotations

from build_tools.drawings.figure import Drawing, Panel
from build_tools.drawings.ink import arrow, box, cross, dot, line, path, ring, words


def throttle_kinds() -> Drawing:
    """Return a throttle body moved by a cable and one moved by a motor."""
    cable = (_body() + ring(160, 92, 34, "d-keypart") + dot(160, 92, 4) + path("M160 58H300", "d-key") + ring(176, 62, 0.5) + box(262, 46, 24, 24, "d-part", 3) + words(272, 36, "cable", "middle", "d-keytext")
             + words(160, 160, "quadrant or lever", "middle", "d-keytext") + box(48, 76, 34, 32, "d-part", 3) + words(46, 66, "3 wires", "middle") + words(52, 128, "position\nsensor", "middle"))
    motor = (_body() + box(140, 52, 84, 84, "d-keypart", 6) + words(182, 90, "motor and\nsensors", "middle", "d-keytext") + box(224, 78, 30, 34, "d-part", 3) + line(254, 95, 300, 95, "d-heavy") + words(262, 68, "one plug", "middle")
             + words(268, 128, "6 wires\nor more", "middle") + words(44, 98, "no cable", "middle", "d-keytext"))
    return Drawing(
        (Panel(cable, 172, "The end of the throttle shaft carries a quadrant or lever that a cable pulls. Small plugs with about 3 wires serve the position sensor.", "Moved by a cable"),
         Panel(motor, 172, "A closed housing with motor and sensors covers the shaft's end. One plug with about 6 wires or more, and no cable.", "Moved by a motor")),
        "Look at the ends of the throttle shaft, key off. Keep fingers out of the bore of an electronic throttle.")


def _body() -> str:
    return box(86, 40, 148, 104, "d-part", 12) + box(96, 30, 128, 10, "d-part", 2) + box(96, 144, 128, 0.5, "d-thin")


def pedal_kinds() -> Drawing:
    """Return a pedal that pulls the throttle's cable, one with a sensor, and a cable to a separate sensor."""
    cable = _pedal() + path("M96 40Q150 22 250 40", "d-key") + box(250, 24, 58, 34, "d-part", 4) + words(279, 46, "throttle", "middle", "d-name") + words(174, 20, "cable", "middle", "d-keytext")
    sensor = _pedal() + box(72, 16, 52, 40, "d-keypart", 4) + words(98, 41, "sensor", "middle", "d-keytext") + line(124, 36, 210, 36, "d-heavy") + box(210, 24, 18, 24, "d-part", 3) + words(240, 41, "6 wires", "start", "d-name")
    unit = (_pedal() + path("M96 40Q126 24 160 38", "d-key") + box(160, 16, 76, 44, "d-keypart", 4) + words(198, 43, "sensor", "middle", "d-keytext") + line(236, 38, 266, 38, "d-heavy") + words(198, 78, "separate unit", "middle")
            + words(308, 62, "6 wires", "end", "d-name"))
    return Drawing(
        (Panel(cable, 156, "A cable leaves the top of the pedal and ends at the throttle.", "Pulls a cable"),
         Panel(sensor, 156, "A sensor sits at the top of the pedal; its plug has about 6 wires and there is no cable.", "Has a sensor"),
         Panel(unit, 156, "A short cable leaves the pedal and ends at a separate sensor unit whose plug has about 6 wires.", "Cable to a separate sensor")),
        "Follow what leaves the top of the pedal to its other end.")


def _pedal() -> str:
    return box(18, 20, 12, 120, "d-part") + ring(72, 62, 7, "d-open") + path("M30 62H66") + path("M94 36L72 62L66 124", "d-heavy") + line(50, 124, 84, 132, "d-body")


def return_springs() -> Drawing:
    """Return a throttle lever that two separate springs shut, one that a single spring shuts, and a pair that only works together."""
    two = _lever() + _right() + line(160, 140, 114, 140) + _spring(114, 140, -80, "d-key") + words(250, 30, "shuts alone", "middle", "d-keytext") + words(66, 168, "shuts alone", "middle", "d-keytext")
    one = _lever() + _right() + cross(250, 48, 9) + words(250, 30, "the only one", "middle", "d-wrongtext") + words(262, 100, "breaks: the\nthrottle stays\nopen", "middle", "d-wrongtext")
    return Drawing(
        (Panel(two, 182, "A throttle lever with two separate springs that turn it the same way. Each shuts the throttle alone, so it still shuts when one of them breaks.", "Two that shut it"),
         Panel(one, 182, "A throttle lever with a single spring. When it breaks, the throttle stays open.", "One: not enough")),
        "Take one spring off at a time, engine off, open by hand and let go: what is left must shut it from every position. A spring on the pedal counts only if it shuts the throttle too. Springs snap: wear goggles.")


def _lever() -> str:
    return ring(160, 94, 46, "d-part") + line(124, 130, 196, 58, "d-heavy") + ring(160, 94, 7, "d-open") + words(92, 66, "lever", "middle", "d-name")


def _right() -> str:
    return line(160, 48, 206, 48) + _spring(206, 48, 88, "d-key")


def _spring(x: float, y: float, length: float, name: str) -> str:
    step = length / 8
    return path(f"M{x} {y}" + "".join(f"q{step / 2} {-14 if place % 2 else 14} {step} 0" for place in range(8)), name) + box(x + length - (10 if length < 0 else 0), y - 10, 10, 20, "d-part")


def injection_places() -> Drawing:
    """Return an injector in the port and one in the cylinder."""
    port = _cylinder() + line(74, 28, 112, 66, "d-body") + line(112, 66, 128, 82, "d-key") + path("M128 82l10 2M128 82l8 8M128 82l2 10", "d-key") + words(60, 20, "injector", "middle", "d-keytext") + words(244, 32, "rail on the manifold,\nlow pressure", "middle")
    direct = (_cylinder() + line(126, 132, 152, 120, "d-body") + path("M162 116l14 -6M162 116l14 2M162 116l10 10", "d-key") + words(66, 150, "injector", "middle", "d-keytext") + line(96, 146, 122, 136, "d-thin")
              + words(244, 32, "steel rail, pump on\na camshaft", "middle"))
    return Drawing(
        (Panel(port, 190, "The injector sits in the manifold or the port and sprays at the inlet valve. Its rail lies on the manifold and works at low pressure.", "Into the port"),
         Panel(direct, 190, "The injector sits low at the head and sprays into the cylinder. Its rail is of steel, and a camshaft drives the pump.", "Into the cylinder")),
        "Follow the fuel line to the engine. Some engines have both sets. Loosen nothing on the high-pressure side: it can hold its pressure for hours.")


def _cylinder() -> str:
    walls = path("M150 178V104H150M230 104V178", "d-heavy") + path("M144 104H236V92Q190 76 144 92Z", "d-part") + box(156, 140, 68, 30, "d-part", 3) + words(190, 160, "piston", "middle")
    return walls + path("M30 60H92Q130 60 146 88", "d-tube") + path("M30 60H92Q130 60 146 88", "d-bore") + arrow(38, 60, 62, 60, "d-measure") + path("M160 96L176 90M168 93L158 70")
