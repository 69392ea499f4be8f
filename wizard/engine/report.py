"""The answer to one build, field by field as DEVELOPERS.md documents it (schema 1)."""
from __future__ import annotations

import json
from typing import Any, NamedTuple

from .asked import Asked, said, what_is_asked
from .build import Build, read_build, write_build
from .changes import Change, find_changes
from .clash import find_clash
from .conditions import when_text
from .decision import reaches
from .verdict import Decision, decide_verdict
from .groups import make_unit
from .question import Question, ask, question_space, unit_boxes
from .findings import adding, reachable, view
from .model import CANNOT_TELL, FAILS, VERDICTS, Book, Instance
from .space import Space, keep
from . import wording

ANSWER_SCHEMA = 1


class Judged(NamedTuple):
    """A build judged once: what is asked, the question, the decision, the verdict after stops."""

    asked: Asked
    question: Question
    decision: Decision
    subjects: tuple[tuple[str, int], ...]
    stops: tuple[tuple[Instance, str, str], ...]        # (stop, certain or possible, when)
    verdict: int | None
    refused: bool


def answer(book: Book, build_json: str) -> str:
    """Answer a build: JSON in, JSON out, the same bytes for the same input wherever it runs.

    Raises `BuildError` when the build cannot be read; a build that contradicts itself is an answer, not an error.
    """
    build = read_build(book, build_json)
    judged = judge(book, build, frozenset())
    out = _json(book, build, judged)
    return json.dumps(out, sort_keys=True, ensure_ascii=False, separators=(",", ":"))


def judge(book: Book, build: Build, drop: frozenset, brief: bool = False) -> Judged:
    """The verdict with the statements in `drop` treated as never made; `brief` leaves out the subjects' own."""
    if drop:
        right = tuple(r for r in build.right if ("right", *r) not in drop)
        build = build._replace(right=right)
    asked = what_is_asked(book, build)
    space = question_space(book, build, asked.rules, asked.stops, drop)
    known: dict = {}
    q = ask(book, build, space, asked.rules, known)
    if not q.consistent:
        return Judged(asked, q, Decision(CANNOT_TELL, None, (), False), (), (), None, False)
    open_slots = {s for s, e in build.slots.items() if e.state in ("open", "made_to_order") and ("slot", s) not in drop}
    decision = decide_verdict(q, bool(open_slots))
    read = {v for r in asked.rules for v in r.reads}
    stops = tuple(s for s in (_stop(book, build, q, inst, known["moved"]) for inst in asked.stops)
                  if s is not None and (s[1] == "certain" or _near(book, build, inst=s[0], read=read)))
    refused = any(how == "certain" and book.data["stops"][i.rule]["effect"] == "refuse" for i, how, _ in stops)
    subjects = []
    for subject in () if brief else asked.subjects:
        rules = tuple(r for r in asked.rules if r.subject == subject)
        subjects.append((subject, _subject(book, build, space, rules, asked, open_slots, known)))
    return Judged(asked, q, decision, tuple(subjects), stops, FAILS if refused else decision.verdict, refused)


def _subject(book: Book, build: Build, space: Space, rules: tuple[Instance, ...], asked: Asked,
             open_slots: set[str], known: dict) -> int:
    """The verdict of one subject by itself; kept for as long as nothing that it can feel is told anew."""
    keys = tuple([r.key for r in rules])
    mine, near = keep(book, ("near", keys), lambda: (
        frozenset(s for r in rules for s in _slots_read(book, r)),
        frozenset(s for r in rules for s in (*_slots_read(book, r), *book.layout.ready[r.key].slots))))
    tied = known["narrowed"].tied
    near |= tied if near & tied else frozenset()
    key = ("subject", keys, tuple([space.said[s] for s in sorted(near)]), space.told, build.right,
           build.allowed_types, tuple([s for s, e in build.slots.items() if e.keep]), space.ties)
    return keep(book, key, lambda: decide_verdict(
        ask(book, build, space, rules, known, mine), bool(open_slots & mine)).verdict)


