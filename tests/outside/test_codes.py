"""Every fault code of the facts stands in two independent tables of generic codes, under the same key nouns.

Sources: the table of the Python library `obd` (PyPI, pinned with its hashes in requirements-test.lock), and the rows
marked Generic of `codes.dat` in Debian's package `scantool`, whose digest stands in build_tools/setup/debian.py. Both
are copies that other people typed from SAE J2012; the standard itself was not read. (One row of the second, U0001, has
lost its mark.) Their sentences are not ours: only
key nouns are held against each other. `obd` lost the words for bank and sensor, so those are read in the other table.
"""
from __future__ import annotations

import re
from functools import cache
from typing import NamedTuple

import pytest
import yaml

from build_tools.config import ROOT
from build_tools.setup.debian import CODE_TABLE, CODE_TABLE_SHA256, sha256_of
from tests.outside.tools import library

ROW = re.compile(rb"([PBCU][0-9A-F]{4})\t(?:([^\t\r\n]+)\t)?([^\t\r\n\x00]+?)(?=\r?\n|\x00|DATE|prop|$)")


class Noun(NamedTuple):
    """A key noun: how the tables write it, and how the facts do."""

    theirs: str
    ours: str


NOUNS = {
    "oxygen sensor": Noun(r"o2 sensor|ho2s|oxygen", r"oxygen sensor"),
    "heater": Noun(r"heater", r"heater"),
    "bank 1": Noun(r"bank 1", r"bank 1"),
    "bank 2": Noun(r"bank 2", r"bank 2"),
    "first sensor": Noun(r"(?<!temperature )(?<!knock )sensor 1\b", r"upstream|(?<!knock )sensor 1\b"),
    "second sensor": Noun(r"(?<!knock )sensor 2\b", r"downstream|(?<!knock )sensor 2\b"),
    "throttle or pedal": Noun(r"throttle(?! body)|pedal position", r"throttle|pedal position"),
    "crankshaft": Noun(r"crankshaft|crankcase position", r"crankshaft"),
    "camshaft": Noun(r"camshaft|cam position", r"camshaft"),
    "knock": Noun(r"knock sensor(?= \d)|knock", r"knock"),
    "injector": Noun(r"injector", r"injector"),
    "lean": Noun(r"lean", r"lean"),
    "rich": Noun(r"\brich", r"\brich"),
    "misfire": Noun(r"misfire", r"misfire"),
    "coolant": Noun(r"coolant", r"coolant"),
    "air temperature": Noun(r"intake air temp", r"air temperature"),
    "airflow": Noun(r"air flow|\bmaf\b", r"air ?flow"),
    "manifold pressure": Noun(r"manifold|\bmap\b", r"manifold"),
    "catalyst": Noun(r"catalyst", r"catalyst"),
    "evaporative": Noun(r"evaporative|evap\b", r"evaporative"),
    "purge": Noun(r"purge", r"purge"),
    "vent": Noun(r"\bvent\b", r"\bvent\b"),
    "fan": Noun(r"\bfan\b", r"\bfan\b"),
    "fuel pump": Noun(r"fuel pump", r"fuel pump"),
    "fuel rail": Noun(r"fuel rail", r"fuel rail"),
    "fuel composition": Noun(r"fuel composition", r"fuel composition"),
    "fuel level": Noun(r"fuel level", r"fuel level"),
    "vehicle speed": Noun(r"vehicle speed", r"vehicle speed"),
    "idle": Noun(r"\bidle\b", r"\bidle\b"),
    "brake": Noun(r"brake", r"brake"),
    "clutch": Noun(r"clutch", r"clutch"),
    "cruise": Noun(r"cruise", r"cruise"),
    "starter": Noun(r"starter", r"starter"),
    "immobiliser": Noun(r"immobili[sz]er", r"immobiliser"),
    "oil pressure": Noun(r"oil pressure", r"oil pressure"),
    "refrigerant": Noun(r"refrigerant", r"refrigerant"),
    "air conditioning": Noun(r"a/?c\b|air conditioning", r"air-conditioning"),
    "power steering": Noun(r"power steering", r"power steering"),
    "supply voltage": Noun(r"system voltage", r"supply voltage"),
    "memory": Noun(r"memory|\bram\b|\brom\b", r"memory"),
    "generator": Noun(r"generator", r"alternator"),
    "vehicle number": Noun(r"\bvin\b", r"vehicle identification number"),
    "reference voltage": Noun(r"reference voltage", r"reference voltage"),
    "malfunction lamp": Noun(r"malfunction indicator lamp|mil\b", r"malfunction lamp"),
    "main relay": Noun(r"ecm/pcm power relay|main relay", r"main power relay"),
    "ignition switch": Noun(r"ignition switch", r"ignition switch"),
    "coil": Noun(r"ignition coil", r"ignition coil"),
    "lost communication": Noun(r"lost communication", r"lost communication|no talk"),
    "invalid data": Noun(r"invalid data", r"invalid data|not valid"),
    "anti-lock brake": Noun(r"anti-?lock", r"anti-lock"),
    "restraints": Noun(r"restraint", r"restraint"),
    "boost": Noun(r"turbo", r"turbo"),
    "booster": Noun(r"brake booster", r"brake booster"),
    "air leak": Noun(r"air leak|intake air system", r"intake air system"),
    "thermostat": Noun(r"thermostat", r"thermostat"),
    "ratio": Noun(r"gear ratio|incorrect ratio", r"ratio"),
    "secondary air": Noun(r"secondary air", r"secondary air"),
    "recirculation": Noun(r"recirculation", r"recirculation"),
    "torque converter": Noun(r"torque converter", r"torque converter"),
    "solenoid": Noun(r"shift solenoid|pressure control solenoid", r"solenoid"),
    "overspeed": Noun(r"overspeed", r"over speed"),
    "serial link": Noun(r"serial communication", r"serial communication"),
    "programming": Noun(r"programm", r"programm"),
    "processor": Noun(r"processor", r"processor"),
    "engine speed": Noun(r"engine rpm", r"engine speed"),
    "range switch": Noun(r"range sensor", r"range sensor"),
    "turbine speed": Noun(r"turbine", r"turbine"),
    "output speed": Noun(r"output speed", r"output speed"),
    "neutral switch": Noun(r"neutral", r"neutral"),
    "slipping": Noun(r"slipping", r"slipping"),
    "bus": Noun(r"communication bus", r"communication bus"),
    "software": Noun(r"software", r"software"),
    "gear shift module": Noun(r"gear shift", r"gear shift"),
    "deactivation": Noun(r"deactivation", r"deactivation"),
    "low": Noun(r"\blow(?:er)?\b|insufficient coolant", r"\blow(?:er)?\b"),
    "high": Noun(r"\bhigh(?:er)?\b(?!.speed)", r"\bhigh(?:er)?\b(?!.speed)"),
    "cylinder number": Noun(r"cylinder (\d)", r"cylinder (\d)"),
}
# The tables left these out; that the standard has them is from memory.
FROM_MEMORY = {
    "P0340": {"bank 1"}, "P0341": {"bank 1"}, "P2096": {"bank 1"}, "P2195": {"bank 1", "first sensor"},
    "P2237": {"bank 1", "first sensor"}, "P3400": {"bank 1"},
}
# A row for two uses of one code names both; the facts name the use that a swap meets.
SAID_SHORTER = {
    "P0325": {"bank 1"}, "P0327": {"bank 1"}, "P0330": {"bank 2"}, "P0332": {"bank 2"}, "P0571": {"cruise"}, "P0572": {"cruise"}, "P0703": {"torque converter"},
}
OF_ONE_TABLE = {"bank 1", "bank 2", "first sensor", "second sensor", "cylinder number"}


