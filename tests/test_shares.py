"""The book in two shares: nothing an answer or the check's page reads may be lost on the way to the browser."""

from __future__ import annotations

import json

from build_tools.shares import BESIDE, NEVER_READ, PAGES_ONLY, WHOLLY_BESIDE, shares
from tests.scenarios.scenario import configured_facts
from wizard.engine import answer, load


def test_the_first_share_gives_the_answers_that_the_whole_book_gives() -> None:
    book = configured_facts().book
    needed, _ = shares(book)
    whole, lean = load(json.dumps(book)), load(json.dumps(needed))
    builds = [json.dumps(record["build"], sort_keys=True) for record in book["builds"].values()]

    assert len(builds) >= 40
    assert [answer(lean, build) for build in builds] == [answer(whole, build) for build in builds]


def test_the_two_shares_hold_every_key_but_what_only_pages_print() -> None:
    book = configured_facts().book
    needed, beside = shares(book)
    lost = {
        (section, key)
        for section, records in book.items()
        if isinstance(records, dict)
        for name, record in records.items()
        for key in record
        if key not in needed.get(section, {}).get(name, {}) and key not in beside.get(section, {}).get(name, {})
    }

    assert {section for section, _ in lost} <= {*PAGES_ONLY, *NEVER_READ}
    assert all(key in PAGES_ONLY[section] for section, key in lost if section not in NEVER_READ)


def test_what_lies_beside_is_steps_examples_and_terms() -> None:
    needed, beside = shares(configured_facts().book)

    assert sorted(beside) == sorted({*BESIDE, *WHOLLY_BESIDE})
    assert all("steps" not in record for record in needed["find_out"].values())
    assert all(record["steps"] for record in beside["find_out"].values())
