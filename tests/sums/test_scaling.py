"""Scaling laws: what doubling an input does, worked out from the physics and not from the formula in the code."""
from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.sums.cases import FEW, work
from wizard.sums.forms import REGISTRY
from wizard.sums.powers import natural_exp, natural_log, power

# sum, input, exponent of the result in that input
LAWS = [
    ("tyre_revs_per_km", "diameter_mm", -1), ("pulses_per_km_shaft", "teeth", 1), ("pulses_per_km_shaft", "axle_ratio", 1),
    ("pulses_per_km_shaft", "diameter_mm", -1), ("pulses_per_km_wheel", "teeth", 1), ("speed_signal_hz", "speed_km_h", 1),
    ("highest_countable_speed_km_h", "pulses_per_km", -1), ("lowest_readable_speed_km_h", "amplitude_v", -1),
    ("engine_speed_rpm", "diameter_mm", -1), ("engine_speed_rpm", "gear_ratio", 1), ("road_speed_km_h", "diameter_mm", 1),
    ("engine_airflow_g_s", "displacement_l", 1), ("engine_airflow_g_s", "engine_rpm", 1), ("airflow_for_power_g_s", "power_kw", 1),
    ("injector_flow_needed_cc_min", "injectors", -1), ("injector_flow_needed_cc_min", "duty_percent", -1),
    ("injector_flow_at_pressure_cc_min", "pressure_kpa", 0.5), ("injector_flow_at_pressure_cc_min", "rated_kpa", -0.5),
    ("pump_current_a", "pressure_kpa", 1), ("pump_current_a", "voltage_v", -1), ("line_pressure_drop_kpa", "length_m", 1),
    ("wire_drop_v", "current_a", 1), ("wire_drop_v", "length_m", 1), ("solid_resistance_ohm_km", "section_mm2", -1),
    ("wire_current_for_heat_a", "film_w_m2k", 0.5), ("ground_lift_v", "load_current_a", 1), ("ground_lift_v", "strap_mohm", 1),
    ("case_return_error_v", "load_current_a", 1), ("alternator_speed_rpm", "alternator_pulley_mm", -1),
    ("excitation_resistor_w", "voltage_v", 2), ("coolant_flow_l_min", "rise_k", -1), ("coolant_flow_l_min", "heat_kw", 1),
    ("trigger_frequency_hz", "engine_rpm", 1), ("termination_ohm", "terminators", -1), ("throttle_choked_flow_g_s", "bore_mm", 2),
    ("throttle_flow_g_s", "bore_mm", 2), ("speed_shown_percent", "programmed_per_km", -1), ("ballast_power_w", "duty_percent", 1),
]


@pytest.mark.parametrize(("name", "input", "exponent"), LAWS)
@settings(max_examples=FEW)
@given(factor=st.floats(0.5, 2.0))
def test_a_sum_scales_with_an_input_as_physics_has_it(name, input, exponent, factor):
    one = REGISTRY[name]
    usual = {p.name: p.usual for p in one.params}
    moved = work(one, {**usual, input: usual[input] * factor})

    assert moved == pytest.approx(work(one, usual) * factor ** exponent, rel=1e-9)


@settings(max_examples=FEW)
@given(flow=st.floats(300, 1000), factor=st.floats(1.1, 2.0))
def test_a_turbulent_lines_drop_grows_with_flow_to_the_seven_quarters(flow, factor):
    drop = REGISTRY["line_pressure_drop_kpa"].function
    line = {"bore_mm": 8, "length_m": 5, "density_kg_m3": 745, "viscosity_mpa_s": 0.5}
    ratio = drop(flow_l_h=flow * factor, **line) / drop(flow_l_h=flow, **line)

    assert ratio == pytest.approx(factor ** 1.75, rel=1e-9)


@settings(max_examples=FEW)
@given(bore=st.floats(5, 8), factor=st.floats(1.05, 1.5))
def test_a_laminar_lines_drop_falls_with_the_fourth_power_of_its_bore(bore, factor):
    drop = REGISTRY["line_pressure_drop_kpa"].function
    line = {"flow_l_h": 5, "length_m": 5, "density_kg_m3": 745, "viscosity_mpa_s": 3}
    ratio = drop(bore_mm=bore * factor, **line) / drop(bore_mm=bore, **line)

    assert ratio == pytest.approx(factor ** -4, rel=1e-9)


@settings(max_examples=FEW)
@given(kelvin=st.floats(240, 360), factor=st.floats(0.8, 1.0))
def test_air_thins_in_proportion_to_absolute_temperature(kelvin, factor):
    density = REGISTRY["air_density_kg_m3"].function

    assert density(100, kelvin * factor - 273.15) * factor == pytest.approx(density(100, kelvin - 273.15), rel=1e-9)


@settings(max_examples=FEW)
@given(gauge=st.integers(-3, 34))
def test_six_gauges_thinner_is_half_the_diameter_and_a_quarter_of_the_section(gauge):
    section = REGISTRY["awg_section_mm2"].function

    assert section(gauge) / section(gauge + 6) == pytest.approx(4.02, rel=0.002)
    assert math.sqrt(section(gauge) / section(gauge + 39)) == pytest.approx(92, rel=1e-9)


@given(base=st.floats(1e-6, 1e6), exponent=st.floats(-6, 6))
def test_a_power_is_the_librarys_to_the_last_digits(base, exponent):
    assert power(base, exponent) == pytest.approx(base ** exponent, rel=3e-14)


@given(value=st.floats(1e-300, 1e300))
def test_a_logarithm_is_the_librarys_to_the_last_digits_and_undoes_the_exponential(value):
    assert natural_log(value) == pytest.approx(math.log(value), rel=1e-15, abs=2e-16)
    assert natural_exp(natural_log(value)) == pytest.approx(value, rel=3e-13)


@pytest.mark.parametrize("value", [0.0, -1.0, math.nan])
def test_a_logarithm_that_does_not_exist_raises(value):
    with pytest.raises(ValueError, match="does not exist"):
        natural_log(value)
