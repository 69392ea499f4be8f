"""How two parts fit: what is asked, said and cited of their sums."""
from __future__ import annotations

from ..fit import ring_margin_mm, throttle_step_mm
from .shapes import ARITHMETIC, Param, make_sum

BORE = Param("bore_mm", "Throttle bore", "mm", 20, 150, measure="Measure across the bore with a calliper.", usual=75)
OPENING = Param("opening_mm", "Opening of the manifold", "mm", 20, 150, measure="Measure across it with a calliper.",
                usual=75, falls=True)
WIDTH = Param("ring_width_mm", "Width of the ring along the shaft", "mm", 3, 200, measure="Measure with a calliper.",
              usual=20)
FACE = Param("sensor_face_mm", "Sensing face of the pickup", "mm", 2, 30, measure="Measure with a calliper.", usual=8,
             falls=True)
TRAVEL = Param("travel_mm", "Whole slide of the shaft", "mm", 0, 150, usual=30, falls=True,
               measure="Mark the shaft at full droop and at full bump and measure between the marks.")

SUMS = (
    make_sum("fit", throttle_step_mm, "Step from throttle to manifold", (BORE, OPENING), "mm", "bore - opening",
             (ARITHMETIC,), 0.0, 3),
    make_sum("fit", ring_margin_mm, "Room of a speed ring along its shaft", (WIDTH, FACE, TRAVEL), "mm",
             "width - (sensing face + travel + 2 mm)",
             (ARITHMETIC, ("common-practice", "Two millimetres to spare in all.")), 0.0, 3),
)
