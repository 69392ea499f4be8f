"""Where parts came from is said once and briefly, and means what the longer words would."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from wizard.engine.clauses import relation_text, relations_texts
from wizard.engine.wording import relation_question, scope_text

TITLES = {"controller": "Engine controller", "harness": "Engine harness", "pedal": "Accelerator pedal"}
BOOK: Any = SimpleNamespace(data={"slots": {slot: {"title": title} for slot, title in TITLES.items()}})
PAIR = ["controller", "harness"]
ALL = ["controller", "harness", "pedal"]


def test_one_article_stands_before_all_parts_of_a_relation() -> None:
    said = [relation_question(BOOK, "came_together", ALL), relation_text(BOOK, "came_together", ALL), relation_text(BOOK, "made_for", PAIR, "no")]

    assert said == [
        "Did the engine controller, engine harness and accelerator pedal come from one donor, unaltered?",
        "the engine controller, engine harness and accelerator pedal came from one donor, unaltered",
        "the engine controller and engine harness are not made for each other",
    ]


@pytest.mark.parametrize(("value", "said"), [
    ("yes", "the engine controller and engine harness are made for each other, are listed as a matched set or came from one donor, unaltered"),
    ("no", "the engine controller and engine harness are not made for each other, are not listed as a matched set and did not come from one donor, unaltered"),
])
def test_what_is_said_of_the_same_parts_is_one_clause(value: str, said: str) -> None:
    relations = [("came_together", PAIR), ("listed_together", PAIR), ("made_for", PAIR)]

    assert relations_texts(BOOK, relations, value) == [said]


@pytest.mark.parametrize(("kind", "clauses"), [("came_together", 1), ("made_for", 2), ("listed_together", 2)])
def test_only_of_coming_together_do_some_of_the_parts_stand_for_all(kind: str, clauses: int) -> None:
    said = relations_texts(BOOK, [(kind, ALL), (kind, PAIR)], "no")

    assert len(said) == clauses
    assert said[0] == relation_text(BOOK, kind, PAIR, "no")


@pytest.mark.parametrize(("passed", "said"), [
    (0, "This speaks only of: fuel hoses."),
    (1, "This speaks only of: fuel hoses. 1 more rule was not looked at, because nobody asked about it or told of all its parts."),
    (2, "This speaks only of: fuel hoses. 2 more rules were not looked at, because nobody asked about them or told of all their parts."),
])
def test_a_rule_passed_over_was_not_asked_about_or_lacks_a_part(passed: int, said: str) -> None:
    book: Any = SimpleNamespace(data={"subjects": {"fuel_hose": {"title": "Fuel hoses"}}})

    assert scope_text(book, ["fuel_hose"], False, passed, 0) == said
