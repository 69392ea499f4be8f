"""The page of each rule, and the list of rules by subject."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from build_tools.compile_rules import written_cases
from build_tools.pages import words
from build_tools.pages.causes import noticed
from build_tools.pages.crossref import kinds_of
from build_tools.pages.drawn import named, styles
from build_tools.pages.describe import bound_kinds, case_rows, part_title
from build_tools.pages.places import Links
from build_tools.pages.site import Page, Record, Site
from build_tools.pages.tables import ListedTable, listed_tables
from build_tools.pages.text import md

SECTION = "Rules"
ROLES = (
    ("about", "must be spoken of, or the rule says nothing"),
    ("partners", ""),
    ("helpers", "is not there unless you say so, and may be added"),
)
LINKED_VERDICTS = ("works", "works-with-additions", "cannot-tell", "will-not-work")


def pages(site: Site) -> Iterator[Page]:
    """Yield the list of rules and one page a rule."""
    yield _list(site)
    tables = listed_tables(site)
    for name in site.book["rule_order"]:
        yield _rule(site, site.book["rules"][name], tables.get(name))


def _rule(site: Site, rule: Record, table: ListedTable | None) -> Page:
    path = f"rules/{rule['id']}.md"
    links = site.links(path)
    cited = [source for case in written_cases(rule) for source in case["sources"]]
    drawn = named(site, "rules", rule["id"])
    values = {
        "drawings": drawn, "rule": rule, "links": links, "kinds": site.source_kinds(cited or [rule["source"]]), "roles": roles(links, rule),
        "cases": [_case(links, rule, case) for case in written_cases(rule)], "table": _table(links, table),
        "noticed": noticed(site, links, "rule", rule["id"]), "wrong": plain_binding(links, rule, rule["goes_wrong"] or ""), "codes": [links.to("code", code, code) for code in rule["codes"]],
        "cautions": [plain_binding(links, rule, text) for text in rule["cautions"]], "sources": [links.source(source) for source in rule["sources"]],
        "stops": [links.to("stop", name) for name in _stops(site, rule)], "answers": answers_with(site, links, rule["id"]),
        "siblings": [links.to("rule", name) for name in site.refs.rules_of_subject[rule["subject"]] if name != rule["id"]],
    }
    return Page(path, "rule.md.j2", values, rule["title"], SECTION, styles(drawn))


def roles(links: Links, rule: Record) -> list[dict[str, Any]]:
    """Return the parts a rule looks at, what being named or not means, and the attributes it reads of each."""
    bound = bound_kinds(rule)
    read = variables_by_slot(links.book, rule)
    rows = []
    for role, said in ROLES:
        for slot in rule[role]:
            unsaid = words.IF_UNSAID[links.book["slots"][slot]["if_unsaid"]] if slot in links.book["slots"] else ""
            kind = bound.get(slot) or links.book["slots"][slot]["kind"]
            head = links.to("kind", kind, part_title(links, bound, slot).replace("\\", ""))
            rows.append({"part": head, "said": said or unsaid,
                         "reads": [links.attribute(name, bound) for name in read.get(slot, ()) if not name.endswith(".fitted")]})
    return rows


def variables_by_slot(book: dict[str, Any], rule: Record) -> dict[str, list[str]]:
    """Return the attributes that the tests of a rule or stop read, by slot, in order; inputs of sums included."""
    found: dict[str, set[str]] = {}
    whens = [case["when"] for case in rule["cases"]] if "cases" in rule else [rule["when"]]
    waiting = [name for when in whens for row in when for test in row
               for name in (test.get("on"), test.get("same_as"), test.get("low"), test.get("high")) if isinstance(name, str)]
    while waiting:
        name = waiting.pop()
        head, _, tail = name.partition(".")
        if head == "sum":
            waiting.extend(book["sums"].get(tail, {}).get("inputs", {}).values())
        else:
            found.setdefault(head, set()).add(name)
    return {slot: sorted(names) for slot, names in found.items()}


def _case(links: Links, rule: Record, case: Record) -> dict[str, Any]:
    ways = [[addition_line(links, name) for name in way] for way in case["additions"]]
    because = plain_binding(links, rule, case["because"])
    own_words = {"goes_wrong": case["goes_wrong"] if case["goes_wrong"] != rule["goes_wrong"] else None,
                 "codes": case["codes"] if case["codes"] != rule["codes"] else []}
    return {
        "id": case["case"], "verdict": case["verdict"], "mark": words.mark(case["verdict"]), "because": because,
        "rows": case_rows(links, rule, case), "additions": ways,
        "goes_wrong": plain_binding(links, rule, own_words["goes_wrong"] or ""),
        "codes": [links.to("code", code, code) for code in own_words["codes"]],
        "cautions": [plain_binding(links, rule, text) for text in case["cautions"] if text not in rule["cautions"]],
        "sources": [links.source(source) for source in case["sources"]] if case["sources"] != rule["sources"] else [],
    }


def addition_line(links: Links, name: str) -> str:
    """Return an addition with its type, as Markdown."""
    record = links.book["additions"].get(name, {})
    kind = words.ADDITION_TYPES.get(record.get("type", ""), "To add")
    return f'<span class="db-type">{kind}</span> {links.to("addition", name)}'


def plain_binding(links: Links, rule: Record, text: str) -> str:
    """Return a sentence with the name of an `each` slot filled in by its kind."""
    for name, kind in bound_kinds(rule).items():
        text = text.replace("{" + name + "}", links.book["kinds"][kind]["title"].lower())
    return text


def answers_with(site: Site, links: Links, rule: str) -> list[str]:
    """Return links to the worked answers whose reasons name the rule."""
    using = [name for name, answer in sorted(site.answers.items()) if any(reason["rule"] == rule for reason in answer["reasons"])]
    return [links.to("build", name) for name in using]


def _stops(site: Site, rule: Record) -> list[str]:
    kinds = set(kinds_of(site.book, rule))
    found = {stop for kind in kinds for stop in site.refs.stops_of_kind.get(kind, ())}
    about = {kind for kind in kinds if kind in {(rule.get("each") or {}).get(slot) or site.book["slots"].get(slot, {}).get("kind")
                                                for slot in rule["about"]}}
    return sorted(name for name in found if about & set(kinds_of(site.book, site.book["stops"][name])))


def _table(links: Links, table: ListedTable | None) -> dict[str, Any] | None:
    if table is None:
        return None
    return {
        "corner": f"{md(links.book['slots'][table.down]['title'])} / {md(links.book['slots'][table.across]['title'])}",
        "heads": [links.to("family", name) for name in table.columns],
        "rows": [{"head": links.to("family", name), "cells": [words.mark(cell) if cell else "does not apply" for cell in cells]}
                 for name, cells in table.rows],
    }


def _list(site: Site) -> Page:
    path = "rules/index.md"
    links = site.links(path)
    groups = []
    for name in site.book["subject_order"]:
        subject = site.book["subjects"][name]
        here = [rule for rule in site.book["rule_order"] if site.book["rules"][rule]["subject"] == name]
        if here:
            groups.append({"title": subject["title"], "anchor": name, "lead": md(subject["question"]),
                           "items": [_item(links, site.book["rules"][rule]) for rule in here]})
    lead = ("Each rule is one mechanism: what it looks at, the cases in order, and what to do about each. "
            "The first case that fits decides. The marks show which verdicts a rule can come to.")
    also = [links.page("stops/index.md", "stops"), links.page("additions/index.md", "additions"), links.page("codes/index.md", "fault codes"),
            links.page("subjects/index.md", "subjects"), links.page("sources/index.md", "sources")]
    return Page(path, "list.md.j2", {"title": "Rules", "lead": lead, "groups": groups, "links": links, "also": also}, "Rules", SECTION)


def _item(links: Links, rule: Record) -> dict[str, str]:
    verdicts = {case["verdict"] for case in written_cases(rule)}
    marks = " ".join(f'<svg class="db-mark db-mark--{v}" role="img" aria-label="{words.VERDICTS[v]}"><use href="#mark-{v}"></use></svg>'
                     for v in LINKED_VERDICTS if v in verdicts)
    return {"head": links.to("rule", rule["id"]), "text": "", "side": f'<span class="db-reach">{marks}</span>'}
