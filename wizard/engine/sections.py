"""The parts of an answer below its verdict: reasons, additions, questions, sums, sources, what it rests on."""
from __future__ import annotations

from typing import TYPE_CHECKING, Any, Sequence

from .additions import additions_json
from .build import Build
from .choices import choices_json
from .question import Question
from .quantity import sum_span
from .grounds import grounds, weakest
from .findings import Reason, adding, deciding, reachable, reasons, view
from .model import ADDITIONS, CANNOT_TELL, FAILS, VERDICTS, WORKS, Book, Instance, bound
from .space import keep
from .questions import Ask, open_questions, question_json
from .leads import PAIRED, add_leads
from . import wording

if TYPE_CHECKING:
    from .report import Judged

REASONS_IN_FULL = 24    # rules whose reasons one answer tells in full; of the others only the outcome


def empty_body() -> dict[str, Any]:
    """The sections of an answer that has no verdict."""
    return {"summary": [], "scope": {"asked": [], "whole_swap": False, "text": "", "not_looked_at": [], "checks": []},
            "stops": {"certain": [], "possible": [], "hold": []}, "decided_by": None,
            "rests_on": {"told": [], "assumed": [], "unknown": []}, "reasons": [], "choices": [],
            "additions": {"certain": [], "one_of": [], "only_if": [], "more": []}, "questions": [], "sums": [],
            "sources": [], "weakest_source": None, "left_out": {"questions": 0, "reasons": 0, "only_if": 0, "sums": 0}}


def body(book: Book, build: Build, j: "Judged") -> dict[str, Any]:
    """All sections of an answer with a verdict."""
    q, d = j.question, j.decision
    dom = view(q, d)
    live = reachable(q, dom)
    found = reasons(q, live)
    add = adding(q, live) if not j.refused and j.verdict in (WORKS, ADDITIONS, CANNOT_TELL) else None
    asks, unasked = ([], 0) if j.refused or j.verdict in (FAILS, WORKS) else open_questions(q, build, dom, live)
    questions = [question_json(q, a, dom) for a in asks]
    for number, (ask, line) in enumerate(zip(asks, questions)):
        add_leads(q, ask, line, dom, live, number < PAIRED)
    decided = None if j.refused else deciding(found, j.verdict, frozenset(asks[0].touches) if asks else frozenset())
    whole = _in_full(found, asks)
    reason_list = [_reason(q, build, dom, r) if r.inst.key in whole else _brief_reason(book, r) for r in found]
    out: dict[str, Any] = {
        "scope": _scope(book, build, j), "stops": _stops(book, j),
        "decided_by": None if decided is None else _decided(book, decided),
        "rests_on": _rests_on(book, build, asks), "reasons": reason_list,
        "choices": [] if j.refused else choices_json(q, build, d),
        "additions": {"certain": [], "one_of": [], "only_if": [], "more": []}, "questions": questions,
    }
    out["sums"], unknown_sums = _sums(book, build, q, dom, j.asked.rules)
    perhaps = 0
    if add is not None:
        out["additions"], perhaps = additions_json(q, dom, add, found)
    out["left_out"] = {"questions": unasked, "reasons": len(found) - len(whole), "only_if": len(out["additions"]["more"]),
                       "sums": unknown_sums}
    out["summary"] = _summary(book, j, found, decided, out, perhaps)
    used = sorted({s for r in found for c, _ in r.cases for s in _sources_of(book, r, c)}
                  | {s.split("#")[0] for x in out["sums"] for s in x["sources"]})
    used = sorted({*used, *(f["source"].split("#")[0] for r in reason_list for c in r["cases"] for f in c["facts"]
                            if f["source"])})
    records = [book.data["sources"][s] for s in used if s in book.data["sources"]]
    out["sources"] = [{"source": r["id"], "kind": r["kind"], "title": r["title"]} for r in records]
    out["weakest_source"] = weakest(book.data["sources"], used)
    return out


def _sources_of(book: Book, r: Reason, case: int) -> list[str]:
    return [s.split("#")[0] for s in book.data["rules"][r.inst.rule]["cases"][case].get("sources") or ()]


