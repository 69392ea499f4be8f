"""Where a toothed ring for the speed signal sits, and what must not move along its axis."""

from __future__ import annotations

from build_tools.drawings.figure import Drawing, Panel
from build_tools.drawings.ink import across, arrow, box, hatch, line, path, pointer, run, words

AXIS = 104.0


def ring_places() -> Drawing:
    """Return four places for the ring: a fixed output flange, a slip yoke, a pinion flange and a hub."""
    flange = (_gearbox() + box(104, AXIS - 30, 10, 60, "d-part") + _ring(114) + box(132, AXIS - 30, 10, 60, "d-part") + _shaft(142)
              + _pickup(123, 66) + words(128, 26, "pickup on the gearbox", "start", "d-name") + words(166, 160, "flange bolted up solid", "middle", "d-keytext")
              + pointer(128, 148, 123, AXIS + 36))
    yoke = (_gearbox() + box(104, AXIS - 12, 50, 24, "d-wrongpart") + hatch(104, AXIS - 12, 50, 24) + _ring(136) + _shaft(154)
            + _pickup(123, 66) + words(128, 26, "pickup stays", "start", "d-name") + arrow(172, 66, 232, 66, "d-wrong", both=True)
            + words(202, 56, "slides", "middle", "d-wrongtext") + words(184, 160, "slip yoke on splines", "middle", "d-wrongtext") + pointer(140, 148, 128, AXIS + 12))
    pinion = (_shaft(12, 120) + box(132, AXIS - 30, 10, 60, "d-part") + _ring(142) + box(160, AXIS - 14, 14, 28, "d-part")
              + path(f"M174 {AXIS - 20}H206Q226 {AXIS - 52} 252 {AXIS - 52}Q296 {AXIS - 52} 296 {AXIS}Q296 {AXIS + 52} 252 {AXIS + 52}Q226 {AXIS + 52} 206 {AXIS + 20}H174Z", "d-part")
              + words(252, AXIS + 5, "axle", "middle", "d-name") + run([(151, AXIS - 50), (151, AXIS - 60), (216, AXIS - 60), (216, AXIS - 36)]) + _sensor(151, 66)
              + words(14, 26, "pickup on the axle housing", "start", "d-name") + arrow(306, AXIS - 34, 306, AXIS + 34, "d-measure", both=True)
              + words(106, 160, "pinion flange", "middle", "d-keytext") + pointer(118, 148, 136, AXIS + 31))
    hub = (path(f"M196 {AXIS - 70}Q214 {AXIS - 78} 232 {AXIS - 70}V{AXIS + 66}Q214 {AXIS + 74} 196 {AXIS + 66}Z", "d-part") + words(246, AXIS + 5, "wheel", "start", "d-name")
           + box(150, AXIS - 16, 46, 32, "d-part") + box(182, AXIS - 34, 14, 68, "d-part") + _ring(150) + box(84, AXIS - 46, 52, 92, "d-part", 5)
           + words(110, AXIS + 5, "carrier", "middle", "d-name") + line(12, AXIS - 6, 84, AXIS - 6) + line(12, AXIS + 6, 84, AXIS + 6)
           + run([(159, AXIS - 50), (159, AXIS - 58), (124, AXIS - 58), (124, AXIS - 46)]) + _sensor(159, 68) + words(14, 26, "pickup on the carrier", "start", "d-name")
           + words(110, 172, "ring on the hub", "middle", "d-keytext") + pointer(150, 160, 158, AXIS + 36))
    return Drawing(
        (Panel(flange, 172, "The ring is clamped to the gearbox's output flange, which is bolted up solid, and the pickup is bolted to the gearbox. Neither can move along the shaft.",
               "On an output flange: keeps its place"),
         Panel(yoke, 172, "The ring is on the slip yoke, which slides on its splines in and out of the gearbox, while the pickup stays. The ring moves away from under it.",
               "On a slip yoke: slides away"),
         Panel(pinion, 182, "The ring is on the pinion flange of the axle and the pickup on the axle housing. The axle moves up and down, and both move with it.",
               "On the pinion flange: moves with the axle"),
         Panel(hub, 182, "The ring is on the wheel hub and the pickup on the carrier. Both keep their place to each other. It shows the speed of one wheel.",
               "At a hub: keeps its place")),
        "Red marks what slides along its axis. The ring belongs on a part that does not, and the pickup on the casing that carries that part, never on the body. "
        "Take nothing from a wheel sensor that a working anti-lock or stability system listens to.")


