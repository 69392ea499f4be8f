"""Breaks the engine and the rules on purpose, in seeded places, and reports which breaks nothing notices.

`python -m tests.mutation --seed 1 --engine 44 --rules 20` (`make mutants`); status 1 when a survivor is not explained
in known.txt. One mutant is one change by one operator in one place:

- of the engine (operators.py works on its syntax tree, and leaves docstrings and hints of types alone): swap a
  comparison (`<` with `<=`, `==` with `!=`, `in` with `not in`, `is` with `is not`); swap `and` with `or`; negate a
  condition; swap `any` with `all` and `min` with `max`; swap `&` with `|` and `+` with `-`; be off by one (0, 1 and 2);
  swap true with false; drop a filter, a statement, a propagation;
- of a rule: drop a case, or move it behind the next; give it another verdict; drop one of its rows or tests; turn a
  limit open or closed where the number is told without a band, or shift it; negate a sameness or a relation; drop a value.

A mutant of the engine is held against brute force and python-sat on small books, python-sat on builds over the facts,
scenarios, and the quick tests; what survives that, against the whole of tests/engine. Modules that only word what was
found are left out: their tests hold the very words. A mutant of a rule is held against all scenarios that ask the rule.
"""

from __future__ import annotations

import argparse
import json
import os
import shutil
import subprocess
import sys
import tempfile
from collections import Counter
from functools import cache
from itertools import chain, islice
from pathlib import Path
from random import Random
from typing import Callable, Iterator, NamedTuple

from tests.mutation.check import Json, packed
from tests.mutation.operators import Mutant, engine_mutants, rule_mutants
from tests.mutation.same_rule import difference
from tests.oracle import sat
from tests.oracle.brute import TooMany
from tests.oracle.clashes import may_be_proposed
from tests.oracle.real_builds import random_real_build
from tests.oracle.real_run import real_book
from tests.oracle.run import LEFT_OUT
from tests.oracle.small_books import Shape, random_case
from tests.scenarios.scenario import Scenario, asker, configured_facts, read_scenarios, split_fired, wrong_with

ROOT = Path(__file__).resolve().parents[2]
ENGINE = ROOT / "wizard" / "engine"
KNOWN = Path(__file__).parent / "known.txt"
# modules that say what was found, in words or as the text of an address: the oracles do not read them
NOT_REASONING = {"__init__", "wording", "clauses", "conditions", "address", "address_read", "sections", "additions",
                 "questions", "leads", "grounds", "compare"}
QUICK = ("tests/engine/test_by_hand.py", "tests/engine/test_offers_by_hand.py")
TESTS = ("tests/engine/test_kept.py", "tests/engine/test_questions.py", "tests/engine/test_limits.py",
         "tests/engine/test_properties.py", "tests/engine/test_properties_facts.py")
TIMEOUT, PATIENCE = 150, 900    # seconds of the quick check and of the other; ten times what the engine as it is takes


class Sizes(NamedTuple):
    """How many cases of each sort a mutant is held against."""

    small: int
    viable: int
    clashes: int
    scenarios: int
    real: int


WHOLE, SLICE = Sizes(300, 80, 40, 250, 120), Sizes(60, 0, 6, 0, 10)


def expectations(seed: int, sizes: Sizes = WHOLE) -> Json:
    """Return what the oracles and the scenarios expect, worked out once for all mutants."""
    facts = configured_facts()
    scenarios = sound_scenarios() if sizes.scenarios else []
    chosen = Random(seed).sample(scenarios, min(sizes.scenarios, len(scenarios)))
    expected: Json = {"small": [], "viable": [], "clashes": [], "book": facts.text,
                      "scenarios": [one._asdict() for one in chosen], "real": list(real_expectations(seed, sizes.real))}
    for n in range(seed, seed + sizes.small):
        book, build, verdict = random_case(n, cap=120)
        expected["small"].append({"seed": n, "book": book, "build": build, "expected": packed(verdict)})
        if verdict.verdict == "will-not-work" and not verdict.refused and len(expected["clashes"]) < sizes.clashes:
            try:
                fewest = may_be_proposed(book, build, 2, 400)
            except TooMany:
                continue
            expected["clashes"].append({"seed": n, "book": book, "build": build, "fewest": fewest})
    for n in range(seed, seed + sizes.viable):
        book, build, verdict = random_case(n, Shape(mood="buying"), cap=120)
        try:
            found = sat.decide(book, build)
        except LEFT_OUT:
            continue
        if found.viable and verdict.verdict and not verdict.refused:
            expected["viable"].append({"seed": n, "book": book, "build": build, "viable": found.viable})
    return expected


