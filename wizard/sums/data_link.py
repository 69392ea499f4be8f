"""Data link termination: what an ohmmeter shows between the two wires with the power off, and what it means."""
from __future__ import annotations


def termination_ohm(terminators: float, terminator_ohm: float) -> float:
    """Return the resistance in ohms between the two wires with the power off. Formula: ohms of one / number.

    Range: as the params; no errors inside it. Source: resistances side by side; 120 ohms by ISO 11898-2.
    """
    return terminator_ohm / terminators


def terminators_from_reading(reading_ohm: float, terminator_ohm: float) -> float:
    """Return how many terminators a reading stands for (not always whole). Formula: ohms of one / reading.

    Range: as the params; no errors inside it. Source: resistances side by side.
    """
    return terminator_ohm / reading_ohm
