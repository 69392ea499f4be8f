"""What comes from Debian's packages: the browser, and the programs that the tests hold our numbers against."""

from __future__ import annotations

import functools
import hashlib
import os
import shutil
import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

from build_tools.setup.steps import SetupFailed, say, step, works

TOOLS = ".tools"
CODE_TABLE = Path(TOOLS) / "scantool" / "usr" / "share" / "scantool" / "codes.dat"
CODE_TABLE_SHA256 = "bda8fe41aa17de68f6de8dbe505d7c3dc60b70ee62d98107b07ab093830d5ff9"


class Program(NamedTuple):
    """A program that tests call: its name, the Debian package that brings it, and what is asked of it."""

    name: str
    package: str
    asked: str


PROGRAMS = (
    Program("ngspice", "ngspice", "circuits"),
    Program("units", "units", "conversions of units"),
)


def can_apt() -> bool:
    """Return whether Debian packages can be installed here without asking anybody."""
    return shutil.which("apt-get") is not None and (os.geteuid() == 0 or works(["sudo", "-n", "true"]))


def apt_install(packages: Sequence[str]) -> None:
    """Install Debian packages as root or by password-free sudo; raises SetupFailed."""
    refresh_lists()
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    command = [*_sudo(), "apt-get", "install", "-y", "--no-install-recommends", *packages]
    step(f"Installing {', '.join(packages)} from Debian's packages", command, env=quiet)


@functools.cache
def refresh_lists() -> None:
    """Fetch the lists of Debian packages, once in a run; raises SetupFailed."""
    step("Fetching the lists of Debian packages", [*_sudo(), "apt-get", "update"])


def _sudo() -> list[str]:
    return [] if os.geteuid() == 0 else ["sudo", "-n"]


def bring_programs() -> None:
    """Install the programs that tests call and that are not there; raises SetupFailed with the command to run."""
    missing = [program for program in PROGRAMS if shutil.which(program.name) is None]
    if not missing:
        return
    packages = [program.package for program in missing]
    if not can_apt():
        asked = ", ".join(f"{program.name} ({program.asked})" for program in missing)
        raise SetupFailed(
            f"The tests need programs that are not here: {asked}.\n"
            f"  On Debian or Ubuntu run: sudo apt-get install {' '.join(packages)}\n"
            "  Elsewhere install them under the same names, then run: make test"
        )
    apt_install(packages)


def bring_code_table(project: Path) -> Path:
    """Return a table of fault codes from the Debian package `scantool`, unpacked into the project, not installed.

    It is read by tests only, as a second opinion; raises SetupFailed with the commands to run.
    """
    table = project / CODE_TABLE
    if table.is_file():
        return table
    by_hand = "apt-get download scantool && dpkg-deb -x scantool_*.deb .tools/scantool"
    if shutil.which("apt-get") is None or shutil.which("dpkg-deb") is None:
        raise SetupFailed(f"The tests read a table from the Debian package scantool.\n  On Debian run: {by_hand}\n")
    say("Unpacking the Debian package scantool for its table of fault codes")
    with tempfile.TemporaryDirectory() as folder:
        os.chmod(folder, 0o755)
        fetch = ["apt-get", "download", "scantool"]
        try:
            step("  Fetching it", fetch, cwd=Path(folder))
        except SetupFailed:
            if not can_apt():
                raise
            refresh_lists()
            step("  Fetching it with fresh lists", fetch, cwd=Path(folder), advice=f"Run by hand: {by_hand}")
        (found,) = Path(folder).glob("scantool_*.deb")
        (project / TOOLS).mkdir(exist_ok=True)
        step("  Unpacking it", ["dpkg-deb", "-x", found, project / TOOLS / "scantool"])
    if not table.is_file():
        raise SetupFailed(f"The Debian package scantool holds no {CODE_TABLE.name}; its place has changed.")
    if sha256_of(table) != CODE_TABLE_SHA256:
        raise SetupFailed(
            f"{CODE_TABLE.name} of the Debian package scantool is not the table that the tests were written against.\n"
            f"  Compare the two, and put its digest into {Path(__file__).name}: {sha256_of(table)}"
        )
    return table


def sha256_of(file: Path) -> str:
    """Return the SHA-256 of a file as hexadecimal text; raises OSError when it cannot be read."""
    return hashlib.sha256(file.read_bytes()).hexdigest()
