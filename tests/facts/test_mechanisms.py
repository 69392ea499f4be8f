"""Every mechanism of the trade is carried by a rule, every rule names one, and the page of both is up to date."""

from __future__ import annotations

from dataclasses import replace

from build_tools.config import ROOT
from build_tools.mechanisms.table import carriers, page, problems
from build_tools.mechanisms.titles import SUBSYSTEMS, TITLES
from build_tools.records import Facts
from tests.scenarios.scenario import configured_facts

PAGE = ROOT / "docs" / "mechanisms.md"


def facts_with(rule: str, mechanism: str | None) -> Facts:
    """Return the facts with another mechanism in one rule, or with none."""
    facts = configured_facts().index.facts
    records = []
    for record in facts.records:
        if record.type == "rule" and record.id == rule:
            data = {key: value for key, value in record.data.items() if key != "mechanism"}
            record = replace(record, data=data if mechanism is None else {**data, "mechanism": mechanism})
        records.append(record)
    return replace(facts, records=tuple(records))


def test_each_mechanism_has_a_rule_and_each_rule_a_known_mechanism() -> None:
    assert problems(configured_facts().index.facts) == []


def test_there_are_130_mechanisms_each_with_a_subsystem_and_a_title_of_its_own() -> None:
    assert len(TITLES) == 130
    assert len(set(TITLES.values())) == 130
    assert {one.split("-")[0] for one in TITLES} == set(SUBSYSTEMS)


def test_every_stop_names_a_known_mechanism_or_speaks_of_the_whole_plan() -> None:
    stops = configured_facts().index.facts.of("stop")
    silent = [name for name, stop in sorted(stops.items()) if stop.data.get("mechanism") not in TITLES]

    assert silent == ["no-calibration-figures"]


def test_the_page_of_mechanisms_is_up_to_date() -> None:
    assert PAGE.read_text("utf-8") == page(configured_facts().index.facts), "run: python -m build_tools.mechanisms"


def test_a_mechanism_that_loses_its_only_rule_is_named() -> None:
    assert problems(facts_with("ctl-harness-pinout", "CTL-02")) == ["no rule carries CTL-01"]


def test_a_rule_with_an_unknown_mechanism_or_with_none_is_named() -> None:
    unknown = problems(facts_with("ctl-ground-count", "CTL-99"))
    silent = problems(facts_with("ctl-ground-count", None))

    assert unknown == ["rule ctl-ground-count names CTL-99, which is no known mechanism"]
    assert silent == ["rule ctl-ground-count names no mechanism"]


def test_a_changed_rule_makes_the_page_stale() -> None:
    facts = facts_with("ctl-ground-count", "CTL-01")

    assert page(facts) != PAGE.read_text("utf-8")
    assert [record.id for record in carriers(facts)["CTL-01"]] == ["ctl-ground-count", "ctl-harness-pinout", "buzz-out-before-power"]
