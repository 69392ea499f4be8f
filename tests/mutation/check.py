"""Holds an engine against what the oracles and the scenarios expect and against tests, and stops at the first difference.

`python -m tests.mutation.check EXPECTED.json TEST...` (`-`: expect nothing, only run the tests) uses whatever `wizard`
comes first on the path: a mutant's, in a run.
"""

from __future__ import annotations

import contextlib
import io
import json
import resource
import sys
from pathlib import Path
from typing import Any, Iterator, Sequence

import pytest

from tests.oracle.brute import TooMany, Verdict
from tests.oracle.clashes import brute_fails, fewest_parts, named, wrong_with_clash
from tests.oracle.compare import differences, engine_answer, viable
from tests.oracle.real_run import stop_differences
from tests.scenarios.scenario import wrong_with
from wizard.engine import Book, answer, load

Json = dict[str, Any]
ROOT = Path(__file__).resolve().parents[2]
MEMORY = 4 << 30


def packed(verdict: Verdict) -> Json:
    """Return what brute force found as plain JSON."""
    return {"verdict": verdict.verdict, "refused": verdict.refused, "contradiction": verdict.contradiction,
            "subjects": verdict.subjects, "certain": sorted(verdict.certain, key=str),
            "possible": sorted(verdict.possible, key=str), "without_assumed": verdict.without_assumed,
            "cases": [[*rule, sorted(filter(None, cases))] for rule, cases in sorted(verdict.cases.items(), key=str)]}


def unpacked(one: Json) -> Verdict:
    """Return what `packed` was given, but for the number of worlds and whether a rule may come to no case."""
    certain, possible = (frozenset((stop, slot) for stop, slot in one[key]) for key in ("certain", "possible"))
    return Verdict(one["verdict"], one["refused"], one["contradiction"], one["subjects"], certain, possible,
                   {(rule, slot): frozenset(cases) for rule, slot, cases in one["cases"]}, one["without_assumed"], 0)


def failures(expected: Json) -> Iterator[str]:
    """Yield what is wrong with the engine, cheapest checks first."""
    for one in expected["small"]:
        found = engine_answer(one["book"], one["build"])
        if found["limit_hit"]:
            yield f"small book {one['seed']}: a limit is reached"
        yield from (f"small book {one['seed']}: {text}"
                    for text in differences(one["book"], one["build"], found, unpacked(one["expected"])))
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


class _First:
    """The name of the first test that failed, as pytest reports it."""

    def __init__(self) -> None:
        self.name: str | None = None

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Note a failure of a test or of what it needs."""
        if report.failed and self.name is None:
            self.name = report.nodeid.rpartition("/")[2]


def failing_test(tests: Sequence[str]) -> str | None:
    """Return the first of some tests that fails with the engine that is loaded already; None when all pass."""
    if not tests:
        return None
    first, out = _First(), io.StringIO()
    with contextlib.redirect_stdout(out):
        status = pytest.main([*(str(ROOT / one) for one in tests), "-x", "-q", "-p", "no:cacheprovider",
                              "-c", str(ROOT / "pyproject.toml"), "--rootdir", str(ROOT)], plugins=[first])
    return None if status == 0 else first.name or f"pytest ends with {status}: {out.getvalue().strip()[-120:]}"


def main() -> int:
    """Print the first difference and return 1, or return 0 when there is none."""
    file, *tests = sys.argv[1:]
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))        # a mutant may collect without end
    try:
        wrong = None if file == "-" else next(failures(json.loads(Path(file).read_text(encoding="utf-8"))), None)
        wrong = wrong or failing_test(tests)
    except Exception as error:  # a mutant may break in any way, and breaking is being found out
        wrong = f"{type(error).__name__}: {error}"
    print("no difference" if wrong is None else wrong[:200])
    return int(wrong is not None)


if __name__ == "__main__":
    sys.exit(main())
