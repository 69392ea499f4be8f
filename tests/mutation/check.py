"""Holds an engine against what the oracles and the scenarios expect, and stops at the first difference.

`python -m tests.mutation.check EXPECTED.json` uses whatever `wizard` comes first on the path: a mutant's, in a run.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any, Iterator

from tests.oracle.brute import TooMany, Verdict
from tests.oracle.clashes import brute_fails, fewest_parts, named, wrong_with_clash
from tests.oracle.compare import differences, engine_answer, viable
from tests.oracle.real_run import stop_differences
from tests.scenarios.scenario import wrong_with
from wizard.engine import Book, answer, load

Json = dict[str, Any]


def packed(verdict: Verdict) -> Json:
    """Return what brute force found as plain JSON."""
    return {"verdict": verdict.verdict, "refused": verdict.refused, "contradiction": verdict.contradiction,
            "subjects": verdict.subjects, "certain": sorted(verdict.certain, key=str),
            "possible": sorted(verdict.possible, key=str), "without_assumed": verdict.without_assumed}


def unpacked(one: Json) -> Verdict:
    """Return what `packed` was given, but for the cases and the number of worlds."""
    certain, possible = (frozenset((stop, slot) for stop, slot in one[key]) for key in ("certain", "possible"))
    return Verdict(one["verdict"], one["refused"], one["contradiction"], one["subjects"], certain, possible, {},
                   one["without_assumed"], 0)


def failures(expected: Json) -> Iterator[str]:
    """Yield what is wrong with the engine, cheapest checks first."""
    for one in expected["small"]:
        found = engine_answer(one["book"], one["build"])
        yield from (f"small book {one['seed']}: {text}"
                    for text in differences(one["book"], found, unpacked(one["expected"])))
    for one in expected["viable"]:
        found = engine_answer(one["book"], one["build"])
        yield from (f"viable parts {one['seed']}: {families}, not {one['viable'][slot]}"
                    for slot, families in viable(found).items() if families != one["viable"][slot])
    for one in expected["clashes"]:
        found = engine_answer(one["book"], one["build"])
        clash = named(one["build"], found["clash"])
        try:
            wrong = [] if clash is None else wrong_with_clash(one["book"], one["build"], clash, brute_fails(600))
        except TooMany:
            wrong = []
        yield from (f"clash {one['seed']}: {text}" for text in wrong)
        fewest = fewest_parts(found["changes"])
        if fewest not in one["fewest"] and not (fewest and fewest > 2 and None in one["fewest"]):
            yield f"changes {one['seed']}: {fewest} parts, not {one['fewest']}"
    book = load(expected["book"])
    for one in expected["real"]:
        yield from (f"build over the facts {one['seed']}: {text}" for text in _real(book, one))
    for one in expected["scenarios"]:
        found = json.loads(answer(book, json.dumps(one["build"], sort_keys=True)))
        yield from (f"scenario {one['name']}: {text}" for text in wrong_with(one["expect"], found))


def _real(book: Book, one: Json) -> Iterator[str]:
    """Yield where an answer over the facts is not what python-sat found."""
    found = json.loads(answer(book, json.dumps(one["build"])))
    must, may = ({(stop, slot) for stop, slot in one[key]} for key in ("must", "may"))
    if (found["verdict"] is None) != (one["verdict"] is None):
        yield f"engine {found['verdict']}, python-sat {one['verdict']}"
    if found["verdict"] is None or one["verdict"] is None:
        return
    yield from stop_differences(book.data, found, must, may)
    if not found["refused"]:
        if found["verdict"] != one["verdict"]:
            yield f"engine {found['verdict']}, python-sat {one['verdict']}"
        yield from (f"viable in {slot}: {families}, not {one['viable'][slot]}" for slot, families in viable(found).items()
                    if families != one["viable"][slot])


def main() -> int:
    """Print the first difference and return 1, or return 0 when there is none."""
    expected = json.loads(Path(sys.argv[1]).read_text(encoding="utf-8"))
    try:
        wrong = next(failures(expected), None)
    except Exception as error:  # a mutant may break in any way, and breaking is being found out
        wrong = f"{type(error).__name__}: {error}"
    print("no difference" if wrong is None else wrong[:200])
    return int(wrong is not None)


if __name__ == "__main__":
    sys.exit(main())
