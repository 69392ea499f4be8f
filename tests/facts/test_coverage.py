"""What coverage counts, and that every way to find out in the real facts is said in full."""

from __future__ import annotations

import copy
import json
import re
from typing import Any

import pytest

from build_tools.compile import compile_book
from build_tools.config import configured_layers
from build_tools.coverage import coverage, coverage_lines, undrawn_rules
from build_tools.index import index
from build_tools.records import gather
from build_tools.statements import by_weakest, statements, weakest

METER = re.compile(r"\b(multi)?meter\b")
SETTING = re.compile(r"\b(ohms?|volts?|millivolts?|amperes?|hertz|buzzer|direct current|200 Ω|2 V|20 V)(?!\w)", re.IGNORECASE)


@pytest.fixture(scope="module")
def book() -> dict[str, Any]:
    """Return the book of the configured facts."""
    return compile_book(index(gather(configured_layers())))


def test_every_attribute_has_a_way_and_every_way_says_time_hazard_tools_and_outcomes(book: dict[str, Any]) -> None:
    found = coverage(book)

    assert (found["without_way"], found["ways_lacking"], found["outcomes_lacking"], found["codes_lacking"]) == ([], [], [], [])
    assert found["counts"]["find_out"] > 150


def test_every_way_with_a_meter_says_what_to_set_it_to(book: dict[str, Any]) -> None:
    with_meter = {name: way for name, way in book["find_out"].items() if any(METER.search(tool) for tool in way["tools"])}
    silent = [name for name, way in with_meter.items() if not SETTING.search(" ".join([*way["steps"], *way["tools"]]))]

    assert len(with_meter) > 40
    assert silent == []


def test_what_is_taken_away_is_told(book: dict[str, Any]) -> None:
    less = copy.deepcopy(book)
    less["find_out"]["measure-ground-drop"].update(time=None, tools=[], expect={})
    less["kinds"]["pedal"]["attributes"][0]["find_out"] = None
    less["codes"]["P0562"]["causes"] = []
    found = coverage(less)

    assert [line for line in found["ways_lacking"] if "measure" in line] == ["measure-ground-drop: time, tools"]
    assert {line.partition(": ")[2] for line in found["outcomes_lacking"]} == {"measure-ground-drop"}
    assert found["without_way"] == [f"pedal.{less['kinds']['pedal']['attributes'][0]['id']}"]
    assert found["codes_lacking"] == ["P0562"]


def test_every_addition_that_is_sold_has_a_price_and_work_is_counted_apart(book: dict[str, Any]) -> None:
    less = copy.deepcopy(book)
    del less["offers"]["sense_wire"]
    whole, lacking = coverage(book), coverage(less)

    assert (whole["unpriced"], lacking["unpriced"]) == ([], ["sense_wire"])
    assert sum(whole["offered"].values()) == len(book["additions"])
    assert [lacking["offered"][key] - whole["offered"][key] for key in whole["offered"]] == [-1, 1, 0]
    assert not book["additions"]["remove_terminator"]["sold"] and not book["additions"]["set_base_air"]["sold"]


def test_a_rule_with_something_to_see_and_no_drawing_is_listed(book: dict[str, Any]) -> None:
    undrawn = {**book, "drawings": {"rules": {}, "attributes": {}, "find_out": {}}}
    before, after = coverage(book)["without_drawing"], coverage(undrawn)["without_drawing"]

    assert set(before) < set(after)
    assert "vss-gap" in after and "vss-gap" not in before


def test_every_rule_is_drawn_or_said_to_need_no_drawing_for_one_reason(book: dict[str, Any]) -> None:
    excused = book["undrawn"]

    assert coverage(book)["without_drawing"] == []
    assert sorted(excused) == undrawn_rules(book)
    assert sum(coverage(book)["needs_no_drawing"].values()) == len(excused) > 50


def test_the_report_as_one_object_survives_json_and_the_lines_hold_its_counts(book: dict[str, Any]) -> None:
    found = coverage(book)
    lines = coverage_lines(book)

    assert json.loads(json.dumps(found)).keys() == found.keys()
    assert f"  common practice: {found['by_weakest_source']['common-practice']}" in lines
    assert [line for line in lines if line.startswith("Rules that no symptom")] == [
        f"Rules that no symptom and no fault code leads to ({len(found['without_symptom'])}):"
    ]


def test_a_statement_counts_once_by_its_weakest_source(book: dict[str, Any]) -> None:
    several = [statement for statement in statements(book) if len(statement.cited) > 1]

    assert sum(by_weakest(book).values()) == sum(1 for _ in statements(book)) > 4000
    assert several
    assert weakest(book, ["cfr-49-571-124#S5.1", "trade-practice"]) == "common-practice"
    assert weakest(book, ["cfr-49-571-124#S5.1"]) == "published"
    assert weakest(book, ["cfr-49-571-124#S5.1", "nobody"]) == "none"
    assert by_weakest(book)["none"] == 0


def test_every_way_that_runs_or_cranks_the_engine_says_that_the_vehicle_cannot_move(book: dict[str, Any]) -> None:
    runs = re.compile(r"(?i)\bcranking\b|\b(?:then|helper|before you) crank\b|start the engine|start and stop the engine|engine (?:warm and )?(?:idle\b|idling|running)")
    safe = re.compile(r"(?i)chock|on stands")
    moving = {name: " ".join([*way["steps"], way["hazard"]]) for name, way in book["find_out"].items() if runs.search(" ".join(way["steps"]))}

    assert len(moving) > 15
    assert sorted(name for name, text in moving.items() if not safe.search(text)) == []
