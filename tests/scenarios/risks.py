"""The ways an answer could mislead, with what shows that it does not, as a page: `python -m tests.scenarios.risks`."""

from __future__ import annotations

import re
from collections.abc import Sequence

from build_tools.config import ROOT
from tests.scenarios.risk_words import RISKS, Risk
from tests.scenarios.scenario import Json, Scenario, configured_facts, read_scenarios

PAGE = ROOT / "docs" / "risks.md"
MARK = re.compile(r"Risk (\d+): ")
HEAD = """\
# Ways to mislead, and what happens instead

Made by `python -m tests.scenarios.risks` from the scenarios whose names begin with *Risk* and from the stops; do not edit it by hand.
Each scenario is asked of the engine in the tests. *Refused* means that there is no way on: a reason, where to go, and no steps. *First* is a test or precaution printed ahead of everything else.
"""


def number(scenario: Scenario) -> int | None:
    """Return the risk that a scenario shows, or None when it shows none."""
    found = MARK.match(scenario.name)
    return int(found[1]) if found else None


def shown(scenarios: Sequence[Scenario]) -> dict[int, list[Scenario]]:
    """Return the scenarios of each risk."""
    found: dict[int, list[Scenario]] = {}
    for one in scenarios:
        if (risk := number(one)) is not None:
            found.setdefault(risk, []).append(one)
    return found


def page(book: Json, scenarios: Sequence[Scenario]) -> str:
    """Return docs/risks.md; the same facts and scenarios give the same text."""
    found = shown(scenarios)
    lines = [HEAD, f"{len(RISKS)} risks, {sum(map(len, found.values()))} scenarios.\n"]
    for risk, words in RISKS.items():
        lines += _entry(book, risk, words, found.get(risk, []))
    return "\n".join(lines)


def _entry(book: Json, risk: int, words: Risk, scenarios: Sequence[Scenario]) -> list[str]:
    lines = [f"## {risk}. {words.misleads}\n", f"{words.instead}\n"]
    for name in words.stops:
        stop = book["stops"][name]
        say = stop["say"].replace("{", "").replace("}", "")
        lines.append(f"- {'Refused' if stop['effect'] == 'refuse' else 'First'} (`{name}`): {say}")
    lines += [f"- Asked: {MARK.sub('', one.name)} *{_verdict(one)}*" for one in scenarios]
    lines += [f"- Tested: `{name}`" for name in words.tests]
    return [*lines, ""]


def _verdict(scenario: Scenario) -> str:
    return "refused" if scenario.expect.get("refused") else scenario.expect["verdict"]


if __name__ == "__main__":
    PAGE.write_text(page(configured_facts().book, read_scenarios()[0]), encoding="utf-8")
