"""Pages that narrow a part down step by step by what is seen, and hand what was seen to the combination check."""

from __future__ import annotations

import posixpath
from collections.abc import Iterator
from typing import Any

from build_tools.pages import words
from build_tools.pages.narrowing import FOLDER, Choice, Step, narrowing, what_else
from build_tools.pages.places import Links, attribute_of
from build_tools.pages.site import Page, Record, Site
from build_tools.pages.text import counted, md

SECTION = "How to find out"
MOST_NAMED = 6
MOST_ELSE = 5


def pages(site: Site) -> Iterator[Page]:
    """Yield the list of kinds that can be narrowed down, and one page a kind."""
    found = {name: step for name in site.book["kinds"] if (step := narrowing(site.book, name))}
    yield _list(site, found)
    for name in sorted(found):
        yield _page(site, site.book["kinds"][name], found[name])


def _page(site: Site, kind: Record, first: Step) -> Page:
    path = f"{FOLDER}/{kind['id']}.md"
    links = site.links(path)
    slot = kind["slots"][0]
    values = {
        "kind": kind, "links": links, "first": _step(site, links, kind, slot, first, "step"), "kind_link": links.to("kind", kind["id"]),
        "families": counted(len(site.refs.families_of_kind[kind["id"]]), "listed part"), "slot": site.book["slots"][slot]["title"],
        "several": len(kind["slots"]) > 1, "invented": any(site.book["families"][name]["invented"] for name in site.refs.families_of_kind[kind["id"]]),
        "care": words.BEFORE_WORK,
    }
    return Page(path, "narrow.md.j2", values, f"Which one is it: {kind['title'].lower()}", SECTION)


def _step(site: Site, links: Links, kind: Record, slot: str, step: Step, anchor: str) -> dict[str, Any]:
    attribute = attribute_of(site.book, kind["id"], step.attribute) or {}
    way = site.book["find_out"][attribute["find_out"]]
    time = f", {md(way['time'])}" if way["time"] else ""
    hazard = way["hazard"] if way["hazard"] and way["hazard"] != "none" else ""
    return {
        "ask": attribute["ask"], "how": f"{links.to('find_out', way['id'], 'How to find out')} ({md(words.EASE[way['ease']])}{time}).", "hazard": hazard,
        "anchor": anchor, "choices": [_choice(site, links, kind, slot, choice, f"{anchor}-{at}") for at, choice in enumerate(step.choices, start=1)],
    }


def _choice(site: Site, links: Links, kind: Record, slot: str, choice: Choice, anchor: str) -> dict[str, Any]:
    return {
        "label": md(choice.label), "left": _left(links, choice.left, bool(choice.told)), "check": _check(site, links.here, slot, choice.told),
        "then": _step(site, links, kind, slot, choice.then, anchor) if choice.then else None,
        "else": [] if choice.then else [_else(links, attribute) for attribute in what_else(site.book, kind, choice.told, _weights(site, kind), MOST_ELSE)],
        "count": counted(len(choice.left), "listed part"),
    }


def _weights(site: Site, kind: Record) -> dict[str, int]:
    """Return how many rules read each attribute of a kind."""
    return {a["id"]: len(site.refs.rules_of_attribute.get(f"{kind['id']}.{a['id']}", ())) for a in kind["attributes"]}


def _else(links: Links, attribute: Record) -> str:
    return f"{md(attribute['ask'])} {links.to('find_out', attribute['find_out'], 'How to find out')}."


def _left(links: Links, left: tuple[str, ...], told: bool) -> str:
    """Return the listed parts left as a sentence; a part that is not listed is always possible."""
    if not left:
        return "No listed part is like this. It can still be checked by what you saw."
    named = ", ".join(links.to("family", name) for name in left[:MOST_NAMED])
    more = f" and {len(left) - MOST_NAMED} more" if len(left) > MOST_NAMED else ""
    return f"{'Listed part left' if len(left) == 1 else 'Listed parts left'}: {named}{more}."


def _check(site: Site, path: str, slot: str, told: Record) -> str:
    """Return the link that tells the check what was seen so far; raw HTML, since the builder cannot check what is after #."""
    if not told:
        return ""
    up = "../" * (posixpath.dirname(path).count("/") + 2)
    fragment = site.address({"slots": {slot: {"told": dict(told)}}}).replace("&", "&amp;")
    return f'<a class="db-button" href="{up}check/#{fragment}">Take this to the check</a>'


def _list(site: Site, found: dict[str, Step]) -> Page:
    path = f"{FOLDER}/index.md"
    links = site.links(path)
    items = []
    for name in sorted(found, key=lambda one: site.book["kinds"][one]["title"].lower()):
        kind = site.book["kinds"][name]
        first = attribute_of(site.book, name, found[name].attribute) or {}
        items.append({"head": links.page(f"{FOLDER}/{name}.md", kind["title"]), "text": md(first["ask"]),
                      "side": counted(len(site.refs.families_of_kind[name]), "listed part")})
    lead = "Answer one question after the other by what you see, count, read or measure. The easy ones come first, and the parts left get fewer."
    return Page(path, "list.md.j2", {"title": "Which one is it?", "lead": lead, "groups": [{"title": "", "anchor": "", "items": items}] if items else [],
                                     "links": links, "also": [links.page("find-out/index.md", "all ways to find out")]}, "Which one is it?", SECTION)
