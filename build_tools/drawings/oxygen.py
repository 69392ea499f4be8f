"""Oxygen sensors: the ways their heater and signal currents return, and how the sensor must stand in the pipe."""

from __future__ import annotations

from build_tools.drawings.figure import Drawing, Panel
from build_tools.drawings.ink import arc, box, dot, earth, line, path, resistor, ring, run, switch, turned, words


def heater_return() -> Drawing:
    """Return the three ways a heater's current can go back."""
    switched = (_sensor() + _feed() + run([(118, 112), (232, 112)], "d-key") + box(228, 84, 84, 88, "d-part", 3) + words(270, 78, "controller", "middle", "d-name")
                + run([(226, 112), (270, 112)], "d-key") + switch(270, 112, 36, "d-key") + earth(270, 148, "d-key") + words(128, 130, "own wire", "start", "d-keytext"))
    chassis = (_sensor() + _feed() + run([(118, 112), (216, 112), (216, 138)], "d-key") + earth(216, 138, "d-key") + words(128, 130, "own wire", "start", "d-keytext")
               + words(232, 152, "chassis", "start", "d-name"))
    positive = (_sensor() + box(228, 22, 84, 62, "d-part", 3) + words(270, 16, "controller", "middle", "d-name")
                + run([(118, 66), (270, 66), (270, 64)], "d-key") + switch(270, 28, 38, "d-key") + words(128, 58, "own wire", "start", "d-keytext")
                + run([(118, 112), (216, 112), (216, 138)]) + earth(216, 138) + words(232, 152, "chassis", "start", "d-name"))
    shell = (_sensor(tied=True) + _feed() + words(128, 106, "no wire for it:", "start", "d-keytext") + words(128, 122, "one end is tied", "start", "d-keytext")
             + words(128, 138, "to the shell", "start", "d-keytext") + earth(60, 142, "d-key") + words(80, 162, "exhaust and engine", "start", "d-name"))
    return Drawing(
        (Panel(switched, 182, "The heater is fed with 12 volts. Its other end goes on its own wire to the controller, which switches it to ground.",
               "Low side switched by the controller"),
         Panel(positive, 182, "The controller feeds the heater in pulses. The heater's other end goes on its own wire to the chassis.", "Positive side switched by the controller"),
         Panel(chassis, 182, "The heater is fed with 12 volts. Its other end goes on its own wire to the chassis; the controller has no part in it.", "Fed all the time, low side at the chassis"),
         Panel(shell, 182, "The heater is fed with 12 volts. Its other end is tied to the metal shell inside the sensor and returns through the exhaust and the engine.",
               "Fed all the time, low side through the shell")),
        "A meter shows open from either heater wire to the shell in the first three; in the last, one of them shows near zero. "
        "The plugs can be alike. A shell return on a controller that switches the heater joins its output straight to ground.")


def _sensor(tied: bool = False) -> str:
    """Return a sensor's shell with the heater inside, its two ends at the right, or the lower end tied to the shell."""
    shell = box(18, 52, 100, 86, "d-part", 8) + words(68, 44, "sensor shell", "middle", "d-name")
    heater = run([(118, 66), (60, 66), (60, 68)]) + resistor(60, 66, 46, down=True) + words(74, 94, "heater", "start")
    low = run([(60, 112), (60, 138)], "d-key") + dot(60, 138, 4, "d-solid d-key") if tied else run([(60, 112), (118, 112)], "d-key")
    return shell + heater + low


def _feed() -> str:
    return run([(118, 66), (176, 66), (176, 30)]) + resistor(176, 22, 36, down=True) + words(190, 34, "12 V, by a fuse", "start")


def signal_return() -> Drawing:
    """Return the two ways the signal's low side can go back."""
    own = (_element() + run([(118, 70), (226, 70)]) + run([(118, 112), (226, 112)], "d-key") + _input(low_inside=False)
           + words(128, 62, "signal", "start") + words(128, 130, "own low wire", "start", "d-keytext"))
    shell = (_element(tied=True) + run([(118, 70), (226, 70)]) + _input(low_inside=True) + words(128, 62, "signal", "start")
             + path("M60 142V168H266V138", "d-key d-dash") + words(167, 160, "exhaust, block, ground", "middle", "d-keytext"))
    return Drawing(
        (Panel(own, 184, "Signal and low side both go from the sensor to the controller, each on its own wire. Nothing touches the shell.", "On its own wire"),
         Panel(shell, 184, "Only the signal has a wire. The low side goes through the shell, the exhaust and the block to the controller's ground.", "Through the shell")),
        "With the shell in the way, every volt lost between exhaust, block and controller is added to the signal, so joints, paste on the thread and straps count. "
        "Never measure ohms across the two signal wires.")


