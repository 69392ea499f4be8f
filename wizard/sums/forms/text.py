"""A sum as text: the one way in which the command line, the pages and the browser ask for it, so all print the same bytes."""
from __future__ import annotations

import json
from typing import Any, Mapping

from .plots import plot
from .shapes import Refusal
from .work import as_plain, work_out


def sum_text(name: str, inputs: Mapping[str, Any]) -> str:
    """Return what `work_out` makes of the inputs, result or refusal, as JSON with sorted keys on one line."""
    return _json(as_plain(work_out(name, inputs)))


def plot_text(name: str, inputs: Mapping[str, Any]) -> str:
    """Return the curve through the inputs as JSON; `null` for a sum without a plot, and where the sum itself is refused."""
    found = plot(name, inputs)
    return _json(None if found is None or isinstance(found, Refusal) else as_plain(found))


def _json(thing: Any) -> str:
    return json.dumps(thing, sort_keys=True, ensure_ascii=False)
