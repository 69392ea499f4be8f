"""Fuel at the injector against units, the orifice of ISO 5167, equilibrium chemistry, published tables and textbooks."""
from __future__ import annotations

import pytest

from tests.outside.tools import library, pint_units, units
from wizard.sums.fuel import (ETHANOL_AFR, ETHANOL_KG_L, PETROL_AFR, blend_air_fuel_ratio, blend_density_kg_l,
                              blend_flow_factor, injector_duty_percent, injector_flow_at_pressure_cc_min,
                              injector_flow_needed_cc_min, injector_pressure_fixed_kpa, power_supported_kw,
                              rail_pressure_referenced_kpa,
                              mass_flow_from_volume_g_s, volume_flow_from_mass_cc_min)

AIR = {"O2": 0.20946, "N2": 0.78084, "Ar": 0.00934, "CO2": 0.00036}      # mole fractions, dry air, from memory
NEEDS = [(300, 0.50, 8, 85), (400, 0.50, 8, 80), (150, 0.55, 4, 85), (600, 0.60, 8, 85)]
AFDC = "US DOE Alternative Fuels Data Center, Fuel properties comparison (reprint)"


@pytest.fixture(scope="module")
def stoichiometric():
    """A function from moles of fuel to its stoichiometric air-fuel ratio by mass. Source: Cantera, nasa_gas.yaml."""
    ct = library("cantera")
    known = {s.name: s for s in ct.Species.list_from_file("nasa_gas.yaml")}
    names = ("O2", "N2", "Ar", "CO2", "H2O", "C2H5OH", "C7H8", "C7H16,n-heptane", "C8H18,isooctane")
    gas = ct.Solution(thermo="ideal-gas", species=[known[n] for n in names])
    return lambda fuel: gas.stoich_air_fuel_ratio(fuel, AIR)


@pytest.mark.parametrize(("hp", "rate", "injectors", "duty"), NEEDS)
def test_the_flow_for_a_power_is_that_of_pounds_and_horsepower(hp, rate, injectors, duty, compare):
    """Source: GNU units and pint; consumption and duty are common practice, no source."""
    expression = f"{hp} hp*{rate} lb/(hp hour)/{injectors}/{duty / 100}/(0.745 g/cc)"
    kw, g_kwh = units(f"{hp} hp", "kW"), units(f"{rate} lb/(hp hour)", "g/(kW hour)")
    needed = injector_flow_needed_cc_min(kw, g_kwh, injectors, duty, 0.745)
    unit = pint_units()
    pints = (hp * unit.hp * rate * unit.lb / (unit.hp * unit.hour) / injectors / (duty / 100)
             / (0.745 * unit.g / unit.cc)).to("cc/min").magnitude

    compare("injector_flow_needed_cc_min", needed, units(expression, "cc/minute"), 1e-9, "GNU units")
    compare("injector_flow_needed_cc_min", needed, pints, 1e-9, "pint")
    compare("injector_duty_percent", injector_duty_percent(kw, g_kwh, injectors, pints, 0.745), duty, 1e-9, "pint, backwards")
    compare("power_supported_kw", power_supported_kw(pints, injectors, duty, g_kwh, 0.745), kw, 1e-9, "pint, backwards")


def test_a_textbooks_diesel_injects_its_volume_per_cycle(compare):
    """Source: Mathur and Sharma, Internal Combustion Engine, ch. 12, first example (inputs read, recomputed by GNU units):
    6 cylinders, 245 g/kWh, 89 kW, 2500 rpm, specific gravity 0.84."""
    per_minute = injector_flow_needed_cc_min(89, 245, 6, 100, 0.84)
    theirs = units("245 g/(kW hour)*89 kW/6/(0.84 g/cc)/(1250/minute)", "cc")

    compare("injector_flow_needed_cc_min", per_minute / 1250, theirs, 1e-9, "Mathur and Sharma, ch. 12")