def _in_full(found: Sequence[Reason], asks: Sequence[Ask]) -> frozenset[str]:
    """The reasons that are told in full: what fails or cannot be told first, then what the questions are about."""
    asked = {key for a in asks for key in a.touches}

    def place(r: Reason) -> int:
        if r.settled:
            return 0 if r.worst > ADDITIONS else 2 if r.worst == ADDITIONS else 4
        return 1 if r.inst.key in asked else 3

    return frozenset(r.inst.key for r in sorted(found, key=place)[:REASONS_IN_FULL])


def _brief_reason(book: Book, r: Reason) -> dict[str, Any]:
    """A reason of which only the outcome is told, because there are too many; its page says the rest."""
    return {"rule": r.inst.rule, "slot": r.inst.slot, "title": wording.rule_title(book, r.inst), "subject": r.inst.subject,
            "verdict": VERDICTS[r.worst], "settled": r.settled, "cases": [], "blocked": []}


def _reason(q: Question, build: Build, dom: Sequence[int], r: Reason) -> dict[str, Any]:
    """A reason as the answer carries it, kept for as long as its rule sees the same."""
    near = tuple([dom[v] for v in r.unit.touched] + [dom[q.space.part[s]] for s in r.unit.slots])
    key = ("reason", r.inst.key, r.found, r.cases, r.blocked, near, len(r.boxes))
    if key in q.book.kept and q.book.kept[key][0] == r.boxes:
        return q.book.kept[key][1]
    made = _reason_anew(q, build, dom, r)
    q.book.kept[key] = r.boxes, made        # in place of what its rule came to in other boxes
    return made


def _reason_anew(q: Question, build: Build, dom: Sequence[int], r: Reason) -> dict[str, Any]:
    book = q.book
    record = book.data["rules"][r.inst.rule]
    prepared = book.layout.ready[r.inst.key].rule
    cases = []
    for c, verdict in r.cases:
        case = record["cases"][c]
        fill = lambda text: wording.fill(book, r.inst, text)
        cases.append({"case": case["case"], "verdict": VERDICTS[verdict], "because": fill(case["because"]),
                      "goes_wrong": fill(case.get("goes_wrong")), "codes": list(case.get("codes") or ()),
                      "cautions": [fill(t) for t in case.get("cautions") or ()],
                      "sources": sorted({s.split("#")[0] for s in case.get("sources") or ()}),
                      "facts": grounds(q, build, dom, r, prepared, c) if r.settled else []})
        said = [*(case.get("sources") or ()), *(f["source"] for f in cases[-1]["facts"])]
        cases[-1]["weakest_source"] = weakest(book.data["sources"], said)
    return {"rule": r.inst.rule, "slot": r.inst.slot, "title": wording.rule_title(book, r.inst),
            "subject": r.inst.subject, "verdict": VERDICTS[r.worst], "settled": r.settled, "cases": cases,
            "blocked": [book.data["additions"][a]["title"] for a, _ in r.blocked]}


def _decided(book: Book, r: Reason) -> dict[str, Any]:
    record = book.data["rules"][r.inst.rule]
    worst = max(r.cases, key=lambda c: (c[1], c[0]))[0]      # of equals the last: words of origin come first
    return {"rule": r.inst.rule, "slot": r.inst.slot, "cases": [record["cases"][c]["case"] for c, _ in r.cases],
            "text": wording.fill(book, r.inst, record["cases"][worst]["because"])}


def _scope(book: Book, build: Build, j: "Judged") -> dict[str, Any]:
    passed = [{"rule": i.rule, "slot": i.slot, "title": wording.rule_title(book, i), "unsaid": list(missing)}
              for i, missing in j.asked.passed]
    there = [(i, untold) for i, untold in j.asked.checks if not any(_not_there(build, name) for name in untold)]
    texts = [wording.check_text(book, untold) for _, untold in there]
    checks = [{"rule": i.rule, "slot": i.slot, "title": wording.rule_title(book, i), "unsaid": list(untold),
               "text": wording.check_of_slot(book, i.slot, text) if i.slot and texts.count(text) > 1 else text}
              for (i, untold), text in zip(there, texts)]
    return {"asked": list(j.asked.subjects), "whole_swap": build.whole_swap, "not_looked_at": passed, "checks": checks,
            "text": wording.scope_text(book, j.asked.subjects, build.whole_swap, len(passed), len(checks))}


