"""Trigger wheels and tachometers: signal frequency, what a wrong tooth count shows, and what to convert."""
from __future__ import annotations


def trigger_frequency_hz(edges_per_turn: float, engine_rpm: float) -> float:
    """Return the mean frequency in Hz of a target's signal. Formula: edges per turn × rpm / 60. Source: arithmetic.

    Range: as the params; no errors inside it. Between neighbouring teeth of a wheel with a gap it is higher.
    """
    return edges_per_turn * engine_rpm / 60.0


def tooth_frequency_hz(pitch_teeth: float, engine_rpm: float) -> float:
    """Return the frequency in Hz between neighbouring teeth; missing teeth count as if they were there.

    Formula: teeth of the full circle × rpm / 60. Range: as the params; no errors inside it. Source: arithmetic.
    """
    return pitch_teeth * engine_rpm / 60.0


def engine_speed_seen_rpm(engine_rpm: float, teeth_present: float, teeth_expected: float) -> float:
    """Return the engine speed in rpm that a reader works out which only counts teeth, with a wrong target.

    Formula: rpm × teeth present / teeth expected. Range: as the params; no errors inside it. Source: arithmetic.
    A controller that looks for a gap finds no pattern and shows nothing.
    """
    return engine_rpm * teeth_present / teeth_expected


def tachometer_pulses_per_rev(cylinders: float, strokes: float) -> float:
    """Return ignition pulses per turn of the crank: one per cylinder in each cycle.

    Formula: 2 × cylinders / strokes. Range: as the params; no errors inside it. Source: arithmetic.
    """
    return 2.0 * cylinders / strokes


def tachometer_shown_rpm(engine_rpm: float, pulses_sent: float, pulses_expected: float) -> float:
    """Return what a tachometer shows in rpm. Formula: rpm × pulses sent / pulses expected. Source: arithmetic.

    Range: as the params; no errors inside it.
    """
    return engine_rpm * pulses_sent / pulses_expected


def tachometer_converter_ratio(pulses_expected: float, pulses_sent: float) -> float:
    """Return pulses out for each pulse in that a converter must give. Formula: expected / sent. Source: arithmetic.

    Range: as the params; no errors inside it. Set the controller's output instead where it can be set.
    """
    return pulses_expected / pulses_sent
