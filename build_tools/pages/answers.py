"""The page of each worked answer, from the engine's answer, and the list of them. It words nothing and decides nothing."""

from __future__ import annotations

import posixpath
from collections.abc import Iterator
from typing import Any

from build_tools.pages import words
from build_tools.pages.answer_parts import parts_list
from build_tools.pages.places import Links
from build_tools.pages.site import Page, Record, Site
from build_tools.pages.text import capital, day, either, md, span

SECTION = "Answers"
FROM = {"listed": "listed", "told": "told", "assumed": "assumed", "chosen": "our choice", "worked-out": "worked out", "unknown": "not known"}
STOP_HEADS = (("certain", "Stop"), ("possible", "Stop, if this is so"), ("hold", "Test first"))


def pages(site: Site) -> Iterator[Page]:
    """Yield the list of worked answers and one page an answer; a build without an answer gets none."""
    yield _list(site)
    for name in sorted(site.answers):
        yield _answer(site, site.book["builds"][name], site.answers[name])


def _answer(site: Site, build: Record, answer: Record) -> Page:
    path = f"answers/{build['id']}.md"
    links = site.links(path)
    parts = parts_list(site, links, build["build"], answer)
    stops = stop_rows(links, answer)
    values = {
        "build": build, "answer": answer, "links": links, "mark": words.mark(answer["verdict"], md(answer["headline"])), "stops": stops, "parts": parts,
        "before_work": words.BEFORE_WORK if parts["work"] else "", "qualified": words.QUALIFIED, "opinion": words.OPINION, "law": words.LAW,
        "check_link": _check_link(site, path, build["build"]), "contradiction": [md(text) for text in answer["contradiction"] or ()],
        "decided": _decided(links, answer["decided_by"]), "clash": [md(_text(entry)) for entry in answer["clash"]],
        "changes": [_change(entry) for entry in answer["changes"]],
        "subjects": [{"link": links.to("subject", row["subject"], row["title"]), "mark": words.mark(row["verdict"])} for row in answer["subjects"]],
        "questions": [_question(links, question) for question in answer["questions"]],
        "reasons": [_reason(links, reason) for reason in _worst_first(answer["reasons"])], "sums": [_sum(links, entry) for entry in answer["sums"]],
        "cautions": cautions(answer),
        "rests": [{"title": title, "items": [md(capital(entry["text"])) for entry in answer["rests_on"][key]]}
                  for key, title in (("told", "Told"), ("assumed", "Assumed"), ("unknown", "Not known")) if answer["rests_on"][key]],
        "without_assumed": words.mark(answer["without_assumed"]) if answer["without_assumed"] else "",
        "not_looked_at": [links.to("rule", entry["rule"], entry["title"]) for entry in answer["scope"]["not_looked_at"]],
        "checks": [f"{links.to('rule', entry['rule'], entry['title'])}: {md(entry['text'])}" for entry in answer["scope"]["checks"]],
        "sources": [f"{links.source(entry['source'])} ({words.SOURCE_KINDS[entry['kind']]})" for entry in answer["sources"]],
        "weakest": _weakest(links, answer["weakest_source"]),
    }
    return Page(path, "answer.md.j2", values, build["title"], SECTION, {"search": {"exclude": True}})


def _refused(answer: Record) -> str | None:
    if answer["contradiction"]:
        return "These cannot all be true"
    return f"{words.VERDICTS[answer['verdict']]}: refused" if answer["refused"] else None


def stop_rows(links: Links, answer: Record) -> list[dict[str, Any]]:
    """Return the stops of an answer, those that hold for certain first."""
    return [{"head": head, "link": links.to("stop", stop["stop"], stop["title"]), "say": stop["say"], "why": stop["why"] or "",
             "instead": stop["instead"] or "", "when": stop.get("when") or ""}
            for key, head in STOP_HEADS for stop in answer["stops"][key]]


def cautions(answer: Record) -> list[str]:
    """Return the cautions of the reasons, each once, in the order they come."""
    return list(dict.fromkeys(text for reason in answer["reasons"] for case in reason["cases"] for text in case["cautions"]))


def _check_link(site: Site, path: str, build: Record) -> str:
    """Return the link that opens the same build in the check; raw HTML, since the builder cannot check what is after #."""
    up = "../" * (posixpath.dirname(path).count("/") + 2)
    fragment = site.address(build).replace("&", "&amp;")
    return f'<a class="db-button" href="{up}check/#{fragment}">Open this in the combination check</a>'


def _decided(links: Links, decided: Record | None) -> str:
    if not decided:
        return ""
    return f"Decided by: {links.to('rule', decided['rule'])}."


