"""Fuel supply: pump flow and current, and the pressure a line takes."""
from __future__ import annotations

import math


def pump_flow_needed_l_h(power_kw: float, bsfc_g_kwh: float, density_kg_l: float, reserve_percent: float) -> float:
    """Return the pump flow in L/h at working pressure and real voltage.

    Formula: kW × g/kWh / 1000 / density × (1 + reserve / 100). Range: as the params; no errors inside it.
    Source: arithmetic; a reserve of 15 to 20 % is common practice.
    """
    return power_kw * bsfc_g_kwh / 1000.0 / density_kg_l * (1.0 + reserve_percent / 100.0)


def pump_current_a(flow_l_h: float, pressure_kpa: float, efficiency_percent: float, voltage_v: float) -> float:
    """Return the current in A of an electric pump.

    Formula: flow × pressure / 3600 gives watts; divided by efficiency and voltage. Range: as the params; no errors
    inside it. Source: hydraulic power is arithmetic; the efficiency is common practice.
    """
    return flow_l_h * pressure_kpa / 3600.0 / (efficiency_percent / 100.0) / voltage_v


def line_reynolds_number(flow_l_h: float, bore_mm: float, density_kg_m3: float, viscosity_mpa_s: float) -> float:
    """Return the Reynolds number of flow in a round line. Formula: 4 ρ Q / (pi d μ). Source: definition."""
    flow_m3_s = flow_l_h / 3.6e6
    return 4.0 * density_kg_m3 * flow_m3_s / (math.pi * bore_mm / 1000.0 * viscosity_mpa_s / 1000.0)


def line_friction_factor(reynolds: float) -> float:
    """Return the Darcy friction factor of a smooth line: the larger of laminar and turbulent flow.

    Formula: max(64 / Re, 0.3164 / Re^0.25). The two meet at Re 1187; from there to 4000, where a line may do
    either, this takes the turbulent, which a library's law for smooth pipes tops by 5 % at most. Range: Re over 0.
    Source: Blasius, 1913.
    """
    return max(64.0 / reynolds, 0.3164 / math.sqrt(math.sqrt(reynolds)))


def line_pressure_drop_kpa(flow_l_h: float, bore_mm: float, length_m: float, density_kg_m3: float,
                           viscosity_mpa_s: float) -> float:
    """Return the pressure in kPa that friction takes in a straight smooth line, bends and fittings not counted.

    Formula: f × length / bore × density × velocity² / 2. Range: as the params; no errors inside it.
    Source: Darcy and Weisbach, with `line_friction_factor`.
    """
    bore_m = bore_mm / 1000.0
    velocity = flow_l_h / 3.6e6 / (math.pi / 4.0 * bore_m * bore_m)
    factor = line_friction_factor(line_reynolds_number(flow_l_h, bore_mm, density_kg_m3, viscosity_mpa_s))
    return factor * length_m / bore_m * density_kg_m3 * velocity * velocity / 2.0 / 1000.0
