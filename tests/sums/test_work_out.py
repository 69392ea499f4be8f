"""Working a sum out for a person: what is read, what is refused and in which words, bands, effects, both systems."""
from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.sums.cases import NUMERIC, inputs_of
from wizard.sums.copper import read_wire_size
from wizard.sums.forms import REGISTRY, Refusal, Result, as_plain, work_out
from wizard.sums.forms.rounding import plain, rounded, shown_input
from wizard.sums.forms.tyre import tyre_diameter_mm
from wizard.sums.tyre import read_tyre_size

SPACE = "\u00a0"
TABLE = "1500:2 2500:7 4000:24 6000:75 8000:165 10000:300 12000:480"
SHAFT = {"teeth": 40, "axle_ratio": 3.42, "diameter_mm": 676.4}


def usual(name: str) -> dict:
    return {p.name: TABLE if p.reads == "flow_table" else p.usual for p in REGISTRY[name].params}


@pytest.mark.parametrize("name", sorted(REGISTRY))
def test_every_sum_works_out_from_its_usual_values_and_goes_into_json(name):
    result = work_out(name, usual(name))
    assert isinstance(result, Result)
    text = json.dumps(as_plain(result), allow_nan=False)

    assert result.low <= result.value <= result.high
    assert result.shown and json.loads(text)["name"] == name
    assert len(result.inputs) == len(REGISTRY[name].params)


@given(data=st.data(), name=st.sampled_from(NUMERIC))
def test_every_input_in_its_range_gives_a_result_or_says_that_no_size_is_large_enough(data, name):
    result = work_out(name, data.draw(inputs_of(REGISTRY[name])))

    assert isinstance(result, Result) or "no listed size is large enough" in result.text


@given(data=st.data(), name=st.sampled_from(NUMERIC))
def test_an_input_outside_its_range_is_refused_by_name_with_what_was_expected(data, name):
    one = REGISTRY[name]
    param = data.draw(st.sampled_from(one.params))
    beyond = param.high + 1 if data.draw(st.booleans()) else param.low - 1
    refused = work_out(name, {**usual(name), param.name: beyond})

    assert isinstance(refused, Refusal) and refused.verdict == "refused"
    assert [w.name for w in refused.inputs] == [param.name]
    assert plain(param.low) in refused.text and plain(param.high) in refused.text and param.title in refused.text


@given(data=st.data(), name=st.sampled_from(sorted(REGISTRY)))
def test_a_missing_input_cannot_tell_and_says_how_to_measure_it(data, name):
    param = data.draw(st.sampled_from(REGISTRY[name].params))
    told = {k: v for k, v in usual(name).items() if k != param.name}
    refused = work_out(name, told)

    assert isinstance(refused, Refusal) and refused.verdict == "cannot-tell"
    assert param.measure in refused.text and "is missing" in refused.text


@pytest.mark.parametrize("value", [float("nan"), float("inf"), True, "many", [], {}, "12 parsec"])
def test_what_is_no_number_is_refused_and_never_raises(value):
    refused = work_out("pulses_per_km_shaft", {**SHAFT, "axle_ratio": value})

    assert isinstance(refused, Refusal) and refused.verdict == "refused"


def test_everything_wrong_is_said_at_once_in_whole_sentences():
    refused = work_out("pulses_per_km_shaft", {"teeth": 40.5, "axle": 3.42, "diameter_mm": "round"})

    assert refused.verdict == "refused"
    assert refused.text == (
        "There is no input called axle: expected one of teeth, axle_ratio, diameter_mm. "
        "Pulses per turn of the target cannot be 40.5: expected a whole number from 1 to 300 pulses. "
        f"Tyre diameter cannot be 'round': expected a number from 400 to 1{SPACE}300 mm, or a tyre size such as 225/60R16 or "
        "31x10.50R15 as on the sidewall, or an outside diameter such as 676 mm or 26.6 in, between 400 and 1300 mm. "
        "Axle ratio is missing: give a ratio from 2 to 8. Read the tag on the axle; or, on stands with the other wheels chocked, "
        "turn both driven wheels once together and count the turns of the propshaft.")


def test_an_unknown_sum_is_refused_with_those_near_it():
    refused = work_out("pulses_per_mile", {})

    assert refused.verdict == "refused"
    assert refused.text.startswith("No sum is called 'pulses_per_mile'. Near it: ")
    assert "pulses_per_km_shaft" in refused.text


def test_a_result_shows_both_systems_its_inputs_and_what_ten_per_cent_does():
    result = work_out("pulses_per_km_shaft", {"teeth": "40", "axle_ratio": "3.42", "diameter_mm": "225/60R16"})

    assert result.shown == f"66{SPACE}310{SPACE}pulses/km"
    assert result.shown_other == f"106{SPACE}700{SPACE}pulses/mile"
    assert [(i.shown, i.shown_other) for i in result.inputs][2] == (f"676.4{SPACE}mm", f"26.63{SPACE}in")
    assert [e.of for e in result.effects] == ["10 %", "10 %", "10 %"]
    assert result.effects[0].higher == pytest.approx(1.1 * result.value)
    assert result.effects[2].higher == pytest.approx(result.value / 1.1)
    assert (result.low, result.high) == pytest.approx((0.97 * result.value, 1.03 * result.value))


