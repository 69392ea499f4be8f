"""Trigger wheels and tachometers against units and wheels turned step by step."""
from __future__ import annotations

import pytest

from tests.outside.tools import library, units
from wizard.sums.trigger import (engine_speed_seen_rpm, tachometer_converter_ratio, tachometer_pulses_per_rev,
                                 tachometer_shown_rpm, tooth_frequency_hz, trigger_frequency_hz)


def edge_times(pitch: int, missing: int, rpm: float, turns: int):
    """Times in s of the rising edges of a wheel turned at a steady speed; the last `missing` teeth are cut off."""
    numpy = library("numpy")
    turn = 60.0 / rpm
    one = numpy.arange(pitch - missing) * turn / pitch
    return numpy.concatenate([one + k * turn for k in range(turns)])


@pytest.mark.parametrize(("pitch", "missing", "rpm"), [(60, 2, 6500), (36, 1, 7000), (24, 0, 6500), (4, 0, 6500)])
def test_a_turned_wheel_gives_the_frequencies_of_the_sums(pitch, missing, rpm, compare):
    """Source: edges of a wheel turned step by step in the test (numpy), and GNU units."""
    numpy = library("numpy")
    times = edge_times(pitch, missing, rpm, 100)
    mean = len(times) / (100 * 60.0 / rpm)
    between = 1.0 / float(numpy.min(numpy.diff(times)))

    compare("trigger_frequency_hz", trigger_frequency_hz(pitch - missing, rpm), mean, 1e-9, "wheel turned in the test")
    compare("trigger_frequency_hz", trigger_frequency_hz(pitch - missing, rpm), units(f"{pitch - missing}*{rpm}/minute", "Hz"), 1e-12, "GNU units")
    compare("tooth_frequency_hz", tooth_frequency_hz(pitch, rpm), between, 1e-6, "wheel turned in the test")


@pytest.mark.parametrize(("present", "expected", "rpm"), [(24, 58, 6000), (58, 24, 3000)])
def test_a_counter_that_expects_other_teeth_shows_a_wrong_speed(present, expected, rpm, compare):
    """Source: a counter in the test that calls every `expected` edges one turn."""
    times = edge_times(present, 0, rpm, 1000)
    believed = len(times) / expected / (1000 * 60.0 / rpm) * 60

    compare("engine_speed_seen_rpm", engine_speed_seen_rpm(rpm, present, expected), believed, 1e-9, "counter in the test")


@pytest.mark.parametrize(("cylinders", "pulses"), [(4, 2), (6, 3), (8, 4)])
def test_a_four_stroke_sends_half_its_cylinders_per_turn(cylinders, pulses, compare):
    """Source: common practice, no source: four cylinders 2, six 3, eight 4."""
    compare("tachometer_pulses_per_rev", tachometer_pulses_per_rev(cylinders, 4), pulses, 0, "trade values, common practice")


def test_a_tachometer_made_for_other_cylinders_is_put_right_by_the_converters_ratio(compare):
    """Source: GNU units, and the round trip through the converter."""
    wrong = tachometer_shown_rpm(6000, 2, 4)
    ratio = tachometer_converter_ratio(4, 2)

    compare("tachometer_shown_rpm", wrong, units("6000/minute*2/4", "1/minute"), 1e-12, "GNU units")
    compare("tachometer_converter_ratio", wrong * ratio, 6000, 1e-12, "round trip")
