"""Throttle body: what is asked, said and cited of its sums."""
from __future__ import annotations

from ..throttle import throttle_choked_flow_g_s, throttle_flow_g_s, throttle_headroom_percent
from .air import AMBIENT, INTAKE_TEMP
from .shapes import ARITHMETIC, Param, Source, Sum, make_sum

BORE = Param("bore_mm", "Bore", "mm", 20, 150, measure="Measure inside with a calliper, two ways.", usual=75)
_DISCHARGE = Param("discharge_percent", "Discharge of the open bore", "%", 50, 100,
                   measure="About 80 to 90 with shaft and blade in the way.", usual=85)
_DROP = Param("drop_kpa", "Pressure loss allowed at full throttle", "kPa", 0.2, 50,
              measure="The trade likes 1 to 3 at the top of the power.", usual=2)
_NOZZLE: Source = ("common-practice", "Ideal-gas nozzle flow, any gas dynamics text; discharge of 80 to 90 %.")
_BOUND = ("Choked flow is a bound, not a target: at 2 kPa of loss a bore passes under a third of it.",)

SUMS: tuple[Sum, ...] = (
    make_sum("throttle", throttle_choked_flow_g_s, "Choked airflow of a throttle body", (BORE, _DISCHARGE, AMBIENT, INTAKE_TEMP),
             "g/s", "discharge ÷ 100 × area × pressure × √(1.4 ÷ (287.05 × K)) × 0.5787; area = π ÷ 4 × bore²; K = °C + 273.15", (_NOZZLE,), 0.1, 3, notes=_BOUND),
    make_sum("throttle", throttle_flow_g_s, "Airflow of a throttle body at a pressure loss",
             (BORE, _DISCHARGE, AMBIENT, _DROP, INTAKE_TEMP), "g/s",
             "discharge ÷ 100 × area × pressure × √(7 ÷ (287.05 × K) × (r^1.4286 - r^1.7143)), r = 1 - loss ÷ pressure; "
             "area = π ÷ 4 × bore²; K = °C + 273.15",
             (_NOZZLE,), 0.1, 3),
    make_sum("throttle", throttle_headroom_percent, "Throttle body: what is left at peak airflow",
             (Param("throttle_g_s", "Airflow the throttle body passes", "g/s", 5, 10000, measure="Work it out from the bore.",
                    usual=890), Param("peak_g_s", "Peak airflow", "g/s", 1, 3000, measure="Work it out from the engine.",
                                      usual=304, falls=True)), "%", "100 × (1 - peak ÷ throttle)", (ARITHMETIC,), 0.0, 3),
)
