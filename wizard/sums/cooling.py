"""Cooling: fan current and its relay, heat to the coolant, and the flow that carries it off."""
from __future__ import annotations


def fan_current_a(fans: float, fan_w: float, voltage_v: float) -> float:
    """Return the running current in A of the cooling fans. Formula: number × W / V. Source: arithmetic.

    Range: as the params; no errors inside it.
    """
    return fans * fan_w / voltage_v


def fan_inrush_a(running_a: float, inrush_factor: float) -> float:
    """Return the current in A while a fan starts. Formula: running × factor. Source: factor from memory, 3 to 6.

    Range: as the params; no errors inside it.
    """
    return running_a * inrush_factor


def relay_rating_a(running_a: float, reserve_percent: float) -> float:
    """Return the rating in A that a fan relay needs. Formula: running × (1 + reserve / 100). Source: common practice.

    Range: as the params; no errors inside it.
    """
    return running_a * (1.0 + reserve_percent / 100.0)


def heat_to_coolant_kw(power_kw: float, share_percent: float) -> float:
    """Return the heat in kW that goes to the coolant. Formula: power × share / 100. Source: share is common practice.

    Range: as the params; no errors inside it.
    """
    return power_kw * share_percent / 100.0


def coolant_flow_l_min(heat_kw: float, rise_k: float, heat_capacity_kj_kgk: float, density_kg_m3: float) -> float:
    """Return the coolant flow in L/min that carries off heat at a temperature rise across the engine.

    Formula: 60 000 × kW / (heat capacity × rise × density). Range: as the params; no errors inside it.
    Source: heat balance, any thermodynamics text.
    """
    return 60000.0 * heat_kw / (heat_capacity_kj_kgk * rise_k * density_kg_m3)
