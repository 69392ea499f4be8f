"""A newcomer can reckon every sum from its page: the formula as printed, with the names as explained, gives the number."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import Any

import pytest

from build_tools.pages.formula import Node, lines
from build_tools.pages.sum_names import CONSTANTS, INPUTS, SAID, WORKED_OUT, explained, input_of
from build_tools.pages.sum_words import INVENTED_TABLE
from wizard.sums.copper import LISTED_MM2, section_for_resistance_mm2, stranded_resistance_ohm_km, temperature_factor
from wizard.sums.forms import REGISTRY, Sum
from wizard.sums.wire import FUSES_A, smallest_section_mm2

NAMES = sorted(REGISTRY)
TABLE = [tuple(float(part) for part in point.split(":")) for point in INVENTED_TABLE.split()]
ROUNDED = 2e-4
"""How far the constants that a formula prints, such as 287.05 and 0.5787, may be from those of the function."""
Given = Mapping[str, Any]


def neighbours(given: Given) -> dict[str, float]:
    """Return what the table says below and above the frequency or the airflow that is asked."""
    by_hz = "flow_g_s" not in given
    asked = given.get("flow_g_s", given.get("frequency_hz", given.get("frequency_limit_hz")))
    place = max(i for i, point in enumerate(TABLE[:-1]) if point[0 if by_hz else 1] <= asked)
    (hz0, flow0), (hz1, flow1) = TABLE[place], TABLE[place + 1]
    return {"frequency below": hz0, "frequency above": hz1, "airflow below": flow0, "airflow above": flow1}


LOOKED_UP: Mapping[str, Callable[[Given], float]] = {
    "ohms per km": lambda given: stranded_resistance_ohm_km(given["section_mm2"], given.get("temp_c", given.get("conductor_c"))),
    "class 5 table at 20 °C": lambda given: stranded_resistance_ohm_km(given["section_mm2"], 20.0),
    "the smallest section": lambda given: smallest_section_mm2(**given),
    "x": lambda given: given["ethanol_percent"] / 100.0,
    "frequency counted": lambda given: min(given["frequency_limit_hz"], TABLE[-1][0]),
    "2 mm": lambda given: 2.0,
    "π": lambda given: math.pi,
    **{name: lambda given, name=name: neighbours(given)[name] for name in neighbours({"frequency_hz": 5000.0})},
}


def reckoned(one: Sum, given: Given) -> float:
    """Return what the formula gives, line by line, the last first."""
    rows = lines(one.formula)
    known: dict[str, float] = {}
    for row in reversed(rows):
        value = _value(one, row.tree, given, known)
        known[row.name] = value
    return known[""]


def _value(one: Sum, tree: Node, given: Given, known: Mapping[str, float]) -> float:
    kind, body = tree[0], tree[1]
    if kind == "number":
        return float(body.replace(" ", ""))
    if kind == "words":
        if body in known:
            return known[body]
        param = input_of(one, body)
        return given[param.name] if param else LOOKED_UP[body](given)
    inner = lambda part: _value(one, part, given, known)
    if kind == "power":
        return inner(body) ** inner(tree[2])
    if kind in ("group", "root"):
        return math.sqrt(max(inner(body), 0.0)) if kind == "root" else inner(body)
    if kind == "row":
        return _told(body, inner, given)
    total = inner(body[0][1])
    for sign, part in body[1:]:
        value = inner(part)
        total = {"×": total * value, "÷": total / value if sign == "÷" else 0.0, "+": total + value, "−": total - value}[sign]
    return total


def _told(parts: list[Node], inner: Callable[[Node], float], given: Given) -> float:
    """Return what a line means that says in words what is done with a reckoning."""
    words = " ".join(part[1].strip(" ,") for part in parts if part[0] == "words" and part[1].strip(" ,") not in LOOKED_UP)
    values = [inner(part) for part in parts if part[0] != "words" or part[1] in LOOKED_UP]
    if words == "not under 0":
        return max(0.0, values[0])
    if words == "the larger of and":
        return max(values)
    if words == "the next rating up from":
        return next(float(fuse) for fuse in FUSES_A if fuse >= values[0] * (1 - 1e-12))
    if words == "the next listed size up from":
        return next(size for size in LISTED_MM2 if size >= values[0] * (1 - 1e-9))
    assert words == "the section whose ohms per km are"
    return section_for_resistance_mm2(values[0] / temperature_factor(given["temp_c"]))


def cases(one: Sum) -> list[dict[str, Any]]:
    """Return the usual inputs, and each number moved a little up and down from them."""
    usual = {p.name: p.usual for p in one.params if p.usual is not None}
    found = [usual]
    for p in one.params:
        for factor in (0.8, 1.25):
            value = round(usual[p.name] * factor) if p.whole else usual[p.name] * factor if p.usual is not None else None
            if value is not None and p.low <= value <= p.high:
                found.append({**usual, p.name: float(value)})
    return found


@pytest.mark.parametrize("name", NAMES)
def test_the_formula_as_printed_gives_the_number(name: str) -> None:
    from wizard.sums.forms.airflow_table import make_flow_table

    one = REGISTRY[name]
    table = {"table": make_flow_table(TABLE)} if any(p.reads == "flow_table" for p in one.params) else {}
    apart = []
    for given in cases(one):
        found = one.function(**given, **table)
        wanted = getattr(found, "value", found)
        got = reckoned(one, given)
        if abs(got - wanted) > ROUNDED * max(abs(wanted), 1e-9):
            apart.append((given, wanted, got))

    assert apart == []


@pytest.mark.parametrize("name", NAMES)
def test_every_name_in_a_formula_is_explained_and_every_number_that_goes_in_is_named(name: str) -> None:
    one = REGISTRY[name]
    rows = explained(one)
    words = " ".join(f"{row} {text}" for row, text in rows).lower() + one.formula.lower()
    aside = {"section_mm2", "temp_c", "table", "ethanol_percent"} | ({p.name for p in one.params} if "the smallest section" in dict(rows) else set())

    assert [row for row, text in rows if not text] == []
    assert [p.title for p in one.params if p.name not in aside and p.title.lower() not in words] == []


def test_no_explanation_is_left_behind() -> None:
    formulas = " ".join(one.formula for one in REGISTRY.values())
    names = {p.name for one in REGISTRY.values() for p in one.params}

    assert [name for name in (*INPUTS, *SAID, *CONSTANTS, *WORKED_OUT) if name not in formulas] == []
    assert [name for some in INPUTS.values() for name in some if name not in names] == []
    assert set(WORKED_OUT.values()) <= set(REGISTRY)
