"""Dimensional consistency: with every unit of length, mass, time, current and temperature made another size, the
numbers that go in and come out change together, unless the sum holds a constant of nature or of a rule."""
from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.sums.cases import FEW, NUMERIC, work
from wizard.sums.forms import REGISTRY

# Exponents of length, mass, time, current, temperature.
NONE = (0, 0, 0, 0, 0)
DIMENSIONS = {
    "mm": (1, 0, 0, 0, 0), "in": (1, 0, 0, 0, 0), "m": (1, 0, 0, 0, 0), "mm²": (2, 0, 0, 0, 0), "L": (3, 0, 0, 0, 0),
    "km/h": (1, 0, -1, 0, 0), "m/s": (1, 0, -1, 0, 0), "turns/km": (-1, 0, 0, 0, 0), "pulses/km": (-1, 0, 0, 0, 0),
    "rpm": (0, 0, -1, 0, 0), "Hz": (0, 0, -1, 0, 0), "ms": (0, 0, 1, 0, 0), "g/s": (0, 1, -1, 0, 0), "kPa": (-1, 1, -2, 0, 0),
    "kW": (2, 1, -3, 0, 0), "W": (2, 1, -3, 0, 0), "g/kWh": (-2, 0, 2, 0, 0), "kg/L": (-3, 1, 0, 0, 0), "kg/m³": (-3, 1, 0, 0, 0),
    "cc/min": (3, 0, -1, 0, 0), "L/h": (3, 0, -1, 0, 0), "L/min": (3, 0, -1, 0, 0), "mPa s": (-1, 1, -1, 0, 0),
    "A": (0, 0, 0, 1, 0), "mA": (0, 0, 0, 1, 0), "V": (2, 1, -3, -1, 0), "Ω": (2, 1, -3, -2, 0), "mΩ": (2, 1, -3, -2, 0),
    "Ω/km": (1, 1, -3, -2, 0), "K": (0, 0, 0, 0, 1), "kJ/kg K": (2, 0, -2, 0, -1), "W/m² K": (0, 1, -3, 0, -1),
    "%": NONE, "to 1": NONE, "times": NONE, "times petrol": NONE, "kg/kg": NONE, "out per in": NONE, "pulses": NONE, "turns": NONE,
    "teeth": NONE, "edges": NONE, "cylinders": NONE, "strokes": NONE, "injectors": NONE, "heaters": NONE, "fans": NONE,
    "terminators": NONE, "pulses/turn": NONE,
}
# Sums that hold a constant with a dimension, with the constant. One that needs no exception is an error.
HOLDS = {
    "standard_pressure_kpa": "the standard atmosphere", "air_density_kg_m3": "the gas constant of air",
    "engine_airflow_g_s": "the gas constant of air", "throttle_choked_flow_g_s": "the gas constant of air",
    "throttle_flow_g_s": "the gas constant of air", "awg_section_mm2": "the wire gauge's first diameter",
    "stranded_resistance_ohm_km": "the standard's table of copper wire", "solid_resistance_ohm_km": "copper",
    "wire_drop_v": "the standard's table of copper wire", "smallest_section_mm2": "the standard's table of copper wire",
    "smallest_listed_section_mm2": "the standard's table of copper wire", "fuse_for_load_a": "the listed ratings",
    "wire_current_for_heat_a": "the standard's table of copper wire", "cranking_drop_v": "the standard's table of copper wire",
    "charge_cable_drop_v": "the standard's table of copper wire", "blend_density_kg_l": "the density of ethanol",
    "blend_air_fuel_ratio": "the density of ethanol", "blend_flow_factor": "the density of ethanol",
    "highest_allowed_reading_km_h": "the regulation's 4 km/h", "ring_margin_mm": "the trade's 2 mm",
}
AFFINE = {"°C", "AWG"}


def scaled(value: float, unit: str, sizes: tuple[float, ...]) -> float:
    for size, exponent in zip(sizes, DIMENSIONS.get(unit, NONE)):
        value *= size ** exponent
    return value


def misses(name: str, sizes: tuple[float, ...], shares: list[float]) -> float:
    """How far the sum of resized inputs is from the resized sum, as a fraction."""
    one = REGISTRY[name]
    inputs = {p.name: p.low + share * (p.high - p.low) if p.unit in AFFINE else p.usual * (1 + share) + 0.01 * share
              for p, share in zip(one.params, shares)}
    moved = {p.name: scaled(inputs[p.name], p.unit, sizes) for p in one.params}
    wanted = scaled(work(one, inputs), one.unit, sizes)
    return abs(work(one, moved) - wanted) / max(abs(wanted), 1e-300)


def test_every_unit_has_dimensions():
    used = {p.unit for n in NUMERIC for p in REGISTRY[n].params} | {REGISTRY[n].unit for n in NUMERIC}

    assert used - AFFINE == set(DIMENSIONS)


SIZES = st.tuples(*[st.floats(0.5, 2.0)] * 5)


@pytest.mark.parametrize("name", [n for n in NUMERIC if n not in HOLDS])
@settings(max_examples=FEW)
@given(sizes=SIZES, shares=st.lists(st.floats(0.01, 0.2), min_size=6, max_size=6))
def test_a_sum_without_constants_is_the_same_in_units_of_any_size(name, sizes, shares):
    off = misses(name, sizes, shares)

    assert off < 1e-9


@pytest.mark.parametrize("name", sorted(HOLDS))
def test_a_sum_named_as_holding_a_constant_does_hold_one(name):
    off = [misses(name, sizes, [0.1] * 6) for sizes in ((1.7, 1, 1, 1, 1), (1, 1.7, 1, 1, 1), (1, 1, 1.7, 1, 1), (1, 1, 1, 1.7, 1))]

    assert max(off) > 1e-3
