"""What can be counted about the facts: where they come from, what they cover, and where they are thin."""

from __future__ import annotations

from collections import Counter
from typing import Any

from build_tools.compile_rules import written_cases
from build_tools.pages import words
from build_tools.pages.places import Links
from build_tools.pages.site import Site
from build_tools.pages.text import capital, counted, number
from build_tools.statements import by_weakest, statements

WEAK = ("common-practice", "from-memory")


def counts(site: Site) -> Counter[str]:
    """Return how many single statements rest on each kind of source; `none` counts those without a source in the book."""
    return by_weakest(site.book)


def opening(site: Site) -> str:
    """Return the sentence that this part of the site opens with, with its counts."""
    found = counts(site)
    real = sum(count for kind, count in found.items() if kind != "invented")
    weak = sum(found[kind] for kind in WEAK)
    return (f"{_share(weak, real)} of the {number(real)} statements about the trade on this site are common practice "
            f"({number(found['common-practice'])}) or from memory ({number(found['from-memory'])}), "
            f"and nobody has tested them on your vehicle. {capital(_published(found, _also_published(site)))}.")


def _also_published(site: Site) -> int:
    """Return how many statements cite a published document beside something weaker."""
    kinds = [{site.book["sources"].get(source.partition("#")[0], {}).get("kind") for source in statement.cited} for statement in statements(site.book)]
    return sum("published" in cited and len(cited) > 1 for cited in kinds)


def _share(part: int, whole: int) -> str:
    return "None" if not part else "All" if part == whole else "Most" if part * 2 > whole else "Some"


def _published(found: Counter[str], also: int) -> str:
    alone = number(found["published"]) if found["published"] else "none"
    said = f"{alone} {'rest' if found['published'] > 1 else 'rests'} on a published document alone"
    if also:
        said += f", {number(also)} also {'cites' if also == 1 else 'cite'} one that somebody read"
    if found["measured"]:
        said += f", {number(found['measured'])} on a measurement"
    if found["invented"]:
        said += f"; {counted(found['invented'], 'more statement')} about a demonstration shop {'is' if found['invented'] == 1 else 'are'} invented"
    return said


def piece(site: Site, links: Links) -> dict[str, Any]:
    """Return the values of the counted part of the page about the facts."""
    book, found = site.book, counts(site)
    dates = sorted(d for d in _dates(book) if d)
    rows = [{"kind": capital(title), "count": number(found[kind]), "means": words.SOURCE_MEANS[kind]}
            for kind, title in words.SOURCE_KINDS.items()]
    if found["none"]:
        rows.append({"kind": "No source", "count": number(found["none"]), "means": "Nobody said where it comes from."})
    cases = sum(len(written_cases(rule)) for rule in book["rules"].values())
    covered = [("Kinds of part", len(book["kinds"])), ("Things asked of them", sum(len(k["attributes"]) for k in book["kinds"].values())),
               ("Rules", len(book["rules"])), ("Cases of rules", cases), ("Stops", len(book["stops"])), ("Additions", len(book["additions"])),
               ("Ways to find out", len(book["find_out"])), ("Sums", len(book["sums"])), ("Listed parts", len(book["families"])),
               ("Fault codes", len(book["codes"])), ("Symptoms", len(book["symptoms"])), ("Words", len(book["terms"])),
               ("Worked answers", len(book["builds"]))]
    return {"links": links, "counts": rows, "total": number(sum(found.values())), "layers": book["layers"], "gaps": _gaps(site, links),
            "coverage": [{"what": what, "count": number(count)} for what, count in covered],
            "oldest": dates[0] if dates else None, "newest": dates[-1] if dates else None}


def _dates(value: Any) -> list[str]:
    if isinstance(value, dict):
        own = [value["checked"]] if isinstance(value.get("checked"), str) else []
        return own + [day for child in value.values() for day in _dates(child)]
    return [day for child in value for day in _dates(child)] if isinstance(value, list) else []


def covered(site: Site, links: Links) -> str:
    """Return the subjects that some rule answers, as one line of links."""
    return ", ".join(links.to("subject", name) for name in site.book["subject_order"] if name in site.refs.rules_of_subject) + "."


def _gaps(site: Site, links: Links) -> list[dict[str, Any]]:
    book, refs = site.book, site.refs
    unread = [links.to("kind", kind["id"], f"{kind['title']}: {a['title']}", anchor=a["id"])
              for kind in _by_id(book["kinds"]) for a in kind["attributes"] if f"{kind['id']}.{a['id']}" not in refs.rules_of_attribute]
    unlisted = [links.to("kind", kind["id"]) for kind in _by_id(book["kinds"]) if kind["id"] not in refs.families_of_kind]
    silent = [f"{links.to('family', family['id'])}: {counted(missing, 'value')} not written down"
              for family in _by_id(book["families"]) if (missing := _missing(book, family))]
    no_rule = [links.to("subject", name) for name in book["subject_order"] if name not in refs.rules_of_subject]
    return [
        {"title": "Asked of a part, but read by no rule yet", "items": unread},
        {"title": "Kinds with no listed part: describe yours by its attributes", "items": unlisted},
        {"title": "Listed parts with values nobody has written down", "items": silent},
        {"title": "Subjects without a rule", "items": no_rule},
    ]


def _by_id(records: dict[str, dict[str, Any]]) -> list[dict[str, Any]]:
    return [records[name] for name in sorted(records)]


def _missing(book: dict[str, Any], family: dict[str, Any]) -> int:
    return sum(1 for a in book["kinds"][family["kind"]]["attributes"] if a["id"] not in family["attributes"] and not a["told_only"])
