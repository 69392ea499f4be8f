"""The parts that `python3 -m build_tools.setup` can bring, each with what it rests on, and how they are removed."""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from build_tools.setup.browser import bring_browser
from build_tools.setup.debian import bring_code_table, bring_programs
from build_tools.setup.environment import fill, install_project, make_environment, remove
from build_tools.setup.locks import write_locks
from build_tools.setup.node import bring_runtime
from build_tools.setup.steps import SetupFailed, fail

PROJECT = Path(__file__).resolve().parent.parent.parent
MADE = (".venv", ".cache", ".tools", ".pytest_cache", ".hypothesis", "node_modules", "build", "donorbook.egg-info")


def bring_environment(project: Path) -> None:
    """Bring what building and serving need: environment, packages, the donorbook command, the browser's runtime."""
    make_environment(project)
    fill(project, "requirements.lock", "what building the site needs")
    install_project(project)
    bring_runtime(project)


def bring_browser_part(project: Path) -> None:
    """Bring what `make bench` needs: the environment, the browser driver and a Chromium."""
    bring_environment(project)
    fill(project, "requirements-test.lock", "what the tests need (about a minute, 1 GB)")
    bring_browser(project)


def bring_tests(project: Path) -> None:
    """Bring what `make test` needs."""
    bring_browser_part(project)
    bring_programs()
    bring_code_table(project)


def clean(project: Path) -> None:
    """Remove everything that set-up, build and tests made."""
    remove(project, MADE)


PARTS: Mapping[str, Callable[[Path], None]] = {
    "environment": bring_environment,
    "browser": bring_browser_part,
    "tests": bring_tests,
    "locks": write_locks,
    "clean": clean,
}


def main(arguments: Sequence[str]) -> int:
    """Bring the named parts in order; return 0, 1 when one fails, or 2 when one is not known."""
    unknown = [name for name in arguments if name not in PARTS]
    if unknown or not arguments:
        print(f"Parts to bring: {', '.join(PARTS)}. Not known: {', '.join(unknown) or 'none named'}.", file=sys.stderr)
        return 2
    try:
        for name in arguments:
            PARTS[name](PROJECT)
    except SetupFailed as failure:
        return fail(str(failure))
    except KeyboardInterrupt:
        return fail("Stopped.")
    return 0
