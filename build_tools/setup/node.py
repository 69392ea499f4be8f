"""npm and the browser's runtime: npm from the machine, else from the locked PyPI package that carries Node."""

from __future__ import annotations

import hashlib
import os
import shutil
from pathlib import Path

from build_tools.runtime.version import OLDEST_NODE, node_major
from build_tools.setup.environment import FOLDER, fill
from build_tools.setup.steps import step

NODE_LOCK = "requirements-node.lock"
OLDEST_NPM = 7


def npm_folder(project: Path) -> Path:
    """Return the folder of a Node and npm new enough, bringing them into the environment when the machine has none."""
    npm, node = shutil.which("npm"), shutil.which("node")
    if npm and node and node_major(node) >= OLDEST_NODE and node_major(npm) >= OLDEST_NPM:
        return Path(npm).parent
    fill(project, NODE_LOCK, "Node and npm")
    return project / FOLDER / "bin"


def bring_runtime(project: Path) -> None:
    """Install the browser's runtime from package-lock.json unless that very lock was installed before."""
    mark = project / "node_modules" / ".donorbook-stamp"
    state = hashlib.sha256((project / "package-lock.json").read_bytes()).hexdigest()
    if mark.is_file() and mark.read_text("utf-8") == state:
        return
    folder = npm_folder(project)
    surroundings = {**os.environ, "PATH": f"{folder}{os.pathsep}{os.environ.get('PATH', '')}"}
    step("Installing the browser's Python", [folder / "npm", "ci", "--no-audit", "--no-fund"], cwd=project, env=surroundings)
    mark.write_text(state, "utf-8")
