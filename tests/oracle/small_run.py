"""The engine, brute force, python-sat and clingo on the same seeded small books, each asked once."""

from __future__ import annotations

from itertools import count

from tests.oracle import asp, sat
from tests.oracle.brute import Verdict
from tests.oracle.clashes import (Selected, brute_fails, clingo_fails, fewest_parts, may_be_proposed, named,
                                  sat_fails, weakened, wrong_with_clash)
from tests.oracle.compare import differences, engine_answer, viable
from tests.oracle.ground import Json
from tests.oracle.run import LEFT_OUT, Run
from tests.oracle.shrink import brief
from tests.oracle.small_books import Shape, random_case
from tests.oracle.translate import Translation

BUYING = 3      # every third book is asked with parts still to buy
CAP = 120       # worlds that brute force walks through
DEAR = 5        # of every fifth clash and change also the dear questions are asked


def small_run(first: int, enough: float) -> Run:
    """Compare on books from one seed on until both solvers compared enough of them."""
    run = Run(first)
    for seed in count(first):
        if run.seen["python-sat and clingo"] >= enough:
            return run
        one_book(run, seed)
    return run


def shape_of(seed: int) -> Shape:
    """Return the shape of the book of one seed."""
    return Shape(mood="buying") if seed % BUYING == 0 else Shape()


def one_book(run: Run, seed: int) -> None:
    """Compare everything on the book of one seed."""
    run.last = seed
    book, build, expected = random_case(seed, shape_of(seed), cap=CAP)
    answered = engine_answer(book, build)
    case = brief(book, build)
    run.seen[str(expected.verdict)] += 1
    run.seen["at a limit"] += answered["limit_hit"]
    run.found("brute force", differences(book, build, answered, expected), case)
    if answered["limit_hit"]:
        return
    _solvers(run, book, build, expected, answered, case)
    if expected.verdict == "will-not-work" and not expected.refused:
        _clash(run, book, build, answered, case)
        _changes(run, book, build, answered, case)


def _solvers(run: Run, book: Json, build: Json, expected: Verdict, answered: Json, case: str) -> None:
    """Hold both solvers against brute force, stops and subjects too, and the engine's viable parts against both."""
    try:
        must, may = sat.stops(book, build)
        made = Translation(book, build)
        first = sat.decide(book, build, made=made)
        second = asp.decide(book, build, made=made)
    except LEFT_OUT as reason:
        run.seen[f"left out, {type(reason).__name__}"] += 1
        return
    wrong = []
    if not expected.contradiction and (must, may) != (expected.certain, expected.possible):
        wrong.append(f"stops: python-sat {must} {may}, brute force {expected.certain} {expected.possible}")
    if first.verdict != second.verdict or not expected.refused and first.verdict != expected.verdict:
        wrong.append(f"python-sat {first.verdict}, clingo {second.verdict}, brute force {expected.verdict}")
    run.found("python-sat and clingo", wrong, case)
    if expected.refused or expected.contradiction:
        return
    if run.last % 2:
        _subjects(run, book, build, expected, case)
    for slot, families in viable(answered).items():
        run.seen["viable somewhere"] += bool(families)
        same = families == first.viable[slot] == second.viable[slot]
        run.found("viable parts", [f"{slot}: engine {families}, python-sat {first.viable[slot]}, clingo "
                                   f"{second.viable[slot]}"] * (not same), case)


def _subjects(run: Run, book: Json, build: Json, expected: Verdict, case: str) -> None:
    decide = asp.decide if run.last % DEAR == 0 else sat.decide
    try:
        subjects = {one: decide(book, build, (one,)).verdict for one in expected.subjects}
    except LEFT_OUT:
        return
    run.found("subjects", [f"a solver {subjects}, brute force {expected.subjects}"] * (subjects != expected.subjects), case)


def _clash(run: Run, book: Json, build: Json, answered: Json, case: str) -> None:
    """Hold the engine's clash against a solver one statement at a time, and against all minimal clashes."""
    clash = named(build, answered["clash"])
    if clash is None:
        run.seen["clash not told apart"] += 1
        return
    dear = brute_fails(2000) if run.last % 2 else clingo_fails
    try:
        wrong = wrong_with_clash(book, build, clash, dear if run.last % DEAR == 0 else sat_fails)
        if wrong and any(engine_answer(book, weakened(build, clash - {key}))["limit_hit"] for key in clash):
            run.seen["clash at a limit"] += 1       # then the engine keeps a statement rather than claim too much
            return
        run.found("minimal clash", wrong, case)
        every = Selected(book, build).minimal_clashes()
    except LEFT_OUT:
        return
    inside = clash in every if every else not clash
    run.found("among all minimal clashes", [f"{clash} is none of {every}"] * (not inside), case)


def _changes(run: Run, book: Json, build: Json, answered: Json, case: str) -> None:
    """Hold each proposed change against what it promised, and the fewest parts against trying every way."""
    for one in answered["changes"]:
        after = engine_answer(book, one["build"])["verdict"]
        run.found("promised changes", [f"promised {one['verdict']}, got {after}: {one['text']}"] * (after != one["verdict"]),
                  case)
    if run.last % DEAR:
        return
    try:
        fewest, *besides = may_be_proposed(book, build, 2, 600)
    except LEFT_OUT:
        return
    try:
        least = Selected(book, build).least_to_give_up() if fewest else None
        run.seen["fewest parts to give up"] += least is not None
    except LEFT_OUT:
        least = None
    proposed = fewest_parts(answered["changes"])
    wrong = []
    run.seen["asked instead of changed"] += bool(besides) and proposed is None
    if proposed not in (fewest, *besides) and not (fewest is None and proposed and proposed > 2):
        wrong.append(f"{proposed} parts proposed, {fewest} would do")
    if least is not None and fewest is not None and fewest < least:
        wrong.append(f"{fewest} parts are fewer than the {least} that must be given up")
    run.found("fewest parts to change", wrong, case)
