"""Each of the 25 ways to mislead is met by what the engine says, refuses or prints first, and the page of them is up to date."""

from __future__ import annotations

import re
from pathlib import Path

from build_tools.config import ROOT
from tests.scenarios.risk_words import RISKS
from tests.scenarios.risks import PAGE, page, shown
from tests.scenarios.scenario import asker, configured_facts, read_scenarios

READ = read_scenarios()[0]
SHOWN = shown(READ)
LAW = re.compile(r"question of law|question for the inspecting authority|inspecting authority (says|where)|Ask the inspecting authority")


def test_each_of_25_risks_has_a_scenario_and_every_such_scenario_a_risk() -> None:
    assert list(RISKS) == list(range(1, 26))
    assert set(SHOWN) == set(RISKS)


def test_no_scenario_of_a_risk_lets_the_plan_pass_without_a_stop_or_an_addition() -> None:
    careless = [one.name for some in SHOWN.values() for one in some
                if one.expect["verdict"] == "works" and not one.expect.get("stops")
                or one.expect["verdict"] == "works-with-additions" and not one.expect.get("additions")]

    assert careless == []


def test_each_stop_of_a_risk_is_there_and_some_scenario_says_it() -> None:
    stops = configured_facts().book["stops"]
    named = {stop for risk in RISKS.values() for stop in risk.stops}
    ask = asker(configured_facts())
    said = {one["stop"] for scenario in READ for some in ask(scenario.build)["stops"].values() for one in some}

    assert named - set(stops) == set()
    assert named - said == set()


def test_every_refusal_belongs_to_a_risk() -> None:
    named = {stop for risk in RISKS.values() for stop in risk.stops}
    refusals = {name for name, stop in configured_facts().book["stops"].items() if stop["effect"] == "refuse"}

    assert refusals - named == set()


def test_every_test_that_a_risk_names_is_a_test_of_this_project() -> None:
    text = "\n".join(path.read_text("utf-8") for path in sorted((ROOT / "tests").rglob("test_*.py")) if path != Path(__file__))
    named = [name for risk in RISKS.values() for name in risk.tests]

    assert named
    assert [name for name in named if f"def {name}(" not in text] == []


def test_a_case_that_leaves_a_question_to_the_law_is_cannot_tell_and_says_whom_to_ask() -> None:
    rules = configured_facts().book["rules"]
    cases = [(rule, case) for rule, record in sorted(rules.items()) for case in record["cases"] if LAW.search(case["because"])]

    assert len(cases) >= 9
    assert [(rule, case["case"]) for rule, case in cases if case["verdict"] != "cannot-tell"] == []
    assert [(rule, case["case"]) for rule, case in cases if "authority" not in case["because"]] == []


def test_no_refused_scenario_gets_steps() -> None:
    ask = asker(configured_facts())
    refused = [one for some in SHOWN.values() for one in some if one.expect.get("refused")]
    with_steps = [one.name for one in refused if any(ask(one.build)["additions"].values())]

    assert len(refused) >= 15
    assert with_steps == []


def test_the_page_of_risks_is_up_to_date() -> None:
    assert PAGE.read_text("utf-8") == page(configured_facts().book, READ), "run: python -m tests.scenarios.risks"
