"""The speed signal against units, an oscilloscope's arithmetic, and the table of the design's outside checks."""
from __future__ import annotations

import pytest

from tests.outside.tools import library, pint_units, units
from wizard.sums.forms.units import MILE_M
from wizard.sums.speed import (highest_countable_speed_km_h, lowest_readable_speed_km_h, pulses_per_km_before_transfer,
                               pulses_per_km_cable, pulses_per_km_measured, pulses_per_km_shaft, pulses_per_km_wheel,
                               signal_ratio, speed_error_after_change_percent, speed_number_error_percent,
                               speed_number_error_percent_cable, speed_number_error_percent_counted,
                               speed_number_error_percent_wheel, speed_signal_hz)

SHAFTS = [(40, 3.42, 225, 60, 16), (8, 3.08, 245, 45, 18), (17, 3.73, 265, 70, 17)]


def diameter(width: int, aspect: int, rim: int) -> float:
    return 25.4 * rim + 2 * width * aspect / 100


@pytest.mark.parametrize(("teeth", "ratio", "width", "aspect", "rim"), SHAFTS)
def test_a_shaft_sensor_gives_the_pulses_that_units_gives(teeth, ratio, width, aspect, rim, compare):
    """Source: GNU units and pint."""
    d = diameter(width, aspect, rim)
    tyre = f"({rim} inch + 2*{aspect / 100}*{width} mm)"
    ours = pulses_per_km_shaft(teeth, ratio, d)
    unit = pint_units()
    road = 3.05 * (d * unit.mm) / unit.turn
    hertz = (teeth / unit.turn * ratio * (100 * unit.km / unit.hour) / road).to("1/s").magnitude

    compare("pulses_per_km_shaft", ours, units(f"{teeth}*{ratio} km/(3.05 {tyre})", "1"), 1e-12, "GNU units")
    compare("pulses_per_km_shaft", ours * MILE_M / 1000, units(f"{teeth}*{ratio} mile/(3.05 {tyre})", "1"), 1e-12, "GNU units")
    compare("speed_signal_hz", speed_signal_hz(ours, 100), hertz, 1e-12, "pint")
    compare("pulses_per_km_before_transfer", pulses_per_km_before_transfer(teeth, 2.72, ratio, d),
            units(f"{teeth}*2.72*{ratio} km/(3.05 {tyre})", "1"), 1e-12, "GNU units")


def test_a_wheel_sensor_gives_the_pulses_that_units_gives(compare):
    """Source: GNU units and pint."""
    d = diameter(205, 55, 16)
    ours = pulses_per_km_wheel(48, d)
    unit = pint_units()
    hertz = (48 / unit.turn * (60 * unit.mile / unit.hour) / (3.05 * d * unit.mm / unit.turn)).to("1/s").magnitude

    compare("pulses_per_km_wheel", ours, units("48 km/(3.05 (16 inch + 2*0.55*205 mm))", "1"), 1e-12, "GNU units")
    compare("speed_signal_hz", speed_signal_hz(ours, 60 * MILE_M / 1000), hertz, 1e-12, "pint")


def test_at_sixty_miles_an_hour_hertz_times_sixty_is_pulses_per_mile(compare):
    """Source: arithmetic, known in the trade; common practice."""
    per_km = pulses_per_km_shaft(40, 3.42, 676.4)
    hertz = speed_signal_hz(per_km, 60 * MILE_M / 1000)

    compare("speed_signal_hz", hertz * 60, per_km * MILE_M / 1000, 1e-12, "identity at 60 mph")


def test_pulses_simulated_tooth_by_tooth_over_a_kilometre_are_those_of_the_sum(compare):
    """Source: a wheel rolled step by step in the test, teeth passing a point counted; no formula shared."""
    numpy = library("numpy")
    d, teeth, ratio = 676.4, 17, 3.73
    wheel_turns = numpy.linspace(0, 1000 / (3.05 * d / 1000), 2_000_001)
    passed = numpy.count_nonzero(numpy.diff(numpy.floor(wheel_turns * ratio * teeth)))

    compare("pulses_per_km_shaft", pulses_per_km_shaft(teeth, ratio, d), passed, 1 / passed, "step-by-step count in the test")


