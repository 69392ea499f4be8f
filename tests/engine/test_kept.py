"""What the engine keeps between answers changes how long an answer takes, never what it says."""

from __future__ import annotations

import json
import random

import pytest

from tests.scenarios.scenario import configured_facts, read_scenarios
from wizard.engine import answer, load

WANTED = 60


def some_builds(seed: int) -> list[str]:
    scenarios, _ = read_scenarios()
    return [json.dumps(one.build) for one in random.Random(seed).sample(scenarios, WANTED)]


def test_an_answer_is_the_same_whatever_was_asked_before(seed: int) -> None:
    builds = some_builds(seed)
    book, turned = load(configured_facts().text), load(configured_facts().text)
    first = {build: answer(book, build) for build in builds}
    back = {build: answer(turned, build) for build in reversed(builds)}
    again = {build: answer(book, build) for build in builds}

    assert len(set(builds)) > WANTED // 2
    assert back == first
    assert again == first


def test_forgetting_everything_kept_in_the_middle_changes_no_answer(seed: int) -> None:
    builds = some_builds(seed + 1)[:20]
    book = load(configured_facts().text)
    first = [answer(book, build) for build in builds]
    after = []
    for build in builds:
        book.kept.clear()
        after.append(answer(book, build))

    assert after == first


def test_an_answer_is_the_same_when_what_was_worked_out_is_soon_forgotten(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    builds = some_builds(seed)[:20]
    book = load(configured_facts().text)
    kept = {build: answer(book, build) for build in builds}
    monkeypatch.setattr("wizard.engine.space.KEPT_LIMIT", 200)
    forgetful = load(configured_facts().text)

    assert {build: answer(forgetful, build) for build in builds} == kept
    assert len(forgetful.kept) < len(book.kept)
