"""The operators change what they say, and what holds the engine against its oracles can fail."""

from __future__ import annotations

import ast

import pytest

from tests.mutation.check import failures, packed
from tests.mutation.operators import engine_mutants, rule_mutants
from tests.oracle.small_books import random_case

SOURCE = '''
def first(xs, dom):
    """Words."""
    total = 0
    for x in xs:
        total += x
        if x < 3 and any(y == 1 for y in xs if y):
            return min(xs) & 7
    return True if propagate(dom) else None
'''


def test_every_operator_of_the_engine_finds_its_place() -> None:
    found = {mutant.operator for mutant in engine_mutants(SOURCE)}

    assert found == {"swap a comparison", "swap and with or", "negate a condition", "swap any with all",
                     "swap min with max", "drop a propagation", "swap an operator of bits or numbers",
                     "be off by one", "swap true with false", "drop a filter", "drop a statement"}


def test_each_mutant_of_a_source_is_another_source_that_still_parses() -> None:
    texts = [mutant.text for mutant in engine_mutants(SOURCE)]
    same = ast.unparse(ast.parse(SOURCE))

    assert all(ast.parse(text) and text != same for text in texts)
    assert len(set(texts)) == len(texts)


@pytest.mark.parametrize("seed", range(5))
def test_each_mutant_of_a_rule_is_another_rule_that_ends_as_before(seed: int) -> None:
    book = random_case(seed)[0]
    for rule in book["rules"].values():
        for one in rule_mutants(rule):
            assert one.record != rule
            assert one.record["cases"][-1] == rule["cases"][-1]


def test_a_wrong_expectation_is_noticed_and_a_right_one_is_not() -> None:
    book, build, verdict = random_case(3)
    one = {"seed": 3, "book": book, "build": build, "expected": packed(verdict)}
    other = {**one, "expected": {**one["expected"], "refused": not verdict.refused}}
    rest = {"viable": [], "clashes": [], "scenarios": [], "real": []}

    assert next(failures({"small": [other], **rest}), None) is not None
    with pytest.raises(KeyError, match="book"):  # every small book passed, so it goes on to the facts
        list(failures({"small": [one], **rest}))
