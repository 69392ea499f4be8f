"""Tyres: a size code, the diameter it names, and how often a wheel turns in a kilometre.

A tyre under load rolls on a smaller circle than its diameter draws. `LOADED_FACTOR` (3.05 in place of pi)
takes that in; plain geometry counts about 3 % too few turns. Turns counted over a measured road beat both.
"""
from __future__ import annotations

import math
import re

from .shapes import ARITHMETIC, Param, Refusal, Sum, Wrong, make_sum

MM_PER_INCH = 25.4
M_PER_MILE = 1609.344
LOADED_FACTOR = 3.05
DIAMETER_LOW_MM, DIAMETER_HIGH_MM = 400.0, 1300.0
EXPECTED = ("a tyre size such as 225/60R16 or 31x10.50R15 as on the sidewall, or an outside diameter "
            "such as 676 mm or 26.6 in, between 400 and 1300 mm")
MEASURE_TYRE = "Read the size on the sidewall, or measure the height of the tyre from the ground to its top."

_METRIC = re.compile(r"(?:P|LT|T|C)?(\d{3})/(\d{2,3})(?:ZR|R|D|B|-)(\d{2,3}(?:\.\d)?)(?:C|LT)?(?:\(?\d{2,3}(?:/\d{2,3})?[A-Y]\d?\)?)?(?:XL)?", re.ASCII)
_FLOTATION = re.compile(r"(\d{2}(?:\.\d{1,2})?)[X×](\d{1,2}(?:\.\d{1,2})?)(?:R|D|B|-)(\d{2}(?:\.\d)?)(?:LT)?(?:\d{2,3}(?:/\d{2,3})?[A-Y])?", re.ASCII)
_PLAIN = re.compile(r"(\d{2,4}(?:\.\d+)?)(MM|IN|\")", re.ASCII)


def metric_tyre_diameter_mm(width_mm: float, aspect_percent: float, rim_in: float) -> float:
    """Return the nominal outside diameter in mm of a metric size: two side walls and the rim.

    Formula: 25.4 × rim in inches + 2 × width × aspect / 100. Range: as METRIC_PARAMS; no errors inside it.
    Source: from memory, UN Regulation No 30 and ISO 4000-1 (which round the rim and the height to whole mm).
    """
    return MM_PER_INCH * rim_in + 2.0 * width_mm * aspect_percent / 100.0


def read_tyre_size(text: str) -> float | None:
    """Return the nominal diameter in mm of a size code or of a diameter with its unit; None if it is neither."""
    code = re.sub(r"\s+", "", text).upper()
    if metric := _METRIC.fullmatch(code):
        rim = float(metric[3])
        inches = rim / MM_PER_INCH if rim > 100 else rim
        width, aspect = float(metric[1]), float(metric[2])
        if not (8 <= inches <= 30 and 95 <= width <= 455 and 20 <= aspect <= 110):
            return None
        diameter = metric_tyre_diameter_mm(width, aspect, inches)
    elif flotation := _FLOTATION.fullmatch(code):
        outside, width, rim = float(flotation[1]), float(flotation[2]), float(flotation[3])
        if not (rim < outside and 4 <= width <= 20 and 8 <= rim <= 30):
            return None
        diameter = MM_PER_INCH * outside
    elif plain := _PLAIN.fullmatch(code):
        diameter = float(plain[1]) * (1.0 if plain[2] == "MM" else MM_PER_INCH)
    else:
        return None
    return diameter if DIAMETER_LOW_MM <= diameter <= DIAMETER_HIGH_MM else None


def tyre_diameter_mm(size: str) -> float | Refusal:
    """Return the nominal diameter in mm that a size code names, or a refusal that says what a size looks like.

    A size without its profile, such as 185R14, is refused: the height of its side wall cannot be read from it.
    """
    diameter = read_tyre_size(size)
    if diameter is None:
        return Refusal("refused", f"{size!r} is not a size that can be read: expected {EXPECTED}.",
                       (Wrong("size", size, EXPECTED, MEASURE_TYRE),))
    return diameter


