"""Copper wire: section from a gauge number or mm², and resistance at a temperature, solid or fine-stranded."""
from __future__ import annotations

from bisect import bisect_left
import math
import re

from .powers import natural_log, power

RHO_OHM_MM2_M = 1.0 / 58.0          # annealed copper at 20 °C, IEC 60028
ALPHA_PER_K = 0.00393               # at 20 °C, IEC 60028, from memory
# Largest resistance at 20 °C of plain fine-stranded copper (class 5), ohm/km, by nominal section in mm².
CLASS_5 = ((0.5, 39.0), (0.75, 26.0), (1.0, 19.5), (1.5, 13.3), (2.5, 7.98), (4.0, 4.95), (6.0, 3.30), (10.0, 1.91),
           (16.0, 1.21), (25.0, 0.780), (35.0, 0.554), (50.0, 0.386), (70.0, 0.272), (95.0, 0.206), (120.0, 0.161))
LISTED_MM2 = tuple(section for section, _ in CLASS_5)

_GAUGE = re.compile(r"(?:AWG)?(\d{1,2})(/0)?(?:AWG|GAUGE|GA)?", re.ASCII)
_SECTION = re.compile(r"(\d+(?:\.\d+)?|\.\d+)(?:MM2|MM²|SQMM)?", re.ASCII)


def awg_diameter_mm(awg: float) -> float:
    """Return the diameter in mm of a solid wire of a gauge number; 0 is 1/0, -1 is 2/0, -3 is 4/0.

    Formula: 0.127 × 92 ^ ((36 - n) / 39). Range: -3 to 40; no errors inside it. Source: ASTM B258, from memory.
    """
    return 0.127 * power(92.0, (36.0 - awg) / 39.0)


def awg_section_mm2(awg: float) -> float:
    """Return the copper section in mm² of a gauge number. Stranded wire of vehicle standards may hold 5 to 12 % less.

    Formula: pi / 4 × diameter². Range: -3 to 40; no errors inside it. Source: ASTM B258, from memory.
    """
    diameter = awg_diameter_mm(awg)
    return math.pi / 4.0 * diameter * diameter


def nearest_awg(section_mm2: float) -> float:
    """Return the (fractional) gauge number whose copper section is this many mm²; a larger number is a thinner wire.

    Formula: 36 - 39 × log(d / 0.127) / log 92, d the diameter of that section. Source: ASTM B258, from memory.
    """
    diameter = math.sqrt(4.0 * section_mm2 / math.pi)
    return 36.0 - 39.0 * natural_log(diameter / 0.127) / natural_log(92.0)


def read_wire_size(text: str) -> float | None:
    """Return the section in mm² of a text such as `1.5`, `1.5 mm2`, `AWG 16` or `2/0`; None if it is none of them."""
    code = re.sub(r"\s+", "", text).upper()
    gauge = _GAUGE.fullmatch(code)
    if gauge and (gauge[2] or re.search("[AG]", code)):
        number = 1 - int(gauge[1]) if gauge[2] else int(gauge[1])
        return awg_section_mm2(number) if -3 <= number <= 30 else None
    section = _SECTION.fullmatch(code)
    return float(section[1]) if section and 0.05 <= float(section[1]) <= 150 else None


def temperature_factor(temp_c: float) -> float:
    """Return copper's resistance at a temperature over that at 20 °C. Formula: 1 + 0.00393 (t - 20). IEC 60028."""
    return 1.0 + ALPHA_PER_K * (temp_c - 20.0)


def solid_resistance_ohm_km(section_mm2: float, temp_c: float) -> float:
    """Return the resistance in ohms per km of exactly this section of solid annealed copper.

    Formula: 1000 / (58 × section) × (1 + 0.00393 × (t - 20)). Range: as the params; no errors inside it.
    Source: IEC 60028, from memory. For fine-stranded wire this is 11 to 16 % too hopeful.
    """
    return 1000.0 * RHO_OHM_MM2_M / section_mm2 * temperature_factor(temp_c)


def stranded_resistance_ohm_km(section_mm2: float, temp_c: float) -> float:
    """Return the largest resistance in ohms per km that the standard allows fine-stranded copper of this section.

    Formula: the table of class 5, between its sizes with conductance on a straight line and beyond its ends in
    proportion, × (1 + 0.00393 × (t - 20)). Range: as the params; no errors inside it. Source: IEC 60228.
    """
    return _class_5(section_mm2) * temperature_factor(temp_c)


def section_for_resistance_mm2(ohm_km_20: float) -> float:
    """Return the section in mm² whose class 5 resistance at 20 °C is this; the inverse of the table's line."""
    if ohm_km_20 >= CLASS_5[0][1]:
        return CLASS_5[0][0] * CLASS_5[0][1] / ohm_km_20
    if ohm_km_20 <= CLASS_5[-1][1]:
        return CLASS_5[-1][0] * CLASS_5[-1][1] / ohm_km_20
    upper = next(i for i, (_, ohms) in enumerate(CLASS_5) if ohms < ohm_km_20)
    (s0, r0), (s1, r1) = CLASS_5[upper - 1], CLASS_5[upper]
    return s0 + (s1 - s0) * (1.0 / ohm_km_20 - 1.0 / r0) / (1.0 / r1 - 1.0 / r0)


def next_listed_section_mm2(section_mm2: float) -> float:
    """Return the smallest listed section that is not below this one; infinity above 120 mm²."""
    place = bisect_left(LISTED_MM2, section_mm2 * (1 - 1e-9))
    return LISTED_MM2[place] if place < len(LISTED_MM2) else math.inf


def _class_5(section_mm2: float) -> float:
    if section_mm2 <= LISTED_MM2[0]:
        return CLASS_5[0][0] * CLASS_5[0][1] / section_mm2
    if section_mm2 >= LISTED_MM2[-1]:
        return CLASS_5[-1][0] * CLASS_5[-1][1] / section_mm2
    upper = bisect_left(LISTED_MM2, section_mm2)
    (s0, r0), (s1, r1) = CLASS_5[upper - 1], CLASS_5[upper]
    return 1.0 / (1.0 / r0 + (section_mm2 - s0) / (s1 - s0) * (1.0 / r1 - 1.0 / r0))
