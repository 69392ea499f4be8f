"""How new Node is; read before anything is installed, so it uses the standard library only."""

from __future__ import annotations

import subprocess

OLDEST_NODE = 20


def node_major(program: str) -> int:
    """Return the first number of what `program --version` prints, or 0 when it cannot be run or read."""
    try:
        printed = subprocess.run([program, "--version"], capture_output=True, text=True, timeout=60, check=False).stdout
        return int(printed.strip().lstrip("v").split(".")[0])
    except (OSError, ValueError, subprocess.TimeoutExpired):
        return 0