def real_expectations(seed: int, count: int) -> Iterator[Json]:
    """Yield builds over the facts with what python-sat says of them, stops and viable parts too."""
    book, _, kinds = real_book()
    for n in range(seed, seed + count):
        build = random_real_build(n, book, kinds)
        try:
            must, may = sat.stops(book, build)
            found = sat.decide(book, build, cap=60)
        except LEFT_OUT:
            continue
        yield {"seed": n, "build": build, "must": sorted(must, key=str), "may": sorted(may, key=str),
               "verdict": found.verdict, "viable": found.viable}


@cache
def sound_scenarios() -> list[Scenario]:
    """Return the scenarios that the engine and the facts meet as they are; the others prove nothing here."""
    facts = configured_facts()
    ask = asker(facts)
    return [one for one in read_scenarios()[0] if not list(wrong_with(one.expect, ask(one.build)))]


def _draw(seed: int, name: str) -> float:
    """Return a number by which mutants are put in a seeded order, which others that come and go leave alone."""
    return Random(f"{seed} {name}").random()


def chosen_mutants(seed: int, count: int) -> list[tuple[Path, Mutant]]:
    """Return seeded mutants of the engine, spread over operators and modules."""
    every = [(path, mutant) for path in sorted(ENGINE.glob("*.py")) if path.stem not in NOT_REASONING
             for mutant in engine_mutants(path.read_text(encoding="utf-8"))]
    every.sort(key=lambda one: _draw(seed, f"{one[0].name} {one[1].name}"))
    seen: Counter[str] = Counter()
    weights = []
    for path, mutant in every:
        weights.append(seen[mutant.operator] + seen[path.stem])
        seen.update([mutant.operator, path.stem])
    order = sorted(range(len(every)), key=lambda n: weights[n])
    return [every[n] for n in order[:count]]


def engine_survivor(path: Path, text: str, expected: Path, room: Path, thorough: bool) -> str:
    """Return what noticed a mutant of the engine, "" when nothing did."""
    home = room / "wizard"
    shutil.rmtree(home, ignore_errors=True)
    shutil.copytree(ROOT / "wizard", home, ignore=shutil.ignore_patterns("__pycache__", "web"))
    (home / path.relative_to(ROOT / "wizard")).write_text(text, encoding="utf-8")
    return _noticed(room, TIMEOUT, str(expected), *QUICK) or (_noticed(room, PATIENCE, "-", *TESTS) if thorough else "")


def _noticed(room: Path, limit: int, *what: str) -> str:
    """Return what a check of the engine in a folder comes upon, "" when nothing."""
    env = {**os.environ, "PYTHONPATH": f"{room}{os.pathsep}{ROOT}", "PYTHONDONTWRITEBYTECODE": "1"}
    try:
        done = subprocess.run([sys.executable, "-m", "tests.mutation.check", *what], cwd=room, env=env,
                              capture_output=True, text=True, timeout=limit)
    except subprocess.TimeoutExpired:
        return "it never ends"
    return "" if done.returncode == 0 else (done.stdout.strip() or done.stderr.strip().splitlines()[-1])


def rule_survivor(book: Json, rule: Json, asked: list[Json]) -> str:
    """Return which scenario noticed a changed rule, "" when none did."""
    from wizard.engine import answer, load
    changed = {**book, "rules": {**book["rules"], rule["id"]: rule}}
    try:
        loaded = load(json.dumps(changed))
        for one in asked:
            found = json.loads(answer(loaded, json.dumps(one["build"], sort_keys=True)))
            for text in wrong_with(one["expect"], found):
                return f"scenario {one['name']}: {text}"
    except Exception as error:  # breaking is being found out
        return f"{type(error).__name__}: {error}"
    return ""


