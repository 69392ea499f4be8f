"""Readers of text for inputs that people know as a code rather than as a number."""
from __future__ import annotations

from typing import Any, Callable, Mapping

from ..copper import read_wire_size
from ..tyre import read_tyre_size
from .airflow_table import EXPECTED as TABLE_EXPECTED, read_flow_table
from .copper import WIRE_EXPECTED
from .tyre import EXPECTED

# reader id -> (function from text to a value, None or a refusal; what it expects)
READERS: Mapping[str, tuple[Callable[[str], Any], str]] = {
    "flow_table": (read_flow_table, TABLE_EXPECTED),
    "tyre_size": (read_tyre_size, EXPECTED),
    "wire_size": (read_wire_size, WIRE_EXPECTED),
}
