"""The engine and two independent solvers on seeded builds over the facts: one run, a test for each question."""

from __future__ import annotations

from typing import Callable

import pytest

from tests.oracle.real_run import LONG as LONG_CAPS
from tests.oracle.real_run import QUICK, real_run
from tests.oracle.run import Run

BUILDS, LONG = 2000, 20_000


@pytest.fixture(scope="module")
def builds(soak: bool) -> int:
    """Return how many builds both solvers are to be compared on."""
    return LONG if soak else BUILDS


@pytest.fixture(scope="module")
def run(seed: int, builds: int, soak: bool, say: Callable[[str], None]) -> Run:
    """Return what the one run over all builds found."""
    found = real_run(seed, builds, LONG_CAPS if soak else QUICK)
    say(f"the facts, {found.text()}")
    return found


def test_both_solvers_agree_on_what_can_be_and_what_fails(run: Run, builds: int) -> None:
    left_out = sum(times for name, times in run.seen.items() if name.startswith("left out"))

    assert run.seen["python-sat and clingo"] >= builds
    assert left_out < builds // 20 and run.seen["at a limit"] <= builds // 200
    assert run.first_wrong("python-sat and clingo", "limits promise nothing") == ""


def test_the_same_stops_are_certain_and_possible(run: Run, builds: int) -> None:
    assert run.seen["stops"] > builds * 0.9
    assert run.first_wrong("stops") == ""


def test_expanding_the_unknowns_gives_the_same_verdicts_and_viable_parts(run: Run) -> None:
    asked = run.seen["python-sat and clingo"] - run.seen["None"] - (run.seen["will-not-work"] - run.seen["failing"])

    assert run.seen["expanded by both"] > 0.6 * asked, run.text()
    assert run.first_wrong("expanded by both", "expanded by python-sat") == ""


def test_every_clash_is_minimal(run: Run, builds: int) -> None:
    assert run.seen["minimal clash"] > builds // 20
    assert run.first_wrong("minimal clash") == ""


def test_each_change_keeps_its_promise_and_no_one_part_alone_would_do(run: Run, builds: int) -> None:
    assert run.seen["promised changes"] > builds // 200 and run.seen["no cheaper change"] > builds // 400
    assert run.first_wrong("promised changes", "no cheaper change") == ""


def test_the_builds_reach_every_verdict(run: Run, builds: int) -> None:
    rarest = min(run.seen[name] for name in ("works", "works-with-additions", "cannot-tell", "failing"))

    assert rarest > builds // 40 and run.seen["None"] > 0, run.text()
