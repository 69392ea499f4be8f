"""Where each record has its one reference page, and links to it that the strict build can check."""

from __future__ import annotations

import posixpath
from typing import Any, NamedTuple

from build_tools.pages.text import md

Book = dict[str, Any]
SECTIONS = {
    "kind": "kinds", "family": "families", "set": "sets", "offer": "offers", "rule": "rules", "stop": "stops",
    "addition": "additions", "subject": "subjects", "sum": "sums", "source": "sources", "find_out": "find_out",
    "code": "codes", "symptom": "symptoms", "term": "terms", "build": "builds", "slot": "slots", "layer": "layers", "face": "faces",
}
OWN_PAGE = {"rule": "rules", "find_out": "find-out", "build": "answers", "kind": "parts"}
SHARED_PAGE = {
    "stop": "stops", "addition": "additions", "subject": "subjects", "source": "sources", "code": "codes", "term": "terms",
    "set": "sets", "symptom": "symptoms", "face": "faces",
}
ABOUT = "about-facts/index.md"


class Place(NamedTuple):
    """A page of the documentation folder and, where the page is shared, the anchor on it."""

    page: str
    anchor: str


def place(book: Book, record_type: str, name: str) -> Place:
    """Return where the record is described; raises KeyError for a type without a place or an unknown family, slot or sum."""
    if record_type == "family":
        return Place(f"parts/{book['families'][name]['kind']}/{name}.md", "")
    if record_type == "slot":
        return Place(f"parts/{book['slots'][name]['kind']}.md", f"slot-{name}")
    if record_type == "offer":
        return Place("additions/index.md", name)
    if record_type == "sum":
        return Place(f"sums/{book['sums'][name].get('function', name)}.md", name)
    if record_type == "layer":
        return Place(ABOUT, f"layer-{name}")
    if record_type in OWN_PAGE:
        return Place(f"{OWN_PAGE[record_type]}/{name}.md", "")
    return Place(f"{SHARED_PAGE[record_type]}/index.md", name)


def title(book: Book, record_type: str, name: str) -> str:
    """Return the title of the record, or its id when it has none."""
    record = record_of(book, record_type, name)
    return str(record.get("title") or name)


def record_of(book: Book, record_type: str, name: str) -> dict[str, Any]:
    """Return the record; an empty one when the book has none of that id."""
    section = book[SECTIONS[record_type]]
    if isinstance(section, list):
        return next((record for record in section if record["id"] == name), {})
    return section.get(name, {})


def href(here: str, target: Place) -> str:
    """Return the link from one Markdown file to a place, as the builder wants it written."""
    anchor = f"#{target.anchor}" if target.anchor else ""
    if target.page == here:
        return anchor or posixpath.basename(target.page)
    return posixpath.relpath(target.page, posixpath.dirname(here) or ".") + anchor


class Links:
    """The links of one page: each method returns Markdown."""

    def __init__(self, book: Book, here: str) -> None:
        """Remember the book and the page that the links start from."""
        self.book = book
        self.here = here

    def to(self, record_type: str, name: str, text: str | None = None, anchor: str | None = None) -> str:
        """Return a link to a record, or to an anchor on its page, worded by its title unless told otherwise."""
        target = place(self.book, record_type, name)
        target = target if anchor is None else Place(target.page, anchor)
        return f"[{md(text if text is not None else title(self.book, record_type, name))}]({href(self.here, target)})"

    def attribute(self, variable: str, bound: dict[str, str] | None = None, text: str | None = None) -> str:
        """Return a link to an attribute such as `harness.plug`, by its title; `bound` names the kind of an `each`."""
        slot, _, attribute = variable.partition(".")
        kind = (bound or {}).get(slot) or self.book["slots"][slot]["kind"]
        entry = attribute_of(self.book, kind, attribute)
        return self.to("kind", kind, text or (entry["title"] if entry else attribute), anchor=attribute)

    def source(self, cited: str) -> str:
        """Return a link to a source with the place cited in it, if any."""
        name, _, where = cited.partition("#")
        return self.to("source", name) + (f", {md(where)}" if where else "")

    def page(self, page: str, text: str, anchor: str = "") -> str:
        """Return a link to a page of the documentation folder."""
        return f"[{md(text)}]({href(self.here, Place(page, anchor))})"


def attribute_of(book: Book, kind: str, attribute: str) -> dict[str, Any] | None:
    """Return the attribute of a kind, or None when it has none of that id."""
    return next((a for a in book["kinds"][kind]["attributes"] if a["id"] == attribute), None)
