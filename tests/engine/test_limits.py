"""Every search has a limit. At a limit the answer may know less, and says so; it never promises more."""

from __future__ import annotations

import json
import sys
from typing import Any

import pytest

from tests.oracle.compare import engine_answer
from tests.oracle.small_books import random_pair
from tests.scenarios.scenario import configured_facts
from wizard.engine import answer, load

CASES = 40
LOWERED = {
    "BOX_LIMIT": 2,
    "MOST": 0,
    "NEAR": 0,
    "NODES": 0,
    "OPTION_LIMIT": 1,
    "PLAN_LIMIT": 1,
    "PRODUCT_LIMIT": 1,
    "PROPOSALS": 0,
    "REPAIR": 0,
    "SETTINGS": 2,
    "SLOT_NODES": 0,
    "STRATEGIES": 1,
    "WHOLE": 0,
}
"""Limits by the name of their constant, and what they are lowered to. The harmless ones may change no verdict."""
HARMLESS = ("MOST", "NEAR", "OPTION_LIMIT", "REPAIR", "WHOLE")


def lower(patch: pytest.MonkeyPatch, name: str, value: int) -> int:
    """Lower a constant in every module of the engine that holds it; return in how many."""
    held = [module for key, module in sys.modules.items() if key.startswith("wizard.engine") and hasattr(module, name)]
    for module in held:
        patch.setattr(module, name, value)
    return len(held)


@pytest.fixture(scope="module")
def unlimited(seed: int) -> list[dict[str, Any]]:
    """Return the answers to the cases with the limits as they are."""
    return [engine_answer(*random_pair(n)) for n in range(seed, seed + CASES)]


@pytest.mark.parametrize("name", sorted(LOWERED))
def test_at_a_limit_an_answer_may_know_less_and_never_promises_more(
    name: str, seed: int, unlimited: list[dict[str, Any]], monkeypatch: pytest.MonkeyPatch
) -> None:
    cases = [random_pair(n) for n in range(seed, seed + CASES)]

    assert lower(monkeypatch, name, LOWERED[name]) >= 1
    wrong = []
    for (book, build), before in zip(cases, unlimited, strict=True):
        after = engine_answer(book, build)
        less = after["verdict"] == "cannot-tell" and after["limit_hit"]
        if after["verdict"] != before["verdict"] and not less:
            wrong.append((before["verdict"], after["verdict"], json.dumps(build)))
    assert not wrong, wrong[:3]


@pytest.mark.parametrize("name", sorted({*LOWERED} - {*HARMLESS}))
def test_each_limit_is_reached_by_some_build_when_it_is_low(name: str, seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    lower(monkeypatch, name, LOWERED[name])

    assert any(engine_answer(*random_pair(n))["limit_hit"] for n in range(seed, seed + 20 * CASES))


@pytest.mark.parametrize(("module", "name"), [("changes", "TRIES"), ("clash", "TESTS")])
def test_with_few_tries_there_are_fewer_suggestions_and_the_same_verdict(
    module: str, name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    build = json.dumps({"slots": {"pedal": {"told": {"actuation": "cable"}}, "throttle_body": {"told": {"actuation": "motor"}}}})
    before = json.loads(answer(load(configured_facts().text), build))
    monkeypatch.setattr(sys.modules[f"wizard.engine.{module}"], name, 0)
    after = json.loads(answer(load(configured_facts().text), build))

    assert before["verdict"] == after["verdict"] == "will-not-work"
    assert before["clash"] and before["changes"]
    assert after["changes"] == [] or after["clash"] == []
