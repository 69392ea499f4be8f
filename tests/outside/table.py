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
from typing import Mapping, NamedTuple, Sequence

from wizard.sums.forms import REGISTRY

PROJECT = Path(__file__).resolve().parents[2]
PAGE = PROJECT / "docs" / "outside-checks.md"
EQUAL = 1e-9         # below this only the last digits of the reckoning differ, and those differ from machine to machine

# Why a difference is there and may stay; the tests say more beside each check.
_CARS = "open data set rpart::car90 (Consumer Reports, April 1990)"
_RAJPUT = "R. K. Rajput, A Textbook of Internal Combustion Engines, ch. 7"
_OWN_CURRENT = "The sum leaves out the sensor's own 2 mA, which the circuit has flowing through the ground as well."
_REAL = "Real air is a little denser than the ideal gas of the sum"
WHY = {
    ("airflow_for_power_g_s", _RAJPUT + ", ex. 7.2"): "The textbook rounds its answer to two digits.",
    ("airflow_for_power_g_s", "trade constant 0.126, common practice"): "A pound an hour is 0.125998 g/s; the trade's constant is rounded.",
    ("airflow_sensor_g_s", "scipy PchipInterpolator"):
        "The straight line leaves out the bend of the curve, most where the points of the table lie far apart. The sum gives both neighbouring points as its bounds.",
    ("air_density_kg_m3", "CoolProp real air"): _REAL + ", the more the colder and the denser; the sum says 5 %, mostly for damp.",
    ("awg_section_mm2", "Beiser, ch. 5"): "The textbook rounds the diameter to four digits.",
    ("blend_air_fuel_ratio", "Cantera ethanol"): "9.0 is the published ratio, rounded; the molecule gives 9.005.",
    ("blend_air_fuel_ratio", "Cantera, isooctane for petrol"):
        "Pure isooctane needs 3 % more air than petrol; with its own ratio in place of 14.7 the difference is under 0.1 %.",
    ("blend_air_fuel_ratio", "Cantera, with isooctane's own ratio in place of 14.7"): "Ethanol's ratio and density are rounded to 9.0 and 0.789.",
    ("blend_air_fuel_ratio", "trade values, common practice"): "The trade's values are rounded to one decimal.",
    ("blend_density_kg_l", "thermo, ethanol at 20 °C"): "Ethanol's density is rounded to 0.789 kg/L.",
    ("blend_flow_factor", "Cantera and thermo"): "Isooctane stands for petrol, as for the ratio of the blend.",
    ("coolant_flow_l_min", "CoolProp enthalpies, GNU units"): "The coolant's heat capacity changes over the rise; the sum takes that in the middle.",
    ("engine_airflow_g_s", "CoolProp real air, GNU units"): _REAL + ".",
    ("engine_airflow_g_s", _RAJPUT + ", ex. 7.2"): "The textbook rounds its answer to two digits.",
    ("engine_airflow_g_s", _RAJPUT + ", ex. 7.5"): "The textbook takes 287 for the gas constant of air, not 287.05.",
    ("engine_speed_from_turns_rpm", "mechguru.com worked example"): "The example takes π as 3.14.",
    ("engine_speed_from_turns_rpm", "trade constant 336, common practice"): "336 stands for 336.135.",
    ("engine_speed_from_turns_rpm", "webtec.com rolling radius form"): "The page's constant is 2651.51; exact is 2652.58.",
    ("engine_speed_rpm", _CARS + ", each car"):
        "Single cars scatter about the loaded-tyre factor, whose median is 0.2 % off; the sum says that it may be off by 3 %, which nine in ten of these cars keep.",
    ("ground_lift_v", "ngspice"): _OWN_CURRENT,
    ("ground_lift_v", "ngspice, sensor connected"): _OWN_CURRENT,
    ("heater_ground_lift_v", "lcapy, sensor connected"): _OWN_CURRENT,
    ("heater_ground_lift_v", "ngspice, sensor connected"): _OWN_CURRENT,
    ("line_friction_factor", "fluids, smooth pipe"): "Blasius' short law against the full law for a smooth pipe; the sum of the line says 10 %.",
    ("line_pressure_drop_kpa", "fluids friction factor, isooctane of thermo"): "The same short law; the sum says 10 %.",
    ("metric_tyre_diameter_mm", "UN Regulation No 30 rim table, from memory"): "The regulation rounds the rim to whole millimetres.",
    ("pulses_per_km_shaft", "step-by-step count in the test"): "A count is whole: it may be one pulse short.",
    ("sensor_reading_v", "lcapy, sensor connected"): _OWN_CURRENT,
    ("sensor_reading_v", "ngspice"): _OWN_CURRENT,
    ("sensor_reading_v", "ngspice, heaters on"): _OWN_CURRENT,
    ("solid_resistance_ohm_km", "Beiser, ch. 5"): "The textbook's ratio is rounded to three digits.",
    ("solid_resistance_ohm_km", "Beiser, ch. 5 (its copper is 0.3 % worse)"): "The textbook takes 10.4 where the standard's copper gives 10.371.",
    ("solid_resistance_ohm_km", "NBS Handbook 100 wire table (secondary copy)"): "The table is rounded to four digits.",
    ("standard_pressure_kpa", "GNU units stdatmP"): "It takes the gas constant of air of the American standard of 1976, which differs from ISO 2533's in the seventh digit.",
    ("standard_pressure_kpa", "fluids, US standard atmosphere 1976"): "Constants of the American standard, or their rounding, differ from ISO 2533's in the seventh digit.",
    ("stoichiometric ratio (method)", "Rajput, ex. 7.4, p. 249"): "The textbook takes 23 % oxygen by mass; the air of the other checks holds a little more. It bounds the scatter between sources.",
    ("stranded_resistance_ohm_km", "ISO 6722-1, from memory"):
        "The vehicle standard allows less than the cable standard that the sum uses, so the sum errs on the side of more loss.",
    ("temperature_factor", "IEC 60228 correction, from memory"): "The correction's 234.5 and 254.5 are rounded; 0.00393 stands for 1 ÷ 254.45.",
    ("throttle_choked_flow_g_s", "CoolProp, real air expanded"): "Real air's ratio of heat capacities is not quite 1.4 and it is a little denser.",
    ("throttle_flow_g_s", "Bernoulli, CoolProp density"): "Bernoulli's law takes no account of the air's expansion, even at 0.2 kPa.",
    ("throttle_flow_g_s", "CoolProp, real air expanded"): "Real air's ratio of heat capacities is not quite 1.4 and it is a little denser.",
    ("tyre_revs_per_km", _CARS + ", median"): "The factor 3.05 is rounded, and the median is of 70 cars.",
    ("unit kJ/kg K to BTU/lb °F", "pint"): "pint rounds the British thermal unit to 1055.056 J.",
    ("wire_current_for_heat_a", "ht, free convection and radiation"):
        "The sum takes the heat given off as a number from the reader; the comparison works it out. The sum is marked as an estimate, 25 %.",
}

