"""Plots as data: lines, the reader's own point and limits, with a sentence that says the same; drawing is done elsewhere."""
from __future__ import annotations

import math
from typing import Any, Mapping, NamedTuple

from .airflow_table import FlowTable, Reading, make_flow_table, read_flow_table
from .registry import REGISTRY
from .rounding import shown
from .shapes import Param, Refusal, Result, Sum
from .work import work_out

STEPS = 48
# sum -> the input along the bottom, for sums that people would rather look at than read
ALONG: Mapping[str, str] = {
    "airflow_sensor_g_s": "frequency_hz",
    "airflow_sensor_hz": "flow_g_s",
    "airflow_sensor_usable_g_s": "frequency_limit_hz",
    "alternator_speed_rpm": "engine_rpm",
    "blend_air_fuel_ratio": "ethanol_percent",
    "blend_flow_factor": "ethanol_percent",
    "charge_cable_drop_v": "length_m",
    "engine_airflow_g_s": "engine_rpm",
    "engine_speed_rpm": "speed_km_h",
    "injector_duty_percent": "power_kw",
    "injector_flow_at_pressure_cc_min": "pressure_kpa",
    "line_pressure_drop_kpa": "flow_l_h",
    "pulses_per_km_shaft": "diameter_mm",
    "speed_signal_hz": "speed_km_h",
    "standard_pressure_kpa": "altitude_m",
    "throttle_flow_g_s": "drop_kpa",
    "wire_drop_v": "length_m",
}


class Plot(NamedTuple):
    """A curve to draw: `line` is points left to right, `here` the reader's own point, `limits` heights to mark."""

    title: str
    x_title: str
    x_unit: str
    y_title: str
    y_unit: str
    line: tuple[tuple[float, float], ...]
    here: tuple[float, float]
    limits: tuple[float, ...]
    text: str


def plot(name: str, inputs: Mapping[str, Any]) -> Plot | Refusal | None:
    """Return the curve of a sum through the reader's inputs; a refusal as `work_out` gives; None if it has no plot."""
    if name not in ALONG:
        return None
    result = work_out(name, inputs)
    if isinstance(result, Refusal):
        return result
    one = REGISTRY[name]
    param = next(p for p in one.params if p.name == ALONG[name])
    values = {i.name: i.value for i in result.inputs}
    table = _table(one, inputs)
    if table is not None:
        values["table"] = table
    line = _line(one, param, values, table)
    band = (one.band.low, one.band.high) if one.band else ()
    limits = tuple(limit for limit in band if limit is not None)
    return Plot(one.title, param.title, param.unit, one.title, one.unit, line, (values[param.name], result.value), limits,
                _text(one, param, line, values[param.name], result))


def _table(one: Sum, inputs: Mapping[str, Any]) -> FlowTable | None:
    """Return the table among the inputs, which `work_out` has accepted already; None if the sum takes none."""
    if not any(p.reads == "flow_table" for p in one.params):
        return None
    said = inputs["table"]
    made = read_flow_table(said) if isinstance(said, str) else make_flow_table(list(zip(said.hz, said.g_s)))
    return made if isinstance(made, FlowTable) else None


def _line(one: Sum, param: Param, values: dict[str, Any], table: FlowTable | None) -> tuple[tuple[float, float], ...]:
    if table is not None:
        hz_first = param.unit == "Hz"
        return tuple(zip(table.hz, table.g_s)) if hz_first else tuple(zip(table.g_s, table.hz))
    low, high = _span(param, values[param.name])
    points = []
    for i in range(STEPS + 1):
        x = low + (high - low) * i / STEPS
        y = one.function(**{**values, param.name: x})
        y = y.value if isinstance(y, Reading) else y
        if isinstance(y, float) and math.isfinite(y):
            points.append((x, y))
    return tuple(points)


def _span(param: Param, here: float) -> tuple[float, float]:
    """Return what the bottom of the plot covers: to about twice the reader's value, inside the plausible range."""
    if param.low < 0:
        return param.low, param.high
    low = param.low if param.low < here / 4 else max(param.low, here / 2)
    return low, max(min(param.high, 2 * here), low + (param.high - param.low) / 20)


def _text(one: Sum, param: Param, line: tuple[tuple[float, float], ...], here: float, result: Result) -> str:
    (x0, y0), (x1, y1) = line[0], line[-1]
    way = "rises" if y1 > y0 else "falls"
    return (f"{one.title} {way} from {shown(y0, one.unit, one.digits)} at {shown(x0, param.unit, 3)} to "
            f"{shown(y1, one.unit, one.digits)} at {shown(x1, param.unit, 3)}. Yours is {result.shown} at {shown(here, param.unit, 4)}.")
