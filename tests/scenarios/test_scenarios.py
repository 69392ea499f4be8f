"""Every scenario gets the answer it expects; every case of every rule is met by one and not met by another."""

from __future__ import annotations

from collections import defaultdict
from pathlib import Path

import pytest

from build_tools.compile_rules import UNCOVERED, written_cases
from tests.scenarios.scenario import (FOLDER, Scenario, asker, cases_of, configured_facts, failures, fired,
                                      read_scenarios)

READ, PROBLEMS = read_scenarios()
LEAST = 60
PLANTED = """\
- name: A planted scenario that expects the wrong thing
  build:
    slots: {controller: not_sure}
  expect: {verdict: works, stops: [no-such-stop]}
"""


def test_every_scenario_file_reads_without_a_problem() -> None:
    assert not PROBLEMS
    assert len(READ) >= LEAST


@pytest.mark.parametrize("scenario", READ, ids=lambda one: one.name)
def test_the_scenario_gets_the_answer_it_expects(scenario: Scenario) -> None:
    wrong = failures(configured_facts(), [scenario])

    assert wrong == []


def test_every_case_of_every_rule_is_fired_by_a_scenario_and_in_question_but_not_fired_by_another() -> None:
    facts = configured_facts()
    ask = asker(facts)
    fired_in: dict[tuple[str, str], set[str]] = defaultdict(set)
    asked_in: dict[str, set[str]] = defaultdict(set)
    for one in READ:
        found = ask(one.build)
        for rule, _, case in fired(found):
            fired_in[rule, case].add(one.name)
        for reason in found["reasons"]:
            asked_in[reason["rule"]].add(one.name)
    cases = [(rule, case["case"]) for rule, record in sorted(facts.book["rules"].items()) for case in written_cases(record)]
    never = [f"{rule}/{case} is fired by no scenario" for rule, case in cases if not fired_in[rule, case]]
    always = [f"{rule}/{case} is fired by every scenario that asks {rule}" for rule, case in cases
              if fired_in[rule, case] and not asked_in[rule] - fired_in[rule, case]]

    assert never + always == []


def test_no_answer_comes_to_a_case_that_nobody_wrote() -> None:
    ask = asker(configured_facts())
    found = [one.name for one in READ for reason in ask(one.build)["reasons"] if any(case["case"] == UNCOVERED for case in reason["cases"])]

    assert found == []


def test_every_stop_is_said_by_a_scenario_and_not_said_by_another() -> None:
    facts = configured_facts()
    ask = asker(facts)
    said = [{one["stop"] for some in ask(scenario.build)["stops"].values() for one in some} for scenario in READ]
    unsaid = [stop for stop in sorted(facts.book["stops"]) if not any(stop in some for some in said)]
    always = [stop for stop in sorted(facts.book["stops"]) if all(stop in some for some in said)]

    assert unsaid + always == []


def test_a_planted_scenario_that_expects_the_wrong_thing_fails(tmp_path: Path) -> None:
    (tmp_path / "planted.yaml").write_text(PLANTED, encoding="utf-8")
    scenarios, problems = read_scenarios(tmp_path)
    misnamed = failures(configured_facts(), scenarios)
    right = scenarios[0]._replace(expect={"verdict": "works"})
    wrong = failures(configured_facts(), [right])

    assert not problems
    assert misnamed == ["planted.yaml: A planted scenario that expects the wrong thing: there is no no-such-stop among the stops"]
    assert len(wrong) == 1 and "expected works, got cannot-tell" in wrong[0]


@pytest.mark.parametrize("change", [
    {"verdict": "will-not-work"}, {"refused": True}, {"subjects": {"throttle": "will-not-work"}},
    {"fired": ["no-rule/no-case"]}, {"additions": ["no_addition"]}, {"questions": ["controller.no_attribute"]},
    {"stops": ["no-stop"]},
], ids=lambda change: next(iter(change)))
def test_each_thing_a_scenario_can_expect_can_fail(change: dict[str, object]) -> None:
    facts = configured_facts()
    sound = next(one for one in READ if one.expect["verdict"] == "works")
    planted = sound._replace(expect={**sound.expect, **change})

    assert not failures(facts, [sound])
    assert failures(facts, [planted])


def test_a_scenario_with_an_unknown_key_is_a_problem_of_its_file(tmp_path: Path) -> None:
    (tmp_path / "planted.yaml").write_text(PLANTED.replace("stops: [", "stop: ["), encoding="utf-8")
    _, problems = read_scenarios(tmp_path)

    assert [(one.file, one.line) for one in problems] == [("planted.yaml", 4)]
    assert "stop" in problems[0].what


def test_a_rule_whose_reason_is_not_settled_counts_as_fired_by_nothing() -> None:
    found = {"reasons": [{"rule": "r", "slot": None, "settled": False, "cases": [{"case": "a"}, {"case": "b"}]}]}

    assert fired(found) == []
    assert cases_of(found, "r") == {"a", "b"}


def test_the_scenarios_are_the_files_of_this_folder() -> None:
    assert {one.file for one in READ} == {path.name for path in FOLDER.glob("*.yaml")}
