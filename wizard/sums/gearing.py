"""Gearing: engine speed at a road speed, and road speed in a gear, with converter slip as a stated input."""
from __future__ import annotations

from .tyre import tyre_revs_per_km


def engine_speed_from_turns_rpm(speed_km_h: float, gear_ratio: float, axle_ratio: float,
                                wheel_turns_per_km: float, slip_percent: float) -> float:
    """Return engine speed in rpm from wheel turns per kilometre that were measured.

    Formula: km/h × turns per km × gear × axle / 60 / (1 - slip / 100). Range: as the params; no errors inside it.
    Source: arithmetic.
    """
    return speed_km_h * wheel_turns_per_km * gear_ratio * axle_ratio / 60.0 / (1.0 - slip_percent / 100.0)


def engine_speed_rpm(speed_km_h: float, gear_ratio: float, axle_ratio: float,
                     diameter_mm: float, slip_percent: float) -> float:
    """Return engine speed in rpm at a road speed in km/h.

    Formula: km/h × turns per km of the loaded tyre × gear × axle / 60 / (1 - slip / 100). Range: as the params;
    no errors inside it. Source: arithmetic; the tyre as in `tyre_revs_per_km`.
    """
    return engine_speed_from_turns_rpm(speed_km_h, gear_ratio, axle_ratio, tyre_revs_per_km(diameter_mm), slip_percent)


def road_speed_km_h(engine_rpm: float, gear_ratio: float, axle_ratio: float,
                    diameter_mm: float, slip_percent: float) -> float:
    """Return road speed in km/h at an engine speed: at the highest engine speed, the top speed that gearing allows.

    Formula: 60 × rpm × (1 - slip / 100) / (gear × axle × turns per km). Range: as the params; no errors inside it.
    Source: arithmetic; the tyre as in `tyre_revs_per_km`.
    """
    return 60.0 * engine_rpm * (1.0 - slip_percent / 100.0) / (gear_ratio * axle_ratio * tyre_revs_per_km(diameter_mm))
