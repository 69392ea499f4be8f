"""How two parts fit by size: the step between throttle and manifold, and the room of a speed ring along its shaft."""
from __future__ import annotations

from .shapes import ARITHMETIC, Param, make_sum

SIDE_ROOM_MM = 2.0      # common practice: a millimetre to spare on either side of the sensing face

BORE = Param("bore_mm", "Throttle bore", "mm", 20, 150, measure="Measure across the bore with a calliper.", usual=75)
OPENING = Param("opening_mm", "Opening of the manifold", "mm", 20, 150, measure="Measure across it with a calliper.",
                usual=75, falls=True)
WIDTH = Param("ring_width_mm", "Width of the ring along the shaft", "mm", 3, 200, measure="Measure with a calliper.",
              usual=20)
FACE = Param("sensor_face_mm", "Sensing face of the pickup", "mm", 2, 30, measure="Measure with a calliper.", usual=8,
             falls=True)
TRAVEL = Param("travel_mm", "Whole slide of the shaft", "mm", 0, 150, usual=30, falls=True,
               measure="Mark the shaft at full droop and at full bump and measure between the marks.")


def throttle_step_mm(bore_mm: float, opening_mm: float) -> float:
    """Return by how many mm the throttle's bore is larger than the manifold's opening (smaller: negative).

    Formula: bore - opening. Range: as the params; no errors inside it. Source: arithmetic.
    """
    return bore_mm - opening_mm


def ring_margin_mm(ring_width_mm: float, sensor_face_mm: float, travel_mm: float) -> float:
    """Return the mm that a ring has to spare along its shaft from full droop to full bump (below zero: it leaves).

    Formula: width - (sensing face + travel + 2). Range: as the params; no errors inside it.
    Source: geometry; the 2 mm are common practice, no source.
    """
    return ring_width_mm - (sensor_face_mm + travel_mm + SIDE_ROOM_MM)


SUMS = (
    make_sum("fit", throttle_step_mm, "Step from throttle to manifold", (BORE, OPENING), "mm", "bore - opening",
             (ARITHMETIC,), 0.0, 3),
    make_sum("fit", ring_margin_mm, "Room of a speed ring along its shaft", (WIDTH, FACE, TRAVEL), "mm",
             "width - (sensing face + travel + 2 mm)",
             (ARITHMETIC, ("common-practice", "Two millimetres to spare in all.")), 0.0, 3),
)
