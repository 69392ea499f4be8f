"""Where the airflow, air temperature and manifold pressure sensors belong in the way of the air."""

from __future__ import annotations

from build_tools.drawings.figure import Drawing, Panel
from build_tools.drawings.ink import across, arrow, box, dot, line, path, ring, run, upright, words


def airflow_place() -> Drawing:
    """Return an intake with the straight tube round the sensor, and a sensor right on a bend."""
    tube = line(52, 92, 262, 92, "d-duct") + line(52, 92, 262, 92, "d-ductbore")
    right = (_filter(22) + tube + _throttle(274, 92) + arrow(70, 92, 104, 92, "d-measure") + box(146, 62, 18, 48, "d-keypart", 3) + words(155, 54, "sensor", "middle", "d-keytext")
             + across(52, 146, 132, "150 mm", -16, above=False) + across(164, 258, 132, "150 mm", -16, above=False) + words(155, 174, "or two diameters, each way, at least", "middle")
             + path("M232 80V34H204") + words(200, 39, "breather", "end") + words(22, 54, "filter", "middle") + words(286, 46, "throttle", "middle"))
    bend = path("M40 46H110Q150 46 150 86V96Q150 122 176 122H262", "d-duct") + path("M40 46H110Q150 46 150 86V96Q150 122 176 122H262", "d-ductbore")
    wrong = (bend + box(176, 92, 18, 48, "d-wrongpart", 3) + words(206, 84, "right on a bend", "start", "d-wrongtext") + arrow(56, 46, 92, 46, "d-measure")
             + path("M78 34V14H104") + words(110, 18, "breather ahead", "start", "d-wrongtext") + _throttle(274, 122)
             + words(36, 166, "the air arrives on one side of the tube", "start"))
    return Drawing(
        (Panel(right, 186, "From filter to throttle: straight tube, the sensor, straight tube, then the throttle. At least 150 millimetres or two diameters of straight tube lie on each side of the "
               "sensor. The crankcase breather joins between sensor and throttle.", "Straight tube on both sides"),
         Panel(wrong, 186, "The sensor sits right behind a bend, where the air crowds to one side, and a breather joins ahead of it.", "Not like this")),
        "The arrow on the sensor points to the engine. Keep its screen, keep it out of engine heat, and let everything that carries air join between sensor and cylinders. "
        "A hose that takes or brings air ahead of the sensor, or a hole behind it, makes the count wrong.")


def temperature_place() -> Drawing:
    """Return the way of the air in a boosted engine with right and wrong places for the air temperature sensor."""
    y = 84
    way = line(34, y, 300, y, "d-duct") + line(34, y, 300, y, "d-ductbore")
    compressor = ring(78, y, 22, "d-part") + path(f"M78 {y}m-8 -10a12 12 0 1 1 -2 14") + words(78, 134, "compressor", "middle")
    cooler = box(122, y - 26, 46, 52, "d-part", 3) + "".join(line(x, y - 20, x, y + 20, "d-thin") for x in range(130, 168, 8)) + words(160, 134, "cooler", "middle")
    plenum = box(272, y - 32, 40, 64, "d-part", 8) + words(292, 134, "manifold", "middle") + _throttle(246, y)
    good = line(204, y, 204, 44, "d-key") + dot(204, y, 5, "d-solid d-key") + words(204, 34, "here", "middle", "d-keytext")
    bad = line(104, y, 104, 44, "d-wrong") + dot(104, y, 5, "d-solid d-wrong") + words(104, 34, "too hot, too early", "middle", "d-wrongtext")
    pressure = path("M292 52V34") + words(312, 26, "pressure", "end", "d-name")
    return Drawing(
        (Panel(way + compressor + cooler + plenum + good + bad + pressure, 148,
               "Compressor, cooler, throttle and manifold in the order of the air. The air temperature sensor belongs in the moving air between cooler and throttle; between compressor and cooler "
               "it reads too hot. The pressure sensor is joined to the manifold behind the throttle."),),
        "The air temperature sensor stands in moving air behind any cooler and ahead of the throttle, not in hot metal. The manifold pressure sensor takes its hose behind the throttle. "
        "Without a compressor the same holds, with nothing between filter and throttle.")


def bore_twice() -> Drawing:
    """Return a tube seen along its length, measured in two directions, and the blade's depth and turn."""
    seen = (ring(92, 92, 62, "d-part") + ring(92, 92, 56, "d-open") + arrow(36, 92, 148, 92, "d-key", both=True) + arrow(92, 36, 92, 148, "d-key", both=True)
            + words(124, 84, "1", "middle", "d-keytext") + words(102, 60, "2", "middle", "d-keytext"))
    blade = (box(196, 46, 104, 92, "d-part") + box(196, 54, 104, 76, "d-open") + box(232, 24, 34, 24, "d-part", 2) + box(240, 48, 18, 46, "d-keypart", 2)
             + upright(282, 54, 94, "", -24) + words(280, 114, "depth", "middle", "d-name") + arrow(200, 116, 232, 116, "d-measure") + words(248, 158, "blade in its tube", "middle"))
    return Drawing(
        (Panel(seen + words(92, 174, "inside, two ways", "middle") + blade, 186,
               "Left, a tube seen along its length with its inside measured in two directions at right angles. Right, the blade of the sensor in the tube with its depth."),),
        "Measure the inside in two directions and take the middle. A bore that is off by one part in a hundred puts the reading off by about two. The blade must sit as deep, and turned as, in the tube it was made for.")


def _filter(x: float) -> str:
    return run([(x - 10, 66), (x + 30, 74), (x + 30, 110), (x - 10, 118)], "d-part", close=True) + "".join(line(x + step, 70 + step * 0.2, x + step, 114 - step * 0.2, "d-thin") for step in (-2, 6, 14, 22))


def _throttle(x: float, y: float) -> str:
    return box(x - 12, y - 22, 24, 44, "d-part", 2) + line(x - 7, y + 13, x + 7, y - 13, "d-heavy") + dot(x, y, 3)
