"""What the page's modules may not do: decide, know the facts' ids, or turn data into mark-up."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from tests.browser.browser import PROJECT
from wizard.engine.address_read import ANSWERS, EXISTS, KEEP, RELATIONS, STATES, TYPES, UNKNOWN
from wizard.engine.model import OTHER, VERDICTS

MODULES = sorted((PROJECT / "wizard/web/check").glob("*.mjs"))
MARKUP = re.compile(r"innerHTML|outerHTML|insertAdjacentHTML|document\.write|DOMParser|\beval\b|new Function|setHTML|srcdoc|javascript:")
QUOTED = re.compile(r"\"([a-z][a-z0-9_-]*)\"|'([a-z][a-z0-9_-]*)'|`([a-z][a-z0-9_-]*)`")
GRAMMAR = frozenset((*ANSWERS, *RELATIONS, *STATES, *TYPES, EXISTS, KEEP, UNKNOWN, OTHER, "fitted"))
"""The words of a build's own form, which are no facts."""


def quoted(file: Path) -> set[str]:
    """Return every quoted word of a module."""
    return {word for found in QUOTED.findall(file.read_text("utf-8")) for word in found if word}


def test_there_are_modules_to_look_at() -> None:
    assert len(MODULES) > 10


@pytest.mark.parametrize("file", MODULES, ids=lambda file: file.name)
def test_a_module_never_turns_data_into_mark_up_and_is_short(file: Path) -> None:
    text = file.read_text("utf-8")

    assert MARKUP.findall(text) == []
    assert text.count("\n") < 300


@pytest.mark.parametrize("file", MODULES, ids=lambda file: file.name)
def test_a_module_names_no_verdict_and_no_option_of_the_facts(file: Path, book: dict[str, Any]) -> None:
    options = {value for kind in book["kinds"].values() for one in kind["attributes"] for value, _ in one["values"]}
    ids = {name for section in ("slots", "families", "rules", "stops", "additions", "subjects", "sums") for name in book[section]}
    ids |= {one["id"] for kind in book["kinds"].values() for one in kind["attributes"]}
    known = {name for name in (options | ids | set(VERDICTS)) - GRAMMAR if "_" in name or "-" in name or name in VERDICTS}

    assert quoted(file) & known == set()


def test_no_style_of_the_check_sets_a_colour_of_its_own() -> None:
    text = (PROJECT / "wizard/web/style/check.css").read_text("utf-8")
    own = re.findall(r"#[0-9a-fA-F]{3,8}\b|\b(?:hsl|oklch|lab|color)\(|rgb\((?!0 0 0 / 0\.)", text)

    assert own == []
