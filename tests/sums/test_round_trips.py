"""There and back: every conversion and every pair of sums that undo each other."""
from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.sums.copper import (LISTED_MM2, awg_section_mm2, nearest_awg, section_for_resistance_mm2,
                                stranded_resistance_ohm_km)
from wizard.sums.forms.airflow_table import FlowTable, flow_at_frequency_g_s, frequency_at_flow_hz, make_flow_table
from wizard.sums.forms.units import OTHER, SPELLINGS, convert, read_number
from wizard.sums.fuel import (injector_duty_percent, injector_flow_at_pressure_cc_min, injector_flow_needed_cc_min,
                              injector_pressure_fixed_kpa, power_supported_kw, rail_pressure_referenced_kpa,
                              mass_flow_from_volume_g_s, volume_flow_from_mass_cc_min)
from wizard.sums.gearing import engine_speed_rpm, road_speed_km_h
from wizard.sums.speed import (highest_countable_speed_km_h, pulses_per_km_shaft, signal_ratio, speed_number_error_percent,
                               speed_signal_hz)
from wizard.sums.speedometer import speed_shown_percent
from wizard.sums.wire import smallest_section_mm2, wire_drop_v

NUMBERS = st.floats(-1e6, 1e6)
POSITIVE = st.floats(0.01, 1e5)


@given(value=NUMBERS, pair=st.sampled_from(sorted((a, b.name) for a, b in OTHER.items())))
def test_a_value_in_the_other_system_comes_back_as_itself(value, pair):
    there = convert(value, *pair)
    back = convert(there, pair[1], pair[0])

    assert back == pytest.approx(value, rel=1e-9, abs=1e-6)


@given(value=POSITIVE, spelled=st.sampled_from(sorted(SPELLINGS)))
def test_a_number_with_a_unit_reads_as_the_number_in_the_wanted_unit(value, spelled):
    wanted = SPELLINGS[spelled].name
    read = read_number(f"{value!r} {spelled}", wanted)

    assert read == pytest.approx(convert(value, spelled, wanted), rel=1e-12)
    assert read_number(repr(value), wanted) == value


@pytest.mark.parametrize(("text", "unit", "read"), [
    ("3,42", "to 1", 3.42), ("3.42:1", "to 1", 3.42), ("0,7454", "kg/L", 0.7454), ("26,6 IN", "mm", 675.64), ("66\u00a0310 pulses/km", "pulses/km", 66310.0),
    ("12 000", "Hz", 12000.0), ("\u221240 °C", "°C", -40.0), ("12 \u2126", "Ω", 12.0), ("14.5 v", "V", 14.5), ("58 PSI", "kPa", 58 * convert(1, "psi", "kPa")),
])
def test_a_number_is_read_as_people_write_it(text, unit, read):
    assert read_number(text, unit) == pytest.approx(read, rel=1e-12)


@pytest.mark.parametrize("text", ["5 MΩ", "5 Mm", "5 MA"])
def test_mega_is_never_taken_for_milli(text):
    assert read_number(text, {"Ω": "mΩ", "m": "mm", "A": "A"}[text[-1]]) is None


@pytest.mark.parametrize("text", ["", "abc", "12 parsec", "1,500", "1,5,2", "1 2", "1 50", "nan", "inf", "--3", "3e"])
def test_a_text_that_is_no_number_in_the_unit_reads_as_none(text):
    assert read_number(text, "mm") is None


@given(flow=POSITIVE, density=st.floats(0.65, 0.9))
def test_volume_to_mass_and_back_at_one_density_is_the_same_flow(flow, density):
    back = volume_flow_from_mass_cc_min(mass_flow_from_volume_g_s(flow, density), density)

    assert back == pytest.approx(flow, rel=1e-12)


@given(section=st.floats(0.06, 150))
def test_the_section_for_a_wires_resistance_is_that_wire(section):
    back = section_for_resistance_mm2(stranded_resistance_ohm_km(section, 20))

    assert back == pytest.approx(section, rel=1e-9)


@pytest.mark.parametrize("section", LISTED_MM2)
def test_a_listed_section_comes_back_exactly(section):
    back = section_for_resistance_mm2(stranded_resistance_ohm_km(section, 20))

    assert back == pytest.approx(section, rel=1e-12)


@given(amperes=st.floats(0.1, 300), metres=st.floats(0.1, 15), drop=st.floats(0.02, 3), celsius=st.floats(-40, 150))
def test_the_smallest_section_loses_just_the_allowed_voltage(amperes, metres, drop, celsius):
    section = smallest_section_mm2(amperes, metres, drop, celsius)

    assert wire_drop_v(amperes, metres, section, celsius) == pytest.approx(drop, rel=1e-9)


