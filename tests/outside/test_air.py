"""Air against the standard atmosphere of two libraries, real air, damp air, and worked examples of a textbook."""
from __future__ import annotations

import pytest

from tests.outside.tools import library, pint_units, units
from wizard.sums.air import (air_density_kg_m3, airflow_for_power_g_s, airflow_sensor_headroom_percent,
                             engine_airflow_g_s, frequency_headroom_percent, pressure_sensor_headroom_percent,
                             standard_pressure_kpa, standard_temperature_c)

TEXTBOOK = "R. K. Rajput, A Textbook of Internal Combustion Engines, ch. 7"
HEIGHTS = [0, 500, 1000, 1500, 2000, 3000, 5000]


@pytest.mark.parametrize("height", HEIGHTS)
def test_the_standard_atmosphere_is_that_of_two_libraries(height, compare):
    """Source: ambiance (ICAO 1993 = ISO 2533) and fluids ATMOSPHERE_1976; both take geometric height."""
    one = library("ambiance").Atmosphere(height)
    other = library("fluids").atmosphere.ATMOSPHERE_1976(height)
    pressure, kelvin = standard_pressure_kpa(height), standard_temperature_c(height) + 273.15
    density = air_density_kg_m3(pressure, standard_temperature_c(height))

    compare("standard_pressure_kpa", pressure, float(one.pressure[0]) / 1000, 2e-6, "ambiance, ISO 2533")
    compare("standard_pressure_kpa", pressure, other.P / 1000, 2e-5, "fluids, US standard atmosphere 1976")
    compare("standard_temperature_c", kelvin, float(one.temperature[0]), 1e-6, "ambiance, ISO 2533")
    compare("air_density_kg_m3", density, float(one.density[0]), 2e-6, "ambiance, ISO 2533")


@pytest.mark.parametrize("height", [0, 1500, 3000])
def test_gnu_units_knows_the_same_pressure(height, compare):
    """Source: GNU units, function stdatmP (US standard atmosphere 1976)."""
    compare("standard_pressure_kpa", standard_pressure_kpa(height), units(f"stdatmP({height} m)", "kPa"), 2e-5, "GNU units stdatmP")


@pytest.mark.parametrize(("kelvin", "pascal"), [(288.15, 101325), (298.15, 100000), (323.15, 84556), (253.15, 101325), (298.15, 250000)])
def test_real_air_is_a_tenth_of_a_per_cent_from_the_ideal_gas(kelvin, pascal, compare):
    """Source: CoolProp, real air."""
    theirs = library("CoolProp.CoolProp").PropsSI("D", "T", kelvin, "P", pascal, "Air")

    compare("air_density_kg_m3", air_density_kg_m3(pascal / 1000, kelvin - 273.15), theirs, 0.0016, "CoolProp real air")


@pytest.mark.parametrize(("celsius", "damp", "most"), [(25, 0.6, 1.02), (35, 0.8, 1.05)])
def test_damp_air_is_within_what_the_sum_states(celsius, damp, most):
    """Source: CoolProp humid air: mass of the dry part in a cubic metre, 2 % less at 25 °C, 5 % less in damp heat."""
    dry_volume = library("CoolProp.CoolProp").HAPropsSI("Vda", "T", celsius + 273.15, "P", 101325, "R", damp)
    ratio = air_density_kg_m3(101.325, celsius) * dry_volume

    assert 1.0 < ratio < most


@pytest.mark.parametrize(("litres", "rpm", "share", "kelvin", "pascal"), [
    (5.7, 6000, 90, 298.15, 101325), (2.0, 6500, 85, 288.15, 101325), (3.5, 750, 35, 313.15, 101325), (6.0, 6200, 95, 298.15, 84556)])
def test_an_engine_swallows_what_real_air_and_units_say(litres, rpm, share, kelvin, pascal, compare):
    """Source: CoolProp for density, GNU units for the swept volume; the form is that of 40 CFR 1065.930."""
    density = library("CoolProp.CoolProp").PropsSI("D", "T", kelvin, "P", pascal, "Air")
    theirs = units(f"{litres} liter/2*{rpm}/minute*{share / 100}*{density} kg/m^3", "g/s")
    ours = engine_airflow_g_s(litres, rpm, share, pascal / 1000, 0, kelvin - 273.15)

    compare("engine_airflow_g_s", ours, theirs, 0.001, "CoolProp real air, GNU units")


