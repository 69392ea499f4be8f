"""The drawings of a page: those that its record asks for by name, and those made from the values of an attribute or a listed part."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from build_tools.drawings import faces, injectors
from build_tools.drawings.figure import Drawing, Panel, figure
from build_tools.drawings.registry import FACES, FIXED, TO_SCALE
from build_tools.pages.site import Record, Site
from build_tools.pages.text import capital

STYLE = "assets/style/drawings.css"
GENDERS = {"pins", "sockets"}


def styles(drawn: Iterable[str]) -> dict[str, Any]:
    """Return the front matter of a page with these drawings: their style, or nothing when there is none."""
    return {"styles": [STYLE]} if list(drawn) else {}


def figures(names: Iterable[str]) -> list[str]:
    """Return the fixed drawings of these names as HTML; a name that is drawn from values is left out."""
    return [figure(FIXED[name]()) for name in names if name in FIXED]


def named(site: Site, section: str, record: str) -> list[str]:
    """Return the drawings that a rule or a way to find out asks for."""
    return figures(site.book["drawings"][section].get(record, ()))


def of_attribute(site: Site, kind: Record, attribute: Record) -> list[str]:
    """Return the drawings of an attribute: the fixed ones, then the faces of its values in one figure."""
    names = _asked(site, kind["id"], attribute["id"])
    shown = figures(names)
    for name in names:
        if name in FACES:
            known = [(label, site.book["faces"][value]) for value, label in attribute["values"] if value in site.book["faces"]]
            shown += [figure(_gallery(known, name == FACES[1]))] if known else []
    return shown


def of_family(site: Site, kind: Record, family: Record) -> list[tuple[str, str]]:
    """Return the drawings made from a listed part's own values, each with the title of its attribute."""
    shown = []
    for attribute in kind["attributes"]:
        value = family["attributes"].get(attribute["id"])
        for name in _asked(site, kind["id"], attribute["id"]) if value else ():
            if name in FACES and len(value["is"]) == 1 and value["is"][0] in site.book["faces"]:
                face = site.book["faces"][value["is"][0]]
                shown.append((attribute["title"], figure(faces.faces(face["plugs"], _terminals(kind, family, attribute["id"]), name == FACES[1]))))
            if name in TO_SCALE and value["is"]["from"] == value["is"]["to"]:
                shown.append((attribute["title"], figure(injectors.of_length(value["is"]["from"]))))
    return shown


def _asked(site: Site, kind: str, attribute: str) -> list[str]:
    return site.book["drawings"]["attributes"].get(f"{kind}.{attribute}", [])


def _terminals(kind: Record, family: Record, plug: str) -> str:
    """Return pins or sockets when the family says so in the attribute beside the plug's: `plug` and `terminals`, `x_plug` and `x_terminals`."""
    name = plug.removesuffix("plug") + "terminals"
    entry = next((a for a in kind["attributes"] if a["id"] == name), None)
    told = family["attributes"].get(name, {"is": []})["is"]
    return told[0] if entry and {value for value, _ in entry["values"]} == GENDERS and len(told) == 1 else faces.UNKNOWN


def _gallery(known: list[tuple[str, Record]], harness: bool) -> Drawing:
    """Return the faces of an attribute's values, each under the words that the value goes by."""
    panels = [panel for label, face in known for panel in _titled(label, face, harness)]
    side = "the harness's plug" if harness else "the part's plug"
    return Drawing(tuple(panels), f"Looking into {side}, latch upwards. Whether it holds pins or sockets is a question of its own. "
                                  f"{'Invented for the demonstration.' if any(face['invented'] for _, face in known) else ''}".strip())


def _titled(label: str, face: Record, harness: bool) -> list[Panel]:
    panels = faces.faces(face["plugs"], faces.UNASKED, harness).panels
    return [panel._replace(title=f"{capital(label)}{f', {panel.title.lower()}' if panel.title else ''}") for panel in panels]
