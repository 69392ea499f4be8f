"""The tools outside the project that the sums are held against: found, or the test fails with the command to install."""
from __future__ import annotations

import importlib
import re
import shutil
import subprocess
from functools import cache
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

PIP = "make test, which brings it, or: python -m pip install -r requirements-test.lock"
APT = "apt-get update && apt-get install -y ngspice units"


@cache
def library(name: str) -> ModuleType:
    """Return an imported library; fail the test with the command to install it when it is missing."""
    try:
        return importlib.import_module(name)
    except ImportError as problem:
        pytest.fail(f"The outside checks need the library {name} ({problem}). Run: {PIP}", pytrace=False)


def program(name: str) -> str:
    """Return the path of a program; fail the test with the command to install it when it is missing."""
    path = shutil.which(name)
    if path is None:
        pytest.fail(f"The outside checks need the program {name}. Run: {APT}", pytrace=False)
    return path


@cache
def pint_units() -> Any:
    """Return pint's registry of units, made once."""
    return library("pint").UnitRegistry()


@cache
def units(expression: str, unit: str) -> float:
    """Return what GNU units (Debian package `units`, called as a program) makes of an expression in a unit."""
    run = subprocess.run([program("units"), "-t", "-o", "%.15g", expression, unit], capture_output=True, text=True, timeout=20)
    assert run.returncode == 0, f"units could not work out {expression} in {unit}: {run.stdout}{run.stderr}"
    return float(run.stdout)


def ngspice(circuit: str, prints: tuple[str, ...], folder: Path) -> dict[str, float]:
    """Return the node values that ngspice (Debian, called as a program) finds at the operating point."""
    body = "\n".join(f"print {p}" for p in prints)
    file = folder / "circuit.cir"
    file.write_text(f"* checked from outside\n{circuit}\n.control\nset numdgt=12\nop\n{body}\n.endc\n.end\n", encoding="utf-8")
    run = subprocess.run([program("ngspice"), "-b", str(file)], capture_output=True, text=True, timeout=30)
    found = {name.strip(): float(value) for name, value in re.findall(r"^(\S.*?) = (\S+)$", run.stdout, re.M)}
    missing = [p for p in prints if p not in found]
    assert not missing, f"ngspice printed no {missing}: {run.stdout}{run.stderr}"
    return found


def nodal(resistors: list[tuple[str, str, float]], currents: list[tuple[str, str, float]],
          voltages: list[tuple[str, str, float]]) -> dict[str, float]:
    """Return node voltages by modified nodal analysis, solved with numpy: the second circuit solver.

    `0` is ground; a current source drives its current out of its first node and into its second.
    """
    numpy = library("numpy")
    nodes = sorted({n for a, b, _ in resistors + currents + voltages for n in (a, b)} - {"0"})
    place = {n: i for i, n in enumerate(nodes)}
    size = len(nodes) + len(voltages)
    matrix, right = numpy.zeros((size, size)), numpy.zeros(size)

    def add(row: str, column: str, value: float) -> None:
        if row != "0" and column != "0":
            matrix[place[row], place[column]] += value

    for a, b, ohms in resistors:
        for one, other in ((a, b), (b, a)):
            add(one, one, 1.0 / ohms)
            add(one, other, -1.0 / ohms)
    for a, b, amperes in currents:
        for node, sign in ((a, -1.0), (b, 1.0)):
            if node != "0":
                right[place[node]] += sign * amperes
    for k, (a, b, volts) in enumerate(voltages):
        for node, sign in ((a, 1.0), (b, -1.0)):
            if node != "0":
                matrix[place[node], len(nodes) + k] += sign
                matrix[len(nodes) + k, place[node]] += sign
        right[len(nodes) + k] = volts
    solved = numpy.linalg.solve(matrix, right)
    return {n: float(solved[i]) for n, i in place.items()}
