"""The page of the faces of plugs: each in words and drawn, with the attributes and listed parts that have it."""

from __future__ import annotations

from collections.abc import Iterator

from build_tools.drawings import faces
from build_tools.drawings.figure import figure
from build_tools.drawings.registry import FACES
from build_tools.pages import words
from build_tools.pages.drawn import styles
from build_tools.pages.places import Links, attribute_of
from build_tools.pages.site import Page, Record, Site
from build_tools.pages.text import capital, day, either, md

LEAD = ("What the plugs that are listed here look like from the front. The same shell does not mean that two parts work together: "
        "compare what each cavity does. Each is drawn as the part carries it; the harness's half is its mirror image, and which half holds the pins "
        "is a question of its own.")


def pages(site: Site) -> Iterator[Page]:
    """Yield the one page of plug faces."""
    path = "faces/index.md"
    links = site.links(path)
    named = sorted(site.book["faces"].values(), key=lambda face: (face["title"].lower(), face["id"]))
    groups = [{"title": "", "anchor": "", "entries": [_entry(site, links, face) for face in named]}] if named else []
    yield Page(path, "entries.md.j2", {"title": "Plug faces", "lead": LEAD, "cautions": [], "groups": groups, "links": links}, "Plug faces", "Parts", styles(["one"] if named else []))


def _entry(site: Site, links: Links, face: Record) -> dict[str, object]:
    drawing = faces.faces(face["plugs"], faces.UNASKED)
    lines = ['<p class="db-invented">Invented for the demonstration.</p>'] if face["invented"] else []
    lines += [figure(drawing), *(f"Asked as: {one}." for one in [either(_attributes(site, links, face["id"]), "and")] if one)]
    listed = [links.to("family", name) for name in _families(site, face["id"])]
    lines += [f"Listed parts with it: {', '.join(listed)}."] if listed else []
    kinds = either([words.SOURCE_KINDS[kind] for kind in site.source_kinds([face["source"]])], "and")
    lines.append(f'<p class="db-provenance"><span>Checked {day(face["checked"])}</span> <span>{capital(kinds)}</span></p>')
    return {"id": face["id"], "title": face["title"], "fact": f"face/{face['id']}", "lines": lines}


def _attributes(site: Site, links: Links, value: str) -> list[str]:
    found = []
    for key, names in sorted(site.book["drawings"]["attributes"].items()):
        kind, _, name = key.partition(".")
        attribute = attribute_of(site.book, kind, name)
        if attribute and set(names) & set(FACES) and value in dict(attribute["values"]):
            found.append(f"{md(site.book['kinds'][kind]['title'])}: {links.to('kind', kind, attribute['title'], anchor=name)}")
    return found


def _families(site: Site, value: str) -> list[str]:
    drawn = {key for key, names in site.book["drawings"]["attributes"].items() if set(names) & set(FACES)}
    return sorted(name for name, family in site.book["families"].items()
                  if any(f"{family['kind']}.{key}" in drawn and told["is"] == [value] for key, told in family["attributes"].items()))
