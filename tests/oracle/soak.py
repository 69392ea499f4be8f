"""Random small books and random builds over the facts, compared until told to stop; each disagreement is printed.

`python -m tests.oracle.soak` draws a seed of its own; `--seed 7 --count 500` stops after so many of each.
"""

from __future__ import annotations

import argparse
import random
from itertools import count

from tests.oracle.real_run import LONG, QUICK, one_build
from tests.oracle.run import Run
from tests.oracle.small_run import one_book

SAY = 200       # builds between two lines of counts


def main() -> None:
    """Compare and print; status 1 when something disagreed."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seed", type=int, default=None)
    parser.add_argument("--count", type=int, default=None)
    parser.add_argument("--quick", action="store_true", help="expand no more unknowns than the usual tests do")
    given = parser.parse_args()
    first = random.SystemRandom().randrange(1_000_000_000) if given.seed is None else given.seed
    small, real = Run(first), Run(first)
    said = 0
    for seed in count(first) if given.count is None else range(first, first + given.count):
        one_book(small, seed)
        one_build(real, seed, QUICK if given.quick else LONG)
        texts = [text for run in (small, real) for some in run.wrong.values() for text in some]
        if len(texts) > said:
            print(*(f"{question}: {text}" for run in (small, real) for question, some in run.wrong.items()
                    for text in some if text.startswith(f"seed {seed}:")), sep="\n\n", end="\n\n", flush=True)
            said = len(texts)
        if (seed - first) % SAY == SAY - 1:
            print(f"small books, {small.text()}\nthe facts, {real.text()}", flush=True)
    raise SystemExit(int(bool(said)))


if __name__ == "__main__":
    try:
        main()
    except KeyboardInterrupt:
        print("stopped")
