"""The engine against brute force on seeded small books.

`python -m tests.oracle.test_small_books --soak` goes on until told to stop, printing each disagreement made small.
"""

from __future__ import annotations

import argparse
from collections import Counter
from itertools import count

from tests.oracle.brute import TooMany, brute_force
from tests.oracle.compare import differences, engine_answer
from tests.oracle.ground import Json
from tests.oracle.shrink import brief, shrink
from tests.oracle.small_books import random_case

BOOKS = 2000
LONG = 20_000


def disagreement(seed: int, cap: int = 300) -> tuple[str | None, bool]:
    """Return a minimal reproduction of where engine and brute force differ, if they do, and whether a limit was hit."""
    book, build, expected = random_case(seed, cap=cap)
    answered = engine_answer(book, build)
    wrong = differences(book, answered, expected)
    if not wrong:
        return None, answered["limit_hit"]

    def same(smaller: Json, less: Json) -> bool:
        try:
            found = differences(smaller, engine_answer(smaller, less), brute_force(smaller, less, cap=20 * cap))
        except TooMany:
            return False
        return bool(found) and found[0].partition(":")[0] == wrong[0].partition(":")[0]

    book, build = shrink(book, build, same)
    small = differences(book, engine_answer(book, build), brute_force(book, build, cap=20 * cap))
    return "\n".join([f"seed {seed}", *wrong, "made small:", *small, brief(book, build)]), answered["limit_hit"]


def test_the_engine_says_what_brute_force_says_on_small_books(seed: int, soak: bool) -> None:
    books = LONG if soak else BOOKS
    compared = [disagreement(n) for n in range(seed, seed + books)]
    found = [text for text, _ in compared if text is not None]
    limits = sum(limit for _, limit in compared)
    print(f"seeds {seed} to {seed + books - 1}, {len(found)} disagreements, {limits} at a limit")

    assert limits <= books // 100
    assert not found, "\n\n".join([f"{len(found)} of {books} from seed {seed}", *found[:5]])


def test_the_small_books_reach_every_verdict_often(seed: int) -> None:
    verdicts = Counter(str(random_case(n)[2].verdict) for n in range(seed, seed + 200))
    rarest = min(verdicts[name] for name in ("works", "works-with-additions", "cannot-tell", "will-not-work", "None"))

    assert rarest >= 5, verdicts


def main() -> None:
    """Compare until told to stop (`--soak`), or for a number of books, and print each disagreement."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--books", type=int, default=BOOKS)
    parser.add_argument("--cap", type=int, default=300)
    parser.add_argument("--soak", action="store_true")
    given = parser.parse_args()
    seeds = count(given.seed) if given.soak else range(given.seed, given.seed + given.books)
    bad = 0
    for done, seed in enumerate(seeds, 1):
        text, _ = disagreement(seed, given.cap)
        if text is not None:
            bad += 1
            print(text, end="\n\n", flush=True)
        if done % 500 == 0:
            print(f"{done} books from seed {given.seed}, {bad} disagreements", flush=True)
    raise SystemExit(1 if bad else 0)


if __name__ == "__main__":
    main()
