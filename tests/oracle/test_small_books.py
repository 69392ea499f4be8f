"""The engine, brute force and two independent solvers on seeded small books: one run, a test for each question."""

from __future__ import annotations

from typing import Callable

import pytest

from tests.oracle.brute import TooMany, brute_force
from tests.oracle.compare import differences, engine_answer
from tests.oracle.ground import Json
from tests.oracle.run import Run
from tests.oracle.shrink import brief, shrink
from tests.oracle.small_books import random_case
from tests.oracle.small_run import CAP, shape_of, small_run

BOOKS, LONG = 2000, 20_000


@pytest.fixture(scope="module")
def books(soak: bool) -> int:
    """Return how many books both solvers are to be compared on."""
    return LONG if soak else BOOKS


@pytest.fixture(scope="module")
def run(seed: int, books: int, say: Callable[[str], None]) -> Run:
    """Return what the one run over all books found."""
    found = small_run(seed, books)
    say(f"small books, {found.text()}")
    return found


def made_small(seed: int) -> str:
    """Return a minimal reproduction of where the engine and brute force differ on the book of a seed."""
    book, build, expected = random_case(seed, shape_of(seed), cap=CAP)
    wrong = differences(book, build, engine_answer(book, build), expected)

    def same(smaller: Json, less: Json) -> bool:
        try:
            found = differences(smaller, less, engine_answer(smaller, less), brute_force(smaller, less, cap=20 * CAP))
        except TooMany:
            return False
        return bool(found) and found[0].partition(":")[0] == wrong[0].partition(":")[0]

    return brief(*shrink(book, build, same)) if wrong else ""


def test_the_engine_says_what_brute_force_says(run: Run, books: int) -> None:
    wrong = run.wrong["brute force"]

    assert run.seen["brute force"] >= books
    assert run.seen["at a limit"] <= books // 100
    assert not wrong, f"{len(wrong)} disagreements\n{wrong[0]}\n\nmade small:\n{made_small(int(wrong[0].split(':')[0][5:]))}"


def test_python_sat_and_clingo_say_what_brute_force_says(run: Run, books: int) -> None:
    left_out = sum(times for name, times in run.seen.items() if name.startswith("left out"))

    assert run.seen["python-sat and clingo"] >= books and run.seen["subjects"] > books // 4
    assert left_out < books // 20
    assert run.first_wrong("python-sat and clingo", "subjects") == ""


def test_the_viable_parts_are_those_that_both_solvers_find(run: Run, books: int) -> None:
    assert run.seen["viable parts"] > books // 20 and run.seen["viable somewhere"] > books // 200
    assert run.first_wrong("viable parts") == ""


def test_every_clash_is_minimal_and_one_of_all_minimal_clashes(run: Run, books: int) -> None:
    assert run.seen["minimal clash"] > books // 20 and run.seen["among all minimal clashes"] > books // 100
    assert run.seen["clash at a limit"] + run.seen["clash not told apart"] <= run.seen["minimal clash"] // 10
    assert run.first_wrong("minimal clash", "among all minimal clashes") == ""


def test_each_change_keeps_its_promise_and_no_fewer_parts_would_do(run: Run, books: int) -> None:
    assert run.seen["promised changes"] > books // 200 and run.seen["fewest parts to change"] > books // 100
    assert run.first_wrong("promised changes", "fewest parts to change") == ""


def test_the_small_books_reach_every_verdict_often(run: Run, books: int) -> None:
    rarest = min(run.seen[name] for name in ("works", "works-with-additions", "cannot-tell", "will-not-work", "None"))

    assert rarest > books // 40, run.text()
