"""The engine against two independent solvers, on small books and on the facts as they stand.

python-sat and clingo each get their own text of the same meaning; brute force stands beside them on small books.
"""

from __future__ import annotations

import json
from collections import Counter
from functools import lru_cache
from typing import Callable

import pytest

from tests.oracle import asp, sat
from tests.oracle.brute import TooMany, Verdict
from tests.oracle.clashes import Selected, fewest_parts_to_change, named, wrong_with_clash
from tests.oracle.compare import engine_answer, viable
from tests.oracle.ground import Json
from tests.oracle.parts import Kind, all_kinds
from tests.oracle.real_builds import random_real_build
from tests.oracle.shrink import brief
from tests.oracle.small_books import Shape, random_case
from tests.oracle.sums import NoNumber
from tests.oracle.translate import Unsupported
from tests.scenarios.scenario import configured_facts
from wizard.engine import Book, answer, load

SMALL, ASP, VIABLE, CLASHES, REAL = 500, 150, 250, 400, 600
LONG = 20
LEFT_OUT = (sat.TooMany, asp.TooMany, TooMany, Unsupported, NoNumber)
Solver = Callable[..., "sat.Found | asp.Found"]


@pytest.fixture(scope="module")
def times(soak: bool) -> int:
    """Return how many times as long a run is asked for."""
    return LONG if soak else 1


def against_brute(decide: Solver, seeds: range) -> tuple[int, list[str]]:
    """Return how many small books were compared, and where a solver and brute force differ."""
    compared, wrong = 0, []
    for seed in seeds:
        book, build, expected = random_case(seed, cap=120)
        if expected.refused:
            continue
        try:
            subjects = {one: decide(book, build, (one,)).verdict for one in expected.subjects}
            found = decide(book, build).verdict
        except LEFT_OUT:
            continue
        compared += 1
        if found != expected.verdict or (expected.verdict and subjects != expected.subjects):
            wrong.append(f"seed {seed}: {found} {subjects}, brute force {_told(expected)}\n{brief(book, build)}")
    return compared, wrong


def _told(expected: Verdict) -> str:
    return f"{expected.verdict} {expected.subjects}"


@pytest.mark.parametrize(("decide", "books"), [(sat.decide, SMALL), (asp.decide, ASP)], ids=["python-sat", "clingo"])
def test_a_solver_and_brute_force_agree_on_small_books(decide: Solver, books: int, seed: int, times: int) -> None:
    compared, wrong = against_brute(decide, range(seed, seed + books * times))
    print(f"compared {compared} from seed {seed}")

    assert compared > 0.8 * books * times
    assert not wrong, wrong[0]


def test_the_viable_parts_are_those_that_both_solvers_find(seed: int, times: int) -> None:
    compared, some, wrong = 0, 0, []
    for n in range(seed, seed + VIABLE * times):
        book, build, expected = random_case(n, Shape(mood="buying"), cap=120)
        if expected.refused or expected.contradiction:
            continue
        try:
            first, second = sat.decide(book, build), asp.decide(book, build)
        except LEFT_OUT:
            continue
        engine = viable(engine_answer(book, build))
        for slot, families in engine.items():
            compared += 1
            some += bool(families)
            if not families == first.viable[slot] == second.viable[slot]:
                wrong.append(f"seed {n}, {slot}: engine {families}, python-sat {first.viable[slot]}, "
                             f"clingo {second.viable[slot]}\n{brief(book, build)}")
    print(f"compared {compared} open slots, {some} with something viable, from seed {seed}")

    assert compared > 20 and some > 5
    assert not wrong, wrong[0]


def test_every_clash_is_minimal_and_one_of_all_minimal_clashes(seed: int, times: int) -> None:
    seen: Counter[str] = Counter()
    wrong = []
    for n in range(seed, seed + CLASHES * times):
        book, build, expected = random_case(n, cap=100)
        if expected.verdict != "will-not-work" or expected.refused:
            continue
        found = engine_answer(book, build)
        clash = named(build, found["clash"])
        if clash is None:
            seen["not told apart"] += 1
            continue
        try:
            wrong += [f"seed {n}: {text}\n{brief(book, build)}" for text in wrong_with_clash(book, build, clash)]
            seen["minimal"] += 1
            every = Selected(book, build).minimal_clashes()
        except LEFT_OUT:
            continue
        seen["among all"] += 1
        if every and clash not in every or clash and not every:
            wrong.append(f"seed {n}: clash {clash} is none of {every}\n{brief(book, build)}")
    print(f"{dict(seen)} from seed {seed}")

    assert seen["minimal"] > 10 and seen["among all"] > 3
    assert not wrong, wrong[0]