@pytest.mark.parametrize(("density", "cc_min"), [(0.72, 10.499823), (0.745, 10.147480), (0.719988, 10.5)])
def test_a_pound_an_hour_is_ten_and_a_half_cc_only_at_one_density(density, cc_min, compare):
    """Source: GNU units; "1 lb/h = 10.5 cc/min" of the trade holds at 0.719988 kg/L only."""
    grams = units("1 lb/hour", "g/s")
    ours = volume_flow_from_mass_cc_min(grams, density)
    compare("volume_flow_from_mass_cc_min", ours, units(f"1 lb/hour/({density} g/cc)", "cc/minute"), 1e-9, "GNU units")
    compare("mass_flow_from_volume_g_s", mass_flow_from_volume_g_s(ours, density), grams, 1e-12, "GNU units")

    assert ours == pytest.approx(cc_min, rel=1e-6)


@pytest.mark.parametrize(("rated", "at"), [(300, 270), (300, 400), (300, 350), (270, 300), (400, 580)])
def test_flow_follows_the_orifice_of_iso_5167(rated, at, compare):
    """Source: ISO 5167-2 through fluids.flow_meter.flow_meter_discharge, a hole of 0.25 mm."""
    discharge = library("fluids").flow_meter.flow_meter_discharge

    def kg_s(kpa: float) -> float:
        return discharge(D=2e-3, Do=0.25e-3, P1=101325 + 1000 * kpa, P2=101325, rho=720.0, C=0.62, expansibility=1.0)

    ours = injector_flow_at_pressure_cc_min(240, rated, at)
    compare("injector_flow_at_pressure_cc_min", ours / 240, kg_s(at) / kg_s(rated), 1e-9, "ISO 5167-2 through fluids")


@pytest.mark.parametrize(("flow", "low", "high"), [(24, "270 kPa", "300 kPa"), (42, "43.5 psi", "58 psi"), (19, "43.5 psi", "39.15 psi")])
def test_flow_at_pressures_in_psi_is_that_of_gnu_units(flow, low, high, compare):
    """Source: GNU units."""
    ours = injector_flow_at_pressure_cc_min(flow, units(low, "kPa"), units(high, "kPa"))

    compare("injector_flow_at_pressure_cc_min", ours, units(f"{flow}*sqrt(({high})/({low}))", "1"), 1e-9, "GNU units")


@pytest.mark.parametrize(("rail", "manifold"), [(400, 35), (400, 180), (300, 40)])
def test_pressure_across_the_injector_is_the_difference_of_absolute_pressures(rail, manifold, compare):
    """Source: GNU units: absolute rail pressure (gauge + 1 atm) less absolute manifold pressure."""
    theirs = units(f"({rail} kPa + atm) - {manifold} kPa", "kPa")
    gauge = units(f"{rail} kPa + {manifold} kPa - atm", "kPa")

    compare("injector_pressure_fixed_kpa", injector_pressure_fixed_kpa(rail, 101.325, manifold), theirs, 1e-12, "GNU units")
    compare("rail_pressure_referenced_kpa", rail_pressure_referenced_kpa(rail, 101.325, manifold), gauge, 1e-12, "GNU units")


def test_ethanols_ratio_is_that_of_equilibrium_chemistry_and_the_published_table(stoichiometric, compare):
    """Source: Cantera 3.2; AFDC table, read in a reprint: ethanol 9."""
    compare("blend_air_fuel_ratio", blend_air_fuel_ratio(100, 0.745), stoichiometric({"C2H5OH": 1}), 0.001, "Cantera ethanol")
    compare("blend_air_fuel_ratio", blend_air_fuel_ratio(100, 0.745), 9, 1e-12, AFDC)
    compare("blend_air_fuel_ratio", blend_air_fuel_ratio(0, 0.745), 14.7, 1e-12, AFDC)


def test_petrols_ratio_lies_among_three_mixtures_of_pure_fuels(stoichiometric):
    """Source: Cantera: isooctane, n-heptane and toluene by mass .538/.137/.325, .70/.10/.20, .45/.15/.40."""
    mole = {"C8H18,isooctane": 114.2285, "C7H16,n-heptane": 100.2019, "C7H8": 92.1384}
    ratios = [stoichiometric({n: m / mole[n] for n, m in zip(mole, mix)})
              for mix in ((0.538, 0.137, 0.325), (0.70, 0.10, 0.20), (0.45, 0.15, 0.40))]

    assert min(ratios) < PETROL_AFR < max(ratios)
    assert max(ratios) - min(ratios) < 0.4


