"""A few seeded mutants of the engine and of the rules: most must be noticed. `make mutation` runs them all."""

from __future__ import annotations

import json
from random import Random
from typing import Callable

from tests.mutation.__main__ import SLICE, engine_mutations, expectations, rule_mutations

ENGINE, RULES = 6, 12


def test_most_of_a_few_mutants_are_noticed(seed: int, say: Callable[[str], None]) -> None:
    expected = expectations(seed, SLICE)
    untouched, *engine = engine_mutations(Random(seed), ENGINE, expected)
    rules = list(rule_mutations(Random(seed), RULES, json.loads(expected["book"])))
    noticed = [sum(bool(by) for _, by in some) for some in (engine, rules)]
    say(f"mutants from seed {seed}: {noticed[0]} of {ENGINE} of the engine and {noticed[1]} of {RULES} of rules noticed")

    assert untouched == ("", ""), untouched
    assert len(engine) == ENGINE and noticed[0] >= ENGINE // 3, engine
    assert len(rules) == RULES and noticed[1] >= RULES * 2 // 3, rules
