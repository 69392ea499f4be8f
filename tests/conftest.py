"""What every test shares: the seed, the browser, and the table of time by area at the end of a run."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings
from playwright.sync_api import Browser, sync_playwright

from build_tools.setup.browser import CHOICE, FLAGS, find_browser

TESTS = Path(__file__).resolve().parent
USUAL_SEED = 20261125
AREAS = pytest.StashKey[dict[str, float]]()
COUNTS = pytest.StashKey[Counter[str]]()
SEED = pytest.StashKey[int]()
LINES = pytest.StashKey[list[str]]()


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add --seed N and --soak."""
    parser.addoption("--seed", type=int, default=None, help="draw other random cases; the usual seed when left out")
    parser.addoption("--soak", action="store_true", help="long runs: more random cases, a new seed unless one is given")


def pytest_configure(config: pytest.Config) -> None:
    """Fix the seed, and how many examples the property tests try, for the whole run."""
    soak = config.getoption("--soak")
    seed = config.getoption("--seed")
    if seed is None:
        seed = random.SystemRandom().randrange(1_000_000_000) if soak else USUAL_SEED
    config.stash[SEED] = seed
    config.stash[AREAS] = {}
    config.stash[COUNTS] = Counter()
    config.stash[LINES] = []
    slow = [HealthCheck.too_slow, HealthCheck.data_too_large]
    settings.register_profile("usual", deadline=None, derandomize=True, database=None, suppress_health_check=slow)
    settings.register_profile("soak", deadline=None, database=None, max_examples=2000, suppress_health_check=slow)
    settings.load_profile("soak" if soak else "usual")
    if soak and hasattr(config.option, "hypothesisseed"):
        config.option.hypothesisseed = str(seed)


def pytest_report_header(config: pytest.Config) -> str:
    """Say the seed and the length of the run."""
    return f"seed {config.stash[SEED]} ({'soak' if config.getoption('--soak') else 'usual length'})"


def area_of(node: str) -> str:
    """Return the area of a test: its folder under tests/, or its file's name when it lies in tests/ itself."""
    parts = Path(node.split("::")[0]).parts
    inner = parts[1:] if parts[0] == TESTS.name else parts
    return inner[0] if len(inner) > 1 else Path(inner[0]).stem.removeprefix("test_")


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item: pytest.Item, call: pytest.CallInfo[None]) -> Iterator[None]:
    """Add each set-up, call and tear-down to the time of its area."""
    report = yield
    area = area_of(item.nodeid)
    times = item.config.stash[AREAS]
    times[area] = times.get(area, 0.0) + call.duration
    if call.when == "call":
        item.config.stash[COUNTS][area] += 1
    return report


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter, config: pytest.Config) -> None:
    """Print the time by area, longest first, and the seed."""
    times = config.stash[AREAS]
    if not times:
        return
    terminalreporter.section("time by area")
    for area, seconds in sorted(times.items(), key=lambda pair: (-pair[1], pair[0])):
        terminalreporter.write_line(f"{seconds:8.1f} s  {config.stash[COUNTS][area]:5d} tests  {area}")
    for line in config.stash[LINES]:
        terminalreporter.write_line(line)
    terminalreporter.write_line(f"seed {config.stash[SEED]}; run again with: make test SEED={config.stash[SEED]}")


@pytest.fixture(scope="session")
def seed(pytestconfig: pytest.Config) -> int:
    """Return the seed of this run: seed a `random.Random` with it and with the test's own name."""
    return pytestconfig.stash[SEED]


@pytest.fixture(scope="session")
def say(pytestconfig: pytest.Config) -> Callable[[str], None]:
    """Return what prints a line at the end of the run: which seeds were tried, and how many cases of what sort."""
    return pytestconfig.stash[LINES].append


@pytest.fixture(scope="session")
def soak(pytestconfig: pytest.Config) -> bool:
    """Return whether this is a long run: then draw many more random cases."""
    return bool(pytestconfig.getoption("--soak"))


@pytest.fixture(scope="session")
def browser_path() -> str:
    """Return the program of the Chromium under test; fails in words when there is none."""
    found = find_browser()
    if found is None:
        pytest.fail(f"No Chromium was found. Run `make test`, which brings one, or set {CHOICE}.")
    return str(found)


@pytest.fixture(scope="session")
def browser_flags() -> list[str]:
    """Return the flags for a browser that talks to nobody but the site under test."""
    return list(FLAGS)


@pytest.fixture(scope="session")
def chromium(browser_path: str, browser_flags: list[str]) -> Iterator[Browser]:
    """Return the one running Chromium of all tests: its driver cannot be started twice. A visit is a fresh profile."""
    with sync_playwright() as driver:
        running = driver.chromium.launch(executable_path=browser_path, args=browser_flags)
        yield running
        running.close()
