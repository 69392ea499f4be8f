"""Working a sum out: inputs checked and read, result with both showings, band, and the effect of each input."""
from __future__ import annotations

import math
from typing import Any, Mapping

from .airflow_table import FlowTable, Reading, make_flow_table
from .readers import READERS
from .registry import REGISTRY
from .rounding import plain, shown, shown_input, shown_other
from .shapes import Band, Effect, Input, Param, Refusal, Result, Stand, Sum, Wrong
from .units import mistakable, read_number


def work_out(name: str, inputs: Mapping[str, Any]) -> Result | Refusal:
    """Return a sum worked out from numbers or texts; a refusal when its name or an input is unknown, wrong or missing.

    All that is wrong is named at once. With something wrong the refusal says `refused`; with something only
    missing it says `cannot-tell` and how to get it.
    """
    one = REGISTRY.get(name)
    if one is None:
        words = set(name.split("_"))
        near = [other for other in REGISTRY if words & set(other.split("_"))]
        return Refusal("refused", f"No sum is called {name!r}." + (f" Near it: {', '.join(near)}." if near else ""))
    names = ", ".join(p.name for p in one.params)
    known = {p.name for p in one.params}
    strange = [Wrong(key, plain(value), f"one of {names}", "") for key, value in inputs.items() if key not in known]
    values, wrong, missing = {}, [], []
    for param in one.params:
        said = inputs.get(param.name)
        if said is None or said == "":
            missing.append(Wrong(param.name, "", _expected(param), param.measure))
        elif (value := _read(param, said)) is None:
            wrong.append(_wrong(param, said))
        elif isinstance(value, Refusal):
            wrong.extend(value.inputs)
        else:
            values[param.name] = value
    if strange or wrong or missing:
        return _refusal(one, strange, wrong, missing)
    return _result(one, values, inputs)


def _wrong(param: Param, said: Any) -> Wrong:
    expected = _expected(param)
    if param.reads == "flow_table":
        return Wrong(param.name, f"{plain(said)} is not a table", expected, param.measure)
    if isinstance(said, str) and mistakable(said):
        expected += "; a comma before three digits can be read in two ways, so write a decimal point, and thousands without a comma"
    return Wrong(param.name, plain(said), expected, param.measure)


def _expected(param: Param) -> str:
    if param.reads == "flow_table":
        return READERS[param.reads][1]
    kind = "a whole number" if param.whole else "a ratio" if param.unit == "to 1" else "a number"
    unit = "" if param.unit == "to 1" else f" {param.unit}"
    text = f"{kind} from {plain(param.low)} to {plain(param.high)}{unit}"
    return f"{text}, or {READERS[param.reads][1]}" if param.reads else text


def _read(param: Param, said: Any) -> Any:
    """Return the value of one input, a refusal of a table, or None when it cannot be used."""
    if param.reads == "flow_table":
        if isinstance(said, FlowTable):
            return make_flow_table(list(zip(said.hz, said.g_s)))
        return READERS["flow_table"][0](said) if isinstance(said, str) else None
    value: float | None
    if isinstance(said, str):
        value = READERS[param.reads][0](said) if param.reads else None
        value = read_number(said, param.unit) if value is None else value
    else:
        value = float(said) if isinstance(said, (int, float)) and not isinstance(said, bool) else None
    if value is None or not math.isfinite(value) or not param.low <= value <= param.high:
        return None
    return None if param.whole and value != round(value) else value


def _refusal(one: Sum, strange: list[Wrong], wrong: list[Wrong], missing: list[Wrong]) -> Refusal:
    titles = {p.name: p.title for p in one.params}
    sentences = [f"There is no input called {w.name}: expected {w.expected}." for w in strange]
    tables = {p.name for p in one.params if p.reads == "flow_table"}
    sentences += [f"{titles[w.name]} cannot be used: {w.said}. Expected: {w.expected}." if w.name in tables else
                  f"{titles[w.name]} cannot be {w.said}: expected {w.expected}." for w in wrong]
    sentences += [f"{titles[w.name]} is missing: give {w.expected}. {w.measure}".strip() for w in missing]
    verdict = "refused" if strange or wrong else "cannot-tell"
    return Refusal(verdict, " ".join(sentences), tuple(strange + wrong + missing))


