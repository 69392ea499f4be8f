"""The same facts and builds give the same bytes in CPython, with two orders of hashing, and in the browser's Python."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from build_tools.bundle import FACTS_BUDGET, PROJECT, Bundle, bundle
from build_tools.runtime.node import find_runtime, run_node
from tests.scenarios.scenario import configured_facts, read_scenarios

HERE = Path(__file__).resolve().parent
FEWEST_SCENARIOS = 60
Messages = list[dict[str, Any]]
ADDRESSES = ("", "nonsense", "a=1&a=2", "%", "controller=none&nothing_here=1", "=&&=", "x" * 3000, "\u2603=1")
"""Whole and damaged addresses; invented."""


class Runs(NamedTuple):
    """The replies to the same messages in each Python, by the name of each message."""

    names: list[str]
    cpython: list[dict[str, Any]]
    other_hashing: list[dict[str, Any]]
    browser: list[dict[str, Any]]


@pytest.fixture(scope="module")
def packed(tmp_path_factory: pytest.TempPathFactory) -> Bundle:
    """Return the bundle of the configured facts and the real engine."""
    return bundle(configured_facts().text, tmp_path_factory.mktemp("bundle") / "engine", say=lambda text: None)


def cpython(book: Path, messages: Messages, hash_seed: int) -> list[dict[str, Any]]:
    """Return the replies of this Python with a given order of hashing."""
    surroundings = {**os.environ, "PYTHONHASHSEED": str(hash_seed), "PYTHONPATH": str(PROJECT)}
    given = json.dumps({"book": str(book), "messages": messages})
    done = subprocess.run(
        [sys.executable, str(HERE / "answers.py")], input=given, env=surroundings, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr[-3000:]
    return json.loads(done.stdout)


@pytest.fixture(scope="module")
def ask(packed: Bundle) -> Callable[[dict[str, dict[str, Any]]], Runs]:
    """Return a function that puts messages, by name, to the three Pythons."""
    (book,) = [packed.folder / file.path for file in packed.files if file.path.startswith("book-")]

    def run(named: dict[str, dict[str, Any]]) -> Runs:
        messages = [{"id": name, **message} for name, message in named.items()]
        browser = run_node(
            find_runtime(PROJECT), HERE / "answers.mjs", {"bundle": str(packed.folder), "messages": messages}, timeout=900
        )
        return Runs(list(named), cpython(book, messages, 1), cpython(book, messages, 2), browser)

    return run


def builds() -> dict[str, str]:
    """Return every scenario and every worked build of the facts, as JSON text by name; fails when there are too few."""
    scenarios, problems = read_scenarios()
    assert not problems, problems[:5]
    assert len(scenarios) >= FEWEST_SCENARIOS, f"{len(scenarios)} scenarios; at least {FEWEST_SCENARIOS} are wanted"
    told = {f"{one.file}: {one.name}": one.build for one in scenarios}
    told |= {f"worked build {name}": record["build"] for name, record in configured_facts().book["builds"].items()}
    return {name: json.dumps(build, sort_keys=True) for name, build in told.items()}


def different(runs: Runs) -> list[str]:
    """Return the names of the messages whose replies are not the same bytes everywhere."""
    together = zip(runs.names, runs.cpython, runs.other_hashing, runs.browser, strict=True)
    return [name for name, one, two, three in together if not json.dumps(one) == json.dumps(two) == json.dumps(three)]


def test_every_scenario_and_worked_build_gets_the_same_bytes_everywhere(ask: Callable[..., Runs]) -> None:
    runs = ask({name: {"op": "answer", "build": build} for name, build in builds().items()})

    assert different(runs) == []
    assert all(json.loads(reply["answer"])["schema"] == 1 for reply in runs.browser)


def test_addresses_are_written_and_read_back_the_same_everywhere(ask: Callable[..., Runs]) -> None:
    written = ask({name: {"op": "to_address", "build": build} for name, build in builds().items()})
    whole = {name: {"op": "from_address", "address": reply["address"]} for name, reply in zip(written.names, written.browser, strict=True)}
    read = ask(whole | {f"damaged: {text[:20]}": {"op": "from_address", "address": text} for text in ADDRESSES})

    assert different(written) == []
    assert different(read) == []


def test_engine_and_facts_keep_to_their_budget_over_the_wire(packed: Bundle) -> None:
    assert 10_000 < packed.wire("facts") <= FACTS_BUDGET


def test_a_difference_of_one_byte_is_found() -> None:
    same = [{"id": 1, "answer": "a"}]

    assert different(Runs(["one"], same, same, [{"id": 1, "answer": "b"}])) == ["one"]
    assert different(Runs(["one"], same, [{"id": 1, "answer": "b"}], same)) == ["one"]
    assert different(Runs(["one"], same, same, same)) == []
