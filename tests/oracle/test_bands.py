"""How often cutting numbers into bands costs a firm verdict, on seeded builds over the facts with vague numbers."""

from __future__ import annotations

import json
from collections import Counter
from random import Random
from typing import Callable

from tests.oracle.exact import cost, cost_of, joint_subjects, without_bands
from tests.oracle.ground import Json
from tests.oracle.real_run import real_book
from wizard.engine import load

BUILDS, LONG = 300, 6000


def test_bands_cost_few_firm_verdicts_and_never_give_a_wrong_one(seed: int, soak: bool, say: Callable[[str], None]) -> None:
    book, banded, _ = real_book()
    exact, subjects = load(json.dumps(without_bands(book))), joint_subjects(book)
    seen: Counter[str] = Counter()
    broken = []
    for n in range(seed, seed + (LONG if soak else BUILDS)):
        found = cost(n, book, banded, exact, subjects)
        if found is not None:
            seen.update([str(found.banded)] + ["lost"] * found.lost)
            seen["exact answers"] += len(found.exact)
            broken += [f"seed {n}: {found}"] * found.broken
    asked = sum(seen[name] for name in ("works", "works-with-additions", "cannot-tell", "will-not-work"))
    say(f"bands, from seed {seed}: {asked} builds with vague numbers, {seen['cannot-tell']} cannot be told, "
          f"{seen['lost']} of them only because of bands ({seen['lost'] / asked:.1%} of all); {dict(seen)}")

    assert not broken, broken[0]
    assert len(subjects) > 15 and asked > BUILDS * 0.8 and seen["cannot-tell"] > asked // 10
    assert seen["lost"] <= asked // 50


def overlapping(book: Json) -> Json:
    """Return the facts with one more rule whose two limits meet only if speed and frequency are seen as one number."""
    def over(on: str, low: float | None, high: float | None) -> list[list[Json]]:
        return [[{"on": on, "low": low, "low_open": False, "high": high, "high_open": True}]]

    model = book["rules"]["vss-frequency"]
    plain = {**model["cases"][0], "verdict": "works", "additions": []}
    cases = [{**plain, "case": "slow", "when": over("sum.speed_frequency", None, 100)},
             {**plain, "case": "fast", "when": over("host_vehicle.top_speed", 190, None)},
             {**model["cases"][-1], "verdict": "cannot-tell"}]
    rule = {**model, "id": "overlap", "subject": "overlap", "about": ["calibration", "host_vehicle"], "partners": [],
            "helpers": [], "cases": cases}
    return {**book, "rules": {"overlap": rule}, "rule_order": ["overlap"], "stops": {},
            "subjects": {"overlap": {**book["subjects"][model["subject"]], "id": "overlap"}}, "subject_order": ["overlap"]}


def test_a_verdict_that_bands_do_cost_is_seen() -> None:
    book = overlapping(real_book()[0])
    build = {"asks": ["overlap"], "slots": {
        "calibration": {"told": {"speed_number_state": "programmed", "speed_number": 1800}},
        "host_vehicle": {"told": {"top_speed": {"from": 150, "to": 250}}}}}
    found = cost_of(Random(1), book, load(json.dumps(book)), load(json.dumps(without_bands(book))), build)

    assert found is not None and found.banded == "cannot-tell"
    assert set(found.exact) == {"works"} and found.lost and not found.broken
