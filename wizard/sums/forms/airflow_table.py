"""Airflow sensor tables: rising (Hz, g/s) points, read between, never beyond.

No open table of a real sensor exists, and the curve is strongly bent, so the points must come from whoever
supplies the sensor. Between two points the value is read on the straight line, which anyone can check by
hand; since flow only rises with frequency, the true value lies between the two points.
"""
from __future__ import annotations

import re
from bisect import bisect_right
from typing import NamedTuple, Sequence

from .shapes import Param, Refusal, Sum, Wrong, make_sum

ASK = "Ask whoever supplies the sensor for its table of frequency against flow, in its own housing."
EXPECTED = "at least three points of Hz:g/s, both rising, such as 1500:2 4000:24 10000:300"


class FlowTable(NamedTuple):
    """Points of a frequency-type airflow sensor, both columns strictly rising."""

    hz: tuple[float, ...]
    g_s: tuple[float, ...]


class Reading(NamedTuple):
    """A value read from a table, and the two points' values that it must lie between."""

    value: float
    at_least: float
    at_most: float


def _refuse(said: str, expected: str) -> Refusal:
    return Refusal("refused", f"The airflow table cannot be used: {said}. Expected: {expected}.",
                   (Wrong("table", said, expected, ASK),))


def make_flow_table(points: Sequence[tuple[float, float]]) -> FlowTable | Refusal:
    """Return a table from (Hz, g/s) points; a refusal if there are under three, or either column does not rise."""
    if len(points) < 3:
        return _refuse(f"it has {len(points)} points", EXPECTED)
    for (hz, flow), (next_hz, next_flow) in zip(points, points[1:]):
        if not (0 <= hz < next_hz and 0 <= flow < next_flow):
            return _refuse(f"after {hz:g}:{flow:g} comes {next_hz:g}:{next_flow:g}", EXPECTED)
    return FlowTable(tuple(float(p[0]) for p in points), tuple(float(p[1]) for p in points))


def read_flow_table(text: str) -> FlowTable | Refusal:
    """Return a table from text such as `1500:2 4000:24 10000:300`, or a refusal that says what was expected."""
    points = []
    for word in re.split(r"[\s,;]+", text.strip()):
        match = re.fullmatch(r"(\d+(?:\.\d+)?):(\d+(?:\.\d+)?)", word, re.ASCII)
        if not match:
            return _refuse(f"{word!r} is not a point", EXPECTED)
        points.append((float(match[1]), float(match[2])))
    return make_flow_table(points)


def _between(xs: tuple[float, ...], ys: tuple[float, ...], x: float, what: str, unit: str) -> Reading | Refusal:
    if not xs[0] <= x <= xs[-1]:
        return _refuse(f"{what} {x:g} {unit} is outside it, and a table is never continued past its ends",
                       f"{what} from {xs[0]:g} to {xs[-1]:g} {unit}")
    i = min(bisect_right(xs, x), len(xs) - 1) - 1
    share = (x - xs[i]) / (xs[i + 1] - xs[i])
    value = ys[i] + share * (ys[i + 1] - ys[i])
    return Reading(value, ys[i] if share else value, ys[i + 1] if share < 1 else value)


def flow_at_frequency_g_s(table: FlowTable, frequency_hz: float) -> Reading | Refusal:
    """Return the flow in g/s at a frequency, with the points it lies between; a refusal outside the table.

    Formula: the straight line between the two neighbouring points. Source: common practice.
    """
    return _between(table.hz, table.g_s, frequency_hz, "frequency", "Hz")


def frequency_at_flow_hz(table: FlowTable, flow_g_s: float) -> Reading | Refusal:
    """Return the frequency in Hz at a flow, with the points it lies between; a refusal outside the table.

    Formula: the straight line between the two neighbouring points. Source: common practice.
    """
    return _between(table.g_s, table.hz, flow_g_s, "flow", "g/s")


def usable_flow_g_s(table: FlowTable, frequency_limit_hz: float) -> Reading | Refusal:
    """Return the highest flow that a controller can count with this sensor.

    Formula: the flow at the controller's limit, or the end of the table if the limit is beyond it (there the
    sensor ends first). A limit below the table's first point is refused.
    """
    return flow_at_frequency_g_s(table, min(frequency_limit_hz, table.hz[-1]))


def airflow_sensor_g_s(table: FlowTable, frequency_hz: float) -> Reading | Refusal:
    """Return the airflow in g/s that a sensor's frequency stands for; as `flow_at_frequency_g_s`."""
    return flow_at_frequency_g_s(table, frequency_hz)


def airflow_sensor_hz(table: FlowTable, flow_g_s: float) -> Reading | Refusal:
    """Return the frequency in Hz that a sensor gives at an airflow; as `frequency_at_flow_hz`."""
    return frequency_at_flow_hz(table, flow_g_s)


def airflow_sensor_usable_g_s(table: FlowTable, frequency_limit_hz: float) -> Reading | Refusal:
    """Return the most airflow in g/s that a controller with this limit can count; as `usable_flow_g_s`."""
    return usable_flow_g_s(table, frequency_limit_hz)


TABLE = Param("table", "Table of the airflow sensor", "Hz:g/s", 0, 0, measure=ASK, reads="flow_table", falls=None)
_HZ = Param("frequency_hz", "Frequency", "Hz", 1, 30000, measure="Measure with a frequency meter.", usual=9000)
_FLOW = Param("flow_g_s", "Airflow", "g/s", 0.1, 3000, measure="Work it out from engine or power.", usual=304)
_LIMIT = Param("frequency_limit_hz", "Highest frequency the controller counts", "Hz", 500, 30000,
               measure="Ask whoever supplies the controller.", usual=10000)
_READ = "{1} below + ({2} - {0} below) ÷ ({0} above - {0} below) × ({1} above - {1} below)"
_SOURCES = (("common-practice", "A rising table read on the line between its points."),)
_NOTES = ("The curve is bent: the true value lies between the two neighbouring points. Past its ends the table says nothing.",)

SUMS: tuple[Sum, ...] = (
    make_sum("airflow", airflow_sensor_g_s, "Airflow that a sensor's frequency stands for", (TABLE, _HZ), "g/s",
             _READ.format("frequency", "airflow", "frequency"),
             _SOURCES, 0.0, 3, notes=_NOTES),
    make_sum("airflow", airflow_sensor_hz, "Frequency of an airflow sensor at a flow", (TABLE, _FLOW), "Hz",
             _READ.format("airflow", "frequency", "airflow"),
             _SOURCES, 0.0, 3, notes=_NOTES),
    make_sum("airflow", airflow_sensor_usable_g_s, "Most airflow that a controller can count", (TABLE, _LIMIT), "g/s",
             _READ.format("frequency", "airflow", "frequency counted"), _SOURCES, 0.0, 3, notes=_NOTES),
)
