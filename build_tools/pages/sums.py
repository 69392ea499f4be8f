"""The page of each sum, and the list of sums."""

from __future__ import annotations

from collections.abc import Iterator

from build_tools.pages.parts import attribute_title
from build_tools.pages.places import Links, attribute_of
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
        kind = _kind(site, record, slot)
        entry = attribute_of(site.book, kind, attribute) if kind else None
        inputs.append({
            "name": md(name.replace("_", " ")), "link": _comes_from(site, links, kind, variable),
            "range": span(entry["low"], entry["high"], entry["unit"]) if entry and entry["low"] is not None else "",
        })
    spread = percent(record["uncertainty"]) if record["uncertainty"] else "nothing"
    result = (f"A number in {md(record['unit'])}, shown to {record['digits']} significant digits. Beside what is uncertain in its inputs, the sum "
              f"itself may be off by {spread}. It is compared unrounded, and a limit that lies within that uncertainty is undecided.")
    values = {"sum": record, "links": links, "kinds": site.source_kinds([record["source"]]), "inputs": inputs, "result": result,
              "rules": [links.to("rule", name) for name in site.refs.rules_of_sum.get(record["id"], ())],
              "source": links.source(record["source"]) if record["source"] else "none given"}
    return Page(path, "sum.md.j2", values, record["title"], SECTION)


def _kind(site: Site, record: Record, slot: str) -> str | None:
    """Return the kind of a slot, or of a name that a rule with this sum gives to each slot of a kind; None when nothing says."""
    if slot in site.book["slots"]:
        return site.book["slots"][slot]["kind"]
    rules = [site.book["rules"][name] for name in site.refs.rules_of_sum.get(record["id"], ())]
    return next((rule["each"][slot] for rule in rules if slot in (rule["each"] or {})), None)


def _comes_from(site: Site, links: Links, kind: str | None, variable: str) -> str:
    """Return the part and attribute that an input is taken from; its bare name when no rule says which part is meant."""
    if kind is None:
        return md(variable)
    attribute = variable.partition(".")[2]
    return f"{md(site.book['kinds'][kind]['title'])}: {links.to('kind', kind, attribute_title(site.book, kind, attribute), anchor=attribute)}"
