"""Writes docs/outside-checks.md: what each sum was held against outside the project, how often, and the largest difference.

`python -m tests.outside.table` runs the comparisons and writes the page; with a FILE, the rows that an earlier run of
pytest wrote where DONORBOOK_COMPARISONS said. The same rows give the same bytes.
"""
from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import NamedTuple, Sequence

from wizard.sums.forms import REGISTRY

PROJECT = Path(__file__).resolve().parents[2]
PAGE = PROJECT / "docs" / "outside-checks.md"
EQUAL = 1e-9         # below this only the last digits of the reckoning differ, and those differ from machine to machine
NOTABLE = 0.005

# Why a difference above half a per cent is there and may stay; the tests say more beside each check.
WHY = {
    ("airflow_sensor_g_s", "scipy PchipInterpolator"):
        "The straight line leaves out the bend of the curve, most where the points of the table lie far apart. The sum gives both neighbouring points as its bounds.",
    ("blend_air_fuel_ratio", "Cantera, isooctane for petrol"):
        "Pure isooctane needs 3 % more air than petrol; with its own ratio in place of 14.7 the difference is under 0.1 %.",
    ("blend_flow_factor", "Cantera and thermo"): "As above: isooctane stands for petrol.",
    ("engine_speed_rpm", "open data set rpart::car90 (Consumer Reports, April 1990), each car"):
        "Single cars scatter about the loaded-tyre factor, whose median is 0.2 % off; the sum says that it may be off by 3 %, which nine in ten of these cars keep.",
    ("line_friction_factor", "fluids, smooth pipe"): "Blasius' short law against the full law for a smooth pipe; the sum of the line says 10 %.",
    ("line_pressure_drop_kpa", "fluids friction factor, isooctane of thermo"): "The same short law; the sum says 10 %.",
    ("stoichiometric ratio (method)", "Rajput, ex. 7.4, p. 249"): "The textbook takes 23 % oxygen by mass; the air of the other checks holds a little more. It bounds the scatter between sources.",
    ("stranded_resistance_ohm_km", "ISO 6722-1, from memory"):
        "The vehicle standard allows less than the cable standard that the sum uses, so the sum errs on the side of more loss.",
    ("wire_current_for_heat_a", "ht, free convection and radiation"):
        "The sum takes the heat given off as a number from the reader; the comparison works it out. The sum is marked as an estimate, 25 %.",
}


class Row(NamedTuple):
    """One sum (or a piece of one) against one source: how many cases, and the largest relative difference."""

    name: str
    source: str
    cases: int
    largest: float


def page(rows: Sequence[Row]) -> str:
    """Return the page; sums of the registry first in its order, then the pieces and conversions they are made of."""
    sums = sorted((row for row in rows if row.name in REGISTRY), key=lambda row: (list(REGISTRY).index(row.name), row.source))
    others = sorted(row for row in rows if row.name not in REGISTRY)
    largest = sorted((row for row in rows if row.largest > NOTABLE), key=lambda row: -row.largest)
    return "\n".join([
        "# Sums held against the outside world",
        "",
        "Made by `python -m tests.outside.table` from the comparisons in `tests/outside/`; do not edit it by hand.",
        f"{sum(row.cases for row in rows)} comparisons, {len({row.name for row in sums})} of {len(REGISTRY)} sums, {len({row.source for row in rows})} sources.",
        "The difference is relative to the outside number. *None* means that only the last digits of the reckoning differ (below one part in 1 000 000 000).",
        "Whether a source was read, is common practice or comes from memory is said where it is named here, and beside each check in the tests.",
        "",
        "## Differences above half a per cent, and why",
        "",
        *table(largest, ("sum", "held against", "largest difference", "why"),
               lambda row: (title(row.name), row.source, difference(row.largest), WHY[row.name, row.source])),
        "",
        "## Each sum",
        "",
        *table(sums, ("sum", "held against", "cases", "largest difference"),
               lambda row: (f"{title(row.name)} (`{row.name}`)", row.source, str(row.cases), difference(row.largest))),
        "",
        "## Pieces and conversions that the sums are made of",
        "",
        *table(others, ("piece", "held against", "cases", "largest difference"),
               lambda row: (row.name.replace("_", " "), row.source, str(row.cases), difference(row.largest))),
        "",
    ])


def table(rows: Sequence[Row], heads: Sequence[str], cells) -> list[str]:
    """Return the lines of a Markdown table."""
    lines = [cells(row) for row in rows]
    return [f"| {' | '.join(cell.replace('|', '/') for cell in line)} |" for line in (heads, ["---"] * len(heads), *lines)]


def title(name: str) -> str:
    """Return the title of a sum, or the name of a piece in words."""
    return REGISTRY[name].title if name in REGISTRY else name.replace("_", " ")


def difference(fraction: float) -> str:
    """Return a relative difference to two digits: a percentage, parts in a million where it is smaller, or none."""
    if fraction < EQUAL:
        return "none"
    return f"{100 * fraction:.2g} %" if fraction >= 1e-5 else f"{1e6 * fraction:.2g} parts in a million"


def read(file: Path) -> list[Row]:
    """Return the rows of a file that a run of the comparisons wrote."""
    return [Row(*row) for row in json.loads(file.read_text(encoding="utf-8"))]


def compared() -> list[Row]:
    """Run the comparisons and return their rows; raises SystemExit when one of them fails."""
    with tempfile.TemporaryDirectory() as folder:
        rows = Path(folder) / "rows.json"
        command = [sys.executable, "-m", "pytest", "-q", "tests/outside"]
        done = subprocess.run(command, cwd=PROJECT, env={**os.environ, "DONORBOOK_COMPARISONS": str(rows)}, check=False)
        if done.returncode:
            raise SystemExit("The comparisons fail, so no page was written.")
        return read(rows)


def main(arguments: Sequence[str]) -> None:
    """Write the page and say where."""
    rows = read(Path(arguments[0])) if arguments else compared()
    PAGE.parent.mkdir(exist_ok=True)
    PAGE.write_text(page(rows), encoding="utf-8")
    print(f"{PAGE.relative_to(PROJECT)}: {len(rows)} rows")


if __name__ == "__main__":
    main(sys.argv[1:])
