"""Fuel at the injector: flow for a power, duty, the square-root law, pressure across it, and ethanol."""
from __future__ import annotations

import math

PETROL_AFR, ETHANOL_AFR = 14.7, 9.0
PETROL_KG_L, ETHANOL_KG_L = 0.745, 0.789


def mass_flow_from_volume_g_s(flow_cc_min: float, density_kg_l: float) -> float:
    """Return g/s from cc/min at a stated density in kg/L. Formula: cc/min × kg/L / 60. Source: arithmetic."""
    return flow_cc_min * density_kg_l / 60.0


def volume_flow_from_mass_cc_min(flow_g_s: float, density_kg_l: float) -> float:
    """Return cc/min from g/s at a stated density in kg/L. Formula: 60 × g/s / (kg/L). Source: arithmetic."""
    return 60.0 * flow_g_s / density_kg_l


def injector_flow_needed_cc_min(power_kw: float, bsfc_g_kwh: float, injectors: float, duty_percent: float,
                                density_kg_l: float) -> float:
    """Return the flow in cc/min that each injector must have at the pressure it sees.

    Formula: kW × g/kWh / 60 / injectors / (duty / 100) / density. Range: as the params; no errors inside it.
    Source: arithmetic; consumption and duty are common practice.
    """
    grams_s = power_kw * bsfc_g_kwh / 3600.0 / injectors / (duty_percent / 100.0)
    return volume_flow_from_mass_cc_min(grams_s, density_kg_l)


def injector_duty_percent(power_kw: float, bsfc_g_kwh: float, injectors: float, injector_cc_min: float,
                          density_kg_l: float) -> float:
    """Return the share of time in per cent that the injectors must be open at a power.

    Formula: 100 × kW × g/kWh / 60 / injectors / density / injector flow. Range: as the params; no errors inside it.
    Source: arithmetic; over 100 the fuel does not exist.
    """
    return 100.0 * injector_flow_needed_cc_min(power_kw, bsfc_g_kwh, injectors, 100.0, density_kg_l) / injector_cc_min


def power_supported_kw(injector_cc_min: float, injectors: float, duty_percent: float, bsfc_g_kwh: float,
                       density_kg_l: float) -> float:
    """Return the crank power in kW that the injectors can feed at a duty.

    Formula: 60 × flow × injectors × duty / 100 × density / (g/kWh). Range: as the params; no errors inside it.
    Source: arithmetic; consumption and duty are common practice.
    """
    return 60.0 * injector_cc_min * injectors * duty_percent / 100.0 * density_kg_l / bsfc_g_kwh


def injector_flow_at_pressure_cc_min(rated_cc_min: float, rated_kpa: float, pressure_kpa: float) -> float:
    """Return the flow at another pressure across the injector.

    Formula: rated flow × square root of (pressure / rated pressure). Range: as the params; no errors inside it.
    Source: the orifice equation of ISO 5167-2. It holds for the open injector, not for its opening time.
    """
    return rated_cc_min * math.sqrt(pressure_kpa / rated_kpa)


def injector_pressure_fixed_kpa(rail_kpa: float, ambient_kpa: float, manifold_kpa: float) -> float:
    """Return the pressure across an injector in kPa with a fixed (not referenced) regulator.

    Formula: rail gauge pressure + outside pressure - manifold absolute pressure. Range: as the params; no errors
    inside it. Source: arithmetic. With a referenced regulator it is the regulator's setting at every load.
    """
    return rail_kpa + ambient_kpa - manifold_kpa


def rail_pressure_referenced_kpa(setting_kpa: float, ambient_kpa: float, manifold_kpa: float) -> float:
    """Return what a gauge at the rail shows in kPa when the regulator is referenced to the manifold.

    Formula: setting + manifold absolute pressure - outside pressure. Range: as the params; no errors inside it.
    Source: arithmetic; the pump must hold this at full boost.
    """
    return setting_kpa + manifold_kpa - ambient_kpa


def blend_density_kg_l(ethanol_percent: float, petrol_kg_l: float) -> float:
    """Return the density in kg/L of petrol with a volume share of ethanol, shrinkage on mixing neglected.

    Formula: (1 - x) × petrol + x × 0.789. Range: as the params; no errors inside it. Source: arithmetic.
    """
    share = ethanol_percent / 100.0
    return (1.0 - share) * petrol_kg_l + share * ETHANOL_KG_L


def blend_air_fuel_ratio(ethanol_percent: float, petrol_kg_l: float) -> float:
    """Return the stoichiometric air-fuel ratio by mass of petrol with a volume share of ethanol.

    Formula: mass-weighted mean of 14.7 and 9.0; volume shares go through density to mass shares.
    Range: as the params; no errors inside it. Source: published fuel table (14.7 and 9), arithmetic.
    """
    share = ethanol_percent / 100.0
    ethanol_mass = share * ETHANOL_KG_L / blend_density_kg_l(ethanol_percent, petrol_kg_l)
    return ethanol_mass * ETHANOL_AFR + (1.0 - ethanol_mass) * PETROL_AFR


def blend_flow_factor(ethanol_percent: float, petrol_kg_l: float) -> float:
    """Return how many times the volume of petrol is needed for the same air at stoichiometric mixture.

    Formula: (14.7 / ratio of the blend) × (petrol density / blend density). Range: as the params; no errors
    inside it. Source: arithmetic.
    """
    ratio = PETROL_AFR / blend_air_fuel_ratio(ethanol_percent, petrol_kg_l)
    return ratio * petrol_kg_l / blend_density_kg_l(ethanol_percent, petrol_kg_l)
