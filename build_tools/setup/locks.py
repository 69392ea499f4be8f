"""Renews the locks: exact versions with hashes, for every Python from 3.11, with no index address in them."""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

from build_tools.setup.environment import quiet_pip
from build_tools.setup.steps import step

LOCKED = ("requirements-setup", "requirements-node", "requirements", "requirements-test")
"""In this order: the tests' lock is held to the versions of the site's."""


def write_locks(project: Path) -> None:
    """Rewrite each `.lock` from its `.in` with the newest versions that fit; raises SetupFailed."""
    with tempfile.TemporaryDirectory() as folder:
        python = Path(folder) / "bin" / "python"
        step("Making a place for the locking tool", [sys.executable, "-m", "venv", folder])
        step("Installing the locking tool", [python, "-m", "pip", "install", "--quiet", "uv"], env=quiet_pip())
        for name in LOCKED:
            command = [
                Path(folder) / "bin" / "uv", "pip", "compile", "--quiet", "--universal", "--python-version", "3.11",
                "--generate-hashes", "--no-emit-index-url", "--upgrade", "--custom-compile-command", "make lock",
                f"{name}.in", "--output-file", f"{name}.lock",
            ]  # fmt: skip
            step(f"Locking {name}", command, cwd=project)
