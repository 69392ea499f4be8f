"""What would make a build work that does not: steps combined, the better of two ways, and what a part takes along."""

from __future__ import annotations

import json
from typing import Any

import pytest

from tests.scenarios.scenario import configured_facts
from wizard.engine import answer, load

Json = dict[str, Any]


@pytest.fixture(scope="module")
def book() -> Any:
    """Return the facts as the engine reads them."""
    return load(configured_facts().text)


def changes(book: Any, build: Json) -> list[Json]:
    found: list[Json] = json.loads(answer(book, json.dumps(build)))["changes"]
    return found


def test_two_faults_of_workmanship_are_mended_together(book: Any) -> None:
    build = {"asks": ["controller_grounds", "pedal_fit"],
             "slots": {"pedal": {"told": {"travel_check": "catches"}}, "harness": {"told": {"ground_landing": "left_empty"}}}}
    found = changes(book, build)
    both = [one for one in found if {way["slot"] for way in one["ways"]} == {"harness", "pedal"}]

    assert [one["verdict"] for one in both] == ["works"]
    assert both[0]["text"].startswith("Do it otherwise: engine harness") and "Do it otherwise" not in both[0]["text"][5:]
    assert any(one["parts"] and one["ways"] for one in found)


def test_of_two_ways_to_do_the_same_thing_only_the_better_is_proposed(book: Any) -> None:
    found = changes(book, {"asks": ["controller_grounds"], "slots": {"harness": {"told": {"ground_landing": "left_empty"}}}})
    ways = [one for one in found if one["ways"] and not one["parts"]]

    assert ways and {one["verdict"] for one in ways} == {"works"}


def test_a_part_that_suits_each_outcome_apart_is_proposed_made_to_order(book: Any) -> None:
    told = {"driven_by": "controller", "solenoid_feed": "relay", "interlock": "fitted", "request": "missing"}
    found = changes(book, {"asks": ["starter_control"], "nothing_added": True, "slots": {
        "controller": {"told": {"start_control": "settable"}, "keep": True}, "starter_circuit": {"told": told}}})

    assert [("starter_circuit", None)] in [[(part["slot"], part["family"]) for part in one["parts"]] for one in found]
    assert any(one["allow_additions"] for one in found)


def test_where_other_things_are_unknown_a_change_that_clears_the_failure_is_proposed(book: Any) -> None:
    throttle = {"pedal": {"told": {"actuation": "cable"}}, "throttle_body": {"told": {"actuation": "motor"}}}
    found = changes(book, {"slots": {**throttle, "controller": "not_sure", "transmission": "not_sure"}})

    assert found
    for change in found:
        after = json.loads(answer(book, json.dumps(change["build"])))
        assert after["verdict"] == change["verdict"] == "cannot-tell"
        assert {one["subject"]: one["verdict"] for one in after["subjects"]}["throttle"] in ("works", "works-with-additions")
