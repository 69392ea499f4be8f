"""At least 25 consequences run across subjects, each is asserted in two or more, and the list of them is up to date."""

from __future__ import annotations

from tests.scenarios.chains import PAGE, chains, page, subjects
from tests.scenarios.scenario import configured_facts, read_scenarios

CHAINS = chains(read_scenarios()[0])


def test_there_are_at_least_25_chains_and_each_is_asserted_in_two_subjects_or_more() -> None:
    book = configured_facts().book
    short = [one.name for one in CHAINS if len(subjects(book, one)) < 2]

    assert len(CHAINS) >= 25
    assert short == []


def test_the_list_of_chains_is_up_to_date() -> None:
    assert PAGE.read_text("utf-8") == page(configured_facts().book, CHAINS), "run: python -m tests.scenarios.chains"


def test_a_chain_less_makes_the_list_stale() -> None:
    assert PAGE.read_text("utf-8") != page(configured_facts().book, CHAINS[1:])
