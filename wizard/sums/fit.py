"""How two parts fit by size: the step between throttle and manifold, and the room of a speed ring along its shaft."""
from __future__ import annotations

SIDE_ROOM_MM = 2.0      # common practice: a millimetre to spare on either side of the sensing face


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