@given(gauge=st.integers(-3, 40))
def test_the_gauge_of_a_gauges_section_is_itself(gauge):
    assert nearest_awg(awg_section_mm2(gauge)) == pytest.approx(gauge, abs=1e-9)


@given(speed=st.floats(1, 400), gear=st.floats(0.4, 8), axle=st.floats(2, 8), d=st.floats(400, 1300), slip=st.floats(0, 60))
def test_the_road_speed_at_an_engine_speed_is_the_speed_it_was_worked_out_from(speed, gear, axle, d, slip):
    back = road_speed_km_h(engine_speed_rpm(speed, gear, axle, d, slip), gear, axle, d, slip)

    assert back == pytest.approx(speed, rel=1e-9)


@given(per_km=st.floats(100, 5e5), hertz=st.floats(50, 5e4))
def test_at_the_highest_countable_speed_the_signal_has_just_the_limit(per_km, hertz):
    assert speed_signal_hz(per_km, highest_countable_speed_km_h(per_km, hertz)) == pytest.approx(hertz, rel=1e-9)


@given(teeth=st.integers(1, 300), axle=st.floats(2, 8), d=st.floats(400, 1300), per_km=st.floats(100, 5e5))
def test_programming_what_is_sent_leaves_no_error_and_a_ratio_of_one(teeth, axle, d, per_km):
    sent = pulses_per_km_shaft(teeth, axle, d)

    assert speed_number_error_percent(sent, teeth, axle, d) == pytest.approx(0, abs=1e-9)
    assert speed_shown_percent(sent, teeth, axle, d) == pytest.approx(100)
    assert speed_shown_percent(per_km, teeth, axle, d) - 100 == pytest.approx(speed_number_error_percent(per_km, teeth, axle, d), abs=1e-6)
    assert speed_number_error_percent(sent * signal_ratio(per_km, sent), teeth, axle, d) == pytest.approx(100 * (sent / per_km - 1), abs=1e-6)


@given(kw=st.floats(5, 1500), rate=st.floats(180, 600), n=st.integers(1, 16), duty=st.floats(10, 100), density=st.floats(0.65, 0.9))
def test_injectors_of_the_needed_flow_run_at_the_duty_and_feed_the_power(kw, rate, n, duty, density):
    flow = injector_flow_needed_cc_min(kw, rate, n, duty, density)

    assert injector_duty_percent(kw, rate, n, flow, density) == pytest.approx(duty, rel=1e-9)
    assert power_supported_kw(flow, n, duty, rate, density) == pytest.approx(kw, rel=1e-9)


@given(flow=st.floats(30, 5000), a=st.floats(50, 1000), b=st.floats(50, 1000))
def test_a_flow_taken_to_another_pressure_and_back_is_the_rated_flow(flow, a, b):
    back = injector_flow_at_pressure_cc_min(injector_flow_at_pressure_cc_min(flow, a, b), b, a)

    assert back == pytest.approx(flow, rel=1e-9)


@given(setting=st.floats(200, 800), ambient=st.floats(50, 108), manifold=st.floats(15, 400))
def test_a_referenced_regulator_keeps_its_setting_across_the_injector(setting, ambient, manifold):
    across = injector_pressure_fixed_kpa(rail_pressure_referenced_kpa(setting, ambient, manifold), ambient, manifold)

    assert across == pytest.approx(setting, rel=1e-9)


@st.composite
def flow_tables(draw: st.DrawFn) -> FlowTable:
    steps = draw(st.lists(st.tuples(st.floats(50, 3000), st.floats(0.5, 200)), min_size=3, max_size=12))
    points, hz, flow = [], 1000.0, 1.0
    for more_hz, more_flow in steps:
        points.append((hz, flow))
        hz, flow = hz + more_hz, flow + more_flow
    made = make_flow_table(points)
    assert isinstance(made, FlowTable)
    return made


@given(table=flow_tables(), share=st.floats(0, 1))
def test_a_tables_frequency_at_its_own_flow_is_the_frequency_read(table, share):
    hertz = min(table.hz[0] + share * (table.hz[-1] - table.hz[0]), table.hz[-1])
    read = flow_at_frequency_g_s(table, hertz)
    back = frequency_at_flow_hz(table, min(max(read.value, table.g_s[0]), table.g_s[-1]))

    assert back.value == pytest.approx(hertz, rel=1e-9)
    assert read.at_least <= read.value <= read.at_most + 1e-9


@given(table=flow_tables(), shares=st.tuples(st.floats(0, 1), st.floats(0, 1)))
def test_a_table_never_falls(table, shares):
    low, high = sorted(min(table.hz[0] + s * (table.hz[-1] - table.hz[0]), table.hz[-1]) for s in shares)

    assert flow_at_frequency_g_s(table, low).value <= flow_at_frequency_g_s(table, high).value + 1e-9
    assert math.isfinite(flow_at_frequency_g_s(table, high).value)
