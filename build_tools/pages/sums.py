"""The page of each sum, and the list of sums."""

from __future__ import annotations

from collections.abc import Iterator

from build_tools.pages.parts import attribute_title
from build_tools.pages.places import attribute_of
from build_tools.pages.site import Page, Record, Site
from build_tools.pages.text import md, percent, span

SECTION = "Sums"


def pages(site: Site) -> Iterator[Page]:
    """Yield the list of sums and one page a sum."""
    path = "sums/index.md"
    links = site.links(path)
    items = [{"head": links.to("sum", name), "text": md(site.book["sums"][name]["formula"]), "side": md(site.book["sums"][name]["unit"])}
             for name in sorted(site.book["sums"])]
    lead = "Each calculation with its formula, what goes in, how far off it may be, and where it is used."
    groups = [{"title": "", "anchor": "", "items": items}] if items else []
    yield Page(path, "list.md.j2", {"title": "Sums", "lead": lead, "groups": groups, "links": links, "also": []}, "Sums", SECTION)
    for name in sorted(site.book["sums"]):
        yield _sum(site, site.book["sums"][name])


def _sum(site: Site, record: Record) -> Page:
    path = f"sums/{record['id']}.md"
    links = site.links(path)
    inputs = []
    for name, variable in sorted(record["inputs"].items()):
        slot, _, attribute = variable.partition(".")
        kind = site.book["slots"].get(slot, {}).get("kind", slot)
        entry = attribute_of(site.book, kind, attribute) if kind in site.book["kinds"] else None
        part = site.book["kinds"].get(kind, {}).get("title", kind)
        inputs.append({
            "name": md(name.replace("_", " ")),
            "link": f"{md(part)}: {links.to('kind', kind, attribute_title(site.book, kind, attribute), anchor=attribute)}",
            "range": span(entry["low"], entry["high"], entry["unit"]) if entry and entry["low"] is not None else "",
        })
    spread = percent(record["uncertainty"]) if record["uncertainty"] else "nothing"
    result = (f"A number in {md(record['unit'])}, shown to {record['digits']} significant digits. Beside what is uncertain in its inputs, the sum "
              f"itself may be off by {spread}. It is compared unrounded, and a limit that lies within that uncertainty is undecided.")
    values = {"sum": record, "links": links, "kinds": site.source_kinds([record["source"]]), "inputs": inputs, "result": result,
              "rules": [links.to("rule", name) for name in site.refs.rules_of_sum.get(record["id"], ())],
              "source": links.source(record["source"]) if record["source"] else "none given"}
    return Page(path, "sum.md.j2", values, record["title"], SECTION)
