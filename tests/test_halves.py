"""The two halves in which all tests run side by side."""

from __future__ import annotations

from pathlib import Path

from tests.__main__ import HERE, halves


def test_every_test_is_in_one_of_the_two_halves() -> None:
    first, rest = halves()
    places = {path.relative_to(HERE).parts[0] for path in HERE.rglob("test_*.py")}

    assert sorted([*first, *rest]) == sorted(places)
    assert "browser" in first
    assert {"engine", "facts", "scenarios"} <= set(rest)


def test_a_new_folder_of_tests_is_run_without_being_named(tmp_path: Path) -> None:
    (tmp_path / "newly").mkdir()
    (tmp_path / "newly" / "test_something.py").touch()

    assert halves(tmp_path) == ([], ["newly"])
