"""The page of each way to find something out, and the list of ways by what the reader has to do."""

from __future__ import annotations

from collections.abc import Iterator

from build_tools.pages import words
from build_tools.pages.drawn import named, styles
from build_tools.pages.parts import attribute_title
from build_tools.pages.places import Links, attribute_of
from build_tools.pages.site import Page, Record, Site
from build_tools.pages.text import capital, counted, either, md

SECTION = "How to find out"


def pages(site: Site) -> Iterator[Page]:
    """Yield the list of ways and one page a way."""
    yield _list(site)
    for name in sorted(site.book["find_out"]):
        yield _way(site, site.book["find_out"][name])


def _way(site: Site, way: Record) -> Page:
    path = f"find-out/{way['id']}.md"
    links = site.links(path)
    settles = [_settled(site, links, key) for key in site.refs.attributes_of_find_out.get(way["id"], ())]
    needs = [f"How: {words.EASE[way['ease']]}."]
    if way["time"]:
        needs.append(f"Time: {md(way['time'])}.")
    if way["tools"]:
        needs.append(f"You need: {md(either(way['tools'], 'and'))}.")
    drawn = named(site, "find_out", way["id"])
    values = {"way": way, "links": links, "kinds": site.source_kinds([way["source"]]), "settles": settles, "needs": needs,
              "drawings": drawn,
              "expect": [{"head": md(_expected(site, way["id"], name)), "text": text} for name, text in sorted(way["expect"].items())]}
    return Page(path, "find_out.md.j2", values, way["title"], SECTION, styles(drawn))


def _settled(site: Site, links: Links, key: str) -> dict[str, str]:
    kind, _, attribute = key.partition(".")
    entry = attribute_of(site.book, kind, attribute) or {"title": attribute, "ask": ""}
    return {"link": links.to("kind", kind, entry["title"], anchor=attribute), "ask": entry["ask"], "kind": links.to("kind", kind)}


def _expected(site: Site, way: str, name: str) -> str:
    """Return the title of an attribute that `expect` names, wherever it is."""
    kinds = [key.partition(".")[0] for key in site.refs.attributes_of_find_out.get(way, ()) if key.partition(".")[2] == name]
    return attribute_title(site.book, kinds[0], name) if kinds else capital(name.replace("_", " "))


def _list(site: Site) -> Page:
    path = "find-out/index.md"
    links = site.links(path)
    groups = []
    for ease, title in words.EASE.items():
        here = [name for name in sorted(site.book["find_out"]) if site.book["find_out"][name]["ease"] == ease]
        if here:
            groups.append({"title": capital(title), "anchor": ease, "lead": "", "items": [_item(site, links, name) for name in here]})
    lead = ("Most people do not know exactly what they own. Each page says what to look at, what you will see, and what it means. "
            "The easy ways come first.")
    return Page(path, "list.md.j2", {"title": "How to find out", "lead": lead, "groups": groups, "links": links,
                                     "also": [links.page("identify/index.md", "which one is it? Narrow it down step by step")]},
                "How to find out", SECTION)


def _item(site: Site, links: Links, name: str) -> dict[str, str]:
    way = site.book["find_out"][name]
    settled = counted(len(site.refs.attributes_of_find_out.get(name, ())), "question")
    hazard = " · read the caution first" if way["hazard"] and way["hazard"] != "none" else ""
    return {"head": links.to("find_out", name), "text": "", "side": md(" · ".join(x for x in (way["time"] or "", settled) if x) + hazard)}
