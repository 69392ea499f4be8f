"""Injector electrics: coil current with each kind of driver, and ballast resistors."""
from __future__ import annotations

LOW_COIL_OHM, HIGH_COIL_OHM = (1.0, 5.0), (11.0, 17.0)


def injector_current_a(voltage_v: float, coil_ohm: float, series_ohm: float) -> float:
    """Return the steady current in A of an injector on a saturated driver, with any ballast in series.

    Formula: voltage / (coil + series). Range: as the params; no errors inside it. Source: Ohm's law.
    """
    return voltage_v / (coil_ohm + series_ohm)


def injector_mean_current_a(peak_a: float, hold_a: float, peak_ms: float, open_ms: float) -> float:
    """Return the mean current in A while open, of a peak-and-hold driver: the driver sets it, not the coil.

    Formula: (peak × peak time + hold × rest) / open time; rise and fall neglected, and a pulse shorter than the
    peak is all peak. Range: as the params; no errors inside it. Source: arithmetic.
    """
    share = min(peak_ms / open_ms, 1.0)
    return peak_a * share + hold_a * (1.0 - share)


def ballast_ohm(voltage_v: float, coil_ohm: float, driver_limit_a: float) -> float:
    """Return the series resistor in ohms that keeps a low coil within a saturated driver's limit; 0 if none is needed.

    Formula: voltage / limit - coil, not under 0. Range: as the params; no errors inside it. Source: Ohm's law.
    """
    return max(0.0, voltage_v / driver_limit_a - coil_ohm)


def ballast_power_w(current_a: float, series_ohm: float, duty_percent: float) -> float:
    """Return the heat in W of a ballast resistor at the injector's current and duty.

    Formula: current² × series × duty / 100. Range: as the params; no errors inside it. Source: Joule's law.
    """
    return current_a * current_a * series_ohm * duty_percent / 100.0


def coil_class(coil_ohm: float) -> str:
    """Return `low` (1 to 5 ohms), `high` (11 to 17) or `undecided`: then ask for the driver's current limit.

    Source: bands of the trade, from memory.
    """
    if LOW_COIL_OHM[0] <= coil_ohm <= LOW_COIL_OHM[1]:
        return "low"
    return "high" if HIGH_COIL_OHM[0] <= coil_ohm <= HIGH_COIL_OHM[1] else "undecided"
