"""The order of the questions, what their answers lead to, and the bounds of an answer, on the real facts."""

from __future__ import annotations

import json
from typing import Any

import pytest

from tests.scenarios.scenario import asker, configured_facts

Json = dict[str, Any]
WORST = ["works", "works-with-additions", "cannot-tell", "will-not-work"]
UNSURE = {"slots": {"throttle_body": {"told": {"actuation": "motor"}}, "pedal": {"told": {"actuation": "sensor"}},
                    "controller": {"told": {"throttle_hardware": "unknown"}}}}
COOLING = {"slots": {"air_conditioning": "not_sure", "controller": {"family": "pm_controller_second"}}}
INJECTORS = {"slots": {"injector": {"told": {"terminals": "two", "resistance": "unknown", "flow": 1000}},
                       "controller": {"told": {"injector_driver": "saturated"}}}}


@pytest.fixture(scope="module")
def ask() -> Any:
    """Return the engine on the configured facts."""
    return asker(configured_facts())


@pytest.fixture(scope="module")
def nothing_known(ask: Any) -> Json:
    """Return the answer to a whole swap of which nothing is told."""
    return ask({"whole_swap": True, "slots": {}})


def told(build: Json, question: Json, value: str) -> Json:
    """Return the build with a question about an attribute answered."""
    slot, attr = question["slot"], question["attr"]
    before = build["slots"].get(slot, {})
    before = before if isinstance(before, dict) else {"state": before}
    return {**build, "slots": {**build["slots"], slot: {**{k: v for k, v in before.items() if k != "state"},
                                                      "told": {**before.get("told", {}), attr: value}}}}


def test_of_a_whole_swap_the_first_questions_are_what_a_seller_asks(nothing_known: Json) -> None:
    """First the controller, then what decides most: the gearbox, the throttle; not whether an extra is fitted.

    Whether there is an airflow sensor is no extra: it decides how the engine's air is counted.
    """
    first = [one["ask"] for one in nothing_known["questions"]]

    assert first[0] == "controller"
    assert {"transmission.type", "throttle_body", "engine"} <= set(first[:8])
    assert not [name for name in first[:3] if name.endswith(".fitted") and name != "airflow_sensor.fitted"]


def test_an_answer_about_everything_stays_small_and_counts_what_it_leaves_out(nothing_known: Json) -> None:
    left = nothing_known["left_out"]
    brief = [one for one in nothing_known["reasons"] if not one["cases"]]

    assert len(json.dumps(nothing_known, ensure_ascii=False)) < 260_000
    assert left["reasons"] == len(brief) > 0
    assert left["questions"] > 0
    assert left["only_if"] == len(nothing_known["additions"]["more"]) > 0


def test_what_only_depends_on_the_controller_is_asked_after_it(ask: Any) -> None:
    asked = [one["ask"] for one in ask(UNSURE)["questions"]]

    assert asked[0] == "controller.throttle_hardware"
    assert asked.index("actuator_module.fitted") > 0


@pytest.mark.parametrize("build", [UNSURE, COOLING], ids=["throttle", "cooling"])
def test_where_an_answer_leads_is_where_it_leads(ask: Any, build: Json) -> None:
    """Answering as a question offers leaves each rule that asks it no better and no worse than the lead says."""
    checked = 0
    for question in ask(build)["questions"]:
        if not question["attr"] or question["attr"] == "fitted" or not question["leads"]:
            continue
        for (value, _), lead in zip(question["values"], question["leads"]):
            if lead is None:
                continue
            after = ask(told(build, question, value))
            met = [case["verdict"] for one in after["reasons"] for case in one["cases"]
                   if one["rule"] in {key.split("@")[0] for key in question["touches"]}]
            assert all(WORST.index(verdict) <= WORST.index(lead["worst"]) for verdict in met), (question["ask"], value)
            checked += 1

    assert checked > 5


