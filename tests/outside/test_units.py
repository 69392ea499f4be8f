"""Every conversion between the two unit systems against GNU units and pint."""
from __future__ import annotations

import pytest

from tests.outside.tools import pint_units, units
from wizard.sums.forms.units import OTHER, SPELLINGS, convert, read_number

# our name -> (GNU units' name, pint's name)
NAMES = {
    "mm": ("mm", "mm"), "in": ("inch", "inch"), "m": ("m", "m"), "ft": ("ft", "ft"), "km/h": ("km/hour", "km/hour"),
    "mph": ("mile/hour", "mile/hour"), "m/s": ("m/s", "m/s"), "ft/s": ("ft/s", "ft/s"), "turns/km": ("1/km", "1/km"),
    "turns/mile": ("1/mile", "1/mile"), "pulses/km": ("1/km", "1/km"), "pulses/mile": ("1/mile", "1/mile"),
    "g/s": ("g/s", "g/s"), "lb/h": ("lb/hour", "lb/hour"), "L": ("liter", "liter"), "cu in": ("inch^3", "inch**3"),
    "L/h": ("liter/hour", "liter/hour"), "US gal/h": ("usgallon/hour", "gallon/hour"), "L/min": ("liter/minute", "liter/minute"),
    "US gal/min": ("usgallon/minute", "gallon/minute"), "kPa": ("kPa", "kPa"), "psi": ("psi", "psi"), "kW": ("kW", "kW"),
    "hp": ("hp", "hp"), "g/kWh": ("g/(kW hour)", "g/(kW*hour)"), "lb/hp h": ("lb/(hp hour)", "lb/(hp*hour)"),
    "K": ("kelvin", "kelvin"), "°F difference": ("degF", "delta_degF"), "kg/L": ("kg/liter", "kg/liter"),
    "lb/US gal": ("lb/usgallon", "lb/gallon"), "kg/m³": ("kg/m^3", "kg/m**3"), "lb/cu ft": ("lb/ft^3", "lb/ft**3"),
    "Ω/km": ("ohm/km", "ohm/km"), "Ω/1000 ft": ("ohm/(1000 ft)", "ohm/kft"), "kJ/kg K": ("kJ/(kg K)", "kJ/(kg*K)"),
    "BTU/lb °F": ("btu/(lb degF)", "Btu/(lb*delta_degF)"), "cm": ("cm", "cm"), "inch": ("inch", "inch"), '"': ("inch", "inch"),
    "kg/h": ("kg/hour", "kg/hour"), "bar": ("bar", "bar"), "PS": ("metrichorsepower", "metric_horsepower"), "cc": ("cc", "cc"),
    "ci": ("inch^3", "inch**3"), "mV": ("mV", "mV"), "V": ("V", "V"), "kHz": ("kHz", "kHz"), "Hz": ("Hz", "Hz"), "mA": ("mA", "mA"),
    "A": ("A", "A"), "kΩ": ("kiloohm", "kohm"), "Ω": ("ohm", "ohm"), "ohm": ("ohm", "ohm"), "kohm": ("kiloohm", "kohm"),
    "mohm": ("milliohm", "mohm"), "mΩ": ("milliohm", "mohm"), "km": ("km", "km"), "mile": ("mile", "mile"), "W": ("W", "W"),
}
PAIRS = sorted({(a, b.name) for a, b in (*OTHER.items(), *SPELLINGS.items()) if "°C" not in (a, b.name)})


@pytest.mark.parametrize(("ours", "other"), PAIRS)
def test_a_conversion_is_that_of_gnu_units_and_pint(ours, other, compare):
    """Source: GNU units and pint (the British thermal unit is the international-table one in both)."""
    unit = pint_units()
    theirs = units(f"37.5 {NAMES[ours][0]}", NAMES[other][0])
    pints = unit.Quantity(37.5, NAMES[ours][1]).to(NAMES[other][1]).magnitude

    compare(f"unit {ours} to {other}", convert(37.5, ours, other), theirs, 2e-6, "GNU units")
    compare(f"unit {ours} to {other}", convert(37.5, ours, other), pints, 2e-6, "pint")


@pytest.mark.parametrize("celsius", [-40, 0, 25, 100])
def test_a_temperature_is_that_of_gnu_units(celsius, compare):
    """Source: GNU units' tempC and tempF."""
    theirs = units(f"tempC({celsius})", "tempF")

    compare("unit °C to °F", convert(celsius, "°C", "°F"), theirs, 1e-9, "GNU units")
    compare("unit F to °C", read_number(f"{theirs} F", "°C"), celsius, 1e-6, "GNU units, backwards", floor=1)


@pytest.mark.parametrize(("spelled", "value", "wanted", "gnu"), [
    ("F", 77, "°F", "tempF(77)"), ("C", 25, "°F", "tempC(25)"), ("F", -40, "°C", "tempF(-40)")])
def test_a_spelling_goes_on_to_the_other_system_in_two_steps(spelled, value, wanted, gnu, compare):
    """Source: GNU units."""
    theirs = units(gnu, "tempF" if wanted == "°F" else "tempC")

    compare(f"unit {spelled} to {wanted}", convert(value, spelled, wanted), theirs, 1e-9, "GNU units", floor=1)


@pytest.mark.parametrize(("spelled", "wanted"), [("cm", "in"), ("bar", "psi"), ("kg/h", "lb/h"), ("PS", "hp"), ("cc", "cu in"), ("km", "ft")])
def test_a_metric_spelling_goes_on_to_the_other_system(spelled, wanted, compare):
    """Source: GNU units."""
    theirs = units(f"5 {NAMES[spelled][0]}", NAMES[wanted][0])

    compare(f"unit {spelled} to {wanted}", convert(5, spelled, wanted), theirs, 1e-9, "GNU units")
