"""Cooling against real coolants and units."""
from __future__ import annotations

import pytest

from tests.outside.tools import library, units
from wizard.sums.cooling import coolant_flow_l_min, fan_current_a, fan_inrush_a, heat_to_coolant_kw, relay_rating_a


@pytest.mark.parametrize(("kw", "rise"), [(60, 8), (100, 6), (150, 10)])
@pytest.mark.parametrize("coolant", ["INCOMP::MEG-50%", "Water"])
def test_the_coolants_flow_carries_the_heat_that_its_enthalpy_says(kw, rise, coolant, compare):
    """Source: CoolProp: enthalpy of half glycol by mass, and of water, on both sides of 90 °C at 2 bar."""
    properties = library("CoolProp.CoolProp").PropsSI
    capacity, density = (properties(p, "T", 363.15, "P", 2e5, coolant) for p in ("C", "D"))
    gain = properties("H", "T", 363.15 + rise / 2, "P", 2e5, coolant) - properties("H", "T", 363.15 - rise / 2, "P", 2e5, coolant)
    theirs = units(f"{kw} kW/({gain} J/kg)/({density} kg/m^3)", "liter/minute")

    compare("coolant_flow_l_min", coolant_flow_l_min(kw, rise, capacity / 1000, density), theirs, 0.001, "CoolProp enthalpies, GNU units")


def test_the_prefilled_coolant_is_half_glycol_by_mass_at_ninety_degrees():
    """Source: CoolProp, INCOMP::MEG-50% at 90 °C and 2 bar."""
    properties = library("CoolProp.CoolProp").PropsSI

    assert properties("C", "T", 363.15, "P", 2e5, "INCOMP::MEG-50%") / 1000 == pytest.approx(3.616, abs=0.001)
    assert properties("D", "T", 363.15, "P", 2e5, "INCOMP::MEG-50%") == pytest.approx(1019, abs=1)


@pytest.mark.parametrize(("fans", "watts", "volts"), [(2, 250, 13), (1, 600, 13.5)])
def test_fans_draw_their_watts_over_volts(fans, watts, volts, compare):
    """Source: GNU units. Inrush of 3 to 6 times and a relay reserve of 25 to 33 % are from memory and common practice."""
    amperes = units(f"{fans}*{watts} W/({volts} V)", "A")

    compare("fan_current_a", fan_current_a(fans, watts, volts), amperes, 1e-12, "GNU units")
    compare("fan_inrush_a", fan_inrush_a(amperes, 4), units(f"4*{amperes} A", "A"), 1e-12, "GNU units")
    compare("relay_rating_a", relay_rating_a(amperes, 30), units(f"{amperes} A + 30 percent*{amperes} A", "A"), 1e-12, "GNU units")


def test_the_share_of_heat_in_horsepower_is_the_same_share_in_kilowatts(compare):
    """Source: GNU units; 60 to 100 % of the crank power goes to the coolant, common practice, no source."""
    theirs = units("300 hp*80 percent", "kW")

    compare("heat_to_coolant_kw", heat_to_coolant_kw(units("300 hp", "kW"), 80), theirs, 1e-12, "GNU units")
