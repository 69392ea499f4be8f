"""Charging: alternator and belt speed, load against output, cable drop, and what turns the alternator on."""
from __future__ import annotations

import math

from .copper import stranded_resistance_ohm_km


def alternator_speed_rpm(engine_rpm: float, crank_pulley_mm: float, alternator_pulley_mm: float) -> float:
    """Return alternator speed in rpm, belt slip neglected.

    Formula: engine rpm × crank pulley / alternator pulley. Range: as the params; no errors inside it. Source: arithmetic.
    """
    return engine_rpm * crank_pulley_mm / alternator_pulley_mm


def belt_speed_m_s(engine_rpm: float, crank_pulley_mm: float) -> float:
    """Return belt speed in m/s. Formula: pi × diameter × rpm / 60 000. Range: as the params. Source: geometry."""
    return math.pi * crank_pulley_mm * engine_rpm / 60000.0


def load_current_a(load_w: float, voltage_v: float) -> float:
    """Return the current in A of loads given in watts. Formula: W / V. Range: as the params. Source: arithmetic."""
    return load_w / voltage_v


def charge_balance_a(output_a: float, load_a: float) -> float:
    """Return the current in A left to charge the battery (negative: the battery drains), both at the same speed.

    Formula: output - load. Range: as the params; no errors inside it. Source: arithmetic.
    """
    return output_a - load_a


def charge_cable_drop_v(current_a: float, length_m: float, section_mm2: float, case_mohm: float, temp_c: float) -> float:
    """Return the voltage in V lost between alternator and battery: cable one way, case and strap back.

    Formula: current × (length × ohms per m + case path). Range: as the params; no errors inside it.
    Source: Ohm's law with IEC 60228.
    """
    return current_a * (length_m * stranded_resistance_ohm_km(section_mm2, temp_c) + case_mohm) / 1000.0


def excitation_resistor_ohm(voltage_v: float, excitation_ma: float) -> float:
    """Return the resistor in ohms that feeds a wanted current to a lamp terminal, taken as ground before it turns.

    Formula: 1000 × V / mA. Range: as the params; no errors inside it. Source: Ohm's law.
    """
    return 1000.0 * voltage_v / excitation_ma


def excitation_current_ma(voltage_v: float, resistor_ohm: float) -> float:
    """Return the current in mA through a resistor in the lamp lead. Formula: 1000 × V / ohms. Source: Ohm's law.

    Range: as the params; no errors inside it.
    """
    return 1000.0 * voltage_v / resistor_ohm


def excitation_resistor_w(voltage_v: float, resistor_ohm: float) -> float:
    """Return the heat in W of that resistor with the key on and the engine still. Formula: V² / ohms. Source: Joule.

    Range: as the params; no errors inside it.
    """
    return voltage_v * voltage_v / resistor_ohm
