"""Throttle bodies against real air expanded in a library."""
from __future__ import annotations

import math

import pytest

from tests.outside.tools import library, pint_units
from wizard.sums.throttle import throttle_choked_flow_g_s, throttle_flow_g_s, throttle_headroom_percent

KELVIN, PASCAL = 298.15, 101325.0


def expanded(pressure: float) -> tuple[float, float]:
    """Speed and mass flux of air expanded without loss from rest to a pressure. Source: CoolProp, real air."""
    properties = library("CoolProp.CoolProp").PropsSI
    enthalpy, entropy = (properties(p, "T", KELVIN, "P", PASCAL, "Air") for p in ("H", "S"))
    there, density = (properties(p, "S", entropy, "P", pressure, "Air") for p in ("H", "D"))
    speed = math.sqrt(2 * (enthalpy - there))
    return speed, speed * density


@pytest.mark.parametrize("bore", [55, 65, 75, 90])
def test_the_choked_flow_is_the_largest_that_real_air_reaches(bore, compare):
    """Source: CoolProp: isentropic expansion of real air, the largest mass flux found by scipy."""
    best = library("scipy.optimize").minimize_scalar(lambda p: -expanded(p)[1], bounds=(30000, 90000), method="bounded")
    theirs = -best.fun * math.pi / 4 * (bore / 1000) ** 2 * 0.85 * 1000

    compare("throttle_choked_flow_g_s", throttle_choked_flow_g_s(bore, 85, PASCAL / 1000, 25), theirs, 0.003, "CoolProp, real air expanded")


def test_it_chokes_at_the_pressure_that_the_library_gives(compare):
    """Source: fluids.compressible.P_critical_flow: 53 528 Pa for air at 101 325 Pa."""
    critical = library("fluids").compressible.P_critical_flow(PASCAL, 1.4)
    drop = (PASCAL - critical) / 1000
    at = throttle_flow_g_s(75, 85, PASCAL / 1000, drop, 25)

    compare("throttle_flow_g_s", at, throttle_choked_flow_g_s(75, 85, PASCAL / 1000, 25), 1e-9, "fluids, critical pressure")
    assert throttle_flow_g_s(75, 85, PASCAL / 1000, drop - 2, 25) < at == throttle_flow_g_s(75, 85, PASCAL / 1000, drop + 2, 25)


@pytest.mark.parametrize("drop", [0.5, 1, 2, 5, 15, 30])
def test_the_flow_at_a_loss_is_that_of_real_air(drop, compare):
    """Source: CoolProp: isentropic expansion of real air through 75 mm, discharge 0.85 (common practice)."""
    theirs = expanded(PASCAL - 1000 * drop)[1] * math.pi / 4 * 0.075 ** 2 * 0.85 * 1000

    compare("throttle_flow_g_s", throttle_flow_g_s(75, 85, PASCAL / 1000, drop, 25), theirs, 0.003, "CoolProp, real air expanded")


def test_a_small_loss_follows_bernoulli(compare):
    """Source: Bernoulli's equation, any fluid mechanics text, density by CoolProp; 0.2 kPa hardly compresses the air."""
    density = library("CoolProp.CoolProp").PropsSI("D", "T", KELVIN, "P", PASCAL, "Air")
    theirs = math.pi / 4 * 0.075 ** 2 * 0.85 * math.sqrt(2 * density * 200) * 1000

    compare("throttle_flow_g_s", throttle_flow_g_s(75, 85, PASCAL / 1000, 0.2, 25), theirs, 0.002, "Bernoulli, CoolProp density")


@pytest.mark.parametrize(("passes", "peak"), [(890, 304), (256, 304)])
def test_what_is_left_is_a_plain_share(passes, peak, compare):
    """Source: pint."""
    unit = pint_units()
    theirs = ((passes - peak) * unit.g / (passes * unit.g)).to("percent").magnitude

    compare("throttle_headroom_percent", throttle_headroom_percent(passes, peak), theirs, 1e-9, "pint")
