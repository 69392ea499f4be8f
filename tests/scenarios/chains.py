"""The consequences that run across subjects, as a page: `python -m tests.scenarios.chains` writes docs/chains.md."""

from __future__ import annotations

from collections.abc import Sequence

from build_tools.config import ROOT
from tests.scenarios.scenario import Json, Scenario, configured_facts, read_scenarios, split_fired

PAGE = ROOT / "docs" / "chains.md"
MARK = "chain: "
HEAD = """\
# Consequences that run across subsystems

Made by `python -m tests.scenarios.chains` from the scenarios whose names begin with *chain*; do not edit it by hand.
One choice changes the answer to a question that seems to have nothing to do with it. Each of these is asked of the engine in the tests, and the verdicts beside the questions are the ones that are asserted.
"""


def chains(scenarios: Sequence[Scenario]) -> list[Scenario]:
    """Return the scenarios that are chains, in the order of their files."""
    return [one for one in scenarios if one.name.startswith(MARK)]


def subjects(book: Json, chain: Scenario) -> dict[str, str]:
    """Return the subjects a chain asserts something of, each with its verdict, or with none when only a rule is named."""
    fired = {book["rules"][split_fired(text)[0]]["subject"]: "" for text in chain.expect.get("fired", [])}
    return dict(sorted({**fired, **chain.expect.get("subjects", {})}.items()))


def page(book: Json, found: Sequence[Scenario]) -> str:
    """Return docs/chains.md; the same scenarios give the same text."""
    lines = [HEAD, f"{len(found)} chains.\n"]
    for number, chain in enumerate(found, 1):
        name = chain.name.removeprefix(MARK)
        lines.append(f"{number}. {name[0].upper()}{name[1:]}: *{chain.expect['verdict']}*")
        lines += [f"    - {book['subjects'][one]['question']}{f' *{verdict}*' if verdict else ''}"
                  for one, verdict in subjects(book, chain).items()]
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    PAGE.write_text(page(configured_facts().book, chains(read_scenarios()[0])), encoding="utf-8")
