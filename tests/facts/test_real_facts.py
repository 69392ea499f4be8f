"""The facts of this repository have no problems, and the command that people use says the same."""

from __future__ import annotations

from datetime import date

from build_tools.checks import check_facts
from build_tools.config import configured_layers
from build_tools.problems import Problem, printed
from build_tools.records import gather


def test_the_configured_facts_have_no_problems() -> None:
    layers = configured_layers()
    assert not isinstance(layers, Problem)
    facts = gather(layers)

    problems = check_facts(facts, date.today())

    assert [printed(problem) for problem in problems] == []
    assert len(facts.records) > 100
