"""Sets an answer out as plain text for a terminal; every sentence in it comes from the answer itself."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping
from typing import Any

WIDTH = 96
VERDICT_WORDS = {
    "works": "works",
    "works-with-additions": "works with additions",
    "cannot-tell": "cannot tell yet",
    "will-not-work": "will not work",
}
Answer = dict[str, Any]


FIRST_QUESTIONS = 3     # questions whose way to find out is spelt out in a short answer
FIRST_BRANCHES = 5      # branches of `only if` in a short answer
FIRST_WORKS = 3         # points that simply hold, in a short answer


def answer_text(answer: Answer, ways: Mapping[str, Answer], why: bool = True) -> str:
    """Return the answer as text, most important part first; `ways` are the book's records on how to find out.

    With `why` the whole argument; without it what can still come out either way is only counted.
    """
    to_find_out = _section(
        "To find out",
        [
            text
            for number, question in enumerate(answer["questions"])
            for text in _question(question, ways if why or number < FIRST_QUESTIONS else {})
        ]
        + _and_more(answer["left_out"]["questions"], "question", "as these are answered"),
    )
    first = to_find_out if not why else ""
    passed = [line["title"] for line in answer["scope"]["not_looked_at"]]
    parts = [
        _wrapped(answer["headline"]),
        _listed("These cannot all be true", answer["contradiction"] or []),
        _stops("Stop", answer["stops"]["certain"]),
        _stops("Stop, if it is so", answer["stops"]["possible"]),
        _wrapped(" ".join(answer["summary"])),
        _stops("Test this first", answer["stops"]["hold"]),
        _section("Subject by subject", list(_subjects(answer))),
        first,
        _section("Why", list(_reasons(answer, why))),
        _listed("What cannot be true together", [entry["text"] for entry in answer["clash"]]),
        _listed(
            answer["changes_text"],
            [f"{change['text']} ({VERDICT_WORDS[change['verdict']]})" for change in answer["changes"]],
        ),
        _section("Parts to choose", [text for choice in answer["choices"] for text in _choice(choice)]),
        _section("To add", list(_additions(answer["additions"], None if why else FIRST_BRANCHES))),
        "" if first else to_find_out,
        _section(
            "Sums",
            [f"{line['title']}: {line['shown']}\n{line['formula']}" for line in answer["sums"]]
            + _and_more(answer["left_out"]["sums"], "sum", "of which no input is known yet") * bool(answer["sums"]),
        ),
        _section("This rests on", list(_rests_on(answer["rests_on"]))),
        _listed("Checks that remain", [check["text"] for check in answer["scope"]["checks"]]),
        _listed("Not looked at", passed if why or not passed else [f"{len(passed)} rules; --why names them"]),
        _section("Sources", list(_sources(answer))),
        _wrapped(
            f"Facts edition {answer['edition']}."
            + (" A limit was reached while working this out." if answer["limit_hit"] else "")
        ),
    ]
    return "\n\n".join(part for part in parts if part) + "\n"


def _wrapped(text: str, indent: str = "", mark: str = "") -> str:
    lines = []
    for number, line in enumerate(text.split("\n")):
        own = len(line) - len(line.lstrip())
        hang = " " * (2 if line.lstrip().startswith("- ") else 3 if line.lstrip()[1:3] == ". " else 0)
        start = indent + (mark if number == 0 else " " * len(mark)) + " " * own
        lines.append(
            textwrap.fill(
                line.strip(),
                WIDTH,
                initial_indent=start,
                subsequent_indent=" " * len(start) + hang,
                break_long_words=False,
                break_on_hyphens=False,
            )
        )
    return "\n".join(lines)


def _section(title: str, entries: list[str]) -> str:
    return "\n".join([title, *(_wrapped(entry, "  ") for entry in entries)]) if entries else ""


def _listed(title: str, entries: list[str]) -> str:
    return "\n".join([title, *(_wrapped(entry, "  ", "- ") for entry in entries)]) if entries else ""


def _subjects(answer: Answer) -> Iterator[str]:
    """Each subject with its verdict; those of which no rule can speak are only named."""
    spoken = {reason["subject"] for reason in answer["reasons"]}
    for line in answer["subjects"]:
        if line["subject"] in spoken:
            yield f"{line['title']}: {VERDICT_WORDS[line['verdict']]}"
    silent = [line["title"] for line in answer["subjects"] if line["subject"] not in spoken]
    if silent:
        yield f"Nothing told lets any rule speak of: {'; '.join(silent)}"


def _stops(title: str, stops: list[Answer]) -> str:
    entries = []
    for stop in stops:
        when = f" This holds if {stop['when']}." if stop.get("when") else ""
        entries.append(" ".join(text for text in (stop["say"], stop["why"], stop["instead"]) if text) + when)
    return _listed(title, entries)


def _and_more(count: int, what: str, when: str) -> list[str]:
    return [f"And {count} more {what}{'s' if count > 1 else ''}, {when}."] if count else []


def _reasons(answer: Answer, why: bool) -> Iterator[str]:
    """What does not simply work first; then what does; and of how many rules only the outcome is told."""
    works = [one for one in answer["reasons"] if one["settled"] and one["verdict"] == "works"]
    rest = [one for one in answer["reasons"] if one not in works]
    if why:
        for one in (*rest, *works):
            yield from _reason(one)
        return
    for one in (one for one in rest if one["cases"]):
        yield from _short(one)
    brief = [one for one in rest if not one["cases"]]
    if brief:
        yield f"And {len(brief)} more rules, not settled either; --why names them"
    if len(works) > FIRST_WORKS or not rest:
        works_told = works[:FIRST_WORKS] if not rest else []
        yield from (text for one in works_told for text in _short(one))
        left = len(works) - len(works_told)
        if left:
            yield f"{left} {'more ' if works_told else ''}points hold; --why names them"
    else:
        yield from (text for one in works for text in _short(one))


def _reason(reason: Answer) -> Iterator[str]:
    settled = "" if reason["settled"] or reason["verdict"] == "works" else ", in the worst case"
    yield f"{reason['title']}: {VERDICT_WORDS[reason['verdict']]}{settled}"
    for case in reason["cases"]:
        yield f"  - {case['because']}"
        if case["goes_wrong"] and case["verdict"] != "works":
            yield f"    If it is wrong: {case['goes_wrong']}"
        if case["codes"]:
            yield f"    Fault codes seen then: {', '.join(case['codes'])}"
        yield from (f"    Take care: {text}" for text in case["cautions"])
        for fact in case.get("facts") or ():
            source = f", {fact['source']}, checked {fact['checked']}" if fact["source"] else ""
            yield f"    It rests on this: {fact['text'].rstrip('.')} ({fact['from'].replace('-', ' ')}{source})"
        if case.get("weakest_source"):
            yield f"    Weakest source: {case['weakest_source']['kind'].replace('-', ' ')}"


def _short(reason: Answer) -> Iterator[str]:
    verdicts = {case["verdict"] for case in reason["cases"]}
    if not reason["settled"] and len(verdicts) == 1:
        yield f"{reason['title']}: {VERDICT_WORDS[reason['verdict']]}, whichever holds"
        yield from (f"  - {case['because']}" for case in reason["cases"])
        return
    if not reason["settled"]:
        yield f"{reason['title']}: not settled, {len(reason['cases'])} ways it may come out"
        return
    case = reason["cases"][0]
    yield f"{reason['title']}: {VERDICT_WORDS[reason['verdict']]}"
    yield f"  - {case['because']}"
    if case["goes_wrong"] and case["verdict"] != "works":
        yield f"    If it is wrong: {case['goes_wrong']}"
        yield from (f"    Take care: {text}" for text in case["cautions"])


def _choice(choice: Answer) -> Iterator[str]:
    pick = choice["pick"]["title"] if choice["pick"] else "none of those listed"
    first = " (find out first, see below)" if choice["find_out_first"] else ""
    yield f"{choice['title']}: {pick}{first}"
    if choice["pick"] and not choice["pick"].get("for_sale", True) and choice["state"] == "open":
        yield "  - no part that would do is for sale here; this one has to be found elsewhere"
    if choice["viable"]:
        yield f"  - would do: {', '.join(family['title'] for family in choice['viable'])}"
    if choice.get("depends"):
        yield f"  - may do, depending on what is still open: {', '.join(family['title'] for family in choice['depends'])}"
    yield from (f"  - not {family['title']}: {family['because']}" for family in choice["not_viable"])
    for line in choice["specification"]:
        yield f"  - must have {line['title']}: {' or '.join(label for _, label in line.get('values') or []) or line.get('text', '')}"


def _additions(additions: Answer, most: int | None) -> Iterator[str]:
    for addition in additions["certain"]:
        yield from _addition(addition)
    for ways in additions["one_of"]:
        yield "One of these ways:"
        for number, way in enumerate(ways, start=1):
            yield f"  {number}."
            for addition in way:
                yield from (f"  {text}" for text in _addition(addition))
    branches = additions["only_if"]
    for group in branches[:most]:
        for number, clauses in enumerate(group["conditions"]):
            yield "Only if" if number == 0 else "or if"
            yield from (f"  - {clause}" for clause in clauses)
        if more := group["more_conditions"]:
            yield f"or in {more} more case{'s' if more > 1 else ''}"
        yield "then:"
        for addition in group["then"]:
            yield from (f"  {text}" for text in _addition(addition))
    if most is not None and len(branches) > most:
        yield f"{len(branches) - most} more, only if other things turn out so; --why names them"
    if additions["more"]:
        yield f"And perhaps, depending on what is still open: {'; '.join(one['title'] for one in additions['more'])}"


def _addition(addition: Answer) -> Iterator[str]:
    offer = [
        f"stock number {addition['stock']}" if addition["stock"] else "",
        f"price {addition['price']}" if addition["price"] is not None else "",
    ]
    told = ", ".join(text for text in offer if text)
    yield f"{addition['title']} ({addition['type']}{', ' + told if told else ''})"
    yield f"  - {addition['do']}"
    yield from (f"  - Check: {text}" for text in addition["checks"])
    yield from (f"  - Take care: {text}" for text in addition["cautions"])


def _question(question: Answer, ways: Mapping[str, Answer]) -> Iterator[str]:
    yield f"- {question['text']}"
    if question["leads"]:
        for (_, label), lead in zip(question["values"], question["leads"]):
            yield f"  - {label}: {_lead(lead)}"
    elif question.get("values"):
        yield f"  {'; '.join(label for _, label in question['values'])}"
    elif question.get("unit"):
        yield f"  a number in {question['unit']}"
        yield from (f"  - {band['text']}: {_lead(band['lead'])}" for band in question["bands"])
    if question["with"]:
        yield f"  No single answer settles this. Ask with it: {question['with']['text']}"
    way = ways.get(question["find_out"] or "")
    if way:
        yield f"  How to find out: {way['title']}"
        yield from (f"    {number}. {step}" for number, step in enumerate(way["steps"], start=1))
        if way["hazard"] and way["hazard"] != "none":
            yield f"    Take care: {way['hazard']}"


def _lead(lead: Answer | None) -> str:
    """What an answer would lead to, as far as the rules go that ask."""
    if lead is None:
        return "cannot be"
    if lead["best"] == lead["worst"]:
        return f"then {VERDICT_WORDS[lead['best']]}"
    best = "" if lead["best"] == "works" else f", at best {VERDICT_WORDS[lead['best']]}"
    return f"more to find out{best}"


def _rests_on(rests_on: Answer) -> Iterator[str]:
    for name, title in (("told", "Told"), ("assumed", "Assumed"), ("unknown", "Not known")):
        if rests_on[name]:
            yield f"{title}: {'; '.join(line['text'] for line in rests_on[name])}"


def _sources(answer: Answer) -> Iterator[str]:
    for source in answer["sources"]:
        yield f"- {source['title']} ({source['kind'].replace('-', ' ')})"
    if answer["weakest_source"]:
        yield f"The weakest of them is {answer['weakest_source']['kind'].replace('-', ' ')}."
