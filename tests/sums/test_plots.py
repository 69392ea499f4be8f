"""Plots as data: a curve through the reader's own point, inside the plausible range, with a sentence that says it."""
from __future__ import annotations

import math

import pytest

from wizard.sums.forms import REGISTRY, Refusal
from wizard.sums.forms.plots import ALONG, Plot, plot

TABLE = "1500:2 2500:7 4000:24 6000:75 8000:165 10000:300 12000:480"


def usual(name: str) -> dict:
    return {p.name: TABLE if p.reads == "flow_table" else p.usual for p in REGISTRY[name].params}


@pytest.mark.parametrize("name", sorted(ALONG))
def test_a_plot_runs_left_to_right_through_the_readers_point(name):
    drawn = plot(name, usual(name))
    assert isinstance(drawn, Plot)
    param = next(p for p in REGISTRY[name].params if p.name == ALONG[name])
    xs, ys = zip(*drawn.line)

    assert len(xs) >= 7 and list(xs) == sorted(xs) and len(set(xs)) == len(xs)
    assert all(math.isfinite(y) for y in ys) and len(set(ys)) > 1
    assert ys == tuple(sorted(ys)) or ys == tuple(sorted(ys, reverse=True))
    assert xs[0] <= drawn.here[0] <= xs[-1]
    assert min(ys) - 1e-9 <= drawn.here[1] <= max(ys) + 1e-9
    assert param.reads == "flow_table" or "Hz:g/s" in {p.unit for p in REGISTRY[name].params} or param.low <= xs[0] < xs[-1] <= param.high


@pytest.mark.parametrize("value_share", [0.0, 0.02, 0.5, 1.0])
@pytest.mark.parametrize("name", sorted(n for n in ALONG if not n.startswith("airflow_sensor")))
def test_a_plot_holds_the_readers_point_wherever_it_lies_in_the_range(name, value_share):
    param = next(p for p in REGISTRY[name].params if p.name == ALONG[name])
    value = param.low + value_share * (param.high - param.low)
    drawn = plot(name, {**usual(name), param.name: value})

    assert drawn.line[0][0] - 1e-9 <= value <= drawn.line[-1][0] + 1e-9
    assert param.low <= drawn.line[0][0] < drawn.line[-1][0] <= param.high + 1e-9


def test_the_words_of_a_plot_say_which_way_it_goes_and_where_the_reader_is():
    drawn = plot("speed_signal_hz", {"pulses_per_km": 64000, "speed_km_h": 100})

    assert drawn.text.replace("\u00a0", " ") == ("Frequency of the speed signal rises from 17.78 Hz at 1 km/h to 3 556 Hz at 200 km/h. "
                                                 "Yours is 1 778 Hz at 100 km/h.")


def test_the_limit_of_the_trade_is_there_to_mark():
    drawn = plot("wire_drop_v", usual("wire_drop_v"))

    assert drawn.limits == (0.5,)


def test_a_sum_without_a_plot_gives_none_and_a_wrong_input_its_refusal():
    refused = plot("wire_drop_v", {**usual("wire_drop_v"), "length_m": -1})

    assert plot("signal_ratio", usual("signal_ratio")) is None
    assert isinstance(refused, Refusal) and refused.inputs[0].name == "length_m"
