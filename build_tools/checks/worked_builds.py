"""Each worked build gets the verdict it expects, and its answer mentions what it should."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from build_tools.checks.matched_sets import decided_by
from build_tools.engine import Ask
from build_tools.index import Index
from build_tools.problems import Problem, listed, near_match

MENTION_KEYS = ("rule", "case", "addition", "ask", "stop", "family", "sum", "subject", "slot")


def check(index: Index, ask: Ask) -> Iterator[Problem]:
    """Yield a problem for each expectation of a worked build that the engine does not meet."""
    for record in index.of("build").values():
        answer = ask(record.data["given"])
        expected = record.data["expect"]
        verdict = "contradiction" if answer["contradiction"] else answer["verdict"]
        if verdict != expected["verdict"]:
            yield record.problem(
                ("expect", "verdict"),
                "worked-build",
                f"The worked build expects '{expected['verdict']}' and the engine says '{verdict}'{decided_by(answer)}.",
                "Correct what is expected, what was given, or the rule.",
            )
        said = mentions(answer)
        for number, name in enumerate(expected.get("mentions", [])):
            if name not in said:
                yield record.problem(
                    ("expect", "mentions", number),
                    "worked-build",
                    f"The answer does not mention '{name}'.",
                    listed(said, "It mentions:"),
                    near_match(name, said),
                )


def mentions(answer: Any) -> set[str]:
    """Return every id an answer names: rules, cases, additions, what is asked, stops, families and sums."""
    found: set[str] = set()
    if isinstance(answer, dict):
        for key, value in answer.items():
            if key in MENTION_KEYS and isinstance(value, str):
                found.add(value)
            elif key == "cases" and isinstance(value, list):
                found |= {case for case in value if isinstance(case, str)}
            found |= mentions(value)
    elif isinstance(answer, list):
        for entry in answer:
            found |= mentions(entry)
    return found
