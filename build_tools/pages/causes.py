"""What to check, in order, under a fault code or a symptom: first what its record says, then the rules that name it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from build_tools.pages import words
from build_tools.pages.crossref import reads
from build_tools.pages.places import Links, attribute_of
from build_tools.pages.site import Record, Site
from build_tools.pages.text import capital, either, md

EASE = tuple(words.EASE)
DRIVER_SAYS = {
    "danger": "Dangerous: stop first", "starting": "Starting", "running": "Running", "pedal": "Pedal and throttle", "gearbox": "Gearbox",
    "speed": "Speed and instruments", "electrics": "Charging and electrics", "heat_fuel": "Cooling, air conditioning and fuel",
}
CODE_GROUPS = (
    ("P00", "Air, fuel and oxygen sensors", ("P00", "P01", "P02")), ("P03", "Ignition, crank, cam and knock", ("P03",)),
    ("P04", "Emissions equipment, fans and fuel level", ("P04",)), ("P05", "Road speed, idle and other inputs", ("P05",)),
    ("P06", "The controller and what it switches", ("P06",)), ("P07", "Transmission, clutch and starter", ("P07", "P08")),
    ("P2", "Electronic throttle and newer codes", ("P2", "P3")), ("U0", "Data link", ("U",)),
)
IN_ORDER = "<p data-search-exclude>Check in this order:</p>"
FIRST = ("Read all codes before you clear any, and start with the supply and 5 V codes: they cause others. "
         "For any code of a circuit, look at plug, pins and fuse first, and suspect the part itself last.")


def code_groups(codes: Iterable[str]) -> list[tuple[str, str, list[str]]]:
    """Return anchor, title and sorted codes of each group; a code that no group covers comes last under its own head."""
    left = sorted(codes)
    groups = []
    for anchor, title, starts in CODE_GROUPS:
        here = [code for code in left if code.startswith(starts)]
        left = [code for code in left if code not in here]
        groups.append((anchor, title, here))
    return [*groups, ("other", "Other codes", left)]


def code_lines(site: Site, links: Links, code: Record) -> list[str]:
    """Return the lines under a fault code: meaning, what to check in order, symptoms that lead to it."""
    named = site.refs.rules_of_code.get(code["id"], ())
    lines = [md(code["means"])] if code["means"] else []
    checks = [*_said(links, code), *_rules(site, links, code, named)]
    if checks:
        lines += [IN_ORDER, _numbered(checks)]
    return [*lines, *_noticed(site, links, "code", code["id"])]


def symptom_lines(site: Site, links: Links, symptom: Record) -> list[str]:
    """Return the lines under a symptom: what to do first, stops, what is seen, and what to check in order."""
    lines = [f'<p class="db-caution" markdown="span">{md(text)}</p>' for text in symptom["first"]]
    lines.append(md(symptom["seen"]))
    if symptom["stops"]:
        lines.append(f"Stops that bear on it: {', '.join(links.to('stop', name) for name in symptom['stops'])}.")
    lines += [IN_ORDER, _numbered(_said(links, symptom))]
    if symptom["also_called"]:
        lines.append(f"People also say: {md(either(symptom['also_called']))}.")
    return lines


def noticed(site: Site, links: Links, record_type: str, name: str) -> list[str]:
    """Return links to the symptoms with a cause that points at the record."""
    return [links.to("symptom", symptom) for symptom in site.refs.symptoms_of.get(f"{record_type}/{name}", ())]


def _noticed(site: Site, links: Links, record_type: str, name: str) -> list[str]:
    found = noticed(site, links, record_type, name)
    return [f'<p data-search-exclude markdown="span">What the driver may notice: {", ".join(found)}.</p>'] if found else []


def _numbered(items: Iterable[str]) -> str:
    return "\n".join(['<ol class="db-causes" data-search-exclude markdown="1">', *(f'<li markdown="span">{item}</li>' for item in items), "</ol>"])


def _said(links: Links, record: Record) -> Iterator[str]:
    """Yield each cause of the record with a link to what it points at."""
    for cause in record["causes"]:
        led = [links.to("code", name, name) if kind == "code" else links.to(kind, name)
               for kind in ("rule", "find_out", "sum", "code") if (name := cause[kind])]
        yield f"{md(cause['cause'])} {' '.join(f'{link}.' for link in led)}".strip()


def _rules(site: Site, links: Links, code: Record, names: Iterable[str]) -> Iterator[str]:
    """Yield the rules that name the code and that no cause has led to yet, those that are easiest to look at first."""
    already = {cause["rule"] for cause in code["causes"]}
    ranked = sorted((_effort(site, name), site.book["rules"][name]["order"], name) for name in names if name not in already)
    for effort, _, name in ranked:
        how = f" ({md(words.EASE[EASE[effort]])})" if effort < len(EASE) else ""
        yield f"{links.to('rule', name)}{how}."


def _effort(site: Site, rule: str) -> int:
    """Return how much work the easiest attribute of a rule is to find out, as a place in the order of ease."""
    found = []
    for kind, name in reads(site.book, site.book["rules"][rule]).attributes:
        entry = attribute_of(site.book, kind, name) or {}
        way = site.book["find_out"].get(entry.get("find_out") or "", {})
        if way and way["ease"] != "ask":
            found.append(EASE.index(way["ease"]))
    return min(found, default=len(EASE))


def group_title(anchor: str) -> str:
    """Return the title of a group of symptoms."""
    return capital(DRIVER_SAYS[anchor])
