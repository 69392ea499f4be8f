"""Where Node and the browser's runtime are, and how a job is given to the runtime under Node."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any, NamedTuple

from build_tools.runtime.version import OLDEST_NODE, node_major


class RuntimeMissing(Exception):
    """Node or the runtime is not there; the message says what to run."""


class RuntimeFailed(Exception):
    """The runtime refused a job; the message is the end of what it printed."""


class Runtime(NamedTuple):
    """Node's program, the folder of the runtime's files, and its exact version."""

    node: Path
    folder: Path
    version: str


def node_program() -> Path | None:
    """Return Node from the machine, else the one beside this Python, else None; too old counts as absent."""
    beside = Path(sys.executable).parent / "node"
    for found in (shutil.which("node"), str(beside) if beside.exists() else None):
        if found and node_major(found) >= OLDEST_NODE:
            return Path(found)
    return None


def find_runtime(project: Path) -> Runtime:
    """Return the runtime that `npm ci` laid down; raises RuntimeMissing with the command that brings it."""
    folder = project / "node_modules" / "pyodide"
    node = node_program()
    if node is None:
        raise RuntimeMissing(f"Node {OLDEST_NODE} or newer was not found. Run: make environment")
    if not (folder / "pyodide.asm.wasm").is_file():
        raise RuntimeMissing("The browser's Python is not installed. Run: make environment")
    wanted = json.loads((project / "package.json").read_text("utf-8"))["dependencies"]["pyodide"]
    version = json.loads((folder / "package.json").read_text("utf-8"))["version"]
    if version != wanted:
        raise RuntimeMissing(f"The browser's Python is {version}, not {wanted}. Run: make environment")
    return Runtime(node, folder, version)


def run_node(runtime: Runtime, script: Path, job: Mapping[str, Any], timeout: float = 300) -> Any:
    """Give a script one JSON job on standard input and return the JSON it prints; raises RuntimeFailed."""
    done = subprocess.run(
        [str(runtime.node), str(script)], input=json.dumps(job), capture_output=True, text=True, timeout=timeout, check=False
    )
    if done.returncode != 0:
        raise RuntimeFailed(f"{script.name} failed:\n{(done.stderr or done.stdout)[-2000:]}")
    return json.loads(done.stdout)
