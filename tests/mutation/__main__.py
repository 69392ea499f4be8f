"""Breaks the engine and the rules on purpose, in seeded places, and reports which breaks nothing notices.

`python -m tests.mutation --seed 1 --engine 50 --rules 40`; status 1 when a survivor is not explained in known.txt.
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
from pathlib import Path
from random import Random

from tests.mutation.check import Json, packed
from tests.mutation.operators import Mutant, engine_mutants, rule_mutants
from tests.oracle import sat
from tests.oracle.brute import TooMany
from tests.oracle.clashes import fewest_parts_to_change
from tests.oracle.small_books import Shape, random_case
from tests.oracle.translate import Unsupported
from tests.scenarios.scenario import Scenario, asker, configured_facts, read_scenarios, wrong_with

ROOT = Path(__file__).resolve().parents[2]
ENGINE = ROOT / "wizard" / "engine"
KNOWN = Path(__file__).parent / "known.txt"
NOT_REASONING = {"__init__", "wording", "sum_text", "address", "address_read", "sections", "report", "questions",
                 "grounds", "compare", "clauses", "conditions", "leads", "additions"}
SMALL, VIABLE, CLASHES, SCENARIOS = 300, 80, 40, 250
TIMEOUT = 400


def expectations(seed: int) -> Json:
    """Return what the oracles and the scenarios expect, worked out once for all mutants."""
    facts, scenarios = configured_facts(), sound_scenarios()
    expected: Json = {"small": [], "viable": [], "clashes": [], "book": facts.text,
                      "scenarios": [one._asdict() for one in Random(seed).sample(scenarios, min(SCENARIOS, len(scenarios)))]}
    for n in range(seed, seed + SMALL):
        book, build, verdict = random_case(n, cap=120)
        expected["small"].append({"seed": n, "book": book, "build": build, "expected": packed(verdict)})
        if verdict.verdict == "will-not-work" and not verdict.refused and len(expected["clashes"]) < CLASHES:
            try:
                fewest = fewest_parts_to_change(book, build, 2, 400)
            except TooMany:
                continue
            expected["clashes"].append({"seed": n, "book": book, "build": build, "fewest": fewest})
    for n in range(seed, seed + VIABLE):
        book, build, verdict = random_case(n, Shape(mood="buying"), cap=120)
        try:
            found = sat.decide(book, build)
        except (sat.TooMany, Unsupported):
            continue
        if found.viable and verdict.verdict and not verdict.refused:
            expected["viable"].append({"seed": n, "book": book, "build": build, "viable": found.viable})
    return expected


def sound_scenarios() -> list[Scenario]:
    """Return the scenarios that the engine and the facts meet as they are; the others prove nothing here."""
    facts = configured_facts()
    ask = asker(facts)
    return [one for one in read_scenarios()[0] if not list(wrong_with(one.expect, ask(one.build)))]


def chosen_mutants(rng: Random, count: int) -> list[tuple[Path, Mutant]]:
    """Return seeded mutants of the engine, spread over operators and modules."""
    every = [(path, mutant) for path in sorted(ENGINE.glob("*.py")) if path.stem not in NOT_REASONING
             for mutant in engine_mutants(path.read_text(encoding="utf-8"))]
    rng.shuffle(every)
    seen: Counter[str] = Counter()
    weights = []
    for path, mutant in every:
        weights.append(seen[mutant.operator] + seen[path.stem])
        seen.update([mutant.operator, path.stem])
    order = sorted(range(len(every)), key=lambda n: weights[n])
    return [every[n] for n in order[:count]]


def engine_survivor(path: Path, mutant: Mutant, expected: Path, room: Path) -> str:
    """Return what noticed a mutant of the engine, "" when nothing did."""
    home = room / "wizard"
    shutil.rmtree(home, ignore_errors=True)
    shutil.copytree(ROOT / "wizard", home, ignore=shutil.ignore_patterns("__pycache__", "web"))
    (home / path.relative_to(ROOT / "wizard")).write_text(mutant.text, encoding="utf-8")
    env = {**os.environ, "PYTHONPATH": f"{room}{os.pathsep}{ROOT}", "PYTHONDONTWRITEBYTECODE": "1"}
    try:
        done = subprocess.run([sys.executable, "-m", "tests.mutation.check", str(expected)], cwd=room, env=env,
                              capture_output=True, text=True, timeout=TIMEOUT)
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


def explained() -> dict[str, str]:
    """Return the survivors that are known to be harmless, with why."""
    lines = KNOWN.read_text(encoding="utf-8").splitlines() if KNOWN.exists() else []
    return dict(line.split(" | ", 1) for line in lines if line and not line.startswith("#"))


def main() -> int:
    """Run the mutants, print each, and return 1 when one survives unexplained."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--engine", type=int, default=50)
    parser.add_argument("--rules", type=int, default=40)
    given = parser.parse_args()
    rng = Random(given.seed)
    known = explained()
    survivors = []
    expected = expectations(given.seed)
    with tempfile.TemporaryDirectory() as folder:
        room = Path(folder)
        file = room / "expected.json"
        file.write_text(json.dumps(expected), encoding="utf-8")
        if (wrong := engine_survivor(ENGINE / "model.py", Mutant("", "", "", (ENGINE / "model.py").read_text("utf-8")), file,
                                     room)):
            print(f"The engine as it is does not pass, so mutants would prove nothing: {wrong}")
            return 2
        for path, mutant in chosen_mutants(rng, given.engine):
            name = f"{path.name} {mutant.name}"
            noticed = engine_survivor(path, mutant, file, room)
            survivors += [] if noticed else [name]
            print(f"{'noticed ' if noticed else 'SURVIVES'} {name}  {noticed}", flush=True)
    book = json.loads(expected["book"])
    mutants = [one for rule in sorted(book["rules"]) for one in rule_mutants(book["rules"][rule])]
    asked = scenarios_of(book, [one._asdict() for one in sound_scenarios()])
    for one in rng.sample(mutants, min(given.rules, len(mutants))):
        name = f"{one.rule} {one.operator}"
        noticed = rule_survivor(book, one.record, asked[one.rule])
        survivors += [] if noticed else [name]
        print(f"{'noticed ' if noticed else 'SURVIVES'} {name}  {noticed}", flush=True)
    total = given.engine + given.rules
    unexplained = [name for name in survivors if name not in known]
    print(f"{total} mutants from seed {given.seed}, {len(survivors)} survive, {len(unexplained)} of them unexplained")
    for name in survivors:
        print(f"  {name}: {known.get(name, 'NOT EXPLAINED')}")
    return int(bool(unexplained))


if __name__ == "__main__":
    sys.exit(main())
