"""The page of each kind of part and of each listed part, and the list of both."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from build_tools.pages import words
from build_tools.pages.describe import told, value_label
from build_tools.pages.drawn import of_attribute, of_family, styles
from build_tools.pages.narrowing import page_of
from build_tools.pages.places import Links, attribute_of
from build_tools.pages.site import Page, Record, Site
from build_tools.pages.text import capital, counted, either, md, percent, quantity, span

SECTION = "Parts"


def pages(site: Site) -> Iterator[Page]:
    """Yield the list of parts, one page a kind and one page a listed part."""
    yield _list(site)
    for name in sorted(site.book["kinds"]):
        yield _kind(site, site.book["kinds"][name])
    for name in sorted(site.book["families"]):
        yield _family(site, site.book["families"][name])


def _kind(site: Site, kind: Record) -> Page:
    path = f"parts/{kind['id']}.md"
    links = site.links(path)
    names = site.refs.families_of_kind.get(kind["id"], ())
    families = [site.book["families"][name] for name in names]
    values = {
        "kind": kind, "links": links, "kinds": site.source_kinds([a["source"] for a in kind["attributes"]] + [kind["source"]]),
        "slots": [_slot(site.book["slots"][slot]) for slot in kind["slots"]], "changeable": words.CHANGEABLE[kind["changeable"]],
        "attributes": [_attribute(site, links, kind, a) for a in kind["attributes"]], "never": [_box(kind, box) for box in kind["never"]],
        "families": [{"link": links.to("family", family["id"])} for family in families],
        "table": [_row(links, kind, a, families) for a in kind["attributes"] if any(a["id"] in f["attributes"] for f in families)],
        "invented": any(family["invented"] for family in families),
        "narrow": links.page(page, "Which one is it? Narrow it down step by step") if (page := page_of(site.book, kind["id"])) else "",
        "rules": [links.to("rule", name) for name in site.refs.rules_of_kind.get(kind["id"], ())],
        "stops": [links.to("stop", name) for name in site.refs.stops_of_kind.get(kind["id"], ())],
    }
    return Page(path, "kind.md.j2", values, kind["title"], SECTION, styles([one for a in values["attributes"] for one in a["drawings"]]))


def _slot(slot: Record) -> dict[str, str]:
    per = f"{words.PER[slot['per']]}; " if slot["per"] else ""
    return {"id": slot["id"], "title": slot["title"], "said": per + words.IF_UNSAID[slot["if_unsaid"]]}


def _attribute(site: Site, links: Links, kind: Record, a: Record) -> dict[str, Any]:
    lines = []
    if a["type"] == "number":
        whole = "a whole number" if a["whole"] else f"a value you tell is taken as good to {percent(a['band'])}" if a["band"] else "taken as told"
        lines.append(f"A number, {span(a['low'], a['high'], a['unit'])}; {whole}.")
    if a["type"] == "identity":
        lines.append("A name. One that is not listed here is taken as another one, which is like none of these."
                     if a["values"] else "A name. None is listed yet: what counts is whether two are the same.")
    if a["applies_when"]:
        lines.append(f"Asked only when {_box(kind, a['applies_when'], links)}.")
    if a["told_only"]:
        lines.append("A matter of workmanship or of how it is done: it counts only when you tell it, and is a check to make otherwise.")
    if a["find_out"]:
        lines.append(f"{how_to(links, a)}: {md(_way(site, a['find_out']))}.")
    key = f"{kind['id']}.{a['id']}"
    read_by = [links.to("rule", name) for name in site.refs.rules_of_attribute.get(key, ())]
    set_by = [links.to("addition", name) for name in site.refs.additions_of_attribute.get(key, ())]
    if read_by:
        lines.append(f"Read by: {', '.join(read_by)}.")
    if set_by:
        lines.append(f"Changed by: {', '.join(set_by)}.")
    return {"id": a["id"], "title": a["title"], "ask": a["ask"], "values": [md(capital(label)) for _, label in a["values"]], "lines": lines,
            "drawings": of_attribute(site, kind, a)}


def how_to(links: Links, attribute: Record) -> str:
    """Return the link to how an attribute is found out."""
    return links.to("find_out", attribute["find_out"], "How to find out")


def _way(site: Site, name: str) -> str:
    record = site.book["find_out"].get(name, {})
    title = record.get("title") or name
    return title[:1].lower() + title[1:] + (f" ({record['time']})" if record.get("time") else "")


def _box(kind: Record, box: Record, links: Links | None = None) -> str:
    said = []
    for name, values in sorted(box.items()):
        attribute = next((a for a in kind["attributes"] if a["id"] == name), {"title": name, "values": []})
        head = links.page(f"parts/{kind['id']}.md", attribute["title"], name) if links else md(attribute["title"])
        said.append(f"{head} is {md(either(value_label(attribute, value) for value in values))}")
    return either(said, "and")


def _row(links: Links, kind: Record, a: Record, families: list[Record]) -> dict[str, Any]:
    return {"head": links.page(f"parts/{kind['id']}.md", a["title"], a["id"]),
            "cells": [_cell(a, family) for family in families]}


def _cell(a: Record, family: Record) -> str:
    value = family["attributes"].get(a["id"])
    return "not known" if value is None else told(a, value["is"])


def _family(site: Site, family: Record) -> Page:
    path = f"parts/{family['kind']}/{family['id']}.md"
    links = site.links(path)
    kind = site.book["kinds"][family["kind"]]
    attributes = kind["attributes"]
    rows = [_value(links, a, family) for a in attributes if a["id"] in family["attributes"]]
    alike = {(row["source"], row["checked"]) for row in rows}
    drawn = of_family(site, kind, family)
    values = {
        "family": family, "values": rows, "one_source": rows[0]["source"] if len(alike) == 1 else "", "links": links, "facts": _facts(site, family),
        "kinds": site.source_kinds([v["source"] for v in family["attributes"].values()] + [family["source"]]),
        "unknown": [_unknown(links, kind, a) for a in attributes if a["id"] not in family["attributes"] and not a["told_only"]],
        "sets": [links.to("set", name) for name in site.refs.sets_of_family.get(family["id"], ())], "drawings": drawn,
        "answers": [links.to("build", name) for name in sorted(site.answers) if uses(site.book["builds"][name]["build"], family["id"])],
    }
    return Page(path, "family.md.j2", values, family["title"], SECTION, {"search": {"exclude": True}, **styles([figure for _, figure in drawn])})


def uses(build: Record, family: str) -> bool:
    """Return whether a build names the family in any of its slots."""
    for entry in build["slots"].values():
        if isinstance(entry, dict):
            named = [entry.get("family"), *(entry.get("one_of") or ()), *(part.get("family") for part in entry.get("in_hand") or ())]
            if family in named:
                return True
    return False


def _facts(site: Site, family: Record) -> list[str]:
    facts = []
    if family["also_called"]:
        facts.append(f"Also called {md(either(family['also_called']))}.")
    if family["stock"]:
        facts.append(f"Stock number {md(family['stock'])}.")
    if family["price"] is not None:
        facts.append(f"Price {quantity(family['price'], currency(site.book, family['layer']))}.")
    return facts


def currency(book: dict[str, Any], layer: str) -> str | None:
    """Return the currency of a layer, if it names one."""
    return next((record.get("currency") for record in book["layers"] if record["id"] == layer), None)


def _value(links: Links, a: Record, family: Record) -> dict[str, Any]:
    value = family["attributes"][a["id"]]
    depends = f" (depends on {md(value['depends_on'])})" if value["depends_on"] else ""
    source = value["source"] or family["source"]
    return {"head": links.to("kind", family["kind"], a["title"], anchor=a["id"]), "value": told(a, value["is"]) + depends,
            "source": links.source(source) if source else "", "checked": value["checked"] or family["checked"]}


def _unknown(links: Links, kind: Record, a: Record) -> str:
    how = f" {how_to(links, a)}." if a["find_out"] else ""
    return f"{links.to('kind', kind['id'], a['title'], anchor=a['id'])}.{how}"


def _list(site: Site) -> Page:
    path = "parts/index.md"
    links = site.links(path)
    items = []
    for name in sorted(site.book["kinds"], key=lambda kind: site.book["kinds"][kind]["title"].lower()):
        kind = site.book["kinds"][name]
        families = len(site.refs.families_of_kind.get(name, ()))
        side = counted(families, "listed part") if families else "none listed"
        items.append({"head": links.to("kind", name), "text": md(kind["means"]), "side": side})
    lead = ("A part is known here by what can be seen, counted, read or measured on it, never by a make or a model. "
            "Each kind says what matters about it and how to find it out.")
    groups = [{"title": "", "anchor": "", "items": items}] if items else []
    also = [links.page("sets/index.md", "matched sets"), links.page("faces/index.md", "plug faces"), links.page("terms/index.md", "words")]
    return Page(path, "list.md.j2", {"title": "Parts", "lead": lead, "groups": groups, "links": links, "also": also}, "Parts", SECTION)


def attribute_title(book: dict[str, Any], kind: str, name: str) -> str:
    """Return the title of an attribute, or its id when the kind has none of that id."""
    found = attribute_of(book, kind, name)
    return found["title"] if found else name
