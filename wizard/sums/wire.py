"""Wire in the vehicle: voltage lost both ways, the smallest section for a loss, the fuse, and the battery cable."""
from __future__ import annotations

import math

from .copper import next_listed_section_mm2, section_for_resistance_mm2, stranded_resistance_ohm_km, temperature_factor

FUSES_A = (1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 35, 40, 50, 60, 70, 80, 100, 125, 150, 175, 200, 250, 300, 400, 500)
FUSE_SHARE = 0.75


def wire_drop_v(current_a: float, length_m: float, section_mm2: float, temp_c: float) -> float:
    """Return the voltage in V lost in fine-stranded wire out and back; the length is one way.

    Formula: current × 2 × length / 1000 × ohms per km of the standard. Range: as the params; no errors inside it.
    Source: Ohm's law with IEC 60228; joints and terminals are not counted.
    """
    return current_a * 2.0 * length_m / 1000.0 * stranded_resistance_ohm_km(section_mm2, temp_c)


def smallest_section_mm2(current_a: float, length_m: float, drop_v: float, temp_c: float) -> float:
    """Return the section in mm² at which the loss out and back is just the allowed one.

    Formula: the section whose standard resistance is 1000 × drop / (current × 2 × length). Range: as the params;
    no errors inside it. Source: Ohm's law with IEC 60228.
    """
    return section_for_resistance_mm2(1000.0 * drop_v / (current_a * 2.0 * length_m) / temperature_factor(temp_c))


def smallest_listed_section_mm2(current_a: float, length_m: float, drop_v: float, temp_c: float) -> float:
    """Return the smallest listed section in mm² for an allowed loss out and back; infinity above 120 mm².

    Formula: the next listed size up from `smallest_section_mm2`. Range: as the params. Source: IEC 60228.
    """
    return next_listed_section_mm2(smallest_section_mm2(current_a, length_m, drop_v, temp_c))


def fuse_for_load_a(current_a: float) -> float:
    """Return the smallest listed fuse in A that carries a steady current for good; infinity above 375 A.

    Formula: the next rating up from current / 0.75. Range: as the params. Source: 75 % of the rating at 25 °C is
    from a published fuse guide; the ratings are from memory of ISO 8820.
    """
    return next((float(f) for f in FUSES_A if f >= current_a / FUSE_SHARE * (1 - 1e-12)), math.inf)


def fuse_share_of_wire_percent(fuse_a: float, wire_rating_a: float) -> float:
    """Return the fuse's rating in per cent of what the wire may carry in its place; over 100 the wire burns first.

    Formula: 100 × fuse / wire. Range: as the params; no errors inside it. Source: common practice.
    """
    return 100.0 * fuse_a / wire_rating_a


def wire_current_for_heat_a(section_mm2: float, outside_mm: float, ambient_c: float, conductor_c: float,
                            film_w_m2k: float) -> float:
    """Return the steady current in A that warms one wire to a temperature: an estimate, never above its maker's figure.

    Formula: √(film × pi × outside diameter × (conductor - ambient) / ohms per metre hot); 0 if the air is hotter.
    Range: as the params; no errors inside it. Source: heat balance of a cylinder, any heat transfer text.
    """
    watts_m = film_w_m2k * math.pi * outside_mm / 1000.0 * max(conductor_c - ambient_c, 0.0)
    return math.sqrt(watts_m / (stranded_resistance_ohm_km(section_mm2, conductor_c) / 1000.0))


def cranking_drop_v(current_a: float, cable_m: float, section_mm2: float, body_mohm: float, temp_c: float) -> float:
    """Return the voltage in V lost in a battery cable while cranking, with what the body adds if current returns there.

    Formula: current × (cable length, both cables if there are two, × ohms per m + body). Range: as the params;
    no errors inside it. Source: Ohm's law with IEC 60228.
    """
    return current_a * (cable_m * stranded_resistance_ohm_km(section_mm2, temp_c) + body_mohm) / 1000.0