def scenarios_of(book: Json, scenarios: list[Json]) -> dict[str, list[Json]]:
    """Return, per rule, the scenarios in which it is in question."""
    from wizard.engine import answer, load
    loaded = load(json.dumps(book))
    found: dict[str, list[Json]] = {rule: [] for rule in book["rules"]}
    for one in scenarios:
        reasons = json.loads(answer(loaded, json.dumps(one["build"], sort_keys=True)))["reasons"]
        for rule in {reason["rule"] for reason in reasons}:
            found[rule].append(one)
    return found


def exact_numbers(book: Json, rule: Json) -> Callable[[str], bool]:
    """Return what says whether a number that a rule tests is told without a band; of sums nobody can tell one exactly."""
    def exact(name: str) -> bool:
        place, _, attr = name.partition(".")
        if place == "sum":
            return False
        kind = (rule["each"] or {}).get(place) or book["slots"][place]["kind"]
        return not next(one for one in book["kinds"][kind]["attributes"] if one["id"] == attr)["band"]
    return exact


def scenarios_naming(rules: Json) -> dict[str, list[Json]]:
    """Return, per rule, the scenarios that expect it to come to some case."""
    found: dict[str, list[Json]] = {rule: [] for rule in rules}
    for one in read_scenarios()[0]:
        for rule in {split_fired(fired)[0] for fired in one.expect.get("fired", [])}:
            found[rule].append(one._asdict())
    return found


def explained() -> dict[str, str]:
    """Return the survivors that are known to be harmless, with why."""
    lines = KNOWN.read_text(encoding="utf-8").splitlines() if KNOWN.exists() else []
    return dict(line.split(" | ", 1) for line in lines if line and not line.startswith("#"))


def engine_mutations(seed: int, count: int, expected: Json, thorough: bool = True) -> Iterator[tuple[str, str]]:
    """Yield seeded mutants of the engine with what noticed each, "" when nothing did; first the engine as it is."""
    with tempfile.TemporaryDirectory() as folder:
        room = Path(folder)
        file = room / "expected.json"
        file.write_text(json.dumps(expected), encoding="utf-8")
        one = ENGINE / "model.py"
        yield "", engine_survivor(one, one.read_text(encoding="utf-8"), file, room, thorough)
        for path, mutant in chosen_mutants(seed, count):
            yield f"{path.name} {mutant.name}", engine_survivor(path, mutant.text, file, room, thorough)


def rule_mutations(seed: int, count: int, near: bool = False) -> Iterator[tuple[str, str]]:
    """Yield seeded mutants of the rules with the scenario that noticed each, "" when none did.

    A mutant that says the same of all parts that can exist is none, and is passed over. `near` asks only the scenarios
    that expect something of the rule, which is quick and notices a little less.
    """
    facts = configured_facts()
    rules = facts.book["rules"]
    mutants = [one for rule in sorted(rules) for one in rule_mutants(rules[rule], exact_numbers(facts.book, rules[rule]))]
    asked = scenarios_naming(rules) if near else scenarios_of(facts.book, [one._asdict() for one in sound_scenarios()])
    mutants.sort(key=lambda one: _draw(seed, f"{one.rule} {one.operator}"))
    other = (one for one in mutants if difference(facts.index, rules[one.rule], one.record) is not None)
    for one in islice(other, count):
        yield f"{one.rule} {one.operator}", rule_survivor(facts.book, one.record, asked[one.rule])


def main() -> int:
    """Run the mutants, print each, and return 1 when one survives unexplained."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--engine", type=int, default=44)
    parser.add_argument("--rules", type=int, default=20)
    given = parser.parse_args()
    known, survivors, tried = explained(), [], 0
    expected = expectations(given.seed)
    every = chain(engine_mutations(given.seed, given.engine, expected), rule_mutations(given.seed, given.rules))
    for name, noticed in every:
        if not name and noticed:
            print(f"The engine as it is does not pass, so mutants would prove nothing: {noticed}")
            return 2
        if name:
            tried += 1
            survivors += [] if noticed else [name.strip()]
            print(f"{'noticed ' if noticed else 'SURVIVES'} {name}  {noticed}", flush=True)
    unexplained = [name for name in survivors if name not in known]
    print(f"{tried} mutants from seed {given.seed}: {tried - len(survivors)} noticed, {len(survivors)} survive, "
          f"{len(unexplained)} of them unexplained")
    for name in survivors:
        print(f"  {name}: {known.get(name, 'NOT EXPLAINED')}")
    return int(bool(unexplained))


if __name__ == "__main__":
    sys.exit(main())
