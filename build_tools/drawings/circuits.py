"""Circuits to trace: who starts the engine, the small wires of an alternator, the pins of the diagnostic connector, the signals of sensors."""

from __future__ import annotations

from math import pi, sin

from build_tools.drawings.figure import Drawing, Panel
from build_tools.drawings.ink import arrow, battery, box, dot, line, path, ring, run, words


def start_circuit() -> Drawing:
    """Return the start circuit with the key driving the relay, and with the controller driving it at the key's request."""
    by_key = (_starter() + run([(36, 62), (36, 24), (68, 24)]) + _named(68, 12, 52, "fuse") + line(120, 24, 140, 24) + _named(140, 12, 44, "key") + line(184, 24, 204, 24)
              + _named(204, 8, 84, "interlock", "d-keypart") + run([(246, 40), (246, 74)], "d-key"))
    by_controller = (_starter() + run([(36, 62), (36, 24), (50, 24)]) + _named(50, 12, 40, "key") + arrow(90, 24, 136, 24, "d-key") + words(113, 15, "asks", "middle", "d-keytext")
                     + _named(136, 8, 78, "controller", "d-keypart") + line(214, 24, 226, 24) + _named(226, 8, 80, "interlock", "d-keypart") + run([(246, 40), (246, 74)], "d-key"))
    return Drawing(
        (Panel(by_key, 186, "From battery positive through fuse, key and interlock to the coil of the starter relay. The relay's contact feeds the solenoid of the starter.", "The key drives it"),
         Panel(by_controller, 186, "The key only asks the controller. The controller's output feeds the relay's coil through the interlock, and the relay's contact feeds the solenoid.", "The controller drives it")),
        "The interlock is the park-neutral switch or the clutch switch: without it the vehicle can leap when the key is turned. Draw yours on one sheet and see which of the two it is.")


def _named(x: float, y: float, width: float, text: str, name: str = "d-part") -> str:
    return box(x, y, width, 32 if y < 10 else 24, name, 4) + words(x + width / 2, y + (21 if y < 10 else 17), text, "middle", "d-name")


def _starter() -> str:
    relay = box(204, 74, 84, 50, "d-part", 4) + words(246, 104, "relay", "middle", "d-name")
    feed = path("M36 62V70") + run([(36, 62), (36, 44), (176, 44), (176, 99), (204, 99)])
    solenoid = run([(246, 124), (246, 154), (196, 154)]) + box(112, 138, 84, 32, "d-part", 4) + words(154, 159, "solenoid", "middle", "d-name")
    return battery(20, 78) + words(54, 142, "battery", "middle", "d-name") + relay + feed + solenoid + dot(36, 44)


def pump_circuit() -> Drawing:
    """Return the circuit of a fuel pump: fused at its source, commanded by the controller, opened by a crash."""
    y = 40
    power = (battery(20, 78) + words(54, 142, "battery", "middle", "d-name") + run([(36, 70), (36, y), (52, y)]) + _named(52, y - 12, 46, "fuse", "d-keypart") + line(98, y, 116, y) + _named(116, y - 12, 52, "relay")
             + line(168, y, 186, y) + _named(186, y - 12, 88, "crash switch", "d-keypart") + run([(274, y), (290, y), (290, 92)]) + ring(290, 110, 18, "d-part") + words(290, 146, "pump", "middle", "d-name"))
    command = run([(142, 52), (142, 88)], "d-key") + _named(104, 88, 78, "controller") + words(196, 104, "only while\nit turns", "start", "d-keytext")
    return Drawing(
        (Panel(power + command, 158, "From battery positive through a fuse, the contact of the pump relay and the crash switch to the pump. The controller pulls the relay in only while the engine turns."),),
        "The fuse stands at the source. With the engine stopped, or after a crash, the pump must stand still even with the key on. A module may take the place of the relay, or open it on a crash message.")


def alternator_wires() -> Drawing:
    """Return what may stand in the lead of a lamp terminal, an ignition terminal beside it, and the sense wire."""
    lamp = (_alternator() + run([(202, 74), (168, 74)], "d-key") + ring(152, 74, 16, "d-keypart") + path("M141 63L163 85M141 85L163 63") + run([(136, 74), (92, 74)], "d-key") + _key()
            + words(152, 46, "lamp, 1.4 to 3 W", "middle", "d-keytext") + words(152, 106, "or 50 to 250 Ω", "middle", "d-keytext") + words(208, 79, "L", "start", "d-name"))
    ignition = _alternator() + run([(202, 74), (164, 74)], "d-key") + box(128, 64, 36, 20, "d-keypart", 3) + line(133, 74, 159, 74) + run([(128, 74), (92, 74)], "d-key") + _key() + words(146, 54, "fuse, nothing else", "middle", "d-keytext") + words(208, 79, "IG", "start", "d-name")
    return Drawing(
        (Panel(lamp, 168, "A lamp terminal, L, is fed from the key through a filament lamp of 1.4 to 3 watts, or through a resistor of 50 to 250 ohms. The sense wire, S, goes to battery positive.", "A lamp terminal"),
         Panel(ignition, 168, "An ignition terminal, IG, is fed from the key through a fuse and nothing else. The sense wire, S, goes to battery positive.", "An ignition terminal")),
        "The same plug can hold either, so read the maker's table first. Full voltage straight into a lamp terminal that has nothing inside to limit it burns the regulator; a lamp ahead of an ignition terminal starves it. "
        "The letters are common ones, not a standard.")