def _element(tied: bool = False) -> str:
    shell = box(18, 52, 100, 86, "d-part", 8) + words(68, 44, "sensor shell", "middle", "d-name")
    cell = ring(60, 91, 14, "d-open") + path("M52 91q4 -8 8 0t8 0") + line(60, 70, 60, 77) + run([(60, 70), (118, 70)])
    low = run([(60, 105), (60, 138)], "d-key") + dot(60, 138, 4, "d-solid d-key") if tied else run([(60, 105), (60, 112), (118, 112)], "d-key")
    return shell + cell + low


def _input(low_inside: bool) -> str:
    inside = run([(226, 70), (246, 70)]) + run([(246, 58), (246, 124), (290, 91)], "d-open", close=True) + line(290, 91, 300, 91)
    low = run([(266, 138), (266, 112)], "d-key") if low_inside else run([(226, 112), (246, 112)], "d-key")
    return box(226, 46, 84, 92, "d-part", 3) + words(268, 38, "controller", "middle", "d-name") + inside + low


def bung_angle() -> Drawing:
    """Return a pipe seen along its length with the angles at which a sensor may stand."""
    x, y, radius = 160.0, 128.0, 44.0
    pipe = ring(x, y, radius, "d-part") + ring(x, y, radius - 5, "d-open") + words(x, y + 5, "pipe", "middle")
    level = line(12, y, x - radius, y, "d-thin d-dash") + line(x + radius, y, 308, y, "d-thin d-dash") + words(14, y + 18, "level", "start")
    good = arc(x, y, 92, 10, 80, "d-key") + arc(x, y, 92, 100, 170, "d-key") + words(252, 44, "10 to 80°", "start", "d-keytext")
    limits = "".join(line(*turned(x, y, radius + 4, angle), *turned(x, y, 100, angle), "d-thin") for angle in (10, 80, 100, 170))
    (ax, ay), (bx, by), (cx, cy) = (turned(x, y, length, 45) for length in (34, 58, 84))
    sensor = line(ax, ay, bx, by, "d-heavy") + line(bx, by, cx, cy, "d-body")
    wrong = line(*turned(x, y, 36, 300), *turned(x, y, 76, 300), "d-wrong") + words(212, 206, "down: water lies in it", "middle", "d-wrongtext")
    return Drawing(
        (Panel(pipe + level + good + limits + sensor + wrong, 218,
               "An exhaust pipe seen along its length. The sensor may stand from 10 to 80 degrees above level on either side; one that points down fills with water."),),
        "The sensor stands 10 to 80 degrees above level, on either side, behind the place where all pipes of its bank have joined. Lay a phone's level along its body to read the angle.")


def bung_place() -> Drawing:
    """Return where along the exhaust the sensor reads all cylinders of its bank."""
    ways = [f"M20 {y}H64C104 {y} 104 {90 + place * 9} 146 {90 + place * 9}" for place, y in enumerate((46, 82, 118, 154))]
    pipes = "".join(path(way, "d-tube") + path(way, "d-bore") for way in ways)
    collector = run([(142, 80), (176, 92), (300, 92), (300, 114), (176, 114), (142, 127)], "d-part", close=True)
    right = line(206, 96, 206, 66, "d-heavy") + words(206, 56, "here: all joined", "middle", "d-keytext") + ring(206, 90, 10, "d-key")
    wrong = line(48, 46, 48, 22, "d-heavy") + ring(48, 40, 10, "d-wrong") + words(66, 27, "one cylinder only", "start", "d-wrongtext")
    catalyst = box(240, 82, 54, 42, "d-part", 10) + words(267, 142, "catalyst", "middle") + words(20, 184, "from the ports of one bank", "start")
    return Drawing(
        (Panel(pipes + collector + right + wrong + catalyst, 194,
               "Four pipes of one bank join into one. The sensor belongs behind the joint and ahead of the catalyst, not into the pipe of one cylinder."),),
        "The upstream sensor belongs where the pipes of its whole bank have joined, near enough to stay hot, with no slip joint or leak ahead of it.")
