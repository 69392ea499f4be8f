"""Every check names what is wrong, in exactly these words; the fixtures change the examples of the guide."""

from __future__ import annotations

import ast
import sys
from datetime import date
from pathlib import Path
from typing import Any

import pytest
import yaml

from build_tools.checks import check_facts, covers, live
from build_tools.checks.check_ids import CHECK_IDS
from build_tools.index import index
from build_tools.problems import printed
from build_tools.records import Layer, gather
from build_tools.schema_scalars import QUOTE
from tests.facts.examples import ROOT, lay_out

BAD = Path(__file__).resolve().parent / "bad"
TODAY = date(2026, 11, 25)
WITHOUT_FIXTURE = {"engine-missing", "rule-too-large"}


def fixtures() -> list[Any]:
    """Return every entry of every fixture file, named by its check and number."""
    found = []
    for path in sorted(BAD.glob("*.yaml")):
        for number, entry in enumerate(yaml.safe_load(path.read_text("utf-8")), start=1):
            found.append(pytest.param(path.stem, entry, id=f"{path.stem}-{number}"))
    return found


def broken(folder: Path, changes: list[dict[str, str]]) -> Path:
    """Lay the examples out and change them; a change without `from` writes a file, one without `to` deletes it."""
    lay_out(folder)
    for change in changes:
        path = folder / change["file"]
        if "to" not in change:
            path.unlink()
            continue
        path.parent.mkdir(parents=True, exist_ok=True)
        text = change["to"]
        if "from" in change:
            before = path.read_text("utf-8")
            assert change["from"] in before, f"{change['file']} no longer holds {change['from']!r}"
            text = before.replace(change["from"], change["to"], 1)
        path.write_bytes(text.encode(change.get("encoding", "utf-8")))
    return folder


@pytest.mark.parametrize(("check", "entry"), fixtures())
def test_a_broken_fact_is_named_in_exactly_these_words(check: str, entry: dict[str, Any], tmp_path: Path) -> None:
    folder = broken(tmp_path / "lamps", entry["changes"])

    said = [printed(problem) for problem in check_facts(gather([Layer(folder, "lamps")]), TODAY)]

    assert said == entry["says"].split("\n")
    assert any(f"[{check}] See DEVELOPERS.md#{check}" in line for line in said)


def test_every_check_has_a_broken_fixture() -> None:
    covered = {path.stem for path in BAD.glob("*.yaml")}

    assert covered | WITHOUT_FIXTURE == set(CHECK_IDS)
    assert not covered & WITHOUT_FIXTURE


def checks_named_in_code() -> set[str]:
    """Return the check ids that calls in the code pass on, read from its syntax tree."""
    place = {"Problem": 3, "problem": 1, "say": 1, "Fault": 1}
    found = set(name for name, _ in QUOTE.values())
    for path in sorted((ROOT / "build_tools").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call):
                called = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
                given = node.args[place[called]] if called in place and len(node.args) > place[called] else None
                if isinstance(given, ast.Constant) and isinstance(given.value, str):
                    found.add(given.value)
    return found


def test_every_check_that_the_code_names_is_documented_and_no_other() -> None:
    assert checks_named_in_code() == set(CHECK_IDS)


def test_every_check_has_a_heading_in_the_developers_page() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text("utf-8")

    missing = [name for name in CHECK_IDS if f"\n### {name}\n" not in text]

    assert missing == []


def test_a_rule_with_too_many_combinations_is_said_to_be_so(tmp_path: Path) -> None:
    facts = gather([Layer(lay_out(tmp_path / "lamps"), "lamps")])

    said = [printed(problem) for problem in live.check(index(facts), bound=3)]

    assert [printed(problem) for problem in covers.check(index(facts), bound=0)] == [line.replace("than 3", "than 0") for line in said]
    assert said == [
        f"lamps/rules/{rule}.yaml:1  The rule has more than 3 combinations to look at. Split it into rules that each read fewer"
        " attributes. [rule-too-large] See DEVELOPERS.md#rule-too-large"
        for rule in ("counter-follows-wheel", "dimmer-stays-dry", "feed-carries-lamp")
    ]


def test_a_missing_engine_is_said_and_not_skipped(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    facts = gather([Layer(lay_out(tmp_path / "lamps"), "lamps")])
    monkeypatch.setitem(sys.modules, "wizard.engine", None)

    said = check_facts(facts, TODAY)

    assert [problem.check for problem in said] == ["engine-missing"]
    assert said[0].what.startswith("The engine cannot be loaded: ")


def test_all_problems_come_in_one_run_and_in_order(tmp_path: Path) -> None:
    folder = broken(
        tmp_path / "lamps",
        [
            {"file": "terms/return_path.yaml", "from": "title: Return path", "to": "title: yes"},
            {"file": "codes/P0562.yaml", "from": "source: lamp-sheet", "to": "source: lamp-sheets"},
            {"file": "kinds/trolley.yaml", "from": "range: [400, 1300]", "to": "range: [1300, 400]"},
            {
                "file": "rules/counter-follows-wheel.yaml",
                "from": 'rear_lamp.fitted: "yes"',
                "to": 'rear_lamp.fitted: "maybe"',
            },
        ],
    )

    said = check_facts(gather([Layer(folder, "lamps")]), TODAY)

    assert [problem.check for problem in said] == [
        "unknown-reference",
        "attribute-form",
        "unknown-value",
        "unquoted-word",
    ]
    assert said == sorted(said)


def test_a_sound_rule_is_searched_even_when_another_file_is_broken(tmp_path: Path) -> None:
    folder = broken(
        tmp_path / "lamps",
        [
            {"file": "terms/return_path.yaml", "from": "title: Return path", "to": "title: yes"},
            {
                "file": "rules/counter-follows-wheel.yaml",
                "from": 'when: {rear_lamp.fitted: "no"}',
                "to": 'when: {rear_lamp.fitted: "no", rear_lamp.bracket: tight}',
            },
        ],
    )

    said = check_facts(gather([Layer(folder, "lamps")]), TODAY)

    assert [problem.check for problem in said] == ["unreachable-case", "unquoted-word"]