def test_a_number_is_asked_with_the_bands_that_matter(ask: Any) -> None:
    ohms = next(one for one in ask(INJECTORS)["questions"] if one["ask"] == "injector.resistance")
    texts = [band["text"] for band in ohms["bands"]]

    assert texts == ["below 1 Ω", "1 to 5 Ω", "5 to 11 Ω", "11 to 17 Ω", "above 17 Ω"]
    assert ohms["bands"][3]["lead"] == {"best": "works", "worst": "works"}


def test_a_question_that_settles_nothing_by_itself_names_a_second_one(ask: Any) -> None:
    build = {"slots": {"host_vehicle": {"told": {"speedometer": "cable", "axle": "live"}}, "speed_source": "open",
                       "transmission": {"told": {"type": "manual", "speedometer_outlet": "cable"}},
                       "controller": {"told": {"needs_speed": "unknown"}}}}
    asked = {one["ask"]: one for one in ask(build)["questions"]}

    assert asked["controller.reverse_lockout_output"]["with"]["ask"] == "transmission.reverse_lockout"
    assert asked["transmission.reverse_lockout"]["with"] is None


@pytest.mark.parametrize(("controller", "asked"), [
    ("pm_controller_second", {"pedal": ("Is the accelerator pedal one of these?", ["ostrovane_pedal", "pm_pedal_second", "pm_pedal_third", "qb_pedal"]),
                           "throttle_body": ("Is the throttle body one of these?",
                                             ["ostrovane_throttle_motor_63", "pm_throttle_motor_58", "pm_throttle_motor_75",
                                              "pm_throttle_motor_78", "qb_throttle_motor_82"])}),
    ("pm_controller_second_locked", {}),
])
def test_a_described_part_is_held_against_those_that_fit_where_a_set_could_list_it(ask: Any, controller: str, asked: Json) -> None:
    """The pedal has a sensor and the throttle a motor, so no cable part is offered; no set lists the locked controller."""
    answer = ask({"asks": ["throttle"], "slots": {
        "pedal": {"told": {"actuation": "sensor"}}, "throttle_body": {"told": {"actuation": "motor"}},
        "controller": {"family": controller}, "harness": {"family": "pm_harness_second"}}})
    found = {one["ask"]: (one["text"], [value for value, _ in one["values"]]) for one in answer["questions"]}

    assert {name: said for name, said in found.items() if name in ("pedal", "throttle_body")} == asked
    assert answer["verdict"] == "cannot-tell"
    assert found


def test_every_question_reads_as_one(ask: Any) -> None:
    """No article before what cannot be counted, the right one before a vowel."""
    book = configured_facts().book
    texts = [ask({"whole_swap": True, "slots": {name: "maybe"}, "asks": [subject]}) for name, subject in
             (("air_conditioning", "air_conditioning"), ("cruise_control", "cruise_control"))]
    asked = [one["text"] for found in texts for one in found["questions"]]

    assert "Is there air conditioning that is to work?" in asked
    assert not [text for text in asked if " a a" in text or " a o" in text or text.startswith("Is it so")]
    assert all(slot["ask"] is None or slot["ask"].endswith("?") for slot in book["slots"].values())


def test_a_condition_says_unless_and_leaves_out_what_is_implied(ask: Any) -> None:
    branches = ask(UNSURE)["additions"]["only_if"]
    module = next(one for one in branches if one["then"][0]["addition"] == "wire_throttle_module")

    assert module["conditions"] == [["Throttle actuator module, supply and link of the module: at least one is missing",
                                     "Engine controller, throttle motor drivers: in a separate module that it needs"]]
    assert any(clause.startswith("unless ") for one in branches for clauses in one["conditions"] for clause in clauses)


def test_a_part_that_is_to_be_bought_is_for_sale_where_one_would_do(ask: Any) -> None:
    build = {"slots": {"alternator": "open", "controller": {"family": "pm_controller_third"}, "harness": "made_to_order"}}
    choice = next(one for one in ask(build)["choices"] if one["slot"] == "alternator")

    assert choice["pick"]["for_sale"]
    assert [one for one in choice["depends"] + choice["not_viable"] + choice["viable"] if not one["for_sale"]]