@pytest.mark.parametrize("percent", [10, 25, 51, 70, 83, 85])
def test_a_blends_ratio_is_that_of_its_molecules_with_isooctane_for_petrol(percent, stoichiometric, compare):
    """Source: Cantera, the blend as moles; densities at 20 °C from thermo. Isooctane is leaner than petrol by 3 %."""
    chemical = library("thermo").Chemical
    petrol, ethanol = chemical("isooctane", T=293.15, P=101325), chemical("ethanol", T=293.15, P=101325)
    share = percent / 100
    theirs = stoichiometric({"C8H18,isooctane": (1 - share) * petrol.rho / petrol.MW, "C2H5OH": share * ethanol.rho / ethanol.MW})
    ours = blend_air_fuel_ratio(percent, petrol.rho / 1000)
    pure = stoichiometric({"C8H18,isooctane": 1})
    scaled = (ours - ETHANOL_AFR) / (PETROL_AFR - ETHANOL_AFR) * (pure - ETHANOL_AFR) + ETHANOL_AFR

    compare("blend_air_fuel_ratio", ours, theirs, 0.03, "Cantera, isooctane for petrol")
    compare("blend_air_fuel_ratio", scaled, theirs, 0.001, "Cantera, with isooctane's own ratio in place of 14.7")


@pytest.mark.parametrize(("percent", "ratio"), [(10, 14.1), (85, 9.8)])
def test_the_common_blends_have_the_ratios_that_the_trade_gives(percent, ratio, compare):
    """Source: common practice, no source: about 14.1 with a tenth of ethanol, about 9.8 with 85 %."""
    compare("blend_air_fuel_ratio", blend_air_fuel_ratio(percent, 0.745), ratio, 0.005, "trade values, common practice")


@pytest.mark.parametrize("percent", [0, 30, 85, 100])
def test_a_blends_density_is_that_of_its_two_parts(percent, compare):
    """Source: thermo (20 °C), ethanol's density; the mean of volumes by hand."""
    ethanol = library("thermo").Chemical("ethanol", T=293.15, P=101325).rho / 1000
    theirs = (1 - percent / 100) * 0.745 + percent / 100 * ethanol
    compare("blend_density_kg_l", blend_density_kg_l(percent, 0.745), theirs, 0.001, "thermo, ethanol at 20 °C")

    assert abs(ETHANOL_KG_L - ethanol) < 0.001


def test_the_reserve_for_85_per_cent_is_what_chemistry_asks_for(stoichiometric, compare):
    """Source: Cantera and thermo: volume of blend over volume of isooctane for the same air."""
    chemical = library("thermo").Chemical
    petrol, ethanol = chemical("isooctane", T=293.15, P=101325), chemical("ethanol", T=293.15, P=101325)
    blend = 0.15 * petrol.rho + 0.85 * ethanol.rho
    ratio = stoichiometric({"C8H18,isooctane": 0.15 * petrol.rho / petrol.MW, "C2H5OH": 0.85 * ethanol.rho / ethanol.MW})
    theirs = stoichiometric({"C8H18,isooctane": 1}) / ratio * petrol.rho / blend

    compare("blend_flow_factor", blend_flow_factor(85, petrol.rho / 1000), theirs, 0.03, "Cantera and thermo")


def test_a_textbooks_heptane_ratio_bounds_the_scatter_between_sources(stoichiometric, compare):
    """Source: Rajput, example 7.4, p. 249: n-heptane 15.30 with 23 % oxygen by mass; Cantera with full air 15.18."""
    compare("stoichiometric ratio (method)", stoichiometric({"C7H16,n-heptane": 1}), 15.30, 0.01, "Rajput, ex. 7.4, p. 249")
