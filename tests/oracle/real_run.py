"""The engine, python-sat and clingo on seeded builds over the facts as they stand.

Whether a build can be, whether it fails, and its stops are compared on every build. What takes expanding the unknowns
(the verdict in full, the parts that are viable) is compared where there are few enough of them.
"""

from __future__ import annotations

import json
from functools import lru_cache
from itertools import count
from typing import NamedTuple

from tests.oracle import asp, sat
from tests.oracle.clashes import changed, named, sat_fails, ways_to_change, wrong_with_clash
from tests.oracle.compare import viable
from tests.oracle.ground import Json
from tests.oracle.parts import Kind, all_kinds
from tests.oracle.real_builds import random_real_build
from tests.oracle.run import LEFT_OUT, Run
from tests.oracle.translate import Translation
from tests.scenarios.scenario import configured_facts
from wizard.engine import Book, answer, load

GOOD = ("works", "works-with-additions")
FIRMLY = {"will-not-work", None}


class Caps(NamedTuple):
    """How far unknowns are expanded, and of which builds the dear questions are asked: every so many-th."""

    settings: int
    models: int
    clashes: int
    changes: int


QUICK, LONG = Caps(60, 150, 2, 16), Caps(1000, 2000, 1, 1)


@lru_cache(maxsize=1)
def real_book() -> tuple[Json, Book, dict[str, Kind]]:
    """Return the configured facts as a book, the engine's reading of it, and its kinds for the oracles."""
    facts = configured_facts()
    return facts.book, load(facts.text), all_kinds(facts.book)


def engine(build: Json) -> Json:
    """Return the engine's answer over the facts."""
    return json.loads(answer(real_book()[1], json.dumps(build)))


def real_run(first: int, enough: float, caps: Caps) -> Run:
    """Compare on builds from one seed on until both solvers compared enough of them."""
    run = Run(first)
    for seed in count(first):
        if run.seen["python-sat and clingo"] >= enough:
            return run
        one_build(run, seed, caps)
    return run


def one_build(run: Run, seed: int, caps: Caps) -> None:
    """Compare everything on the build of one seed."""
    run.last = seed
    book, _, kinds = real_book()
    build = random_real_build(seed, book, kinds)
    case = json.dumps(build)
    try:
        must, may = sat.stops(book, build)
        made = Translation(book, build)
        if any(book["stops"][stop]["effect"] == "refuse" for stop, _ in must):
            caps = caps._replace(settings=0)       # a stop decides, so the engine's verdict tells nothing of the rest
        first = _first(build, made, caps)
        second = _second(build, made, caps if first.full else caps._replace(models=0))
    except LEFT_OUT as reason:
        run.seen[f"left out, {type(reason).__name__}"] += 1
        return
    found = engine(build)
    run.seen[str(found["verdict"])] += 1
    if found["limit_hit"]:
        run.seen["at a limit"] += 1
        run.found("limits promise nothing", ["a yes at a limit"] * (found["verdict"] in GOOD), case)
        return
    run.found("python-sat and clingo", _solvers(found, first, second), case)
    if found["verdict"] is None or first.verdict is None:
        return
    run.found("stops", stop_differences(book, found, must, may), case)
    if not found["refused"]:
        if first.full and second.full:
            run.found("expanded by both", _expanded(found, first, second), case)
        elif first.full:
            run.found("expanded by python-sat", _expanded(found, first, first), case)
        if found["verdict"] == "will-not-work":
            _failing(run, build, found, caps, case)


class Seen(NamedTuple):
    """What a solver says: the verdict in full, or as far as it goes without expanding, and the viable families."""

    verdict: str | None
    full: bool
    viable: dict[str, list[str]]


def _first(build: Json, made: Translation, caps: Caps) -> Seen:
    book = real_book()[0]
    try:
        if caps.settings:
            found = sat.decide(book, build, cap=caps.settings, made=made)
            return Seen(found.verdict, True, found.viable)
    except sat.TooMany:
        pass
    return Seen(sat.glance(book, build, made).verdict, False, {})


def _second(build: Json, made: Translation, caps: Caps) -> Seen:
    book = real_book()[0]
    try:
        if caps.models:
            found = asp.decide(book, build, cap=caps.models, made=made)
            return Seen(found.verdict, True, found.viable)
    except asp.TooMany:
        pass
    can_be, speaks, fails = asp.glance(book, build, made)
    return Seen(sat.Glance(can_be, speaks, fails).verdict, False, {})


def _solvers(found: Json, first: Seen, second: Seen) -> list[str]:
    """Return where a verdict that needs no expanding is not the same for all three."""
    told = {"engine": "will-not-work" if found["verdict"] is not None and found["refused"] else found["verdict"],
            "python-sat": first.verdict, "clingo": second.verdict}
    firm = {name: verdict if verdict in FIRMLY else "neither" for name, verdict in told.items()}
    if found["verdict"] is not None and found["refused"]:
        del firm["engine"]      # a stop decides, which the solvers are asked about apart
    return [str(told)] * (len(set(firm.values())) > 1)


def _expanded(found: Json, first: Seen, second: Seen) -> list[str]:
    wrong = []
    if not found["verdict"] == first.verdict == second.verdict:
        wrong.append(f"engine {found['verdict']}, python-sat {first.verdict}, clingo {second.verdict}")
    wrong += [f"viable in {slot}: engine {families}, python-sat {first.viable[slot]}, clingo {second.viable[slot]}"
              for slot, families in viable(found).items() if not families == first.viable[slot] == second.viable[slot]]
    return wrong


def stop_differences(book: Json, found: Json, must: set[sat.Named], may: set[sat.Named]) -> list[str]:
    """Return where the stops of an answer over the facts differ."""
    said = {key: {(one["stop"], one["slot"]) for one in found["stops"][key]} for key in found["stops"]}
    refusing = {name for name in must if book["stops"][name[0]]["effect"] == "refuse"}
    wrong = []
    if said["certain"] != refusing or set().union(*said.values()) != must | may:
        wrong.append(f"stops: engine {said}, python-sat certain {must}, possible {may}")
    if found["refused"] != bool(refusing):
        wrong.append(f"refused: engine {found['refused']}, python-sat {refusing}")
    return wrong


def _failing(run: Run, build: Json, found: Json, caps: Caps, case: str) -> None:
    """Hold a clash against python-sat one statement at a time; and the changes against their promise and all others."""
    book = real_book()[0]
    run.seen["failing"] += 1
    clash = named(build, found["clash"])
    if clash and run.seen["failing"] % caps.clashes == 0:
        run.found("minimal clash", wrong_with_clash(book, build, clash, sat_fails), case)
    if run.seen["failing"] % caps.changes:
        return
    promised = []
    for one in found["changes"]:
        after = verdict_of(one["build"], caps)
        promised += [f"{one['text']}: promised {one['verdict']}, found {after}"] * (after not in (one["verdict"], ""))
    run.found("promised changes", promised, case)
    if all(len(one["parts"]) != 1 for one in found["changes"]):
        better = [picks for picks in ways_to_change(book, build, 1)
                  if verdict_of(changed(build, picks), caps) in GOOD]
        run.found("no cheaper change", [f"{picks} alone would do" for picks in better[:1]], case)


def verdict_of(build: Json, caps: Caps) -> str | None:
    """Return the verdict that python-sat finds, stops counted; "" where there is too much to expand."""
    book = real_book()[0]
    try:
        if any(book["stops"][stop]["effect"] == "refuse" for stop, _ in sat.stops(book, build)[0]):
            return "will-not-work"
        return sat.decide(book, build, cap=caps.settings).verdict
    except LEFT_OUT:
        return ""
