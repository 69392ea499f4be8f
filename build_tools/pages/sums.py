"""The page of each sum of the registry, and the list of sums by subject; a sum of the facts is described on the page that works it out."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from build_tools.drawings.registry import OF_SUMS
from build_tools.pages import words
from build_tools.pages.drawn import STYLE, figures
from build_tools.pages.formula import is_prose, mathml
from build_tools.pages.parts import attribute_title
from build_tools.pages.places import Links, attribute_of
from build_tools.pages.site import WEAKEST_FIRST, Page, Record, Site
from build_tools.pages.sum_names import WORKED_OUT, explained
from build_tools.pages.sum_uses import Asked, fillings, for_script, kind_of_input, of_result, records_of
from build_tools.pages.sum_words import EXAMPLE_INVENTED, INVENTED_TABLE, PURPOSES, SUBJECTS
from build_tools.pages.text import capital, md, percent, quantity, span
from wizard.sums.forms.text import sum_text
from wizard.sums.forms import READERS, REGISTRY, Param, Sum
from wizard.sums.forms.plots import ALONG
from wizard.sums.forms.rounding import plain, shown_other
from wizard.sums.forms.units import OTHER, SPELLINGS, convert

SECTION = "Sums"
STYLES, MODULES = ["assets/style/sums.css"], ["assets/sums/main.mjs"]
TABLE = "flow_table"
BOTH_WAYS = {*OTHER, "mm²"}


def pages(site: Site) -> Iterator[Page]:
    """Yield the list of sums and one page for each sum of the registry."""
    yield _list(site)
    for name in REGISTRY:
        yield _page(site, REGISTRY[name])


def _list(site: Site) -> Page:
    path = "sums/index.md"
    links = site.links(path)
    groups = []
    for subject, (heading, anchor, question) in SUBJECTS.items():
        items = [{"head": links.page(f"sums/{one.name}.md", one.title), "text": md(PURPOSES[one.name]), "side": md(one.unit)}
                 for one in REGISTRY.values() if one.subject == subject]
        groups.append({"title": heading, "anchor": anchor, "lead": md(question), "items": items})
    lead = ("Each number the job needs, worked out by itself: put in what you know, with the unit you have it in. "
            "The combination check uses the same sums.")
    values = {"title": "Sums", "lead": lead, "groups": groups, "links": links, "also": []}
    return Page(path, "list.md.j2", values, "Sums", SECTION, {"search": {"exclude": True}})


def _page(site: Site, one: Sum) -> Page:
    path = f"sums/{one.name}.md"
    links = site.links(path)
    heading, anchor, _ = SUBJECTS[one.subject]
    kinds = {kind for kind, _ in one.sources}
    drawn = figures(OF_SUMS.get(one.name, ()))
    values = {
        "drawings": drawn, "sum": one, "links": links, "purpose": PURPOSES[one.name], "subject": links.page("sums/index.md", heading, anchor),
        "kinds": [kind for kind in WEAKEST_FIRST if kind in kinds], "fields": [field(param) for param in one.params],
        "two_systems": any(unit in BOTH_WAYS for unit in (one.unit, *(p.unit for p in one.params))), "plotted": one.name in ALONG,
        "formula": "" if is_prose(one.formula) else mathml(one.formula), "plain": one.formula, "names": [_name(links, *row) for row in explained(one)], "off": _off(one), "band": _band(one),
        "example": _example(one), "asked": [_asked(links, use) for use in of_result(site, one.name)],
        "records": [_record(site, links, record) for record in records_of(site, one.name)],
        "sources": [(words.SOURCE_KINDS[kind], text) for kind, text in one.sources],
        "siblings": [links.page(f"sums/{other.name}.md", other.title) for other in REGISTRY.values()
                     if other.subject == one.subject and other is not one],
    }
    return Page(path, "sum.md.j2", values, one.title, SECTION, {"styles": [*STYLES, *([STYLE] if drawn else [])], "modules": MODULES})


def _name(links: Links, name: str, text: str) -> dict[str, str]:
    other = WORKED_OUT.get(name)
    return {"name": name, "text": text, "link": links.page(f"sums/{other}.md", REGISTRY[other].title) if other else ""}


def field(param: Param) -> dict[str, Any]:
    """Return what the form says of an input: its name, unit, range in both unit systems, how to get it, what else is read."""
    return {
        "name": param.name, "title": param.title, "unit": "" if param.unit == "to 1" else param.unit, "measure": param.measure,
        "table": param.reads == TABLE, "usual": "" if param.usual is None else plain(param.usual), "range": _range(param),
        "reads": capital(READERS[param.reads][1]) if param.reads else "", "also": also_read(param.unit),
        "decimal": not param.reads and not also_read(param.unit),
    }


def also_read(unit: str) -> list[str]:
    """Return the other spellings that may follow a number in place of this unit, in the order of the tables of units."""
    spellings = dict.fromkeys([*(other.name for other in OTHER.values()), *SPELLINGS])
    return [name for name in spellings if name != unit and convert(1.0, name, unit) is not None]


def _range(param: Param) -> str:
    if param.reads == TABLE:
        return ""
    unit = "" if param.unit == "to 1" else f"\u00a0{param.unit}"
    text = f"{plain(param.low)} to {plain(param.high)}{unit}{', whole' if param.whole else ''}"
    ends = [shown_other(end, param.unit, 3) for end in (param.low, param.high)]
    return f"{text} ({' to '.join(ends)})" if all(ends) and param.unit != "mm²" else text


def _off(one: Sum) -> str:
    if any(param.reads == TABLE for param in one.params):
        return "The true value lies between the two neighbouring points of the table; the line between them is only a guess at its bend."
    if one.spread:
        points = "percentage points" if one.unit == "%" else md(one.unit)
        return f"The method itself may be off by {plain(one.spread)}\u00a0{points}, beside whatever is uncertain in what goes in."
    if one.uncertainty:
        return f"The method itself may be off by {percent(one.uncertainty)}, beside whatever is uncertain in what goes in."
    return "The reckoning adds no uncertainty: whatever is off comes from what goes in."


def _band(one: Sum) -> dict[str, str] | None:
    if one.band is None:
        return None
    low, high = one.band.low, one.band.high
    ends = (f"at least {quantity(low, one.unit)}" if high is None else f"at most {quantity(high, one.unit)}" if low is None
            else span(low, high, one.unit))
    return {"ends": ends, "says": one.band.says, "kind": words.SOURCE_KINDS[one.band.source[0]], "source": one.band.source[1]}


def _example(one: Sum) -> dict[str, Any]:
    """Return the sum worked out with the usual values, by the engine; an invented table where the reader must bring one."""
    inputs = {p.name: INVENTED_TABLE if p.usual is None else plain(p.usual).replace("\u00a0", "") for p in one.params}
    result = json.loads(sum_text(one.name, inputs))
    titles = {p.name: p.title for p in one.params}
    effects = [{**effect, "title": titles[effect["name"]]} for effect in result["effects"]]
    return {"inputs": json.dumps(inputs, sort_keys=True), "result": result, "effects": effects,
            "invented": EXAMPLE_INVENTED if any(p.reads == TABLE for p in one.params) else ""}


def _asked(links: Links, use: Asked) -> dict[str, str]:
    return {"link": f"{md(links.book['slots'][use.slot]['title'])}: {links.to('kind', use.kind, use.title, anchor=use.attribute)}",
            "fill": json.dumps(for_script({"result": use}), sort_keys=True)}


def _record(site: Site, links: Links, record: Record) -> dict[str, Any]:
    inputs = []
    for name, variable in sorted(record["inputs"].items()):
        slot, _, attribute = variable.partition(".")
        kind = kind_of_input(site, record, slot)
        entry = attribute_of(site.book, kind, attribute) if kind else None
        inputs.append({"name": md(next(p.title for p in REGISTRY[record["function"]].params if p.name == name)),
                       "link": _comes_from(site, links, kind, variable),
                       "range": span(entry["low"], entry["high"], entry["unit"]) if entry and entry["low"] is not None else ""})
    spread = f"it may itself be off by {percent(record['uncertainty'])}" if record["uncertainty"] else "it adds no uncertainty of its own"
    return {
        "record": record, "inputs": inputs, "kinds": site.source_kinds([record["source"]]),
        "source": links.source(record["source"]) if record["source"] else "none given",
        "result": (f"In the check it is shown in {md(record['unit'])} to {record['digits']} significant digits, and {spread}. "
                   "It is compared unrounded, and a limit that lies within the uncertainty is undecided."),
        "rules": [links.to("rule", name) for name in site.refs.rules_of_sum.get(record["id"], ())],
        "ways": [{"title": title, "fill": json.dumps(for_script(ways), sort_keys=True)} for title, ways in fillings(site, record)],
    }


def _comes_from(site: Site, links: Links, kind: str | None, variable: str) -> str:
    """Return the part and attribute that an input is taken from; its bare name when no rule says which part is meant."""
    if kind is None:
        return md(variable)
    attribute = variable.partition(".")[2]
    return f"{md(site.book['kinds'][kind]['title'])}: {links.to('kind', kind, attribute_title(site.book, kind, attribute), anchor=attribute)}"
