"""Units: the other unit system for each unit the sums use, and numbers that people write with a unit."""
from __future__ import annotations

import re
from typing import Mapping, NamedTuple

# Exact by definition: inch, foot, mile (1959), pound (1959), standard gravity, US gallon, calorie (IT) and therm unit.
INCH_M, FOOT_M, MILE_M = 0.0254, 0.3048, 1609.344
POUND_KG, GRAVITY = 0.45359237, 9.80665
PSI_KPA = POUND_KG * GRAVITY / (INCH_M * INCH_M) / 1000.0
GALLON_L = 231 * (INCH_M * INCH_M * INCH_M) * 1000.0
HORSEPOWER_KW = 550 * FOOT_M * POUND_KG * GRAVITY / 1000.0
POUND_HOUR_G_S = POUND_KG * 1000.0 / 3600.0


class Unit(NamedTuple):
    """Another unit: a value times `factor` plus `offset` gives it."""

    name: str
    factor: float
    offset: float = 0.0


OTHER: Mapping[str, Unit] = {
    "mm": Unit("in", 1 / 25.4),
    "in": Unit("mm", 25.4),
    "m": Unit("ft", 1 / FOOT_M),
    "km/h": Unit("mph", 1000 / MILE_M),
    "m/s": Unit("ft/s", 1 / FOOT_M),
    "turns/km": Unit("turns/mile", MILE_M / 1000),
    "pulses/km": Unit("pulses/mile", MILE_M / 1000),
    "g/s": Unit("lb/h", 1 / POUND_HOUR_G_S),
    "L": Unit("cu in", 0.001 / (INCH_M * INCH_M * INCH_M)),
    "L/h": Unit("US gal/h", 1 / GALLON_L),
    "L/min": Unit("US gal/min", 1 / GALLON_L),
    "kPa": Unit("psi", 1 / PSI_KPA),
    "kW": Unit("hp", 1 / HORSEPOWER_KW),
    "g/kWh": Unit("lb/hp h", HORSEPOWER_KW / POUND_KG / 1000),
    "°C": Unit("°F", 1.8, 32.0),
    "K": Unit("°F difference", 1.8),
    "kg/L": Unit("lb/US gal", GALLON_L / POUND_KG),
    "kg/m³": Unit("lb/cu ft", (FOOT_M * FOOT_M * FOOT_M) / POUND_KG),
    "Ω/km": Unit("Ω/1000 ft", 0.3048),
    "kJ/kg K": Unit("BTU/lb °F", 1 / 4.1868),
}
# Further spellings a person may write; each is (unit it converts to, factor, offset).
SPELLINGS: Mapping[str, Unit] = {
    "inch": Unit("mm", 25.4), '"': Unit("mm", 25.4), "cm": Unit("mm", 10), "ft": Unit("m", FOOT_M),
    "mph": Unit("km/h", MILE_M / 1000), "lb/h": Unit("g/s", POUND_HOUR_G_S), "kg/h": Unit("g/s", 1 / 3.6),
    "psi": Unit("kPa", PSI_KPA), "bar": Unit("kPa", 100), "hp": Unit("kW", HORSEPOWER_KW),
    "PS": Unit("kW", 0.075 * GRAVITY), "cc": Unit("L", 0.001), "ci": Unit("L", (INCH_M * INCH_M * INCH_M) * 1000),
    "mV": Unit("V", 0.001), "kHz": Unit("Hz", 1000), "mA": Unit("A", 0.001), "kΩ": Unit("Ω", 1000),
    "ohm": Unit("Ω", 1), "kohm": Unit("Ω", 1000), "mohm": Unit("mΩ", 1), "C": Unit("°C", 1),
    "F": Unit("°C", 1 / 1.8, -32 / 1.8), "km": Unit("m", 1000), "mile": Unit("m", MILE_M), "W": Unit("kW", 0.001),
}
# What keyboards and copied results bring: other signs for ohm and minus, and spaces that do not break.
_SIGNS = str.maketrans({"\u2126": "Ω", "\u2212": "-", "\u00a0": " ", "\u202f": " "})
_THOUSANDS = re.compile(r"(?<![\d.,])(\d{1,3})((?: \d{3})+)(?!\d)", re.ASCII)
_COMMA = re.compile(r"(?<![\d.,])(\d+),(\d{1,2}|\d{4,})(?![\d.,])", re.ASCII)
_NUMBER = re.compile(r"\s*([-+]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][-+]?\d+)?)\s*(\S.*?)?\s*", re.ASCII)


def to_other(value: float, unit: str) -> tuple[float, str] | None:
    """Return a value in the unit of the other system with that unit's name; None where both use the same."""
    other = OTHER.get(unit)
    return (value * other.factor + other.offset, other.name) if other else None


def convert(value: float, unit: str, wanted: str) -> float | None:
    """Return a value in the wanted unit; None if it is not known how one becomes the other."""
    if unit == wanted:
        return value
    forward = OTHER.get(unit)
    if forward and forward.name == wanted:
        return value * forward.factor + forward.offset
    back = OTHER.get(wanted)
    if back and back.name == unit:
        return (value - back.offset) / back.factor
    spelled = SPELLINGS.get(unit)
    if spelled is None:
        return None
    if spelled.name == wanted:
        return value * spelled.factor + spelled.offset
    onward = OTHER.get(spelled.name)
    if onward and onward.name == wanted:
        return (value * spelled.factor + spelled.offset) * onward.factor + onward.offset
    return None


def read_number(text: str, unit: str) -> float | None:
    """Return the number a text gives, in `unit`; a bare number is taken to be in it. None if it cannot be read.

    Thousands may be set apart by spaces, and a comma may stand for the decimal point, except before three digits, where
    one reader would take 1,500 for a thousand and a half and another for one and a half.
    """
    match = _NUMBER.fullmatch(_plain(text))
    if not match:
        return None
    value, said = float(match[1]), match[2]
    return value if said is None else convert(value, _known(said, unit), unit)


def mistakable(text: str) -> bool:
    """Return whether a comma stands where it may mean thousands or a decimal point."""
    return bool(re.search(r"\d,\d{3}(?!\d)", _plain(text)))


def _plain(text: str) -> str:
    text = _THOUSANDS.sub(lambda found: found[1] + found[2].replace(" ", ""), text.translate(_SIGNS))
    return _COMMA.sub(r"\1.\2", text)


def _known(said: str, unit: str) -> str:
    """Return a unit as it is known when only its capitals differ; a leading m or M, milli or mega, must be as it is."""
    names = {*OTHER, *(other.name for other in OTHER.values()), *SPELLINGS, unit}
    if said in names or (said == ":1" and unit == "to 1"):
        return unit if said == ":1" else said
    near = [name for name in names if name.casefold() == said.casefold() and (name[0] == said[0] or name[0] not in "mM")
            and convert(1.0, name, unit) is not None]
    return near[0] if len(near) == 1 else said
