"""The book for the browser leaves out what only pages show, and answers alike."""

from __future__ import annotations

import json
from typing import Any

import pytest

from build_tools.browser_book import browser_book
from build_tools.compile import book_text, compile_book
from build_tools.config import configured_layers
from build_tools.index import index
from build_tools.records import gather
from wizard.engine import answer, load


@pytest.fixture(scope="module")
def book() -> dict[str, Any]:
    """Return the book of the configured facts."""
    return compile_book(index(gather(configured_layers())))


def test_symptoms_and_causes_stay_out_of_the_browser(book: dict[str, Any]) -> None:
    small = browser_book(book)

    assert book["symptoms"] and all(code["causes"] for code in book["codes"].values())
    assert "symptoms" not in small
    assert {key for code in small["codes"].values() for key in code} & {"causes", "means"} == set()
    assert set(small["codes"]) == set(book["codes"])
    assert small["edition"] == book["edition"]


def test_the_browsers_book_gives_the_same_answer_to_the_letter(book: dict[str, Any]) -> None:
    whole, small = load(book_text(book)), load(book_text(browser_book(book)))
    builds = [json.dumps(book["builds"][name]["build"]) for name in sorted(book["builds"])[::6]]

    assert len(builds) >= 5
    assert [answer(small, build) for build in builds] == [answer(whole, build) for build in builds]
