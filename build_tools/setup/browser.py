"""A Chromium for the browser tests: the machine's, else Debian's, else the driver's own download, else words."""

from __future__ import annotations

import os
import shutil
import sys
from pathlib import Path

from build_tools.setup.debian import apt_install, can_apt
from build_tools.setup.environment import python_of
from build_tools.setup.steps import SetupFailed, say, step, works

CHOICE = "DONORBOOK_BROWSER"
NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
FLAGS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
"""Flags for a browser that talks to nobody but the site under test."""


def find_browser() -> Path | None:
    """Return a Chromium that starts: the one DONORBOOK_BROWSER names, the machine's, or the driver's own; else None."""
    chosen = os.environ.get(CHOICE)
    names = (chosen,) if chosen else NAMES
    for name in names:
        found = shutil.which(name)
        if found and works([found, "--version"]):
            return Path(found)
    return None if chosen else _downloaded()


def _downloaded() -> Path | None:
    """Return the Chromium that the browser driver downloaded earlier, newest first, or None."""
    if sys.platform == "darwin":
        store, pattern = Path.home() / "Library/Caches/ms-playwright", "chromium-*/**/MacOS/*"
    else:
        store, pattern = Path.home() / ".cache/ms-playwright", "chromium-*/chrome-linux*/chrome"
    found = [file for file in sorted(store.glob(pattern), reverse=True) if works([file, "--version"])]
    return found[0] if found else None


def bring_browser(project: Path) -> Path:
    """Return a Chromium that starts, installing one when there is none; raises SetupFailed with the commands to run."""
    found = find_browser()
    if found:
        return found
    if os.environ.get(CHOICE):
        raise SetupFailed(f"{CHOICE} names {os.environ[CHOICE]}, which does not start.")
    download = [python_of(project), "-m", "playwright", "install", "chromium"]
    for attempt in (_from_debian, lambda: step("Downloading a Chromium", download)):
        try:
            attempt()
        except SetupFailed as failure:
            say(str(failure))
        found = find_browser()
        if found:
            return found
    raise SetupFailed(
        "The browser tests need a Chromium, and none could be installed.\n"
        "  On Debian or Ubuntu run: sudo apt-get install chromium\n"
        f"  Elsewhere run: {python_of(project)} -m playwright install chromium\n"
        f"  Or name one that is there: {CHOICE}=/path/to/chromium make test"
    )


def _from_debian() -> None:
    if not can_apt():
        raise SetupFailed("Debian's packages cannot be installed here without a password.")
    apt_install(["chromium"])