def _slots_read(book: Book, inst: Instance) -> set[str]:
    related = {s for _, of in book.layout.ready[inst.key].relations for s in of}
    return {v.split(".")[0] for v in inst.reads} | related | set(inst.about) | set(inst.partners)


def _stop(book: Book, build: Build, q: Question, inst: Instance, moved: dict[int, int]) -> tuple[Instance, str, str] | None:
    """Whether a stop certainly or possibly applies, and when; None when it cannot."""
    unit = make_unit(book, build, (inst,), (0,))
    boxes = unit_boxes(book, q.space, unit, q.free_dom, moved).boxes
    live = [b for b in boxes if len(boxes) == 1 or reaches(q, q.free_dom, b)[0]]
    hit = [b for b in live if b.cases[0] == 0]
    if not hit:
        return None
    if len(hit) == len(live):
        return inst, "certain", ""
    return inst, "possible", when_text(q, hit, q.free_dom)


def _near(book: Book, build: Build, inst: Instance, read: set[str]) -> bool:
    """Whether a stop that is only possible has to do with what was said or asked.

    A refusal that hangs on something nobody spoke of, and that no rule in question looks at, would stand beside every
    answer and soon be read by nobody. A test to make first (`hold`) is always said.
    """
    if book.data["stops"][inst.rule]["effect"] == "hold":
        return True
    mine = [v for v in inst.reads if not v.endswith(".fitted")]
    return not mine or any(v in read or said(build, v) or _listed(book, build, v) for v in mine)


def _listed(book: Book, build: Build, name: str) -> bool:
    """Whether a listed part that was named has something on record for an attribute."""
    slot, _, attr = name.partition(".")
    entry = build.slots.get(slot)
    named = () if entry is None else (*entry.families, *(f for o in entry.options for f in o.families))
    return any(attr in book.data["families"][f]["attributes"] for f in named)


def assumed_keys(build: Build) -> frozenset:
    """The statements that rest on somebody's word."""
    keys = {("told", s, a) for s, e in build.slots.items() for a, t in e.told.items() if t.assumed}
    keys |= {("hand", s, i, a) for s, e in build.slots.items() for i, o in enumerate(e.options)
             for a, t in o.told.items() if t.assumed}
    keys |= {("relation", i) for i, r in enumerate(build.relations) if r.assumed}
    return frozenset(keys | {("right", *r) for r in build.right})


def contradiction(book: Book, build: Build) -> list[str]:
    """One smallest set of statements that cannot all be true, in words."""
    keys = [("slot", s) for s, e in build.slots.items() if e.state not in ("exists", "described", "not_sure", "maybe")]
    keys += [("told", s, a) for s, e in build.slots.items() for a, t in e.told.items() if t.values or t.span]
    keys += [("relation", i) for i, r in enumerate(build.relations) if r.value != "not_sure"]
    asked = what_is_asked(book, build)
    dropped: set = set()
    for key in keys:
        q = ask(book, build, question_space(book, build, asked.rules, asked.stops, frozenset(dropped | {key})), ())
        if not q.consistent:
            dropped.add(key)
    return [statement_text(book, build, k) for k in keys if k not in dropped]


def statement_text(book: Book, build: Build, key: tuple) -> str:
    """A statement in words."""
    if key[0] == "slot":
        return wording.slot_text(book, build, key[1])
    if key[0] == "told":
        return wording.told_text(book, build, key[1], key[2])
    if key[0] == "hand":
        option = build.slots[key[1]].options[key[2]]
        return wording.told_text(book, build._replace(slots={key[1]: option}), key[1], key[3])
    if key[0] == "keep":
        return wording.keep_text(book, key[1])
    if key[0] == "nothing_added":
        return wording.NOTHING_ADDED
    if key[0] == "right":
        return f"taken as right: {book.data['rules'][key[1]]['title']}"
    r = build.relations[key[1]]
    return wording.relation_text(book, r.kind, r.of, r.value)


