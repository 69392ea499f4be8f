"""Tyres: what is asked, said and cited of their sums."""
from __future__ import annotations

from ..tyre import (DIAMETER_HIGH_MM, DIAMETER_LOW_MM, metric_tyre_diameter_mm, read_tyre_size, tyre_revs_per_km,
                    tyre_revs_per_km_geometry, tyre_revs_per_km_measured)
from .shapes import ARITHMETIC, Param, Refusal, Sum, Wrong, make_sum

EXPECTED = ("a tyre size such as 225/60R16 or 31x10.50R15 as on the sidewall, or an outside diameter "
            "such as 676 mm or 26.6 in, between 400 and 1300 mm")
MEASURE_TYRE = "Read the size on the sidewall, or measure the height of the tyre from the ground to its top."


def tyre_diameter_mm(size: str) -> float | Refusal:
    """Return the nominal diameter in mm that a size code names, or a refusal that says what a size looks like.

    A size without its profile, such as 185R14, is refused: the height of its side wall cannot be read from it.
    """
    diameter = read_tyre_size(size)
    if diameter is None:
        return Refusal("refused", f"{size!r} is not a size that can be read: expected {EXPECTED}.",
                       (Wrong("size", size, EXPECTED, MEASURE_TYRE),))
    return diameter


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

TURNS = "turns per km = 1 000 000 ÷ (3.05 × diameter in mm)"

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
