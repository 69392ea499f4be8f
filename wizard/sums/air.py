"""Air: the standard atmosphere, density, how much an engine swallows, and whether the sensors reach that far."""
from __future__ import annotations

from .powers import power

AIR_R = 287.05287                   # J/(kg K), ISO 2533
ZERO_C = 273.15
SEA_LEVEL_KPA, SEA_LEVEL_K, LAPSE_K_M = 101.325, 288.15, 0.0065
EARTH_RADIUS_M, GRAVITY = 6356766.0, 9.80665


def standard_temperature_c(altitude_m: float) -> float:
    """Return the temperature in °C of the standard atmosphere up to 11 km.

    Formula: 15 - 0.0065 × H, with geopotential height H = r × h / (r + h), r = 6 356 766 m.
    Range: -400 to 11 000 m; no errors inside it. Source: ISO 2533, from memory.
    """
    height = EARTH_RADIUS_M * altitude_m / (EARTH_RADIUS_M + altitude_m)
    return SEA_LEVEL_K - LAPSE_K_M * height - ZERO_C


def standard_pressure_kpa(altitude_m: float) -> float:
    """Return the pressure in kPa of the standard atmosphere up to 11 km.

    Formula: 101.325 × (T / 288.15 K) ^ 5.2559. Range: -400 to 11 000 m; no errors inside it.
    Source: ISO 2533, from memory.
    """
    ratio = (standard_temperature_c(altitude_m) + ZERO_C) / SEA_LEVEL_K
    return SEA_LEVEL_KPA * power(ratio, GRAVITY / (AIR_R * LAPSE_K_M))


def air_density_kg_m3(pressure_kpa: float, temp_c: float) -> float:
    """Return the density of dry air in kg/m³.

    Formula: p / (287.05287 × T). Range: as the params; no errors inside it. Source: ideal gas, ISO 2533.
    """
    return 1000.0 * pressure_kpa / (AIR_R * (temp_c + ZERO_C))


def engine_airflow_g_s(displacement_l: float, engine_rpm: float, volumetric_efficiency_percent: float,
                       ambient_kpa: float, boost_kpa: float, intake_temp_c: float) -> float:
    """Return the air mass in g/s of a four-stroke engine; with idle values it is the idle airflow.

    Formula: displacement × rpm / 120 × efficiency / 100 × density at (ambient + boost) and intake temperature.
    Range: as the params; no errors inside it. Source: the speed-density form, as in 40 CFR 1065.930.
    """
    swept_l_s = displacement_l * engine_rpm / 120.0
    return swept_l_s * volumetric_efficiency_percent / 100.0 * air_density_kg_m3(ambient_kpa + boost_kpa, intake_temp_c)


def airflow_for_power_g_s(power_kw: float, bsfc_g_kwh: float, air_fuel_ratio: float) -> float:
    """Return the air in g/s that a crank power asks for.

    Formula: kW × g/kWh × air-fuel ratio / 3600. Range: as the params; no errors inside it. Source: arithmetic.
    """
    return power_kw * bsfc_g_kwh * air_fuel_ratio / 3600.0


def headroom_percent(limit: float, peak: float) -> float:
    """Return what is left to a limit, in per cent of the limit (negative: over it); both in one unit.

    Formula: 100 × (1 - peak / limit). Range: as the params; no errors inside it. Source: arithmetic.
    """
    return 100.0 * (1.0 - peak / limit)


def airflow_sensor_headroom_percent(sensor_limit_g_s: float, peak_g_s: float) -> float:
    """Return what an airflow sensor, or the table of the controller, has left at peak airflow.

    Formula: 100 × (1 - peak / limit). Range: as the params; no errors inside it. Source: arithmetic.
    """
    return headroom_percent(sensor_limit_g_s, peak_g_s)


def frequency_headroom_percent(frequency_limit_hz: float, peak_hz: float) -> float:
    """Return what the highest frequency that a controller counts has left above the sensor's peak frequency.

    Formula: 100 × (1 - peak / limit). Range: as the params; no errors inside it. Source: arithmetic.
    """
    return headroom_percent(frequency_limit_hz, peak_hz)


def pressure_sensor_headroom_percent(full_scale_kpa: float, ambient_kpa: float, boost_kpa: float) -> float:
    """Return what a manifold pressure sensor has left at full boost, for fuelling by pressure.

    Formula: 100 × (1 - (ambient + boost) / full scale). Range: as the params; no errors inside it. Source: arithmetic.
    """
    return headroom_percent(full_scale_kpa, ambient_kpa + boost_kpa)
