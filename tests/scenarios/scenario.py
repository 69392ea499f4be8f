"""Reads the scenarios of a folder strictly, and says in words where an answer is not what one expects."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from datetime import date
from functools import lru_cache
from pathlib import Path
from typing import Any, NamedTuple

from build_tools.checks import quick_problems
from build_tools.checks.builds import build_problems
from build_tools.compile import book_text, compile_book
from build_tools.compile_rules import written_cases
from build_tools.config import configured_layers
from build_tools.index import Index, index
from build_tools.load import load
from build_tools.problems import Problem, printed
from build_tools.records import Record, gather
from build_tools.schema import Fields, ListOf, MapOf, SNAKE, Text, TrueFalse, Word, WORDS, may, need
from build_tools.schema_build import BUILD
from build_tools.schema_read import BAD, Outcome, read
from wizard.engine import answer, load as load_book
from wizard.engine.model import Book

FOLDER = Path(__file__).parent
Json = dict[str, Any]
VERDICTS = ("works", "works-with-additions", "cannot-tell", "will-not-work")
FIRED = Text(r"[a-z0-9-]+(@[a-z0-9_]+)?/[a-z0-9-]+", "o2s-heater-return/same-scheme")
EXPECT = Fields("what is expected", {
    "verdict": need(Word((*VERDICTS, "contradiction")), "The verdict, or contradiction."),
    "refused": may(TrueFalse()),
    "subjects": may(MapOf(SNAKE, Word(VERDICTS))),
    "fired": may(ListOf(FIRED)),
    "additions": may(ListOf(SNAKE)),
    "questions": may(ListOf(WORDS)),
    "stops": may(ListOf(Text(r"[a-z0-9-]+", "no-splice-into-brakes"))),
})
SCENARIOS = ListOf(Fields("a scenario", {
    "name": need(WORDS, "A sentence a seller would say."),
    "build": need(BUILD, "What the customer said."),
    "expect": need(EXPECT, "What the answer must be."),
}))


class Scenario(NamedTuple):
    """One thing a customer says and what must be answered."""

    file: str
    name: str
    build: Json
    expect: Json


class Facts(NamedTuple):
    """The facts as an index and as a book."""

    index: Index
    book: Json
    text: str


@lru_cache(maxsize=1)
def configured_facts() -> Facts:
    """Return the configured facts; raises AssertionError naming the first problems when they cannot be read."""
    layers = configured_layers()
    assert not isinstance(layers, Problem), printed(layers)
    facts = gather(layers)
    problems = quick_problems(facts, date.today())
    assert not problems, "\n".join(printed(one) for one in problems[:20])
    found = index(facts)
    book = compile_book(found)
    return Facts(found, book, book_text(book))



def read_scenarios(folder: Path = FOLDER) -> tuple[list[Scenario], list[Problem]]:
    """Return the scenarios of every YAML file of a folder, and what is wrong with the files: unknown keys, repeats."""
    scenarios: list[Scenario] = []
    problems: list[Problem] = []
    for path in sorted(folder.glob("*.yaml")):
        node, wrong = load(path.read_bytes(), path.name)
        problems += wrong
        if node is None:
            continue
        out = Outcome(path.name)
        data = read(SCENARIOS, node, out)
        problems += out.problems
        if data is not BAD:
            scenarios += [Scenario(path.name, one["name"], one["build"], one["expect"]) for one in data
                          if one is not BAD]
    names = [one.name for one in scenarios]
    problems += [Problem(one.file, 1, f"Two scenarios are called '{one.name}'.", "scenario-name")
                 for n, one in enumerate(scenarios) if one.name in names[:n]]
    return scenarios, problems


def misnamed(facts: Facts, scenario: Scenario) -> Iterator[str]:
    """Yield what a scenario names that the facts do not have, in its build or in what it expects."""
    record = Record("build", scenario.name, "", scenario.file, scenario.build, {})
    for problem in build_problems(facts.index, record, (), scenario.build):
        yield printed(problem)
    expect = scenario.expect
    for fired in expect.get("fired", []):
        rule, case, slot = split_fired(fired)
        cases = {one["case"] for one in written_cases(facts.book["rules"].get(rule, {"cases": []}))}
        if case not in cases or (slot is not None and slot not in facts.book["slots"]):
            yield f"there is no {fired}"
    for key, section in (("subjects", "subjects"), ("additions", "additions"), ("stops", "stops")):
        yield from (f"there is no {one} among the {section}" for one in expect.get(key, [])
                    if one not in facts.book[section])


def split_fired(text: str) -> tuple[str, str, str | None]:
    """Return rule, case and slot of `rule/case` or `rule@slot/case`."""
    rule, _, case = text.partition("/")
    rule, _, slot = rule.partition("@")
    return rule, case, slot or None


def wrong_with(expect: Json, found: Json) -> Iterator[str]:
    """Yield each difference between an answer and what is expected; additions must hold all certain ones."""
    verdict = "contradiction" if found["contradiction"] is not None else found["verdict"]
    if verdict != expect["verdict"]:
        yield f"expected {expect['verdict']}, got {verdict} ({found['decided_by'] and found['decided_by']['rule']})"
    if "refused" in expect and found["refused"] != expect["refused"]:
        yield f"expected refused to be {expect['refused']}"
    subjects = {one["subject"]: one["verdict"] for one in found["subjects"]}
    for subject, wanted in expect.get("subjects", {}).items():
        if subjects.get(subject) != wanted:
            yield f"expected {wanted} for {subject}, got {subjects.get(subject)}"
    settled = set(fired(found))
    for text in expect.get("fired", []):
        rule, case, slot = split_fired(text)
        if not any(r == rule and c == case and slot in (None, s) for r, s, c in settled):
            yield f"expected {text} to decide; of this rule: {sorted(cases_of(found, rule)) or 'not in question'}"
    if "additions" in expect:
        certain = {one["addition"] for one in found["additions"]["certain"]}
        if not certain <= set(expect["additions"]) <= added(found):
            yield (f"expected the additions {sorted(expect['additions'])}, got {sorted(certain)} for certain "
                   f"and {sorted(added(found) - certain)} perhaps")
    asked = [one["ask"] for one in found["questions"]]
    for text in expect.get("questions", []):
        if text not in asked:
            yield f"expected the question {text}; asked: {asked}"
    stops = {one["stop"] for some in found["stops"].values() for one in some}
    for stop in expect.get("stops", []):
        if stop not in stops:
            yield f"expected the stop {stop}, got {sorted(stops)}"


def fired(found: Json) -> list[tuple[str, str | None, str]]:
    """Return rule, slot and case of every rule that has come to one case."""
    return [(one["rule"], one["slot"], one["cases"][0]["case"]) for one in found["reasons"]
            if one["settled"] and len(one["cases"]) == 1]


def cases_of(found: Json, rule: str) -> set[str]:
    """Return the cases one rule may still come to."""
    return {case["case"] for one in found["reasons"] if one["rule"] == rule for case in one["cases"]}


def added(found: Json) -> set[str]:
    """Return every addition an answer names: certain, one of several, only if."""
    some = [*found["additions"]["certain"]]
    some += [one for ways in found["additions"]["one_of"] for way in ways for one in way]
    some += [one for only in found["additions"]["only_if"] for one in only["then"]]
    some += found["additions"]["more"]
    return {one["addition"] for one in some}


def asker(facts: Facts) -> Callable[[Json], Json]:
    """Return a function from a build to its answer; each build is asked once, however many tests want it."""
    return lambda build: json.loads(_answered(facts.text, json.dumps(build, sort_keys=True)))


@lru_cache(maxsize=2)
def _book(text: str) -> Book:
    return load_book(text)


@lru_cache(maxsize=4096)
def _answered(text: str, build: str) -> str:
    return answer(_book(text), build)


def failures(facts: Facts, scenarios: list[Scenario]) -> list[str]:
    """Return one line for each thing a scenario expects in vain."""
    ask = asker(facts)
    lines = []
    for one in scenarios:
        wrong = list(misnamed(facts, one)) or list(wrong_with(one.expect, ask(one.build)))
        lines += [f"{one.file}: {one.name}: {text}" for text in wrong]
    return lines