def _text(entry: Any) -> str:
    return entry if isinstance(entry, str) else str(entry.get("text") or entry.get("title") or "")


def _change(entry: Record) -> str:
    """Return one change that would help, with the verdict it leads to when the engine gives one."""
    verdict = entry.get("verdict") if isinstance(entry, dict) else None
    return md(capital(_text(entry))) + (f" {words.mark(verdict)}" if verdict in words.VERDICTS else "")


def _question(links: Links, question: Record) -> dict[str, str]:
    if question["values"]:
        values = f"({md(either(label for _, label in question['values']))})"
    elif question["low"] is not None:
        values = f"({span(question['low'], question['high'], question['unit'])})"
    else:
        values = ""
    how = links.to("find_out", question["find_out"], "How to find out") + "." if question["find_out"] else ""
    return {"text": question["text"], "values": values, "how": how}


def _reason(links: Links, reason: Record) -> dict[str, Any]:
    cases = [{"mark": words.mark(case["verdict"]), "because": case["because"], "rests": _rests(links, case),
              "link": links.to("rule", reason["rule"], "The case in the rule", anchor=case["case"]) + "."} for case in reason["cases"]]
    anchor = f"reason-{reason['rule']}" + (f"-{reason['slot']}" if reason["slot"] else "")
    return {"link": links.to("rule", reason["rule"], reason["title"]), "anchor": anchor, "cases": cases, "wrong": _wrong(links, reason),
            "blocked": [md(title) for title in reason["blocked"]]}


def _rests(links: Links, case: Record) -> str:
    """Return what a case rests on: the facts it took, each with its source and date, and the sources of the rule."""
    facts = []
    for fact in case["facts"]:
        source = f", {links.source(fact['source'])}" if fact["source"] else ""
        checked = f", checked {day(fact['checked'])}" if fact["checked"] else ""
        facts.append(f"{md(fact['text'].rstrip('.'))} ({FROM.get(fact['from'], fact['from'])}{source}{checked})")
    rule = f"The rule: {'; '.join(links.source(source) for source in case['sources'])}."
    return f"{'; '.join(facts)}. {rule}" if facts else rule


def _wrong(links: Links, reason: Record) -> list[str]:
    """Return what goes wrong in the cases of a reason, each once, with the codes that may set."""
    found: dict[str, list[str]] = {}
    for case in reason["cases"]:
        if case["goes_wrong"]:
            found.setdefault(case["goes_wrong"], []).extend(code for code in case["codes"] if code not in found.get(case["goes_wrong"], ()))
    lines = []
    for text, codes in found.items():
        said = f" Codes that may set: {', '.join(links.to('code', code, code) for code in codes)}." if codes else ""
        lines.append(md(text) + said)
    return lines


def _worst_first(reasons: list[Record]) -> list[Record]:
    return sorted(reasons, key=lambda reason: -list(words.VERDICTS).index(reason["verdict"]))


def _sum(links: Links, entry: Record) -> dict[str, Any]:
    return {"link": links.to("sum", entry["sum"], entry["title"]), "shown": entry["shown"], "formula": entry["formula"],
            "inputs": [f"{md(row['title'])}: {md(row['shown'])}"
                       f"{'' if row.get('known', True) else ' (not known: the plausible range)'}" for row in entry["inputs"]],
            "sources": "; ".join(links.source(source) for source in entry["sources"])}


def _weakest(links: Links, weakest: Record | None) -> str:
    if not weakest:
        return "Nothing was looked at, so nothing is cited."
    return f"The weakest is {links.source(weakest['source'])}: {words.SOURCE_KINDS[weakest['kind']]}. {words.SOURCE_MEANS[weakest['kind']]}"


def answer_items(site: Site, links: Links) -> list[dict[str, str]]:
    """Return a line for each worked answer: link, question, marked verdict."""
    rows = []
    for name in sorted(site.answers):
        build, answer = site.book["builds"][name], site.answers[name]
        rows.append({"head": links.to("build", name), "text": md(build["asked"]), "side": words.mark(answer["verdict"], _refused(answer))})
    return rows


def _list(site: Site) -> Page:
    path = "answers/index.md"
    links = site.links(path)
    items = answer_items(site, links)
    lead = ("Questions as callers ask them, each answered by the same engine as the combination check. "
            "These pages need no script, and each opens in the check so that you can change one thing and see.")
    groups = [{"title": "", "anchor": "", "items": items}] if items else []
    return Page(path, "list.md.j2", {"title": "Worked answers", "lead": lead, "groups": groups, "links": links, "also": []},
                "Worked answers", SECTION)
