"""Throttle body: the most air its bore can pass, choked and at a small pressure loss, against the engine's peak."""
from __future__ import annotations

import math

from .air import AIR_R, ZERO_C, headroom_percent
from .powers import power

GAMMA = 1.4


def _area_m2(bore_mm: float) -> float:
    bore_m = bore_mm / 1000.0
    return math.pi / 4.0 * bore_m * bore_m


def throttle_choked_flow_g_s(bore_mm: float, discharge_percent: float, ambient_kpa: float, intake_temp_c: float) -> float:
    """Return the most air in g/s that a bore passes at any suction: sound speed in the throat, an upper bound.

    Formula: Cd × area × p × √(1.4 / (R × T)) × (2 / 2.4)^3. Range: as the params; no errors inside it.
    Source: choked nozzle flow of an ideal gas, any gas dynamics text; the discharge is common practice.
    """
    kelvin = intake_temp_c + ZERO_C
    choked = power(2.0 / (GAMMA + 1.0), (GAMMA + 1.0) / (2.0 * (GAMMA - 1.0)))
    metre_units = ambient_kpa * 1000.0 * math.sqrt(GAMMA / (AIR_R * kelvin)) * choked
    return 1000.0 * discharge_percent / 100.0 * _area_m2(bore_mm) * metre_units


def throttle_flow_g_s(bore_mm: float, discharge_percent: float, ambient_kpa: float, drop_kpa: float,
                      intake_temp_c: float) -> float:
    """Return the air in g/s that an open bore passes at a pressure loss; at half the pressure and beyond it is choked.

    Formula: Cd × area × p × √(2 × 3.5 / (R × T) × (r^(2/1.4) - r^(2.4/1.4))), r = 1 - drop / p, not under 0.528.
    Range: as the params; no errors inside it. Source: nozzle flow of an ideal gas (Saint-Venant and Wantzel).
    """
    critical = power(2.0 / (GAMMA + 1.0), GAMMA / (GAMMA - 1.0))
    ratio = max(1.0 - drop_kpa / ambient_kpa, critical)
    inner = power(ratio, 2.0 / GAMMA) - power(ratio, (GAMMA + 1.0) / GAMMA)
    speed = math.sqrt(2.0 * GAMMA / (GAMMA - 1.0) / (AIR_R * (intake_temp_c + ZERO_C)) * inner)
    return 1000.0 * discharge_percent / 100.0 * _area_m2(bore_mm) * ambient_kpa * 1000.0 * speed


def throttle_headroom_percent(throttle_g_s: float, peak_g_s: float) -> float:
    """Return what a throttle body has left at peak airflow, in per cent of its flow (negative: it chokes the engine).

    Formula: 100 × (1 - peak / throttle). Range: as the params; no errors inside it. Source: arithmetic.
    """
    return headroom_percent(throttle_g_s, peak_g_s)