def test_boost_adds_to_the_pressure_as_in_real_air(compare):
    """Source: CoolProp at the absolute pressure of 80 kPa of boost, GNU units."""
    density = library("CoolProp.CoolProp").PropsSI("D", "T", 323.15, "P", 181325, "Air")
    theirs = units(f"2 liter/2*6000/minute*0.95*{density} kg/m^3", "g/s")

    compare("engine_airflow_g_s", engine_airflow_g_s(2.0, 6000, 95, 101.325, 80, 50), theirs, 0.001, "CoolProp real air, GNU units")


def test_cubic_inches_times_rpm_over_3456_is_the_volume_flow(compare):
    """Source: cu in × rpm / 3456 = cubic feet per minute, common practice; exact by GNU units."""
    litres = units("350 in^3", "liter")
    grams = engine_airflow_g_s(litres, 6000, 100, 101.325, 0, 15)
    volume = units(f"{grams} g/s/({air_density_kg_m3(101.325, 15)} kg/m^3)", "ft^3/minute")

    compare("engine_airflow_g_s", volume, 350 * 6000 / 3456, 1e-9, "cu in × rpm ÷ 3456, common practice")


def test_a_textbooks_first_engine_swallows_its_fuels_air(compare):
    """Source: Rajput, example 7.2, p. 247: 4066 cm³, 3600 rpm, 15 °C, 1.013 bar, 86 kW, 0.38 kg/kWh, ratio 14, answer 0.85."""
    ours = airflow_for_power_g_s(86, 380, 14)
    swallowed = engine_airflow_g_s(4.066, 3600, 85, 101.3, 0, 15)

    compare("airflow_for_power_g_s", ours, swallowed, 0.001, TEXTBOOK + ", ex. 7.2")
    compare("engine_airflow_g_s", 100 * ours / engine_airflow_g_s(4.066, 3600, 100, 101.3, 0, 15), 85.0, 0.001, TEXTBOOK + ", ex. 7.2")


def test_a_textbooks_second_engine_has_its_volumetric_efficiency(compare):
    """Source: Rajput, example 7.5, p. 250: six of 730 cm³, 3100 rpm, 28 kg/h, ratio 13, 0.88 bar, 300 K, answer 87.43 %."""
    full = engine_airflow_g_s(4.38, 3100, 100, 88, 0, 26.85)

    compare("engine_airflow_g_s", 100 * units("28*13 kg/hour", "g/s") / full, 87.43, 0.001, TEXTBOOK + ", ex. 7.5")


@pytest.mark.parametrize(("power", "rate", "ratio"), [(225, 304, 12.6), (60, 280, 14.7)])
def test_the_air_for_a_power_is_pints(power, rate, ratio, compare):
    """Source: pint."""
    unit = pint_units()
    theirs = (power * unit.kW * rate * unit.g / (unit.kW * unit.hour) * ratio).to("g/s").magnitude

    compare("airflow_for_power_g_s", airflow_for_power_g_s(power, rate, ratio), theirs, 1e-12, "pint")


def test_the_trades_constant_for_airflow_is_pounds_per_hour_in_grams_a_second(compare):
    """Source: g/s = hp × lb/(hp h) × ratio × 0.126, common practice; 0.126 rounds 0.125998."""
    ours = airflow_for_power_g_s(units("300 hp", "kW"), units("0.5 lb/(hp hour)", "g/(kW hour)"), 12.6)

    compare("airflow_for_power_g_s", ours, 300 * 0.5 * 12.6 * 0.126, 1e-4, "trade constant 0.126, common practice")


def test_what_is_left_to_a_limit_is_a_plain_share(compare):
    """Source: GNU units, percentages of the same quantity."""
    left = units("(10000 Hz - 9.5 kHz)/(10 kHz)", "percent")
    pressure = units("(2 bar - 1 atm - 12 psi)/(2 bar)", "percent")

    compare("frequency_headroom_percent", frequency_headroom_percent(10000, 9500), left, 1e-9, "GNU units")
    compare("airflow_sensor_headroom_percent", airflow_sensor_headroom_percent(480, 456), left, 1e-9, "GNU units")
    compare("pressure_sensor_headroom_percent", pressure_sensor_headroom_percent(200, 101.325, units("12 psi", "kPa")), pressure, 1e-9, "GNU units")