@pytest.mark.parametrize(("said", "value", "unit", "shown"), [
    ("12.345678", 12.345678, "V", "12.345678 V"), (0.7654321, 0.7654321, "mΩ", "0.7654321 mΩ"), ("1 234 567", 1234567.0, "Hz", "1 234 567 Hz"),
    ("58 psi", 399.895923, "kPa", "399.9 kPa"), ("26.6 in", 675.64, "mm", "675.6 mm"), ("225/60R16", 676.4, "mm", "676.4 mm"),
    ("12.34567 psi", 85.120401, "kPa", "85.1204 kPa"), ("\u221240 °C", -40.0, "°C", "-40 °C"), ("AWG 16", 1.309043, "mm²", "1.309 mm²"),
])
def test_an_input_is_shown_as_it_was_said_and_one_in_another_unit_by_four_digits_or_as_many(said, value, unit, shown):
    assert shown_input(value, said, unit).replace(SPACE, " ") == shown


@pytest.mark.parametrize(("section", "gauge"), [("AWG 16", "AWG 16"), ("2/0", "AWG 2/0"), ("0 AWG", "AWG 1/0"), (1.5, "AWG 15.4")])
def test_a_section_is_shown_as_a_gauge_number_in_the_other_system(section, gauge):
    result = work_out("wire_drop_v", {**usual("wire_drop_v"), "section_mm2": section})

    assert result.inputs[2].shown_other.replace(SPACE, " ") == gauge


def test_a_speed_error_is_off_by_points_and_not_by_a_share_of_itself():
    result = work_out("speed_number_error_percent", {**SHAFT, "programmed_per_km": 66310})

    assert abs(result.value) < 0.01
    assert result.high - result.low == pytest.approx(6.0)


@pytest.mark.parametrize(("output", "where"), [(60, "inside"), (55, "inside"), (54.9, "outside")])
def test_a_result_says_where_it_stands_to_the_trades_band(output, where):
    result = work_out("charge_balance_a", {"output_a": output, "load_a": 55})

    assert result.band.where == where and result.band.source[0] == "common-practice"


@pytest.mark.parametrize(("flow", "where"), [(300, "inside"), (225, "undecided"), (180, "outside")])
def test_a_band_is_undecided_within_the_uncertainty(flow, where):
    result = work_out("injector_duty_percent", {**usual("injector_duty_percent"), "injector_cc_min": flow})

    assert result.band.where == where


@pytest.mark.parametrize(("name", "key", "text", "value"), [
    ("engine_speed_rpm", "speed_km_h", "60 mph", 96.56064), ("engine_airflow_g_s", "intake_temp_c", "77 F", 25),
    ("wire_drop_v", "section_mm2", "AWG 16", 1.30870), ("wire_drop_v", "section_mm2", "1.5 mm2", 1.5),
    ("wire_drop_v", "section_mm2", "1.5", 1.5), ("injector_flow_at_pressure_cc_min", "pressure_kpa", "58 psi", 399.896),
    ("engine_airflow_g_s", "displacement_l", "350 ci", 5.73547), ("pulses_per_km_measured", "distance_m", "1 mile", 1609.344)])
def test_an_input_may_be_told_in_the_unit_or_code_that_people_know(name, key, text, value):
    result = work_out(name, {**usual(name), key: text})

    assert next(i.value for i in result.inputs if i.name == key) == pytest.approx(value, rel=1e-5)


def test_a_table_is_read_from_text_and_refused_when_it_falls_or_is_left():
    inside = work_out("airflow_sensor_hz", {"table": TABLE, "flow_g_s": 303.67})
    falls = work_out("airflow_sensor_hz", {"table": "1500:2 1400:7 4000:24", "flow_g_s": 5})
    beyond = work_out("airflow_sensor_hz", {"table": TABLE, "flow_g_s": 481})

    assert inside.value == pytest.approx(10040.8, abs=0.1) and (inside.low, inside.high) == (10000, 12000)
    assert falls.verdict == "refused" and "after 1500:2 comes 1400:7" in falls.text
    assert beyond.verdict == "refused" and "never continued past its ends" in beyond.text


def test_a_size_that_does_not_exist_is_refused_rather_than_endless():
    refused = work_out("smallest_listed_section_mm2", {"current_a": 400, "length_m": 20, "drop_v": 0.1, "temp_c": 20})

    assert refused.text == "Smallest listed section for a loss: no listed size is large enough for these inputs."


@pytest.mark.parametrize(("text", "mm"), [
    ("225/60R16", 676.4), ("P225/60 R16 98H", 676.4), ("lt265/70r17", 802.8), ("31x10.50R15LT", 787.4), ("31X10.5-15", 787.4),
    ("33x12.50R15LT 108Q", 838.2), ("225/45ZR17 94W XL", 634.3), ("195/75R16C 107/105R", 698.9), ("205/55 R 16 (91V)", 631.9),
    ("190/65R390", 637.0), ("676 mm", 676.0), ("26.6 in", 675.64), ('26.6"', 675.64)])
