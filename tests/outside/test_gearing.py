"""Gearing against units and the constants of textbooks (measured cars: see test_tyre)."""
from __future__ import annotations

import math

import pytest

from tests.outside.tools import pint_units, units
from wizard.sums.gearing import engine_speed_from_turns_rpm, engine_speed_rpm, road_speed_km_h
from wizard.sums.tyre import tyre_revs_per_km_geometry

CASES = [(60, 1.00, 3.42, 26.63), (70, 0.69, 3.73, 28.0), (30, 2.66, 3.08, 25.7)]


@pytest.mark.parametrize(("mph", "gear", "axle", "inches"), CASES)
def test_engine_speed_is_that_of_pint_and_gnu_units(mph, gear, axle, inches, compare):
    """Source: pint with geometry, GNU units with the loaded factor."""
    unit = pint_units()
    turns = tyre_revs_per_km_geometry(inches * 25.4)
    km_h = mph * 1.609344
    theirs = (mph * unit.mph / (math.pi * inches * unit.inch)).to("1/min").magnitude * gear * axle
    loaded = units(f"{mph} mile/hour/(3.05 {inches} inch)*{gear}*{axle}", "1/min")

    compare("engine_speed_from_turns_rpm", engine_speed_from_turns_rpm(km_h, gear, axle, turns, 0), theirs, 1e-12, "pint")
    compare("engine_speed_rpm", engine_speed_rpm(km_h, gear, axle, inches * 25.4, 0), loaded, 1e-12, "GNU units")
    compare("road_speed_km_h", road_speed_km_h(loaded, gear, axle, inches * 25.4, 0), km_h, 1e-12, "GNU units, backwards")


@pytest.mark.parametrize(("mph", "gear", "axle", "inches"), CASES)
def test_the_336_of_the_trade_is_four_hundredths_of_a_per_cent_off(mph, gear, axle, inches, compare):
    """Source: rpm = mph × gear × axle × 336 / inches, common practice, no source; 336 rounds 336.135."""
    turns = tyre_revs_per_km_geometry(inches * 25.4)
    ours = engine_speed_from_turns_rpm(mph * 1.609344, gear, axle, turns, 0)

    compare("engine_speed_from_turns_rpm", ours, mph * gear * axle * 336 / inches, 0.0005, "trade constant 336, common practice")


@pytest.mark.parametrize(("ratio", "km_h", "rpm"), [(10, 20, 1500), (24, 31.5, 2100)])
def test_the_rolling_radius_form_of_an_education_page_agrees(ratio, km_h, rpm, compare):
    """Source: webtec.com, education page "Rolling radius of loaded driving tyre": r in mm = 2651.51 × R × km/h / rpm."""
    radius = 2651.51 * ratio * km_h / rpm
    ours = engine_speed_from_turns_rpm(km_h, 1.0, ratio, tyre_revs_per_km_geometry(2 * radius), 0)

    compare("engine_speed_from_turns_rpm", ours, rpm, 0.0005, "webtec.com rolling radius form")


def test_a_web_example_of_road_speed_agrees(compare):
    """Source: mechguru.com worked example: 3000 rpm, 1.5 × 4, radius 12 in, 57.42 km/h (it takes pi as 3.14)."""
    turns = tyre_revs_per_km_geometry(24 * 25.4)
    ours = engine_speed_from_turns_rpm(57.42, 1.5, 4.0, turns, 0)

    compare("engine_speed_from_turns_rpm", ours, 3000, 0.0007, "mechguru.com worked example")


@pytest.mark.parametrize("slip", [2.0, 5.0, 12.0])
def test_slip_is_what_a_torque_converter_loses_of_its_input_speed(slip, compare):
    """Source: definition of slip, (input - output) / input, any transmission text; common practice."""
    locked = engine_speed_rpm(100, 1.0, 3.42, 676.4, 0)
    slipping = engine_speed_rpm(100, 1.0, 3.42, 676.4, slip)

    compare("engine_speed_rpm", 100 * (slipping - locked) / slipping, slip, 1e-9, "definition of slip")