def _result(one: Sum, values: dict[str, Any], said: Mapping[str, Any]) -> Result | Refusal:
    try:
        got = one.function(**values)
    except (ValueError, ZeroDivisionError, OverflowError):
        return Refusal("refused", f"{one.title}: these inputs together give no number.")
    if isinstance(got, Refusal):
        return got
    value = got.value if isinstance(got, Reading) else got
    if not math.isfinite(value):
        return Refusal("refused", f"{one.title}: no listed size is large enough for these inputs.")
    slack = abs(value) * one.uncertainty + one.spread
    low, high = (got.at_least, got.at_most) if isinstance(got, Reading) else (value - slack, value + slack)
    si, other = ([say(x, one.unit, one.digits) for x in (value, low, high)] for say in (shown, shown_other))
    return Result(one.name, one.title, value, low, high, one.unit, si[0], other[0], si[1], si[2], other[1], other[2],
                  tuple(_input(p, values[p.name], said[p.name]) for p in one.params),
                  tuple(_effect(one, p, values) for p in one.params if not isinstance(values[p.name], FlowTable)),
                  _stand(one.band, low, high), one.tells(**values) if one.tells else "", one.formula, one.monotone, one.notes, one.sources)


def _input(param: Param, value: Any, said: Any) -> Input:
    if isinstance(value, FlowTable):
        text = " ".join(f"{hz:.10g}:{flow:.10g}" for hz, flow in zip(value.hz, value.g_s))
        return Input(param.name, param.title, math.nan, param.unit, text, "")
    return Input(param.name, param.title, value, param.unit, shown_input(value, said, param.unit),
                 shown_other(value, param.unit, 4))


def _effect(one: Sum, param: Param, values: dict[str, Any]) -> Effect:
    value = values[param.name]
    if param.unit == "°C":
        step, of = 10.0, "10 °C"
    elif param.whole and abs(value) < 10:
        step, of = 1.0, "1"
    else:
        step, of = abs(value) / 10.0, "10 %"
        step = float(round(step)) if param.whole else step
    if of == "10 %" and not any(param.low <= value + sign * step <= param.high for sign in (-1, 1)):
        step, of = step / 10.0, "1 %"
    moved = [_moved(one, param, values, value + sign * step) for sign in (-1, 1)]
    texts = ["" if m is None else say(m, one.unit, one.digits) for say in (shown, shown_other) for m in moved]
    return Effect(param.name, of, moved[0], moved[1], *texts)


def _moved(one: Sum, param: Param, values: dict[str, Any], value: float) -> float | None:
    if not param.low <= value <= param.high:
        return None
    try:
        got = one.function(**{**values, param.name: value})
    except (ValueError, ZeroDivisionError, OverflowError):
        return None
    got = got.value if isinstance(got, Reading) else got
    return got if isinstance(got, float) and math.isfinite(got) else None


def _stand(band: Band | None, low: float, high: float) -> Stand | None:
    if band is None:
        return None
    bottom = -math.inf if band.low is None else band.low
    top = math.inf if band.high is None else band.high
    if bottom <= low and high <= top:
        where = "inside"
    else:
        where = "outside" if high < bottom or low > top else "undecided"
    return Stand(where, band.says, band.source)


def as_plain(answer: Result | Refusal) -> dict[str, Any]:
    """Return a result or refusal as mappings, lists, texts and numbers, ready for JSON; a table's value is left out."""
    def walk(thing: Any) -> Any:
        if hasattr(thing, "_asdict"):
            return {k: walk(v) for k, v in thing._asdict().items()}
        if isinstance(thing, (tuple, list)):
            return [walk(v) for v in thing]
        return None if isinstance(thing, float) and not math.isfinite(thing) else thing
    return walk(answer)
