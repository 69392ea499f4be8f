"""Counts every comparison with the outside, and ends with a table: sum, source, cases, largest difference."""
from __future__ import annotations

import json
import os
from collections import defaultdict
from pathlib import Path
from typing import Callable, NamedTuple

import pytest

from wizard.sums.forms import REGISTRY

HERE = Path(__file__).parent
ENOUGH = 150


class Comparison(NamedTuple):
    """One number of the project held against one from outside."""

    sum: str
    source: str
    difference: float


DONE = pytest.StashKey[list[Comparison]]()
WHOLE = pytest.StashKey[bool]()


def pytest_configure(config: pytest.Config) -> None:
    """Start with no comparison made."""
    config.stash[DONE] = []
    config.stash[WHOLE] = False


@pytest.fixture
def compare(pytestconfig: pytest.Config) -> Callable[..., None]:
    """Return a function that asserts two numbers agree within a fraction, and keeps the difference for the table."""
    def one(name: str, ours: float, theirs: float, within: float, source: str, floor: float = 0.0) -> None:
        scale = max(abs(theirs), floor)
        difference = abs(ours - theirs) / scale if scale else abs(ours)
        pytestconfig.stash[DONE].append(Comparison(name, source, difference))

        assert difference <= within, f"{name}: {ours!r} against {theirs!r} of {source}, {difference:.3g} apart, {within:g} allowed"
    return one


def table(config: pytest.Config) -> list[tuple[str, str, int, float]]:
    """Return a row for each sum and source: how many cases, and the largest relative difference."""
    cases: dict[tuple[str, str], list[float]] = defaultdict(list)
    for done in config.stash[DONE]:
        cases[done.sum, done.source].append(done.difference)
    return [(name, source, len(found), max(found)) for (name, source), found in sorted(cases.items())]


def _whole(session: pytest.Session) -> bool:
    collected = {Path(str(item.path)).name for item in session.items if Path(str(item.path)).parent == HERE}
    return collected == {p.name for p in HERE.glob("test_*.py")} and not session.config.getoption("keyword")


def _lacking(config: pytest.Config) -> list[str]:
    """Return the sums that no comparison of this run was about."""
    return sorted(set(REGISTRY) - {done.sum for done in config.stash[DONE]})


def pytest_sessionfinish(session: pytest.Session, exitstatus: int) -> None:
    """Fail a run of the whole directory with too few comparisons, or a sum that nothing outside was held against.

    The table goes where DONORBOOK_COMPARISONS says, as JSON rows.
    """
    if target := os.environ.get("DONORBOOK_COMPARISONS"):
        Path(target).write_text(json.dumps(table(session.config), indent=1, ensure_ascii=False) + "\n", encoding="utf-8")
    session.config.stash[WHOLE] = _whole(session)
    short = len(session.config.stash[DONE]) < ENOUGH or _lacking(session.config)
    if exitstatus == 0 and session.config.stash[WHOLE] and short:
        session.exitstatus = pytest.ExitCode.TESTS_FAILED


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter, config: pytest.Config) -> None:
    """Print the number of comparisons and the five largest differences; all of them with -v."""
    rows = sorted(table(config), key=lambda row: -row[3])
    if not rows:
        return
    shown = rows if terminalreporter.verbosity > 0 else rows[:5]
    terminalreporter.write_line(f"{len(config.stash[DONE])} comparisons with the outside (a whole run needs {ENOUGH}), the largest differences:")
    for name, source, cases, largest in shown:
        terminalreporter.write_line(f"  {largest:9.2e}  {name}, {source}, {cases} cases")
    lacking = _lacking(config)
    if config.stash[WHOLE] and lacking:
        terminalreporter.write_line(f"No comparison in this run was about: {', '.join(lacking)}")
