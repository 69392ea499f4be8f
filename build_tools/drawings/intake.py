"""Where the small hoses of an intake belong: breathers, servo and purge, with and without boost, and the vapours of the tank."""

from __future__ import annotations

from build_tools.drawings.figure import Drawing, Panel
from build_tools.drawings.ink import arrow, box, cross, dot, line, path, ring, run, words


def intake_hoses() -> Drawing:
    """Return an intake with each small hose where it belongs, and one whose hoses pass the airflow sensor by."""
    right = (_intake() + path("M150 66V38H186", "d-key") + words(192, 43, "breather, fresh side", "start", "d-keytext") + path("M176 94V140H206V168", "d-key")
             + words(112, 160, "idle valve", "middle", "d-keytext") + box(166, 128, 20, 20, "d-keypart", 3) + path("M250 112V168") + path("M268 112V152H308") + path("M286 112V132H308")
             + words(206, 184, "1", "middle", "d-keytext") + words(250, 184, "2", "middle", "d-name") + words(300, 168, "3", "middle", "d-name") + words(300, 126, "4", "middle", "d-name"))
    wrong = (_intake() + path("M74 66V36H110", "d-wrong") + words(116, 41, "taken ahead of the sensor", "start", "d-wrongtext") + path("M268 112V140", "d-wrong") + dot(268, 144, 4, "d-solid d-wrong")
             + words(268, 164, "open end", "middle", "d-wrongtext") + cross(150, 67, 6) + words(150, 130, "loose clamp", "middle", "d-wrongtext"))
    return Drawing(
        (Panel(right, 196, "The way of the air: filter, airflow sensor, throttle, manifold. The fresh side of the breather and the hose to the idle valve start between sensor and throttle. The idle valve leads to the "
               "manifold (1). Brake servo (2), purge valve (3) and the vapour side of the breather (4) join the manifold behind the throttle.", "Each hose where it belongs"),
         Panel(wrong, 196, "A breather taken ahead of the airflow sensor, an open hose on the manifold and a loose clamp behind the sensor all let air in that was not counted, or counted air out.",
               "Air that passes the sensor by")),
        "1 idle air, 2 brake servo with its check valve, 3 purge valve, 4 crankcase vapour through its valve. Whatever carries air joins behind the airflow sensor. "
        "Without an airflow sensor it must be part of the mapped idle instead, and nothing may leak.")


def _intake() -> str:
    y = 80
    tube = line(40, y, 226, y, "d-duct") + line(40, y, 226, y, "d-ductbore")
    strainer = run([(12, 56), (46, 62), (46, 98), (12, 104)], "d-part", close=True) + words(28, 122, "filter", "middle")
    sensor = box(100, 58, 14, 40, "d-keypart", 3) + words(104, 24, "sensor", "middle", "d-name") + line(106, 30, 106, 56, "d-thin")
    valve = box(204, 58, 22, 44, "d-part", 2) + line(208, 92, 222, 68, "d-heavy") + dot(215, 80, 3)
    return tube + strainer + sensor + valve + box(232, 48, 78, 64, "d-part", 8) + words(271, 85, "manifold", "middle", "d-name")


def boost_hoses() -> Drawing:
    """Return the hoses of a boosted engine: where the blow-off valve leads back, and which hoses need a check valve."""
    y = 76
    way = line(26, y, 262, y, "d-duct") + line(26, y, 262, y, "d-ductbore")
    sensor = box(36, 54, 14, 40, "d-keypart", 3) + words(44, 122, "airflow\nsensor", "middle")
    compressor = ring(108, y, 24, "d-part") + path(f"M108 {y}m-8 -11a13 13 0 1 1 -2 15") + words(108, 122, "compressor", "middle")
    cooler = box(152, 50, 40, 52, "d-part", 3) + "".join(line(x, 56, x, 96, "d-thin") for x in range(159, 190, 7)) + words(174, 122, "cooler", "middle")
    valve = box(228, 54, 22, 44, "d-part", 2) + line(232, 88, 246, 64, "d-heavy") + dot(239, y, 3) + words(238, 122, "throttle", "middle")
    manifold = box(262, 44, 50, 64, "d-part", 8)
    back = path("M210 60V30H68V60", "d-key") + arrow(160, 30, 120, 30, "d-key") + ring(210, 46, 9, "d-keypart") + words(138, 20, "blow-off valve leads back", "middle", "d-keytext")
    guarded = path("M287 108V190") + "".join(line(287, end, 226, end) + arrow(250, end, 268, end, "d-key") + line(244, end - 7, 244, end + 7, "d-key") for end in (152, 172, 190))
    names = words(220, 157, "brake servo", "end") + words(220, 177, "purge valve", "end") + words(220, 195, "crankcase vapour", "end")
    return Drawing(
        (Panel(way + sensor + compressor + cooler + valve + manifold + back + guarded + names, 206,
               "Airflow sensor, compressor, cooler, throttle and manifold in the order of the air. The blow-off valve between cooler and throttle leads its air back between airflow sensor and compressor. "
               "The hoses of brake servo, purge valve and crankcase vapour join the manifold, each through a check valve that lets air pass only towards the manifold."),),
        "Blow through each of the three hoses towards servo, canister and crankcase: nothing may pass. A blow-off valve that opens into the open air throws away air that a sensor ahead of it has counted.")


def vapour_hoses() -> Drawing:
    """Return the way of fuel vapour from the tank through canister and purge valve to the manifold."""
    tank = box(16, 96, 92, 66, "d-part", 8) + words(62, 138, "tank", "middle", "d-name") + path("M16 120Q62 112 108 120", "d-thin")
    sender = dot(38, 96, 4) + words(14, 84, "pressure", "start") + path("M84 96V58H126", "d-key") + ring(84, 78, 7, "d-keypart") + words(12, 40, "rollover valve", "start") + line(84, 44, 84, 68, "d-thin")
    canister = box(126, 40, 62, 56, "d-keypart", 4) + "".join(dot(x, row, 1.6) for row in (56, 68, 80) for x in range(138, 182, 11)) + words(157, 30, "canister", "middle", "d-keytext")
    vent = path("M140 96V138") + box(131, 128, 18, 18, "d-part", 2) + words(140, 166, "vent valve", "middle") + line(140, 146, 140, 152)
    purge = path("M188 68H260", "d-key") + box(212, 56, 26, 24, "d-keypart", 3) + words(222, 116, "purge valve", "middle", "d-keytext") + arrow(242, 68, 262, 68, "d-key")
    manifold = box(262, 36, 48, 64, "d-part", 8) + words(308, 28, "manifold", "end", "d-name") + line(225, 56, 225, 40, "d-dash") + words(225, 34, "wires", "middle")
    return Drawing(
        (Panel(tank + sender + canister + vent + purge + manifold, 178,
               "From the top of the tank a hose leads through a rollover valve to the charcoal canister, and from there through the purge valve, which is wired to the controller, to the manifold. "
               "Fresh air reaches the canister through a vent valve. A pressure sensor sits at the tank."),),
        "The controller opens the purge valve so that the engine draws the vapour out of the charcoal. Vent valve and tank pressure sensor are there only where the calibration tests the system for leaks.")
