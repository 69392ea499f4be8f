"""Airflow sensor tables against two interpolators of a library, on a made-up table (no open one is known)."""
from __future__ import annotations

import pytest

from tests.outside.tools import library
from wizard.sums.forms.airflow_table import (FlowTable, airflow_sensor_g_s, airflow_sensor_hz, airflow_sensor_usable_g_s,
                                             flow_at_frequency_g_s, frequency_at_flow_hz, make_flow_table, usable_flow_g_s)
from wizard.sums.forms.shapes import Refusal

POINTS = [(1500, 2), (2500, 7), (4000, 24), (6000, 75), (8000, 165), (10000, 300), (12000, 480)]    # invented


@pytest.fixture
def flows() -> FlowTable:
    """The invented table."""
    made = make_flow_table(POINTS)
    assert isinstance(made, FlowTable)
    return made


@pytest.mark.parametrize("hertz", [1500, 1900, 2500, 3333, 5000, 7000, 9000, 11000, 12000])
def test_a_frequency_reads_as_numpys_straight_line(flows, hertz, compare):
    """Source: numpy.interp."""
    hz, g_s = zip(*POINTS)
    theirs = float(library("numpy").interp(hertz, hz, g_s))

    compare("airflow_sensor_g_s", airflow_sensor_g_s(flows, hertz).value, theirs, 1e-12, "numpy.interp")


@pytest.mark.parametrize("flow", [2, 5, 15.5, 60, 120, 250, 303.6738, 480])
def test_a_flow_reads_back_as_numpys_straight_line(flows, flow, compare):
    """Source: numpy.interp, columns exchanged."""
    hz, g_s = zip(*POINTS)
    theirs = float(library("numpy").interp(flow, g_s, hz))

    compare("airflow_sensor_hz", airflow_sensor_hz(flows, flow).value, theirs, 1e-12, "numpy.interp")


@pytest.mark.parametrize("hertz", [4500, 5000, 7000, 8500, 9000, 9500, 11000, 11900])
def test_the_line_is_within_eleven_per_cent_of_a_smooth_rising_curve_above_idle(flows, hertz, compare):
    """Source: scipy PchipInterpolator, a monotone curve through the same points.

    The bend is what the line leaves out: most where a step of the table triples the flow, 3 % near its end.
    """
    smooth = library("scipy.interpolate").PchipInterpolator(*zip(*POINTS))
    read = flow_at_frequency_g_s(flows, hertz)
    compare("airflow_sensor_g_s", read.value, float(smooth(hertz)), 0.11, "scipy PchipInterpolator")

    assert read.at_least <= float(smooth(hertz)) <= read.at_most


def test_a_controller_that_counts_to_ten_kilohertz_cannot_meter_a_large_engine_and_one_of_twelve_can(flows):
    """Source: the same made-up table; 303.67 g/s is the airflow of 5.7 L at 6000 rpm (see test_air)."""
    needed = 303.6738

    assert usable_flow_g_s(flows, 10000).value == 300 < needed < usable_flow_g_s(flows, 12000).value
    assert frequency_at_flow_hz(flows, needed).value == pytest.approx(10040.8, abs=0.1)


@pytest.mark.parametrize(("limit", "most"), [(9000, 232.5), (15000, 480)])
def test_the_most_that_can_be_counted_ends_with_the_sooner_of_controller_and_table(flows, limit, most, compare):
    """Source: numpy.interp, which holds the last value beyond the table's end."""
    hz, g_s = zip(*POINTS)

    compare("airflow_sensor_usable_g_s", airflow_sensor_usable_g_s(flows, limit).value, float(library("numpy").interp(limit, hz, g_s)), 1e-12, "numpy.interp")
    assert airflow_sensor_usable_g_s(flows, limit).value == most


@pytest.mark.parametrize("hertz", [0, 1499.9, 12000.1, 30000])
def test_nothing_is_read_beyond_the_ends_where_a_library_would_guess_on(flows, hertz):
    """Source: scipy's curve happily continues; ours refuses. US patent 9 689 322 B2 says that the curve is not straight."""
    smooth = library("scipy.interpolate").PchipInterpolator(*zip(*POINTS))
    refused = flow_at_frequency_g_s(flows, hertz)

    assert library("numpy").isfinite(smooth(hertz))
    assert isinstance(refused, Refusal) and "never continued past its ends" in refused.text
