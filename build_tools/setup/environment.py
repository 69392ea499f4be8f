"""The virtual environment: made whatever the machine's Python lacks, filled from the locks, by hash."""

from __future__ import annotations

import hashlib
import os
import shutil
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

from build_tools.setup.debian import apt_install, can_apt
from build_tools.setup.steps import SetupFailed, say, step, works

FOLDER = ".venv"
SETUP_LOCK = "requirements-setup.lock"
STAMPS = "donorbook-stamps"


def python_of(project: Path) -> Path:
    """Return where the environment's Python is, made or not."""
    return project / FOLDER / "bin" / "python"


def make_environment(project: Path) -> Path:
    """Return the Python of a working environment, making it when it is absent, broken or of an older Python.

    Tries, in order: `venv` whole; `venv` without pip and the machine's pip; a Debian package, where that is allowed.
    """
    python = python_of(project)
    if works([python, "-c", "import sys, pip; sys.exit(sys.version_info < (3, 11))"]):
        return python
    folder = project / FOLDER
    if folder.exists():
        shutil.rmtree(folder)
    whole = works([sys.executable, "-c", "import venv, ensurepip"])
    if whole:
        try:
            step("Making the environment", [sys.executable, "-m", "venv", folder])
            return python
        except SetupFailed:
            shutil.rmtree(folder, ignore_errors=True)
    if works([sys.executable, "-m", "pip", "--version"]) and works([sys.executable, "-c", "import venv"]):
        step("Making the environment without ensurepip", [sys.executable, "-m", "venv", "--without-pip", folder])
        bring_pip(project, sys.executable, python)
        return python
    packages = ["python3-venv", "python3-pip"]
    if can_apt() and Path(sys.executable).resolve().is_relative_to("/usr"):
        apt_install(packages)
        step("Making the environment", [sys.executable, "-m", "venv", folder])
        return python
    raise SetupFailed(
        f"{sys.executable} can make no virtual environment: it has neither ensurepip nor pip.\n"
        f"  On Debian or Ubuntu run: sudo apt-get install {' '.join(packages)}\n"
        "  Elsewhere install a whole Python 3.11 or newer and run: make PYTHON=/path/to/python3"
    )


def bring_pip(project: Path, outside: str, inside: Path) -> None:
    """Put the locked pip into an environment that has none, with another Python's pip; raises SetupFailed."""
    with tempfile.TemporaryDirectory() as folder:
        fetch = [outside, "-m", "pip", "download", "--quiet", "--no-deps", "--require-hashes", "--dest", folder]
        step("Fetching pip", [*fetch, "-r", project / SETUP_LOCK], env=quiet_pip())
        wheels = sorted(Path(folder).glob("*.whl"))
        held = next(wheel for wheel in wheels if wheel.name.startswith("pip-"))
        install = [inside, held / "pip", "install", "--quiet", "--no-index", "--no-deps"]
        step("Installing pip", [*install, *wheels], env=quiet_pip())


def fill(project: Path, lock: str, what: str) -> None:
    """Install a lock into the environment unless that very lock was installed before; raises SetupFailed.

    `--no-build-isolation`: the few packages without a wheel build with the locked setuptools, not an unlocked one.
    """
    python = make_environment(project)
    if lock != SETUP_LOCK:
        fill(project, SETUP_LOCK, "the installers")
    mark = project / FOLDER / STAMPS / lock
    state = hashlib.sha256((project / lock).read_bytes()).hexdigest()
    if mark.is_file() and mark.read_text("utf-8") == state:
        return
    command = [python, "-m", "pip", "install", "--require-hashes", "--no-build-isolation", "-r", project / lock]
    step(f"Installing {what}", command, env=quiet_pip())
    _stamp(mark, state)


def install_project(project: Path) -> None:
    """Put the `donorbook` command into the environment, reading the project where it stands."""
    mark = project / FOLDER / STAMPS / "project"
    state = hashlib.sha256((project / "pyproject.toml").read_bytes() + str(project).encode()).hexdigest()
    if mark.is_file() and mark.read_text("utf-8") == state:
        return
    command: Sequence[str | Path] = [
        python_of(project), "-m", "pip", "install", "--quiet", "--no-deps", "--no-build-isolation", "--editable", project,
    ]  # fmt: skip
    step("Installing the donorbook command", command, env=quiet_pip())
    _stamp(mark, state)


def quiet_pip() -> dict[str, str]:
    """Return the surroundings for pip: no advice on newer versions, no questions."""
    return {**os.environ, "PIP_DISABLE_PIP_VERSION_CHECK": "1", "PIP_NO_INPUT": "1", "PIP_ROOT_USER_ACTION": "ignore"}


def _stamp(mark: Path, state: str) -> None:
    mark.parent.mkdir(parents=True, exist_ok=True)
    mark.write_text(state, "utf-8")


def remove(project: Path, names: Sequence[str]) -> None:
    """Delete made files and folders under the project by name; what is not there is passed over."""
    for name in names:
        target = project / name
        if target.is_dir() and not target.is_symlink():
            shutil.rmtree(target)
            say(f"Removed {name}")
        elif target.exists():
            target.unlink()
            say(f"Removed {name}")
