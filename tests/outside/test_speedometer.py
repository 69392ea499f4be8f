"""The speedometer against the regulation's formula and units."""
from __future__ import annotations

import pytest

from tests.outside.tools import pint_units, units
from wizard.sums.speedometer import (highest_allowed_reading_km_h, speed_shown_km_h, speed_shown_percent,
                                     speed_shown_percent_wheel, speedometer_margin_km_h)


@pytest.mark.parametrize(("true", "highest"), [(40, 48), (80, 92), (120, 136)])
def test_the_highest_reading_is_that_of_the_regulation_at_its_test_speeds(true, highest, compare):
    """Source: UN Regulation No 39, paragraph 5.3: 0 <= shown - true <= true / 10 + 4 km/h (public copies read)."""
    compare("highest_allowed_reading_km_h", highest_allowed_reading_km_h(true), true + true / 10 + 4, 1e-12, "UN Regulation No 39, 5.3")
    assert highest_allowed_reading_km_h(true) == pytest.approx(highest)


@pytest.mark.parametrize(("programmed", "teeth", "axle", "inches"), [(64000, 40, 3.42, 26.63), (26000, 17, 3.73, 31.6)])
def test_what_is_shown_is_what_pint_counts_over_a_rolled_kilometre(programmed, teeth, axle, inches, compare):
    """Source: pint."""
    unit = pint_units()
    turns = (1 * unit.km / (3.05 * inches * unit.inch)).to("").magnitude
    shaft, wheel = 100 * turns * axle * teeth / programmed, 100 * turns * teeth / programmed

    compare("speed_shown_percent", speed_shown_percent(programmed, teeth, axle, inches * 25.4), shaft, 1e-9, "pint")
    compare("speed_shown_percent_wheel", speed_shown_percent_wheel(programmed, teeth, inches * 25.4), wheel, 1e-9, "pint")
    compare("speed_shown_km_h", speed_shown_km_h(100, turns * axle * teeth, programmed), shaft, 1e-9, "pint")


def test_the_margin_in_miles_an_hour_is_the_same_margin(compare):
    """Source: GNU units: 62 shown at 60 true."""
    theirs = units("62 mile/hour - 60 mile/hour", "km/hour")
    ours = speedometer_margin_km_h(units("62 mile/hour", "km/hour"), units("60 mile/hour", "km/hour"))

    compare("speedometer_margin_km_h", ours, theirs, 1e-9, "GNU units")
