"""Air: the standard atmosphere, density, how much an engine swallows, and whether the sensors reach that far."""
from __future__ import annotations

from .powers import power
from .shapes import ARITHMETIC, Band, Param, Source, Sum, make_sum
from .gearing import ENGINE_RPM

AIR_R = 287.05287                   # J/(kg K), ISO 2533
ZERO_C = 273.15
SEA_LEVEL_KPA, SEA_LEVEL_K, LAPSE_K_M = 101.325, 288.15, 0.0065
EARTH_RADIUS_M, GRAVITY = 6356766.0, 9.80665
ISO_2533: Source = ("from-memory", "ISO 2533 standard atmosphere; two open libraries agree with it to six figures.")


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


ALTITUDE = Param("altitude_m", "Altitude", "m", -400, 6000, measure="Read it from a map.", usual=0, falls=True)
AMBIENT = Param("ambient_kpa", "Air pressure outside", "kPa", 50, 108,
                measure="Read the manifold pressure on live data with the key on and the engine off.", usual=101.3)
BOOST = Param("boost_kpa", "Boost above outside pressure", "kPa", 0, 300,
              measure="0 without a compressor; else the highest reading of the boost gauge.", usual=0)
INTAKE_TEMP = Param("intake_temp_c", "Intake air temperature", "°C", -40, 90,
                    measure="Read it on live data.", usual=25, falls=True)
DISPLACEMENT = Param("displacement_l", "Displacement", "L", 0.1, 15, measure="Read it from the engine data.", usual=5.7)
EFFICIENCY = Param("volumetric_efficiency_percent", "Volumetric efficiency", "%", 10, 130,
                   measure="About 80 to 95 at full load, 25 to 45 at idle, unless a test says better.", usual=90)
POWER = Param("power_kw", "Crank power", "kW", 5, 1500, measure="Use power at the crank, not at the wheels.", usual=225)
BSFC = Param("bsfc_g_kwh", "Fuel used per unit of work", "g/kWh", 180, 600,
             measure="About 275 to 335 without boost and 335 to 395 with it, unless a test says better.", usual=304)
AIR_FUEL = Param("air_fuel_ratio", "Air-fuel ratio at full load", "kg/kg", 5, 20,
                 measure="About 12.5 to 12.8 for petrol. For this sum only, never a value to load.", usual=12.6)
_SENSOR = Param("sensor_limit_g_s", "Highest airflow the sensor and its table show", "g/s", 10, 3000,
                measure="Read the end of the sensor's table.", usual=480)
_PEAK = Param("peak_g_s", "Peak airflow", "g/s", 1, 3000, measure="Work it out from engine or power.",
              usual=304, falls=True)
_COUNTED = Param("frequency_limit_hz", "Highest frequency the controller counts", "Hz", 500, 30000,
                 measure="Ask whoever supplies the controller.", usual=12000)
_PEAK_HZ = Param("peak_hz", "Sensor frequency at peak airflow", "Hz", 100, 30000,
                 measure="Read it from the sensor's table at the peak airflow.", usual=10050, falls=True)
_SCALE = Param("full_scale_kpa", "Full scale of the pressure sensor", "kPa", 80, 700,
               measure="Read it from the sensor's data.", usual=105)
FIVE = Band(5.0, None, "The trade keeps 5 % in hand below the limit.",
            ("common-practice", "5 % in hand below a sensor's or a controller's limit."))
_FORM: Source = ("published", "40 CFR 1065.930, the same form of the sum (read in a cut-off copy).")

SUMS: tuple[Sum, ...] = (
    make_sum("airflow", standard_pressure_kpa, "Air pressure at an altitude", (ALTITUDE,), "kPa",
             "101.325 × (1 - 0.0065 × H ÷ 288.15) ^ 5.2559, H = 6 356 766 × h ÷ (6 356 766 + h)", (ISO_2533,), 0.04,
             notes=("Weather moves the real pressure by about 3 %.",)),
    make_sum("airflow", air_density_kg_m3, "Air density",
             (AMBIENT._replace(name="pressure_kpa", title="Air pressure", low=10, high=500),
              INTAKE_TEMP._replace(name="temp_c", title="Air temperature", high=250)), "kg/m³",
             "1000 × kPa ÷ (287.05 × (°C + 273.15))", (ISO_2533,), 0.05,
             notes=("This is dry air. Damp air holds less of it: about 2 % at 25 °C, up to 5 % in damp heat.",)),
    make_sum("airflow", engine_airflow_g_s, "Airflow of an engine, peak or idle",
             (DISPLACEMENT, ENGINE_RPM, EFFICIENCY, AMBIENT, BOOST, INTAKE_TEMP), "g/s",
             "displacement ÷ 2 × rpm ÷ 60 × efficiency ÷ 100 × density; "
             "density = 1000 × (ambient + boost) ÷ (287.05 × (°C + 273.15))", (_FORM, ISO_2533), 0.05,
             notes=("Efficiency is of the air at the throttle's inlet (boost included), so at idle it is low.",)),
    make_sum("airflow", airflow_for_power_g_s, "Airflow that a power asks for", (POWER, BSFC, AIR_FUEL), "g/s",
             "kW × g/kWh × air-fuel ratio ÷ 3600", (ARITHMETIC,), 0.1,
             notes=("An estimate to size a sensor; never a value to load.",)),
    make_sum("airflow", airflow_sensor_headroom_percent, "Airflow sensor: what is left at peak", (_SENSOR, _PEAK), "%",
             "100 × (1 - peak ÷ limit)", (ARITHMETIC,), 0.0, 3, FIVE),
    make_sum("airflow", frequency_headroom_percent, "Controller's frequency ceiling: what is left",
             (_COUNTED, _PEAK_HZ), "%", "100 × (1 - peak ÷ limit)", (ARITHMETIC,), 0.0, 3, FIVE),
    make_sum("airflow", pressure_sensor_headroom_percent, "Manifold pressure sensor: what is left at full boost",
             (_SCALE, AMBIENT._replace(falls=True), BOOST._replace(falls=True)), "%",
             "100 × (1 - (ambient + boost) ÷ full scale)", (ARITHMETIC,), 0.0, 3, FIVE),
)