class Row(NamedTuple):
    """One sum (or a piece of one) against one source: how many cases, and the largest relative difference."""

    name: str
    source: str
    cases: int
    largest: float


def page(rows: Sequence[Row], why: Mapping[tuple[str, str], str] = WHY) -> str:
    """Return the page; sums of the registry first in its order, then the pieces and conversions they are made of.

    Raises KeyError for a difference that nobody gave a reason for.
    """
    sums = sorted((row for row in rows if row.name in REGISTRY), key=lambda row: (list(REGISTRY).index(row.name), row.source))
    others = sorted(row for row in rows if row.name not in REGISTRY)
    largest = sorted((row for row in rows if row.largest >= EQUAL), key=lambda row: (-row.largest, row.name, row.source))
    return "\n".join([
        "# Sums held against the outside world",
        "",
        "Made by `python -m tests.outside.table` from the comparisons in `tests/outside/`; do not edit it by hand.",
        f"{sum(row.cases for row in rows)} comparisons, {len({row.name for row in sums})} of {len(REGISTRY)} sums, {len({row.source for row in rows})} sources.",
        "The difference is relative to the outside number. *None* means that only the last digits of the reckoning differ (below one part in 1 000 000 000).",
        "Whether a source was read, is common practice or comes from memory is said where it is named here, and beside each check in the tests.",
        "",
        "## Every difference, the largest first, and why it is there",
        "",
        *table(largest, ("sum", "held against", "largest difference", "why"),
               lambda row: (title(row.name), row.source, difference(row.largest), why[row.name, row.source])),
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
    """Run the comparisons, without the test of the page itself, and return their rows; raises SystemExit when one fails."""
    with tempfile.TemporaryDirectory() as folder:
        rows = Path(folder) / "rows.json"
        command = [sys.executable, "-m", "pytest", "-q", "tests/outside", "--ignore", "tests/outside/test_table.py"]
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