@cache
def library_table() -> dict[str, str]:
    """Return the table of the library `obd`, codes in capitals."""
    return {code.upper(): text for code, text in library("obd.codes").DTC.items()}


@cache
def debian_table() -> dict[str, str]:
    """Return the generic rows of Debian's `scantool`; fails with the command that brings it."""
    file = ROOT / CODE_TABLE
    if not file.is_file():
        pytest.fail(f"The outside checks need {CODE_TABLE}, which make test brings.", pytrace=False)
    return {code.decode(): text.decode("latin-1").strip() for code, brand, text in ROW.findall(file.read_bytes()) if brand in (b"Generic", b"")}


@cache
def our_titles() -> dict[str, str]:
    """Return the title of every code record of the trade."""
    records = [yaml.safe_load(file.read_text("utf-8")) for file in sorted((ROOT / "facts" / "trade" / "codes").glob("*.yaml"))]
    return {record["code"]: record["title"] for record in records}


def nouns(text: str, ours: bool) -> set[str]:
    """Return the key nouns of a title; a cylinder's with its number."""
    found = set()
    for name, noun in NOUNS.items():
        hit = re.search(noun.ours if ours else noun.theirs, text.lower())
        if hit:
            found.add(f"cylinder {hit[1]}" if name == "cylinder number" else name)
    return found


def test_both_tables_are_there_and_independent_in_size_and_wording() -> None:
    both = set(library_table()) & set(debian_table())
    alike = sum(library_table()[code] == debian_table()[code] for code in both)

    assert len(library_table()) > 2000 and len(debian_table()) > 2000
    assert len(both) > 2000
    assert 0.2 < alike / len(both) < 0.95


def test_debians_table_is_the_one_whose_digest_is_pinned() -> None:
    assert sha256_of(ROOT / CODE_TABLE) == CODE_TABLE_SHA256


@pytest.mark.parametrize("code", sorted(our_titles()))
def test_a_code_stands_in_both_tables_under_the_same_key_nouns(code: str) -> None:
    title = our_titles()[code]
    theirs, debian = library_table().get(code, ""), debian_table().get(code, "")
    ours = nouns(title, ours=True)

    assert theirs and debian
    assert ours, f"{code}: no key noun in {title!r}; a table says {debian!r}"
    assert ours - FROM_MEMORY.get(code, set()) == nouns(debian, ours=False) - SAID_SHORTER.get(code, set()), f"{code}: {title!r} against {debian!r}"
    one = OF_ONE_TABLE | {f"cylinder {n}" for n in range(1, 13)}
    assert nouns(theirs, ours=False) - one - SAID_SHORTER.get(code, set()) == ours - one, f"{code}: {title!r} against {theirs!r}"


def test_a_title_of_another_part_bank_or_cylinder_is_found_out() -> None:
    swapped = [("P0135", "Oxygen sensor heater circuit, bank 2 upstream"), ("P0202", "Injector circuit, cylinder 3"),
               ("P0335", "Camshaft position sensor A circuit"), ("P0562", "Supply voltage too high")]

    assert [code for code, title in swapped if nouns(title, ours=True) == nouns(debian_table()[code], ours=False)] == []
