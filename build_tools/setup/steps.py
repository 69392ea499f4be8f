"""Steps that take a while: said before, timed after, and quoted when they fail."""

from __future__ import annotations

import subprocess
import sys
import time
from collections.abc import Mapping, Sequence
from pathlib import Path

BEAT = 10
LINES_QUOTED = 30


class SetupFailed(Exception):
    """A step failed and nothing else can do its work; the message says what to run by hand."""


def say(text: str) -> None:
    """Print a line at once."""
    print(text, flush=True)


def step(
    what: str, command: Sequence[str | Path], *, cwd: Path | None = None, env: Mapping[str, str] | None = None, advice: str = ""
) -> None:
    """Run a command with a line before it, a sign of life every ten seconds, and its time; raises SetupFailed."""
    say(f"{what} ...")
    started = time.monotonic()
    words = [str(part) for part in command]
    try:
        process = subprocess.Popen(
            words, cwd=cwd, env=env, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, errors="replace"
        )
    except OSError as error:
        raise SetupFailed(_failure(what, words, str(error), advice)) from error
    while True:
        try:
            printed, _ = process.communicate(timeout=BEAT)
            break
        except subprocess.TimeoutExpired:
            say(f"  {time.monotonic() - started:.0f} s ...")
    if process.returncode != 0:
        tail = "\n".join(printed.strip().splitlines()[-LINES_QUOTED:])
        raise SetupFailed(_failure(what, words, tail, advice))
    taken = time.monotonic() - started
    if taken > 1:
        say(f"  done in {taken:.0f} s")


def _failure(what: str, command: Sequence[str], printed: str, advice: str) -> str:
    lines = [f"{what}: failed.", f"  Command: {' '.join(command)}"]
    if printed:
        lines += ["  It printed:", *(f"    {line}" for line in printed.splitlines())]
    if advice:
        lines.append(f"  {advice}")
    return "\n".join(lines)


def works(command: Sequence[str | Path], timeout: float = 60) -> bool:
    """Return whether a command can be run and exits with 0; its output is dropped."""
    try:
        words = [str(part) for part in command]
        done = subprocess.run(words, stdin=subprocess.DEVNULL, capture_output=True, timeout=timeout, check=False)
    except (OSError, subprocess.TimeoutExpired):
        return False
    return done.returncode == 0


def fail(message: str) -> int:
    """Print what failed to standard error and return the exit status 1."""
    print(message, file=sys.stderr, flush=True)
    return 1
