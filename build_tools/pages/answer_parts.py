"""The parts list of a worked answer: what the reader has, and what is still to buy, make, wire, program, set or move."""

from __future__ import annotations

from typing import Any

from build_tools.pages import words
from build_tools.pages.parts import currency
from build_tools.pages.places import Links
from build_tools.pages.site import Record, Site
from build_tools.pages.text import either, md, quantity

OURS = ("open", "made_to_order")
NOT_THERE = ("none",)
FEW_CLAUSES = 2


def parts_list(site: Site, links: Links, build: Record, answer: Record) -> dict[str, Any]:
    """Return the two sides of the list: what is there, and groups of what is to be done, each with its lines."""
    lines: dict[str, list[list[str]]] = {kind: [] for kind in words.ADDITION_TYPES}
    specification: list[str] = []
    for choice in answer["choices"]:
        _chosen(site, links, choice, lines["buy"], specification)
    added = answer["additions"]
    for addition in added["certain"]:
        lines[addition["type"]].append(_addition(site, links, addition))
    for ways in added["one_of"]:
        first = ways[0][0]["type"] if ways and ways[0] else "buy"
        lines[first].append(_one_of(site, links, ways))
    for entry in added["only_if"]:
        for addition in entry["then"]:
            lines[addition["type"]].append([*_addition(site, links, addition), *_only_if(entry)])
    for one in added["more"]:
        lines[one["type"]].append([f"Perhaps, as the open questions turn out: {links.to('addition', one['addition'], one['title'])}."])
    groups = [{"title": title, "anchor": f"to-{kind}", "entries": lines[kind]} for kind, title in words.ADDITION_TYPES.items() if lines[kind]]
    have = [] if answer["refused"] else [line for slot, entry in sorted(build["slots"].items()) if (line := _have(site, links, slot, entry))]
    work = any(lines[kind] for kind in words.ADDITION_TYPES)
    return {"have": have, "groups": groups, "specification": specification, "work": work, "any": bool(groups or have or specification)}


def _have(site: Site, links: Links, slot: str, entry: Any) -> str:
    """Return a line for a part that is there; empty for one to be chosen, or said not to be fitted."""
    told = entry if isinstance(entry, dict) else {"state": entry}
    state = told.get("state")
    title = md(site.book["slots"][slot]["title"])
    if state in OURS or state in NOT_THERE:
        return ""
    keep = " It must stay." if told.get("keep") else ""
    if told.get("family"):
        return f"{title}: {links.to('family', told['family'])}.{keep}"
    if told.get("one_of"):
        return f"{title}: one of {either([links.to('family', name) for name in told['one_of']])}.{keep}"
    if told.get("in_hand"):
        named = [links.to("family", part["family"]) if part.get("family") else "an unlisted one" for part in told["in_hand"]]
        return f"{title}: {either(named, 'and')} in hand.{keep}"
    if state == "maybe":
        return f"{title}: not known whether there is one."
    if state == "not_sure":
        return f"{title}: there is one, nobody knows which.{keep}"
    return f"{title}: yours, by what you told of it.{keep}"


def _chosen(site: Site, links: Links, choice: Record, buy: list[list[str]], specification: list[str]) -> None:
    title = md(choice["title"])
    pick = choice["pick"]
    if pick and pick.get("family"):
        family = site.book["families"][pick["family"]]
        first = " Find out before you buy: see the questions below." if choice["find_out_first"] else ""
        line = f"{title}: {links.to('family', pick['family'])}{_price(site, family)}.{first}"
        others = [links.to("family", one["family"]) for one in choice["viable"] if one.get("family") and one["family"] != pick["family"]]
        buy.append([line + (f" Also possible: {', '.join(others)}." if others else "")])
    elif choice["find_out_first"]:
        named = [links.to("family", one["family"]) for one in choice["viable"] if one.get("family")]
        buy.append([f"{title}: find out before you buy{'; one of ' + either(named) if named else ''}."])
    for ruled_out in choice["not_viable"]:
        named = links.to("family", ruled_out["family"]) if ruled_out.get("family") else md(ruled_out["title"])
        buy.append([f"Not {named}: {md(ruled_out['because'])}"])
    for wanted in choice["specification"]:
        specification.append(f"{title}: {md(wanted['title'])}: {md(either(label for _, label in wanted['values']))}")


def _price(site: Site, family: Record) -> str:
    said = [f"stock number {md(family['stock'])}"] if family["stock"] else []
    if family["price"] is not None:
        said.append(quantity(family["price"], currency(site.book, family["layer"])))
    return f" ({', '.join(said)})" if said else ""


def _addition(site: Site, links: Links, addition: Record) -> list[str]:
    """Return the lines of one addition: what to do, what to check, what to beware of."""
    offer = site.book["offers"].get(addition["addition"])
    said = [f"stock number {md(addition['stock'])}"] if addition["stock"] else []
    if addition["price"] is not None:
        said.append(quantity(addition["price"], currency(site.book, offer["layer"]) if offer else None))
    head = f"**{links.to('addition', addition['addition'], addition['title'])}**{' (' + ', '.join(said) + ')' if said else ''}. {md(addition['do'])}"
    checks = [f"Check: {md(text)}" for text in addition["checks"]]
    return [head, *checks, *(f'<p class="db-caution" markdown="span">{md(text)}</p>' for text in addition["cautions"])]


def _only_if(entry: Record) -> list[str]:
    """Return the condition of an addition, one line a clause; more than a few clauses are folded."""
    rows: list[str] = []
    for number, clauses in enumerate(entry["conditions"]):
        rows.append(f'<p class="db-only-if">{"Or if" if number else "Only if"}</p>')
        rows.append('<ul class="db-clauses" markdown="1">' + "".join(f'<li markdown="span">{md(clause)}</li>' for clause in clauses) + "</ul>")
    if entry["more_conditions"]:
        rows.append(f'<p class="db-only-if">Or in {entry["more_conditions"]} more case{"s" if entry["more_conditions"] > 1 else ""}.</p>')
    if len(entry["conditions"]) == 1 and len(entry["conditions"][0]) <= FEW_CLAUSES:
        return rows
    inside = "\n\n".join(rows)
    return [f'<details class="db-only-if" markdown="1"><summary>Only if certain things turn out so</summary>\n\n{inside}\n\n</details>']


def _one_of(site: Site, links: Links, ways: list[list[Record]]) -> list[str]:
    """Return the lines of a choice between ways, the preferred one first."""
    lines = ["One of these ways, the first preferred:"]
    for number, way in enumerate(ways, 1):
        for place, addition in enumerate(way):
            first, *rest = _addition(site, links, addition)
            lines += [f"{f'Way {number}: ' if place == 0 else 'with '}{first}", *rest]
    return lines
