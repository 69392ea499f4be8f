"""Air: what is asked, said and cited of its sums."""
from __future__ import annotations

from ..air import (air_density_kg_m3, airflow_for_power_g_s, airflow_sensor_headroom_percent, engine_airflow_g_s,
                   frequency_headroom_percent, pressure_sensor_headroom_percent, standard_pressure_kpa)
from .gearing import ENGINE_RPM
from .shapes import ARITHMETIC, Band, Param, Source, Sum, make_sum

ISO_2533: Source = ("from-memory", "ISO 2533 standard atmosphere; two open libraries agree with it to six figures.")

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