def _alternator() -> str:
    body = ring(250, 84, 48, "d-part") + words(262, 82, "alter-\nnator", "middle", "d-name")
    sense = run([(207, 106), (190, 124), (54, 124)]) + words(214, 110, "S", "start", "d-name") + words(120, 142, "sense wire", "middle")
    return body + sense + words(48, 129, "B+", "end", "d-name") + dot(54, 124, 3)


def _key() -> str:
    return box(36, 60, 56, 28, "d-part", 4) + words(64, 79, "key", "middle", "d-name")


PINS = {2: "d-key", 10: "d-key", 7: "d-key", 15: "d-key", 6: "d-key", 14: "d-key", 4: "d-name", 5: "d-name", 16: "d-name"}


def diagnostic_pins() -> Drawing:
    """Return the sixteen cavities of the diagnostic connector with the ones that ground, supply and each protocol use."""
    shell = path("M22 44H298L284 132H36Z", "d-part")
    cavities = ""
    for pin in range(1, 17):
        row, place = divmod(pin - 1, 8)
        x, y = 55 + place * 30, 62 + row * 36
        used = pin in PINS
        look = "d-keypart" if PINS.get(pin) == "d-key" else "d-open"
        cavities += box(x - 11, y, 22, 22, look, 3) + words(x, y + 16, str(pin), "middle", ("d-keytext" if look == "d-keypart" else "d-name") if used else "")
    legend = words(16, 156, "4, 5 ground", "start", "d-name") + words(304, 156, "16 battery, fused", "end", "d-name") + words(160, 20, "looking into the vehicle's connector", "middle")
    legend += words(16, 180, "2, 10 J1850", "start", "d-keytext") + words(160, 180, "7, 15 K line", "middle", "d-keytext") + words(304, 180, "6, 14 CAN", "end", "d-keytext")
    return Drawing(
        (Panel(shell + cavities + legend, 194,
               "The vehicle's diagnostic connector from the front: two rows of eight cavities, 1 to 8 above and 9 to 16 below. Pins 4 and 5 are ground, pin 16 is battery plus by a fuse. "
               "Pins 2 and 10 carry J1850, pins 7 and 15 the K line, pins 6 and 14 CAN."),),
        "See which cavities hold terminals and whether their wires lead to the engine controller. A scan tool hears a controller only on the pins of its own protocol. The pins are those of SAE J1962, from memory.")


def signal_kinds() -> Drawing:
    """Return the signals of a coil, of an electronic sensor and of an active two-wire sensor over time, slow and fast."""
    return Drawing(
        (Panel(_trace(_waves(), "volts", "slow: small", "fast: large"), 150, "The voltage of a coil over time: a wave about zero that is small and slow at first, then large and quick.", "A coil, two wires"),
         Panel(_trace(_square(0.1, 0.9), "volts", "slow", "fast"), 150, "The voltage of an electronic sensor with three wires over time: it jumps between near zero and the supply, by the same amount at any speed.", "Electronic, three wires"),
         Panel(_trace(_square(0.4, 0.8), "current", "slow", "fast"), 150, "The current of an active two-wire sensor over time: it jumps between two steady currents, about 7 and 14 milliamperes, and never falls to zero.", "Active, two wires")),
        "Two wires with some hundreds of ohms both ways are a coil; two wires with megohms, or different when the meter's leads are swapped, an active sensor, whose current jumps between about 7 and 14 mA. "
        "An input made for one of the three does not read the others without a converter.")


LEFT, RIGHT, TOP, FOOT = 44.0, 300.0, 22.0, 112.0


def _trace(curve: str, of: str, slow: str, fast: str) -> str:
    axes = line(LEFT, TOP - 8, LEFT, FOOT) + line(LEFT, FOOT, RIGHT + 8, FOOT)
    return axes + curve + words(LEFT + 4, TOP - 8 + 4, of, "start") + words(104, 132, slow, "middle") + words(236, 132, fast, "middle") + words(LEFT - 8, FOOT + 4, "0" if of == "current" else "", "end")


def _waves() -> str:
    points = []
    for place in range(0, 129):
        share = place / 128
        angle = 2 * pi * (2 if share < 0.5 else 8) * (share - 0.5)
        points.append((LEFT + share * (RIGHT - LEFT), 70 - (8 if share < 0.5 else 34) * sin(angle)))
    return line(LEFT, 70, RIGHT, 70, "d-thin d-dash") + run(points, "d-key")


def _square(low: float, high: float) -> str:
    at = [LEFT, 76, 108, 140, 172, 188, 204, 220, 236, 252, 268, 284, RIGHT]
    points = []
    for place, x in enumerate(at[:-1]):
        y = FOOT - (high if place % 2 else low) * (FOOT - TOP - 8)
        points += [(x, y), (at[place + 1], y)]
    return run(points, "d-key")
