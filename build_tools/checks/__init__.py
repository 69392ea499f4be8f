"""Holds all facts against every check; one check a module, each yielding problems."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from build_tools.checks import (
    additions,
    bands,
    builds,
    cases,
    citations,
    covers,
    cures,
    dates,
    drawings,
    families,
    identity,
    kinds,
    labels,
    live,
    matched_sets,
    placeholders,
    references,
    roles,
    sources,
    sums,
    unused,
    ways,
    worked_builds,
)
from build_tools.compile import book_text, compile_book
from build_tools.engine import NoEngine, asker
from build_tools.index import Index, index
from build_tools.problems import Problem, in_order
from build_tools.records import Facts, Record

SHAPE = (additions, cases, families, identity, kinds, references, roles)
MANNERS = (builds, citations, drawings, placeholders, sources, sums, ways)
HARMLESS = ("find-out-missing", "not-a-sentence")
OF_RULES = (live, covers, bands, cures)
OF_ANSWERS = (matched_sets, worked_builds)


def quick_problems(facts: Facts, today: date) -> list[Problem]:
    """Return in order the problems that keep facts from being compiled or read; nothing is searched or answered."""
    found = index(facts)
    problems = [*facts.problems, *dates.check(found, today)]
    for module in (*SHAPE, *MANNERS):
        problems.extend(module.check(found))
    return _told(facts, problems or list(labels.check(found)))


def _told(facts: Facts, problems: list[Problem]) -> list[Problem]:
    """Return the problems in order, without those that only follow from a file that could not be read."""
    follow = tuple(f"'{stem}'" for stem in facts.unread)
    return in_order(
        problem
        for problem in problems
        if not (problem.check == "unknown-reference" and any(name in problem.what for name in follow))
    )


def check_facts(facts: Facts, today: date) -> list[Problem]:
    """Return every problem of the facts in order; `today` is the last day a date may name.

    The checks that search through a rule run for each rule that is itself sound and names only sound records; those
    that ask the engine, and those on unused attributes and on labels, run once everything else is sound.
    """
    found = index(facts)
    problems = list(facts.problems)
    for module in SHAPE:
        problems.extend(module.check(found))
    unsound = {problem.file for problem in problems if problem.check not in HARMLESS}
    sound = index(sound_part(facts, found, unsound))
    for module in MANNERS:
        problems.extend(module.check(found))
    dated = list(dates.check(found, today))
    for module in OF_RULES:
        problems.extend(module.check(sound))
    if not unsound:
        problems.extend([*unused.check(found), *labels.check(found)])
    if not problems:
        problems.extend(_of_answers(found))
    return _told(facts, problems + dated)


def _of_answers(found: Index) -> list[Problem]:
    asked = [*found.of("set").values(), *found.of("build").values()]
    if not asked:
        return []
    try:
        ask = asker(book_text(compile_book(found)))
    except NoEngine as error:
        return [
            Problem(
                asked[0].file, 0, str(error), "engine-missing", "Without it no set and no worked build can be checked."
            )
        ]
    return [problem for module in OF_ANSWERS for problem in module.check(found, ask)]


def sound_part(facts: Facts, found: Index, unsound: set[str]) -> Facts:
    """Return the facts without the files that have problems and without those that read anything of them."""
    bad = set(unsound)
    while True:
        gone = {(record.type, record.id) for record in facts.records if record.file in bad}
        gone |= {
            ("kind", found.slots[slot])
            for record in facts.records
            if record.file in bad and record.type == "kind"
            for slot in record.data.get("slots", {})
            if slot in found.slots
        }
        more = {
            record.file
            for record in facts.records
            if record.file not in bad and any(name in gone for name in names_read(found, record))
        }
        if not more:
            return replace(facts, records=tuple(record for record in facts.records if record.file not in bad))
        bad |= more


def names_read(found: Index, record: Record) -> set[tuple[str, str]]:
    """Return type and id of every record that a rule, addition, sum or family needs to be understood."""
    data = record.data
    kinds_read = {data["kind"]} if record.type == "family" and "kind" in data else set()
    kinds_read |= set(data.get("each", {}).values())
    slots = [*data.get("about", []), *data.get("partners", []), *data.get("helpers", []), *data.get("changes", [])]
    slots += [name.partition(".")[0] for name in data.get("sets", {})]
    slots += [name.partition(".")[0] for name in data.get("inputs", {}).values()]
    kinds_read |= {found.slots[slot] for slot in slots if slot in found.slots}
    named = {("kind", kind) for kind in kinds_read} | {("addition", name) for name in data.get("needs", [])}
    for case in data.get("cases", []):
        for _, names in references.alternatives(case.get("additions")):
            named |= {("addition", name) for name in names}
    for _, test in roles.any_tests(found, record):
        named |= {
            ("sum", name[4:])
            for name in (test.get("on"), test.get("low"), test.get("high"))
            if isinstance(name, str) and name.startswith("sum.")
        }
    return named