def test_the_fewest_parts_to_change_are_proposed_and_each_change_keeps_its_promise(seed: int, times: int) -> None:
    compared, promised, wrong = 0, 0, []
    for n in range(seed, seed + CLASHES * times):
        book, build, expected = random_case(n, cap=100)
        if expected.verdict != "will-not-work" or expected.refused:
            continue
        changes = engine_answer(book, build)["changes"]
        for one in changes:
            promised += 1
            after = engine_answer(book, one["build"])["verdict"]
            if after != one["verdict"]:
                wrong.append(f"seed {n}: promised {one['verdict']}, got {after}: {one['text']}\n{brief(book, build)}")
        try:
            fewest = fewest_parts_to_change(book, build, 2, 600)
            least = Selected(book, build).least_to_give_up() if fewest else None
        except LEFT_OUT:
            continue
        compared += 1
        proposed = min((len(one["parts"]) for one in changes if one["parts"]), default=None)
        if proposed != fewest and not (fewest is None and proposed and proposed > 2):
            wrong.append(f"seed {n}: {proposed} parts proposed, {fewest} would do\n{brief(book, build)}")
        if least is not None and fewest is not None and fewest < least:
            wrong.append(f"seed {n}: {fewest} parts are fewer than the {least} that must be given up")
    print(f"compared {compared} builds, {promised} proposed changes, from seed {seed}")

    assert compared > 10 and promised > 1
    assert not wrong, wrong[0]


@lru_cache(maxsize=1)
def real_book() -> tuple[Json, Book, dict[str, Kind]]:
    """Return the configured facts as a book, the engine's reading of it, and its kinds for the oracles."""
    facts = configured_facts()
    return facts.book, load(facts.text), all_kinds(facts.book)


def test_the_engine_and_python_sat_agree_on_random_builds_over_the_facts(seed: int, times: int) -> None:
    book, loaded, kinds = real_book()
    seen: Counter[str] = Counter()
    wrong: list[str] = []
    for n in range(seed, seed + REAL * times):
        build = random_real_build(n, book, kinds)
        try:
            must, may = sat.stops(book, build)
            expected = sat.decide(book, build, cap=60)
        except LEFT_OUT:
            seen["left out"] += 1
            continue
        found = json.loads(answer(loaded, json.dumps(build)))
        seen[str(expected.verdict)] += 1
        seen["limit"] += found["limit_hit"]
        wrong += [f"seed {n}: {text}\n{json.dumps(build)}" for text in real_differences(book, found, expected, must, may)]
    print(f"{dict(seen)} from seed {seed}")

    assert sum(seen.values()) - seen["left out"] > 0.6 * REAL * times
    assert seen["limit"] == 0
    assert not wrong, wrong[0]


def real_differences(book: Json, found: Json, expected: sat.Found, must: set[sat.Named],
                     may: set[sat.Named]) -> list[str]:
    """Return where an answer over the facts differs in stops, verdict or viable parts."""
    wrong = []
    if (found["verdict"] is None) != (expected.verdict is None):
        return [f"engine {found['verdict']}, python-sat {expected.verdict}"]
    if expected.verdict is None:
        return []
    said = {key: {(one["stop"], one["slot"]) for one in found["stops"][key]} for key in found["stops"]}
    refusing = {name for name in must if book["stops"][name[0]]["effect"] == "refuse"}
    if said["certain"] != refusing or set().union(*said.values()) != must | may:
        wrong.append(f"stops: engine {said}, python-sat certain {must}, possible {may}")
    if found["refused"] != bool(refusing):
        wrong.append(f"refused: engine {found['refused']}, python-sat {refusing}")
    if not refusing and found["verdict"] != expected.verdict:
        wrong.append(f"engine {found['verdict']}, python-sat {expected.verdict}")
    if not refusing:
        wrong += [f"viable in {slot}: engine {families}, python-sat {expected.viable[slot]}"
                  for slot, families in viable(found).items() if families != expected.viable[slot]]
    return wrong
