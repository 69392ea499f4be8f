"""Random inputs inside the ranges of a sum, for the property tests."""
from __future__ import annotations

import math
from typing import Any

from hypothesis import settings
from hypothesis import strategies as st

from wizard.sums.forms import REGISTRY
from wizard.sums.forms.shapes import Param, Sum

FEW = max(12, settings.default.max_examples // 8)     # examples for each sum: 12 as a rule, more in a long run
NUMERIC = sorted(name for name, one in REGISTRY.items() if all(p.reads != "flow_table" for p in one.params))


def value_of(param: Param) -> st.SearchStrategy[float]:
    """Values of a param, spread over its range (over its logarithm where the range is wide)."""
    if param.whole:
        return st.integers(math.ceil(param.low), math.floor(param.high)).map(float)
    if param.low > 0 and param.high / param.low > 50:
        return st.floats(math.log(param.low), math.log(param.high)).map(
            lambda x: min(max(math.exp(x), param.low), param.high))
    return st.floats(param.low, param.high)


def inputs_of(one: Sum) -> st.SearchStrategy[dict[str, float]]:
    """Inputs of a sum, each in its range."""
    return st.fixed_dictionaries({p.name: value_of(p) for p in one.params})


def work(one: Sum, inputs: dict[str, Any]) -> float:
    """The unrounded value of a sum."""
    return one.function(**inputs)