def test_a_tyre_size_is_read_as_its_diameter(text, mm):
    assert read_tyre_size(text) == pytest.approx(mm, abs=0.01)
    assert tyre_diameter_mm(text) == pytest.approx(mm, abs=0.01)


@pytest.mark.parametrize("text", ["", "185R14", "6.00-16", "225/60", "225/60R16 junk", "225/600R16", "100 mm", "99 in", "676",
                                  "15x10.50R31", "999/60R16", "225/60R99", "\u0662\u0662\u0665/60R16 ", "²25/60R16"])
def test_what_is_no_size_is_refused_with_what_a_size_looks_like(text):
    refused = tyre_diameter_mm(text)

    assert read_tyre_size(text) is None
    assert isinstance(refused, Refusal) and "225/60R16" in refused.text and refused.inputs[0].measure


@given(text=st.text(max_size=20))
def test_no_text_makes_a_reader_raise(text):
    assert read_tyre_size(text) is None or 400 <= read_tyre_size(text) <= 1300
    assert read_wire_size(text) is None or 0.05 <= read_wire_size(text) <= 150
    assert work_out("airflow_sensor_hz", {"table": text, "flow_g_s": 5}) is not None


@pytest.mark.parametrize(("value", "digits", "text"), [
    (66310.55, 4, f"66{SPACE}310"), (0.000124, 3, "0.000124"), (60.0, 3, "60"), (101.325, 4, "101.3"), (-3.456, 3, "-3.46"),
    (0, 4, "0"), (999.96, 4, f"1{SPACE}000"), (1234567.0, 4, f"1{SPACE}235{SPACE}000"), (-0.0, 3, "0"), (14.7, 4, "14.7")])
def test_a_number_is_rounded_to_its_digits_for_show(value, digits, text):
    assert rounded(value, digits) == text


@given(value=st.floats(1e-6, 1e7), digits=st.integers(2, 6))
def test_what_is_shown_is_within_half_a_digit_of_the_value(value, digits):
    back = float(rounded(value, digits).replace(SPACE, ""))

    assert back == pytest.approx(value, rel=0.51 * 10 ** (1 - digits))


@pytest.mark.parametrize(("said", "words"), [
    ("1500:2 2500:7", "Table of the airflow sensor cannot be used: it has 2 points. Expected: at least three points of Hz:g/s"),
    ("air", "Table of the airflow sensor cannot be used: 'air' is not a point. Expected: at least three points"),
    (5, "Table of the airflow sensor cannot be used: 5 is not a table. Expected: at least three points"),
])
def test_a_table_that_cannot_be_used_is_refused_in_a_sentence(said, words):
    found = work_out("airflow_sensor_g_s", {"table": said, "frequency_hz": 2000})

    assert isinstance(found, Refusal) and found.verdict == "refused"
    assert found.text.replace(SPACE, " ").startswith(words)


def test_a_comma_that_can_be_read_in_two_ways_is_refused_and_the_way_out_is_said():
    found = work_out("engine_airflow_g_s", {**usual("engine_airflow_g_s"), "engine_rpm": "6,000"})

    assert isinstance(found, Refusal)
    assert "a comma before three digits can be read in two ways" in found.text


def test_an_input_whose_range_is_narrow_is_moved_by_one_per_cent():
    found = work_out("blend_flow_factor", usual("blend_flow_factor"))

    assert isinstance(found, Result)
    assert [effect.of for effect in found.effects] == ["10 %", "1 %"]
    assert all(effect.lower is not None and effect.higher is not None for effect in found.effects)


@pytest.mark.parametrize("name", sorted(REGISTRY))
def test_the_effect_of_every_number_is_told_at_least_one_way(name):
    found = work_out(name, usual(name))

    assert isinstance(found, Result)
    assert [effect.name for effect in found.effects if effect.lower is None and effect.higher is None] == []


@pytest.mark.parametrize(("name", "inputs", "words"), [
    ("terminators_from_reading", {"reading_ohm": 45, "terminator_ohm": 120}, "Three terminators: one module too many carries one."),
    ("terminators_from_reading", {"reading_ohm": 50, "terminator_ohm": 100}, "Two terminators, as it should be."),
    ("injector_current_a", {"voltage_v": 14, "coil_ohm": 2.4, "series_ohm": 0}, "A coil of 1 to 5 Ω is a low-resistance one"),
    ("injector_current_a", {"voltage_v": 14, "coil_ohm": 8, "series_ohm": 0}, "This coil is neither of the usual low-resistance kind"),
])
def test_a_result_says_what_a_reading_means(name, inputs, words):
    found = work_out(name, inputs)

    assert isinstance(found, Result)
    assert found.tells.startswith(words) and found.tells.endswith(".")
