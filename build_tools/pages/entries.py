"""The shared pages: terms, codes, symptoms, additions, sources, stops, subjects and matched sets, each record at its own anchor."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from build_tools.pages import words
from build_tools.pages.causes import DRIVER_SAYS, FIRST, code_groups, code_lines, symptom_lines
from build_tools.pages.crossref import kinds_of
from build_tools.pages.describe import bound_kinds, kind_of, part_title, rows, value_label
from build_tools.pages.parts import currency
from build_tools.pages.places import Links, attribute_of
from build_tools.pages.rules import plain_binding
from build_tools.pages.site import Page, Record, Site
from build_tools.pages.text import capital, counted, day, either, md, quantity

RESTING = {
    "kind": ("kind of part", "kinds of part"), "family": ("listed part",), "rule": ("rule",), "stop": ("stop",), "addition": ("addition",),
    "sum": ("sum",), "find_out": ("way to find out", "ways to find out"), "code": ("code",), "symptom": ("symptom",), "term": ("word",), "set": ("matched set",),
}
TROUBLE = "Faults"
CARE = (words.BEFORE_WORK, words.QUALIFIED)
Lines = Callable[[Site, Links, Record], list[str]]


def pages(site: Site) -> Iterator[Page]:
    """Yield the eight shared pages."""
    yield _page(site, "terms/index.md", "Words", "The trade's words as this site uses them, by their standard names where there is one.",
                [("", "", "term", _sorted(site, "terms"))], _term, "Learn")
    yield _page(site, "codes/index.md", "Fault codes",
                f"Generic codes that may set when something is wrong. Many controllers set none of them: no code proves nothing. {FIRST}",
                [(title, anchor, "code", codes) for anchor, title, codes in code_groups(site.book["codes"])], code_lines, TROUBLE, CARE)
    by_group = [(title, group, "symptom", [n for n in _by_order(site, "symptoms") if site.book["symptoms"][n]["group"] == group])
                for group, title in DRIVER_SAYS.items()]
    yield _page(site, "symptoms/index.md", "Symptoms",
                "What the driver notices, and what to check, in order. Dangerous ones come first: read the line in front before you do anything.",
                by_group, symptom_lines, TROUBLE, CARE)
    by_type = [(capital(title), kind, "addition", [n for n in _sorted(site, "additions") if site.book["additions"][n]["type"] == kind])
               for kind, title in words.ADDITION_TYPES.items()]
    yield _page(site, "additions/index.md", "Additions", "What a combination may need beside the parts: things to buy, make, wire, program, set or move.",
                by_type, _addition, "Rules")
    by_kind = [(capital(title), kind, "source", [n for n in _sorted(site, "sources") if site.book["sources"][n]["kind"] == kind])
               for kind, title in words.SOURCE_KINDS.items()]
    yield _page(site, "sources/index.md", "Sources", "Where every statement on this site comes from, and which statements rest on it.",
                by_kind, _source, "The facts")
    by_effect = [(title, effect, "stop", [n for n in sorted(site.book["stops"]) if site.book["stops"][n]["effect"] == effect])
                 for effect, title in (("refuse", "Plans that are refused"), ("hold", "Tests that come first"))]
    yield _page(site, "stops/index.md", "Stops",
                "A stop stands above every verdict. A refused plan gets no steps; a test that comes first is printed ahead of any parts list.",
                by_effect, _stop, "Rules")
    yield _page(site, "subjects/index.md", "Subjects",
                "A subject is what must be answered together before any of it may be called works. Each gets its own verdict.",
                [("", "", "subject", site.book["subject_order"])], _subject, "Rules")
    yield _page(site, "sets/index.md", "Matched sets", "Parts that are listed as belonging together.",
                [("", "", "set", _sorted(site, "sets"))], _set, "Parts")


def _page(site: Site, path: str, title: str, lead: str, groups: list[tuple[str, str, str, list[str]]], lines: Lines, section: str,
          cautions: tuple[str, ...] = ()) -> Page:
    links = site.links(path)
    built = []
    for head, anchor, record_type, names in groups:
        section_of = {"code": "codes", "term": "terms", "addition": "additions", "source": "sources", "stop": "stops",
                      "subject": "subjects", "set": "sets", "symptom": "symptoms"}[record_type]
        entries = [_entry(site, links, record_type, site.book[section_of][name], lines) for name in names]
        if entries:
            built.append({"title": head, "anchor": f"group-{anchor}", "entries": entries})
    return Page(path, "entries.md.j2", {"title": title, "lead": lead, "cautions": cautions, "groups": built, "links": links}, title, section)


def _entry(site: Site, links: Links, record_type: str, record: Record, lines: Lines) -> dict[str, Any]:
    said = lines(site, links, record)
    if record["invented"] and record_type != "source":
        said.insert(0, '<p class="db-invented">Invented for the demonstration.</p>')
    if record["checked"]:
        kinds = either([words.SOURCE_KINDS[kind] for kind in site.source_kinds([record.get("source"), *record.get("sources", ())])], "and")
        said.append(f'<p class="db-provenance" data-search-exclude><span>Checked {day(record["checked"])}</span> <span>{capital(kinds)}</span></p>')
    head = f"{record['id']}: {record['title']}" if record_type == "code" else record["title"]
    return {"id": record["id"], "title": head, "fact": f"{record_type}/{record['id']}", "lines": said}


def _sorted(site: Site, section: str) -> list[str]:
    return sorted(site.book[section], key=lambda name: (site.book[section][name]["title"].lower(), name))


def _by_order(site: Site, section: str) -> list[str]:
    return sorted(site.book[section], key=lambda name: (site.book[section][name]["order"], name))


def _term(site: Site, links: Links, term: Record) -> list[str]:
    lines = [md(term["means"])]
    if term["abbreviation"]:
        lines.append(f"Abbreviation: {md(term['abbreviation'])}.")
    if term["also_called"]:
        lines.append(f"Also called {md(either(term['also_called']))}.")
    if term["id"] in site.book["kinds"]:
        lines.append(f"More: {links.to('kind', term['id'])}.")
    return lines


def _addition(site: Site, links: Links, addition: Record) -> list[str]:
    lines = [md(plain_binding(links, addition, addition["do"]))]
    offer = site.book["offers"].get(addition["id"])
    if offer:
        price = quantity(offer["price"], currency(site.book, offer["layer"])) if offer["price"] is not None else "no price"
        lines.append(f'<p class="db-invented" data-fact="offer/{offer["id"]}">{"Invented offer" if offer["invented"] else "Offer"}: '
                     f'stock number {md(offer["stock"] or "none")}, {price}.</p>')
    if addition["needs"]:
        lines.append(f"Needs: {', '.join(links.to('addition', name) for name in addition['needs'])}.")
    bound = bound_kinds(addition)
    if addition["changes"]:
        lines.append(f"Changes: {either([part_title(links, bound, slot) for slot in addition['changes']], 'and')}. "
                     "It is ruled out where one of these must stay as it is.")
    if addition["sets"]:
        lines.append(f"Afterwards: {'; '.join(_sets(links, bound, name, value) for name, value in sorted(addition['sets'].items()))}.")
    lines += [f"Check: {md(plain_binding(links, addition, text))}" for text in addition["checks"]]
    lines += [f'<p class="db-caution" markdown="span">{md(plain_binding(links, addition, text))}</p>' for text in addition["cautions"]]
    rules = [links.to("rule", name) for name in site.refs.rules_of_addition.get(addition["id"], ())]
    lines.append(f"Asked for by: {', '.join(rules) or 'no rule yet'}.")
    return lines


def _sets(links: Links, bound: dict[str, str], name: str, value: Record) -> str:
    slot, _, attribute = name.partition(".")
    part = part_title(links, bound, slot)
    if attribute == "fitted":
        return f"{part} is fitted" if value.get("to") == "yes" else f"{part} is not fitted"
    entry = attribute_of(links.book, kind_of(links, bound, slot), attribute) or {"title": attribute, "values": []}
    head = f"{part}: {links.attribute(name, bound)}"
    if "same_as" in value:
        other = value["same_as"]
        return f"{head} is the same as {part_title(links, bound, other.partition('.')[0])}: {links.attribute(other, bound)}"
    return f"{head} is {md(value_label(entry, value['to']))}"


def _source(site: Site, links: Links, source: Record) -> list[str]:
    lines = [words.SOURCE_MEANS[source["kind"]]]
    cited = [str(source[key]) for key in ("publisher", "document", "year") if source.get(key)]
    if cited:
        lines.append(md(", ".join(cited)) + ".")
    if source.get("address"):
        lines.append(f"Address: {md(source['address'])}")
    if source.get("about"):
        lines.append(md(source["about"]))
    resting = site.refs.cited_by.get(source["id"], ())
    counts: dict[str, int] = {}
    for record_type, _ in resting:
        counts[record_type] = counts.get(record_type, 0) + 1
    said = [counted(count, *RESTING[kind]) for kind, count in sorted(counts.items())]
    lines.append(f"Rests on it: {either(said, 'and') or 'nothing yet'}.")
    rules = [links.to("rule", name) for kind, name in resting if kind == "rule"]
    if rules and len(rules) <= 12:
        lines.append(f"Rules: {', '.join(rules)}.")
    return lines


def _stop(site: Site, links: Links, stop: Record) -> list[str]:
    lines = [f'<p class="db-stop__say" markdown="span">{md(plain_binding(links, stop, stop["say"]))}</p>',
             md(plain_binding(links, stop, stop["why"])), md(plain_binding(links, stop, stop["instead"]))]
    alternatives = [row for row in rows(links, stop) if row]
    for number, row in enumerate(alternatives):
        tests = "; ".join(f"{test.part + ', ' if test.part else ''}{test.what}: {test.must}" for test in row)
        lines.append(f"{'It holds when' if number == 0 else 'Or when'}: {tests}.")
    if not alternatives:
        lines.append("It holds whenever these parts are spoken of.")
    lines.append(f"About: {', '.join(links.to('kind', kind) for kind in kinds_of(site.book, stop))}.")
    lines.append(f"Source: {'; '.join(links.source(source) for source in stop['sources']) or 'none given'}.")
    return lines


def _subject(site: Site, links: Links, subject: Record) -> list[str]:
    rules = [links.to("rule", name) for name in site.refs.rules_of_subject.get(subject["id"], ())]
    return [md(subject["question"]), f"Rules: {', '.join(rules) or 'none yet'}."]


def _set(site: Site, links: Links, record: Record) -> list[str]:
    return [f"{md(site.book['slots'][slot]['title'])}: {either([links.to('family', name) for name in names])}."
            for slot, names in sorted(record["families"].items())]
