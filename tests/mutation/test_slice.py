"""A few seeded mutants of the engine and of the rules are noticed. `make mutants` runs many, and longer.

Which places are changed moves with the engine and the facts, so the test asks for fewer than are noticed today: it must fail when breaking things goes unnoticed, not by chance.
"""

from __future__ import annotations

from typing import Callable

from tests.mutation.__main__ import SLICE, engine_mutations, expectations, rule_mutations

ENGINE, RULES = 4, 20
SEED = 1


def test_breaking_engine_and_rules_on_purpose_is_noticed(say: Callable[[str], None]) -> None:
    untouched, *engine = engine_mutations(SEED, ENGINE, expectations(SEED, SLICE), thorough=False)
    rules = list(rule_mutations(SEED, RULES, near=True))
    noticed = [sum(bool(by) for _, by in some) for some in (engine, rules)]
    say(f"mutants from seed {SEED}: {noticed[0]} of {ENGINE} of the engine and {noticed[1]} of {RULES} of rules noticed")

    assert untouched == ("", ""), untouched
    assert len(engine) == ENGINE and noticed[0] >= 1, engine
    assert len(rules) == RULES and noticed[1] >= RULES // 2, rules
