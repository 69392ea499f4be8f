"""donorbook compare: what differs between two builds, as a reader sees it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from build_tools.cli import main

ROOT = Path(__file__).resolve().parents[2]
FACTS = [word for layer in ("trade", "demo") for word in ("--facts", str(ROOT / "facts" / layer))]
PRESSURE = "slots:\n  transmission: {told: {type: hydraulic}}\n  throttle_body: {told: {actuation: %s}}\n"


@pytest.fixture
def builds(tmp_path: Path) -> tuple[str, str]:
    """Two builds that differ in how the throttle is moved."""
    for name, how in (("a", "cable"), ("b", "motor")):
        (tmp_path / f"{name}.yaml").write_text(PRESSURE % how, "utf-8")
    return str(tmp_path / "a.yaml"), str(tmp_path / "b.yaml")


def test_two_builds_are_compared_in_words(builds: tuple[str, str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compare", *builds, *FACTS]) == 0

    said = capsys.readouterr().out
    assert said.splitlines()[0].startswith(("The verdict stays:", "works", "cannot tell yet", "will not work"))
    assert "Reasons" in said


def test_the_same_build_twice_has_no_difference(builds: tuple[str, str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compare", builds[0], builds[0], *FACTS]) == 0

    assert capsys.readouterr().out == "The two builds get the same answer.\n"


def test_the_difference_as_json_names_both_verdicts(builds: tuple[str, str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compare", *builds, "--json", *FACTS]) == 0

    difference = json.loads(capsys.readouterr().out)
    assert set(difference["verdict"]) == {"before", "after", "headline"} and not difference["same"]


def test_a_build_that_is_not_there_is_named(builds: tuple[str, str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compare", builds[0], "nowhere.yaml", *FACTS]) == 2

    assert "nowhere.yaml cannot be read" in capsys.readouterr().err