def clash_json(book: Book, build: Build, key: tuple) -> dict[str, Any]:
    """A statement of the clash: what it is about, and its words."""
    about = {"slot": lambda: key[1], "told": lambda: f"{key[1]}.{key[2]}", "keep": lambda: key[1],
             "nothing_added": lambda: "nothing_added",
             "relation": lambda: " ".join((build.relations[key[1]].kind, *build.relations[key[1]].of))}[key[0]]()
    return {"kind": key[0], "about": about, "text": statement_text(book, build, key)}


def change_json(book: Book, build: Build, c: Change) -> dict[str, Any]:
    """A change with the verdict and additions that it leads to, and the build to ask again."""
    after = c.judged
    add = adding(after.question, reachable(after.question, view(after.question, after.decision)))
    keys = [*add.certain, *(k for ways in add.one_of for k in ways[0])]
    texts = [wording.change_text(book, build, s, f) for s, f in c.parts]
    texts += [wording.ways_text(book, c.ways)] if c.ways else []
    texts += [wording.ALLOW] if c.allow else []
    return {"text": wording.steps_text(texts), "parts": [{"slot": s, "family": f, "title": wording.slot_title(book, s)}
                                                   for s, f in c.parts],
            "ways": [{"slot": s, "attr": a, "value": v} for s, a, v in c.ways], "allow_additions": c.allow,
            "price": c.price if c.parts else None, "verdict": VERDICTS[c.verdict],
            "additions": [{"addition": k[0], "title": book.data["additions"][k[0]]["title"]} for k in keys],
            "build": write_build(c.build)}


def _json(book: Book, build: Build, j: Judged) -> dict[str, Any]:
    from .sections import body, empty_body
    out: dict[str, Any] = {
        "schema": ANSWER_SCHEMA, "edition": book.data["edition"],
        "verdict": None if j.verdict is None else VERDICTS[j.verdict], "refused": j.refused,
        "contradiction": contradiction(book, build) if j.verdict is None else None,
        "subjects": [{"subject": s, "title": book.data["subjects"][s]["title"], "verdict": VERDICTS[v]}
                     for s, v in j.subjects],
        "clash": [], "changes": [], "limit_hit": j.decision.limit,
        "without_assumed": None, "clash_rules": [], "clash_text": "", "changes_text": "",
    }
    out |= empty_body() if j.verdict is None else body(book, build, j)
    if j.verdict == FAILS and not j.refused:
        clash, guilty = find_clash(book, build, j.question, j.asked.rules)
        out["clash"] = [clash_json(book, build, k) for k in clash]
        out["clash_rules"] = [{"rule": r.rule, "slot": r.slot, "title": wording.rule_title(book, r)} for r in guilty]
        out["clash_text"] = wording.because_text([statement_text(book, build, k) for k in clash],
                                                 [wording.rule_title(book, r) for r in guilty])
        failed = [s for s, v in j.subjects if v == FAILS]
        out["changes"] = [change_json(book, build, c) for c in find_changes(
            book, build, clash, guilty, lambda b, brief: judge(book, b, frozenset(), brief), failed)]
        if out["changes"]:
            out["changes_text"] = wording.changes_text(any(c["verdict"] != VERDICTS[CANNOT_TELL] for c in out["changes"]))
    assumed = assumed_keys(build)
    rests: list[str] = []
    if assumed and j.verdict is not None:
        other = judge(book, build, assumed, brief=True)
        if other.verdict is not None:
            out["without_assumed"] = VERDICTS[other.verdict]
            if other.verdict != j.verdict:
                rests = [statement_text(book, build, k) for k in sorted(assumed, key=str)]
    first = out["questions"][0] if out["questions"] else None
    out["headline"] = wording.headline(j.verdict, j.refused, rests, bool(j.decision.strategies), first and first["text"],
                                       j.verdict is not None and not j.asked.rules and not j.refused)
    return out
