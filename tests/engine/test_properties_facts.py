"""What must hold of every answer over the facts as they stand: seeded builds, with hypothesis choosing the seeds."""

from __future__ import annotations

import json
from random import Random

from hypothesis import HealthCheck, Phase, assume, given, settings, strategies as st

from tests.engine.changes import completions, forgotten, is_ours, one_more_answer, renamed, shuffled, without_addition
from tests.engine.firmness import FIRM, moved_safely, nothing_asked, still_firm, verdicts
from tests.oracle.compare import engine_verdict
from tests.oracle.ground import Json
from tests.oracle.real_builds import random_real_build
from tests.oracle.real_run import engine, real_book
from wizard.engine import answer, load

SEEDS = st.integers(min_value=0, max_value=2**31)
USUAL = settings.default.max_examples
QUICK = {"suppress_health_check": list(HealthCheck), "phases": (Phase.explicit, Phase.generate)}
EXAMPLES = settings(max_examples=USUAL * 2 // 5, **QUICK)
RARE = settings(max_examples=USUAL * 3 // 20, **QUICK)
MANY = settings(max_examples=USUAL * 3 // 2, **QUICK)       # of verdicts alone, which are cheap


def build_of(seed: int) -> Json:
    """Return a seeded build over the facts."""
    book, _, kinds = real_book()
    return random_real_build(seed, book, kinds)


@EXAMPLES
@given(SEEDS)
def test_the_order_in_which_things_were_told_does_not_matter(seed: int) -> None:
    build = build_of(seed)

    assert engine(shuffled(Random(seed), build)) == engine(build)


@MANY
@given(SEEDS)
def test_one_more_answer_never_undoes_a_firm_verdict(seed: int) -> None:
    book, loaded, _ = real_book()
    build = build_of(seed)
    before = engine_verdict(loaded, build)
    assume(before["verdict"] in FIRM and not before["limit_hit"])
    more = one_more_answer(Random(seed), book, build)
    assume(more is not None)
    after = engine_verdict(loaded, more)

    assert still_firm(before, after), more


@MANY
@given(SEEDS)
def test_every_completion_of_a_build_keeps_its_firm_verdict(seed: int) -> None:
    book, loaded, _ = real_book()
    build = build_of(seed)
    before = engine_verdict(loaded, build)
    assume(before["verdict"] in FIRM and not before["limit_hit"])

    for whole in completions(Random(seed), book, build, 3):
        fine = still_firm(before, engine_verdict(loaded, whole)) or nothing_asked(book, whole)

        assert fine, whole


@MANY
@given(SEEDS)
def test_forgetting_what_is_known_moves_only_in_the_safe_direction(seed: int) -> None:
    book, loaded, _ = real_book()
    build = build_of(seed)
    before = engine_verdict(loaded, build)
    assume(before["contradiction"] is None)
    less = forgotten(Random(seed), book, build)
    assume(less is not None)
    after = engine_verdict(loaded, less)

    assert moved_safely(before, after), less


@EXAMPLES
@given(SEEDS)
def test_a_proposed_change_gives_the_verdict_and_the_additions_that_it_promised(seed: int) -> None:
    build = build_of(seed)
    assume(engine_verdict(real_book()[1], build)["verdict"] == "will-not-work")

    for one in engine(build)["changes"]:
        after = engine(one["build"])

        assert after["verdict"] == one["verdict"], one["text"]
        assert {a["addition"] for a in after["additions"]["certain"]} <= {a["addition"] for a in one["additions"]}


@RARE
@given(SEEDS)
def test_every_certain_addition_is_needed(seed: int) -> None:
    book = real_book()[0]
    build = build_of(seed)
    assume(not any(is_ours(said) for said in build["slots"].values()))
    found = engine(build)
    assume(found["verdict"] == "works-with-additions" and found["additions"]["certain"])
    one = Random(seed).choice(found["additions"]["certain"])["addition"]
    after = engine_verdict(load(json.dumps(without_addition(book, one))), build)

    assert after["verdict"] in ("cannot-tell", "will-not-work"), one


def test_other_ids_give_the_same_verdicts(seed: int) -> None:
    book = real_book()[0]
    rng = Random(seed)
    builds = [build_of(rng.randrange(2**31)) for _ in range(40)]
    new_book, new, names = renamed(rng, book, {"builds": builds})
    loaded = load(json.dumps(new_book))
    for old_build, new_build in zip(builds, new["builds"]):
        before, after = engine(old_build), json.loads(answer(loaded, json.dumps(new_build)))

        assert verdicts(after)[:4] == verdicts(before)[:4]
        assert verdicts(after)[4] == sorted((names[subject], verdict) for subject, verdict in verdicts(before)[4])