def _not_there(build: Build, name: str) -> bool:
    """Whether the part of an attribute was said not to be fitted, so that nothing about it can be checked."""
    entry = build.slots.get(name.partition(".")[0])
    return entry is not None and entry.state == "none"


def _stops(book: Book, j: "Judged") -> dict[str, Any]:
    out: dict[str, list] = {"certain": [], "possible": [], "hold": []}
    for inst, how, when in sorted(j.stops, key=lambda stop: stop[1] != "certain"):      # what holds before what may
        record = book.data["stops"][inst.rule]
        item = {"stop": inst.rule, "slot": inst.slot, "title": wording.rule_title(book, inst, "stops"),
                "say": wording.fill(book, inst, record["say"]), "why": wording.fill(book, inst, record.get("why")),
                "instead": wording.fill(book, inst, record.get("instead")), "when": when,
                "sources": sorted(s.split("#")[0] for s in record.get("sources") or ())}
        out["hold" if record["effect"] == "hold" else how].append(item)
    return out


def _rests_on(book: Book, build: Build, asks) -> dict[str, Any]:
    out: dict[str, list] = {"told": [], "assumed": [], "unknown": []}
    for slot, entry in build.slots.items():
        if entry.state not in ("described", "exists"):
            where = "unknown" if entry.state in ("not_sure", "maybe") else "told"
            out[where].append({"about": slot, "text": wording.slot_text(book, build, slot)})
        for attr, told in entry.told.items():
            where = "unknown" if told.values is None and told.span is None else "assumed" if told.assumed else "told"
            out[where].append({"about": f"{slot}.{attr}", "text": wording.told_text(book, build, slot, attr)})
    for r in build.relations:
        text = wording.relation_text(book, r.kind, r.of, "no" if r.value == "no" else "yes")
        where = "unknown" if r.value == "not_sure" else "assumed" if r.assumed else "told"
        out[where].append({"about": f"{r.kind} {' + '.join(r.of)}", "text": text})
    for rule, _ in build.right:
        out["assumed"].append({"about": rule, "text": f"taken as right: {book.data['rules'][rule]['title']}"})
    said = {t["about"] for t in out["unknown"]}
    out["unknown"] += [{"about": a.name, "text": wording.name_text(book, a.name)} for a in asks
                       if a.name not in said and " " not in a.name]
    return out


def _because(book: Book, r: Reason, good: bool) -> list[str]:
    """What a rule says in the cases that come out well, or in the others."""
    cases = book.data["rules"][r.inst.rule]["cases"]
    return [wording.fill(book, r.inst, cases[c]["because"]) for c, v in r.cases if (v <= ADDITIONS) == good]


def _summary(book: Book, j: "Judged", found: Sequence[Reason], decided: Reason | None, out: dict,
             perhaps: int) -> list[str]:
    """At most three sentences: the stop or the deciding reason, what to add, and what the verdict speaks of."""
    lines = []
    if j.refused:
        lines += [s["say"] for s in out["stops"]["certain"]][:2]
    elif j.verdict == FAILS and decided is None:
        worst = [r for r in found if r.worst == FAILS]
        lines.append(wording.clash_text([wording.rule_title(book, r.inst) for r in worst[:3]]))
    elif decided is not None and j.verdict == CANNOT_TELL and not decided.settled:
        lines.append(wording.either_text(_because(book, decided, True), _because(book, decided, False), None))
    elif decided is not None and not decided.settled and len({v for _, v in decided.cases}) > 1:
        lines.append(wording.depending_text(out["decided_by"]["text"]))
    elif decided is not None:
        lines.append(out["decided_by"]["text"])
    a = out["additions"]
    lines.append(wording.certain_addition(len(a["certain"]), len(a["one_of"]), perhaps))
    lines.append(out["scope"]["text"])
    return [t for t in lines if t][:3]