def tyre_revs_per_km(diameter_mm: float) -> float:
    """Return how often a loaded tyre turns in a kilometre.

    Formula: 1 000 000 / (3.05 × diameter in mm). Range: 400 to 1300 mm; no errors inside it.
    Source: the factor from memory (rolling circumference of radial tyres in a European tyre handbook),
    borne out by 70 measured cars of an open data set to 0.5 % in the middle and within 4 % for 97 % of them.
    """
    return 1e6 / (LOADED_FACTOR * diameter_mm)


def tyre_revs_per_km_geometry(diameter_mm: float) -> float:
    """Return how often a tyre would turn in a kilometre if it rolled on its full circle: about 3 % too few.

    Formula: 1 000 000 / (pi × diameter in mm). Range: 400 to 1300 mm; no errors inside it. Source: geometry.
    """
    return 1e6 / (math.pi * diameter_mm)


def tyre_revs_per_km_measured(turns: float, distance_m: float) -> float:
    """Return wheel turns per kilometre from turns counted over a measured road; it overrides both formulas.

    Formula: 1000 × turns / distance in m. Range: as MEASURED_PARAMS; no errors inside it. Source: arithmetic.
    """
    return 1000.0 * turns / distance_m


def tyre_revs_per_mile(revs_per_km: float) -> float:
    """Return turns per statute mile from turns per kilometre. Formula: × 1.609344, exact by definition."""
    return revs_per_km * M_PER_MILE / 1000.0


DIAMETER = Param("diameter_mm", "Tyre diameter", "mm", DIAMETER_LOW_MM, DIAMETER_HIGH_MM,
                 measure=MEASURE_TYRE, usual=676.4, reads="tyre_size", falls=True)
METRIC_PARAMS = (
    Param("width_mm", "Tyre width", "mm", 95, 455, True, "Read the first number of the size.", 225),
    Param("aspect_percent", "Height of the side wall", "%", 20, 110, True, "Read the number after the stroke.", 60),
    Param("rim_in", "Rim diameter", "in", 8, 30, measure="Read the last number of the size.", usual=16),
)
MEASURED_PARAMS = (
    Param("turns", "Wheel turns counted", "turns", 1, 5000, measure="Chalk the tyre and count its turns.", usual=10),
    Param("distance_m", "Distance rolled", "m", 1, 10000,
          measure="Roll straight with the usual load, and measure with a tape.", usual=20.6, falls=True),
)
ROLLING = ("from-memory", "Rolling circumference of 3.05 diameters for radial tyres, European tyre handbook.")
CARS = ("published", "Measured cars: data set car90 of the R package rpart (Consumer Reports, April 1990), "
                      "columns Tires, Rim, Gear.Ratio and Eng.Rev.")

SUMS: tuple[Sum, ...] = (
    make_sum("tyre", metric_tyre_diameter_mm, "Tyre diameter from its size", METRIC_PARAMS, "mm",
             "25.4 × rim in inches + 2 × width × aspect ÷ 100",
             (("from-memory", "UN Regulation No 30 and ISO 4000-1: outside diameter = rim + 2 × section height."),),
             uncertainty=0.01, notes=("This is the nominal size. New tyres of one size differ by about 1 %, and "
                                      "flotation sizes are often up to 2 % under theirs.",)),
    make_sum("tyre", tyre_revs_per_km, "Wheel turns per kilometre, loaded tyre", (DIAMETER,), "turns/km",
             "1 000 000 ÷ (3.05 × diameter in mm)", (ROLLING, CARS), uncertainty=0.03,
             notes=("Turns counted over a measured road override this.",)),
    make_sum("tyre", tyre_revs_per_km_geometry, "Wheel turns per kilometre, plain geometry", (DIAMETER,), "turns/km",
             "1 000 000 ÷ (π × diameter in mm)", (ARITHMETIC, CARS), uncertainty=0.06,
             notes=("Geometry counts about 3 % too few turns, because the loaded tyre is flattened.",)),
    make_sum("tyre", tyre_revs_per_km_measured, "Wheel turns per kilometre, measured", MEASURED_PARAMS, "turns/km",
             "1000 × turns ÷ distance in m", (ARITHMETIC,)),
)
