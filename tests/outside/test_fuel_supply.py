"""Fuel supply against a fluid mechanics library, real fuels and units."""
from __future__ import annotations

import pytest

from tests.outside.tools import library, units
from wizard.sums.fuel_supply import (line_friction_factor, line_pressure_drop_kpa, line_reynolds_number, pump_current_a,
                                     pump_flow_needed_l_h)

LINES = [(190, 6.35), (255, 7.9), (255, 9.5), (120, 4.8), (340, 7.9)]


@pytest.mark.parametrize(("litres", "bore"), LINES)
def test_a_lines_drop_is_that_of_the_friction_factor_of_the_library(litres, bore, compare):
    """Source: fluids.friction.friction_factor (smooth pipe) and thermo's isooctane at 20 °C, 5 m of line."""
    fluids = library("fluids")
    fuel = library("thermo").Chemical("isooctane", T=293.15, P=101325)
    speed = units(f"{litres} liter/hour/circlearea({bore} mm/2)", "m/s")
    reynolds = fluids.core.Reynolds(V=speed, D=bore / 1000, rho=fuel.rho, mu=fuel.mu)
    theirs = fluids.core.dP_from_K(fluids.core.K_from_f(fluids.friction.friction_factor(Re=reynolds, eD=0), 5, bore / 1000), fuel.rho, speed) / 1000

    compare("line_reynolds_number", line_reynolds_number(litres, bore, fuel.rho, fuel.mu * 1000), reynolds, 1e-9, "fluids.core.Reynolds")
    compare("line_pressure_drop_kpa", line_pressure_drop_kpa(litres, bore, 5, fuel.rho, fuel.mu * 1000), theirs, 0.03, "fluids friction factor, isooctane of thermo")


@pytest.mark.parametrize("reynolds", [100, 500, 1000])
def test_slow_flow_is_laminar_to_the_last_digit(reynolds, compare):
    """Source: fluids.friction.friction_laminar, 64 / Re."""
    compare("line_friction_factor", line_friction_factor(reynolds), library("fluids").friction.friction_laminar(reynolds), 1e-12, "fluids, laminar")


@pytest.mark.parametrize("reynolds", [4000, 10000, 30000, 100000])
def test_fast_flow_is_that_of_blasius_and_near_the_full_law(reynolds, compare):
    """Source: fluids.friction.Blasius, and Prandtl-von Karman-Nikuradse for a smooth pipe."""
    friction = library("fluids").friction

    compare("line_friction_factor", line_friction_factor(reynolds), friction.Blasius(reynolds), 1e-12, "fluids, Blasius")
    compare("line_friction_factor", line_friction_factor(reynolds), friction.friction_factor(Re=reynolds, eD=0), 0.03, "fluids, smooth pipe")


@pytest.mark.parametrize("reynolds", range(1200, 4000, 200))
def test_between_laminar_and_turbulent_the_drop_is_at_most_five_per_cent_too_small(reynolds):
    """Source: fluids, which takes laminar flow up to Re 2040 and turbulent flow beyond."""
    ours = line_friction_factor(reynolds)

    assert ours >= 0.95 * library("fluids").friction.friction_factor(Re=reynolds, eD=0)


@pytest.mark.parametrize(("litres", "kpa", "share", "amperes"), [(255, 400, 30, 6.996), (190, 300, 30, 3.910), (340, 400, 35, 7.995)])
def test_a_pumps_current_is_its_hydraulic_power_over_efficiency_and_voltage(litres, kpa, share, amperes, compare):
    """Source: GNU units; the efficiency is common practice, no source."""
    theirs = units(f"{litres} liter/hour*{kpa} kPa/{share / 100}/(13.5 V)", "A")
    compare("pump_current_a", pump_current_a(litres, kpa, share, 13.5), theirs, 1e-9, "GNU units")

    assert pump_current_a(litres, kpa, share, 13.5) == pytest.approx(amperes, abs=0.0006)


@pytest.mark.parametrize(("hp", "rate", "reserve"), [(300, 0.5, 20), (450, 0.6, 15)])
def test_the_pumps_flow_is_what_pounds_and_horsepower_give(hp, rate, reserve, compare):
    """Source: GNU units; the reserve is common practice, no source."""
    ours = pump_flow_needed_l_h(units(f"{hp} hp", "kW"), units(f"{rate} lb/(hp hour)", "g/(kW hour)"), 0.745, reserve)

    compare("pump_flow_needed_l_h", ours, units(f"{hp} hp*{rate} lb/(hp hour)/(0.745 kg/liter)*{1 + reserve / 100}", "liter/hour"), 1e-9, "GNU units")