def _sums(book: Book, build: Build, q: Question, dom: Sequence[int],
          rules: Sequence[Instance]) -> tuple[list[dict[str, Any]], int]:
    """Every sum that a rule in question reads and of which some input is known; and how many more there are."""
    wanted = {key: (name, inputs) for inst in rules
              for key, name, inputs in keep(book, ("sums read", inst.key), lambda: _sums_read(book, inst))}
    lines = [line for line in (_sum(book, build, q, dom, *wanted[key]) for key in sorted(wanted)) if line is not None]
    known = [line for line in lines if any(row["known"] for row in line["inputs"])]
    return known, len(lines) - len(known)


def _sums_read(book: Book, inst: Instance) -> list[tuple[str, str, dict[str, str]]]:
    """The sums that a rule's tests name, each with what identifies it and its inputs, parameter -> slot.attr."""
    out = []
    for test in (t for case in inst.cases for row in case.rows for t in row):
        for n in (test.get("on"), test.get("low"), test.get("high")):
            if isinstance(n, str) and n.startswith("sum."):
                inputs = {p: bound(v, inst.bind) for p, v in book.data["sums"][n[4:]]["inputs"].items()}
                out.append((f"{n} {sorted(inputs.values())}", n[4:], inputs))
    return out


def _sum(book: Book, build: Build, q: Question, dom: Sequence[int], sum_id: str,
         inputs: dict[str, str]) -> dict[str, Any] | None:
    record, space = book.data["sums"][sum_id], q.space
    live = {s: [c for i, c in enumerate(space.candidates[s]) if dom[space.part[s]] >> i & 1 and c.kind != "none"]
            for s in {v.split(".")[0] for v in inputs.values()}}
    if any(not cs for cs in live.values()):
        return None
    if any(dom[space.index[v]] == 1 << (len(space.values[space.index[v]]) - 1) for v in inputs.values()):
        return None         # an input does not apply
    rows = []
    missing = False
    for param, name in sorted(inputs.items()):
        slot, _, attr = name.partition(".")
        a = next(a for a in book.kinds[book.slot_kind[slot]].attributes if a.id == attr)
        spans = [c.spans.get(attr, (a.low, a.high)) for c in live[slot]]
        known = all(attr in c.known for c in live[slot])
        missing = missing or not known
        unit = (wording.attribute(book, name) or {}).get("unit")
        ends = min(s[0] for s in spans), max(s[1] for s in spans)
        exact = (a.band and _told_numbers(build, slot, attr)) or ends       # ends that a band moved are our own digits
        rows.append({"name": name, "title": wording.name_text(book, name), "unit": unit, "known": known, "low": ends[0],
                     "high": ends[1], "shown": wording.span_text(*ends, unit or "", wording.digits_of(*exact))})
    low = high = None
    shown = "not known yet"
    if not missing:
        from itertools import product
        slots = sorted(live)
        combos = [dict(zip(slots, c)) for c in product(*(live[s] for s in slots))][:4096]
        spans = [s for s in (sum_span(book, sum_id, inputs, of) for of in combos) if s is not None]
        if spans:
            low, high = min(s[0] for s in spans), max(s[1] for s in spans)
            shown = wording.span_text(low, high, record["unit"], record.get("digits") or 4)
    return {"sum": sum_id, "title": record["title"], "low": low, "high": high, "unit": record["unit"], "shown": shown,
            "formula": record["formula"], "inputs": rows,
            "sources": list(record.get("sources") or ([record["source"]] if record.get("source") else []))}


def _told_numbers(build: Build, slot: str, attr: str) -> list[float]:
    """The ends of what was told of a number, of whichever part in hand."""
    entry = build.slots.get(slot)
    tolds = [] if entry is None else [entry.told.get(attr), *(one.told.get(attr) for one in entry.options)]
    return [end for told in tolds if told is not None and told.span is not None for end in told.span]
