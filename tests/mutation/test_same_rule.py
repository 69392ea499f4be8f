"""A changed rule is passed over only where it says the same as before of all parts that can exist."""

from __future__ import annotations

from random import Random

from tests.mutation.__main__ import rule_survivor, scenarios_naming
from tests.mutation.operators import rule_mutants
from tests.mutation.same_rule import difference
from tests.scenarios.scenario import configured_facts

LOOKED_AT = 60


def test_a_case_with_another_verdict_or_name_differs_and_an_untouched_rule_does_not() -> None:
    facts = configured_facts()
    rule = facts.book["rules"]["ctl-place"]
    renamed = {**rule, "cases": [{**rule["cases"][0], "case": "renamed"}, *rule["cases"][1:]]}
    worse = {**rule, "cases": [{**rule["cases"][0], "verdict": "cannot-tell"}, *rule["cases"][1:]]}

    assert difference(facts.index, rule, rule) is None
    assert difference(facts.index, rule, renamed) is not None
    assert difference(facts.index, rule, worse) is not None


def test_cases_that_exclude_each_other_may_change_places_and_others_may_not() -> None:
    facts = configured_facts()
    place, part = facts.book["rules"]["ctl-place"], facts.book["rules"]["chg-controller-part"]

    assert difference(facts.index, place, {**place, "cases": [*place["cases"][1::-1], *place["cases"][2:]]}) is None
    assert difference(facts.index, part, {**part, "cases": [*part["cases"][1::-1], *part["cases"][2:]]}) is not None


def test_no_scenario_notices_what_is_passed_over(seed: int) -> None:
    facts = configured_facts()
    rules, asked = facts.book["rules"], scenarios_naming(facts.book["rules"])
    mutants = Random(seed).sample([one for rule in rules.values() for one in rule_mutants(rule)], LOOKED_AT)
    passed = [one for one in mutants if difference(facts.index, rules[one.rule], one.record) is None]

    assert 0 < len(passed) < LOOKED_AT // 2
    assert [rule_survivor(facts.book, one.record, asked[one.rule]) for one in passed] == [""] * len(passed)