def _gearbox() -> str:
    return (path(f"M12 {AXIS - 44}H64L84 {AXIS - 26}H104V{AXIS + 26}H84L64 {AXIS + 44}H12Z", "d-part") + words(46, AXIS + 5, "gearbox", "middle", "d-name"))


def _ring(x: float) -> str:
    """Return a toothed ring seen from the side, 18 wide."""
    teeth = "".join(line(x, y, x + 18, y, "d-key") for y in range(int(AXIS - 28), int(AXIS + 32), 8))
    return box(x, AXIS - 36, 18, 72, "d-keypart") + teeth


def _sensor(x: float, foot: float) -> str:
    """Return a pickup whose sensing face is just above a ring."""
    return box(x - 6, foot - 20, 12, 20, "d-solid")


def _pickup(x: float, foot: float) -> str:
    """Return a pickup with its bracket to the gearbox."""
    return run([(54, AXIS - 44), (54, foot - 24), (x, foot - 24), (x, foot - 20)]) + _sensor(x, foot)


def _shaft(x: float, width: float = 0) -> str:
    end = x + width if width else 308
    return box(x, AXIS - 9, end - x, 18, "d-part") + words((x + end) / 2 + (8 if not width else 0), AXIS + 26, "propshaft", "middle")


def ring_width() -> Drawing:
    """Return a sliding ring at both ends of its travel under a pickup that stays, wide enough and too narrow."""
    return Drawing(
        (_travel(128, "Wide enough: the whole sensing face stays over the ring from full droop to full bump.", "Wide enough", False),
         _travel(48, "Too narrow: at full bump the ring has slid out from under the sensing face.", "Too narrow", True)),
        "Mark the yoke at full droop and at full bump. The ring must be wider than the sensing face, the whole travel and 2 mm to spare together.")


def _travel(width: float, says: str, title: str, lost: bool) -> Panel:
    """Return the ring at droop and, further in, at bump, under a sensing face that stays where it is."""
    face, travel, sensor = 26.0, 58.0, 162.0
    droop = sensor - 12
    bump = droop - travel
    parts = []
    for y, word, x in ((70, "full droop", droop), (144, "full bump", bump)):
        off = lost and x == bump
        parts.append(box(sensor, y - 26, face, 22, "d-solid d-wrong" if off else "d-solid") + box(x, y, width, 22, "d-wrongpart" if off else "d-keypart")
                     + "".join(line(x + step, y, x + step, y + 22, "d-thin") for step in range(8, int(width), 8)) + words(8, y + 16, word, "start", "d-name"))
    moved = "".join(line(x, y, x, 186, "d-thin d-dash") for x, y in ((droop, 94), (bump, 168))) + across(bump, droop, 182, "travel", above=False)
    return Panel(across(sensor, sensor + face, 30, "face", 12) + "".join(parts) + moved, 206,
                 f"A pickup that stays and a ring that slides, at full droop and at full bump. {says}", title)


def transfer_case() -> Drawing:
    """Return a gearbox, the range gears of a transfer case and both places for a sensor."""
    parts = (box(14, 78, 92, 60, "d-part", 4) + words(60, 112, "gearbox", "middle", "d-name") + box(130, 70, 84, 76, "d-part", 4) + words(172, 98, "range", "middle", "d-name")
             + words(172, 114, "gears", "middle", "d-name") + words(172, 136, "high / low", "middle") + line(106, 104, 130, 104, "d-heavy") + line(214, 104, 306, 104, "d-heavy"))
    wrong = box(112, 74, 12, 20, "d-solid d-wrong") + words(118, 44, "ahead: shows too", "middle", "d-wrongtext") + words(118, 60, "much in low range", "middle", "d-wrongtext")
    right = box(240, 74, 12, 20, "d-solid d-key") + words(260, 60, "behind: right", "middle", "d-keytext") + words(268, 126, "to the wheels", "middle")
    return Drawing(
        (Panel(parts + wrong + right, 160,
               "From left to right: gearbox, range gears of the transfer case, shaft to the wheels. A speed sensor behind the range gears is right in both ranges; one ahead of them "
               "shows too much in low range."),),
        "Compare the speed shown in high and in low range at one true speed. The same: the sensor is behind the range gears. More in low: it is ahead of them.")
