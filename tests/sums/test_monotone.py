"""Every sum moves one way with each input, as it says, so intervals may be worked out at their corners."""
from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.sums.cases import FEW, NUMERIC, inputs_of, value_of, work
from wizard.sums.forms import REGISTRY

TINY = 1e-9


@pytest.mark.parametrize("name", NUMERIC)
@settings(max_examples=FEW)
@given(data=st.data())
def test_a_sum_rises_or_falls_with_each_input_as_it_says(name, data):
    one = REGISTRY[name]
    base = data.draw(inputs_of(one))
    for param in one.params:
        points = sorted(data.draw(st.lists(value_of(param), min_size=3, max_size=3)))
        values = [work(one, {**base, param.name: p}) for p in points]
        slack = TINY * max(map(abs, values), default=0.0) if all(abs(v) != float("inf") for v in values) else 0.0
        rises = all(b >= a - slack for a, b in zip(values, values[1:]))
        falls = all(b <= a + slack for a, b in zip(values, values[1:]))

        assert {False: rises, True: falls, None: rises or falls}[param.falls], (param.name, points, values)


@pytest.mark.parametrize("name", NUMERIC)
@settings(max_examples=FEW)
@given(data=st.data())
def test_a_point_inside_a_box_of_inputs_lies_between_the_values_at_its_corners(name, data):
    one = REGISTRY[name]
    ends = [sorted(data.draw(st.tuples(value_of(p), value_of(p)))) for p in one.params]
    inside = [data.draw(st.floats(low, high)) if low < high else low for low, high in ends]
    corners = [one.function(*corner) for corner in product(*ends)]
    value = one.function(*inside)
    slack = TINY * max(abs(c) for c in corners if abs(c) != float("inf")) if any(abs(c) != float("inf") for c in corners) else 0.0

    assert min(corners) - slack <= value <= max(corners) + slack


@pytest.mark.parametrize("name", NUMERIC)
def test_no_input_is_without_effect(name):
    """At the usual values, or somewhere in the ranges, each input changes the result."""
    one = REGISTRY[name]
    usual = {p.name: p.usual for p in one.params}
    for param in one.params:
        found = {work(one, {**usual, param.name: param.low + (param.high - param.low) * i / 40}) for i in range(41)}

        assert len(found) > 1, param.name