def test_a_cable_of_a_thousand_turns_a_mile_gives_eight_thousand_pulses_a_mile(compare):
    """Source: SAE J678 nominal of 1000 turns per mile, from memory; the conversion is GNU units'."""
    theirs = units("1000/mile*8", "1/km")

    compare("pulses_per_km_cable", pulses_per_km_cable(units("1000/mile", "1/km"), 8), theirs, 1e-12, "GNU units")


def test_a_measured_mile_gives_pulses_per_kilometre(compare):
    """Source: GNU units."""
    compare("pulses_per_km_measured", pulses_per_km_measured(106700, 1609.344), units("106700/mile", "1/km"), 1e-12, "GNU units")


def test_the_frequency_limit_is_reached_at_the_speed_that_units_gives(compare):
    """Source: GNU units."""
    theirs = units("4000 Hz/(64000/km)", "km/hour")

    compare("highest_countable_speed_km_h", highest_countable_speed_km_h(64000, 4000), theirs, 1e-12, "GNU units")


def test_a_coil_sensor_reaches_its_threshold_where_its_simulated_voltage_does(compare):
    """Source: Faraday's law in the test: the peak slope of a sine flux grows with frequency; scipy finds the speed."""
    optimize = library("scipy.optimize")
    numpy = library("numpy")
    turns, flux = numpy.linspace(0, 1, 4001), 1.0e-3

    def peak(speed: float) -> float:
        seconds = turns / (speed * 18.0)
        return float(numpy.max(numpy.gradient(flux * numpy.sin(2 * numpy.pi * turns), seconds)))

    theirs = optimize.brentq(lambda v: peak(v) - 0.3, 0.1, 200)

    compare("lowest_readable_speed_km_h", lowest_readable_speed_km_h(0.3, peak(20.0), 20.0), theirs, 1e-6,
            "Faraday's law stepped in the test, root by scipy")


@pytest.mark.parametrize(("programmed", "teeth", "ratio", "d"), [(64377, 40, 3.42, 676.4), (25000, 17, 3.73, 802.8)])
def test_the_error_is_that_of_pints_speeds(programmed, teeth, ratio, d, compare):
    """Source: pint: distance the reader believes over distance rolled."""
    unit = pint_units()
    rolled = 1 * unit.km
    pulses = (rolled / (3.05 * d * unit.mm)).to("").magnitude * ratio * teeth
    believed = pulses / (programmed / unit.km)
    theirs = ((believed - rolled) / rolled).to("percent").magnitude

    compare("speed_number_error_percent", speed_number_error_percent(programmed, teeth, ratio, d), theirs, 1e-9, "pint")
    compare("speed_number_error_percent_wheel", speed_number_error_percent_wheel(programmed / ratio, teeth, d), theirs, 1e-9, "pint")


def test_a_change_of_axle_and_tyre_shows_the_error_of_two_worked_roads(compare):
    """Source: GNU units, the same road worked out with both sets of parts."""
    theirs = 100 * (units("3.73 km/(3.05 28.5 inch)", "1") / units("3.08 km/(3.05 26.6 inch)", "1") - 1)
    ours = speed_error_after_change_percent(3.08, 3.73, 26.6 * 25.4, 28.5 * 25.4)

    compare("speed_error_after_change_percent", ours, theirs, 1e-9, "GNU units")


def test_a_divider_turns_what_is_there_into_what_is_wanted(compare):
    """Source: GNU units: 4000 pulses a mile wanted of 40 000 a kilometre."""
    theirs = units("(4000/mile)/(40000/km)", "1")

    compare("signal_ratio", signal_ratio(4000 / 1.609344, 40000), theirs, 1e-12, "GNU units")


@pytest.mark.parametrize(("programmed", "turns_per_mile", "pulses"), [(4000, 1000, 8), (5000, 1000, 8), (2500, 940, 4)])
def test_the_error_of_a_cable_sender_is_that_of_the_miles_it_believes(programmed, turns_per_mile, pulses, compare):
    """Source: GNU units: distance believed over a mile driven."""
    sent = f"{turns_per_mile}/mile*{pulses}"
    theirs = 100 * units(f"({sent}*mile/({programmed}/km) - mile)/mile", "1")

    compare("speed_number_error_percent_cable", speed_number_error_percent_cable(programmed, units(f"{turns_per_mile}/mile", "1/km"), pulses),
            theirs, 1e-9, "GNU units", floor=1)
    compare("speed_number_error_percent_counted", speed_number_error_percent_counted(programmed, units(sent, "1/km")), theirs, 1e-9,
            "GNU units", floor=1)
