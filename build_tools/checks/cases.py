"""The cases of a rule have ids of their own, otherwise stands last, and additions are named exactly where some are needed."""

from __future__ import annotations

from collections.abc import Iterator

from build_tools.checks.references import alternatives
from build_tools.compile_rules import OTHERWISE, UNCOVERED
from build_tools.index import Index
from build_tools.problems import Problem
from build_tools.records import Record
from build_tools.schema_parts import OTHERWISE_VERDICTS

TAKEN = (OTHERWISE, UNCOVERED)


def check(index: Index) -> Iterator[Problem]:
    """Yield a problem for each rule that could end nowhere, and each case that says too much or too little."""
    for record in index.facts.records:
        if record.type == "rule" and "cases" in record.data:
            yield from _rule(index, record)
        if record.type == "stop" and record.data.get("effect") == "refuse" and "when" not in record.data:
            yield record.problem(
                ("stop",),
                "stop-without-when",
                f"The stop '{record.id}' refuses always.",
                "Write with when: which facts it refuses; only effect: hold may leave it out.",
            )


def _rule(index: Index, record: Record) -> Iterator[Problem]:
    cases = record.data["cases"]
    seen: set[str] = set()
    for number, case in enumerate(cases):
        path = ("cases", number)
        name = case.get("case", "otherwise")
        if (name in seen or name in TAKEN) and "case" in case:
            yield record.problem(
                path,
                "case-id",
                f"Another case of this rule is called '{name}'.",
                f"Give each case an id of its own; {' and '.join(TAKEN)} are taken.",
            )
        seen.add(name)
        if case.get("otherwise", "cannot-tell") not in OTHERWISE_VERDICTS:
            yield record.problem(
                path + ("otherwise",),
                "otherwise",
                f"'otherwise' says '{case['otherwise']}'.",
                f"Allowed: {', '.join(OTHERWISE_VERDICTS)}. What works is matched by a case, never fallen into.",
            )
        if "otherwise" in case and number < len(cases) - 1:
            yield record.problem(
                path, "otherwise", "'otherwise' stands before other cases, which nothing could reach.", "Put it last."
            )
        yield from _additions(index, record, number)


def _additions(index: Index, record: Record, number: int) -> Iterator[Problem]:
    case = record.data["cases"][number]
    path = ("cases", number, "additions")
    if case.get("verdict") == "works-with-additions" and "additions" not in case:
        yield record.problem(
            path,
            "case-additions",
            "The case works with additions and names none.",
            "List what is missing under additions.",
        )
    if (
        case.get("verdict", case.get("otherwise", "works-with-additions")) != "works-with-additions"
        and "additions" in case
    ):
        yield record.problem(
            path,
            "case-additions",
            "The case names additions and its verdict is another.",
            "Only a case with the verdict works-with-additions names additions.",
        )
    for below, names in alternatives(case.get("additions")):
        for place, name in enumerate(names):
            addition = index.of("addition").get(name)
            bound = addition.data.get("each") if addition else None
            if bound and bound != record.data.get("each"):
                said = " ".join(f"{key}: {value}" for key, value in bound.items())
                yield record.problem(
                    path + below + (place,),
                    "addition-each",
                    f"The addition '{name}' is for each of {{{said}}}, and the rule is not.",
                    f"Use it only in rules with each: {{{said}}}.",
                )
