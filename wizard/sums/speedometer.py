"""Speedometer: what it shows against the true speed, and the legal habit that it never shows too little."""
from __future__ import annotations

from .speed import pulses_per_km_shaft, pulses_per_km_wheel


def speed_shown_percent(programmed_per_km: float, teeth: float, axle_ratio: float, diameter_mm: float) -> float:
    """Return the speed shown in per cent of the true speed (100 is right, below 100 it shows too little), shaft sensor.

    Formula: 100 × pulses sent per km / pulses programmed per km. Range: as the params; no errors inside it.
    Source: arithmetic; the tyre as in `tyre_revs_per_km`.
    """
    return 100.0 * pulses_per_km_shaft(teeth, axle_ratio, diameter_mm) / programmed_per_km


def speed_shown_percent_wheel(programmed_per_km: float, teeth: float, diameter_mm: float) -> float:
    """Return the speed shown in per cent of the true speed, with the sensor at the wheel hub.

    Formula: 100 × pulses sent per km / pulses programmed per km. Range: as the params; no errors inside it.
    Source: arithmetic; the tyre as in `tyre_revs_per_km`.
    """
    return 100.0 * pulses_per_km_wheel(teeth, diameter_mm) / programmed_per_km


def speed_shown_km_h(true_km_h: float, sent_per_km: float, programmed_per_km: float) -> float:
    """Return the speed in km/h that is shown at a true speed.

    Formula: true × pulses sent / pulses programmed. Range: as the params; no errors inside it. Source: arithmetic.
    """
    return true_km_h * sent_per_km / programmed_per_km


def highest_allowed_reading_km_h(true_km_h: float) -> float:
    """Return the highest reading in km/h that the regulation allows at a true speed; the lowest is the true speed.

    Formula: 1.1 × true + 4. Range: 40 to 120 km/h, the regulation's test speeds; no errors inside it.
    Source: UN Regulation No 39, paragraph 5.3, public copies read. Local rules decide.
    """
    return 1.1 * true_km_h + 4.0


def speedometer_margin_km_h(shown_km_h: float, true_km_h: float) -> float:
    """Return by how many km/h a speedometer shows more than the truth (negative: too little).

    Formula: shown - true. Range: as the params; no errors inside it. Source: arithmetic.
    """
    return shown_km_h - true_km_h
