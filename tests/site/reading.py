"""Reads built pages without a browser: links, anchors, text and marks."""

from __future__ import annotations

from html.parser import HTMLParser
from pathlib import Path
from typing import NamedTuple
from urllib.parse import unquote, urldefrag

VOID = frozenset("area base br col embed hr img input link meta source track wbr".split())
INLINE = frozenset("a abbr b code em i small strong sub sup".split())
ADDRESSED = ("href", "src", "srcset", "action", "poster", "data", "formaction", "xlink:href")


class ReadPage(NamedTuple):
    """One built page: its path, ids, facts, addresses (tag, attribute, value), and its text without scripts and styles.

    `waiting` holds those addresses that stand in a template, which a browser does not load by itself.
    """

    path: Path
    ids: tuple[str, ...]
    facts: tuple[str, ...]
    addresses: tuple[tuple[str, str, str], ...]
    tags: tuple[str, ...]
    text: str
    language: str
    waiting: frozenset[str]


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.ids: list[str] = []
        self.facts: list[str] = []
        self.addresses: list[tuple[str, str, str]] = []
        self.tags: list[str] = []
        self.words: list[str] = []
        self.language = ""
        self.silent = 0
        self.templates = 0
        self.waiting: set[str] = set()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self._part(tag)
        if tag in ("script", "style"):
            self.silent += 1
        self.templates += tag == "template"
        for name, value in attrs:
            if name == "id":
                self.ids.append(value or "")
            if name == "data-fact":
                self.facts.append(value or "")
            if name == "lang" and tag == "html":
                self.language = value or ""
            if name in ADDRESSED:
                self.addresses.append((tag, name, value or ""))
                if self.templates:
                    self.waiting.add(value or "")

    def handle_endtag(self, tag: str) -> None:
        self._part(tag)
        if tag in ("script", "style"):
            self.silent -= 1
        self.templates -= tag == "template"

    def _part(self, tag: str) -> None:
        """Keep the words on both sides of a tag apart, unless it stands within a line of text."""
        if tag not in INLINE:
            self.words.append(" ")

    def handle_data(self, data: str) -> None:
        if not self.silent:
            self.words.append(data)


def read_page(path: Path) -> ReadPage:
    """Return what a built page holds."""
    reader = _Reader()
    reader.feed(path.read_text("utf-8"))
    return ReadPage(path, tuple(reader.ids), tuple(reader.facts), tuple(reader.addresses), tuple(reader.tags),
                    one_line("".join(reader.words)), reader.language, frozenset(reader.waiting))


def one_line(text: str) -> str:
    """Return the text with every run of white space as one space."""
    return " ".join(text.split())


def read_site(site: Path) -> dict[str, ReadPage]:
    """Return every page of a site by its path in it."""
    return {page.relative_to(site).as_posix(): read_page(page) for page in sorted(site.rglob("*.html"))}


def is_foreign(address: str) -> bool:
    """Return whether a browser would go to another host for it."""
    return address.startswith("//") or "://" in address.split("#")[0].split("?")[0]


def target(page: ReadPage, site: Path, address: str) -> tuple[Path, str]:
    """Return the file and anchor that an address on a page leads to."""
    rest, anchor = urldefrag(address)
    place = page.path if not rest else (page.path.parent / unquote(rest.split("?")[0]))
    place = Path(*place.parts) if place.suffix else place / "index.html"
    return Path(str(place)).resolve(), unquote(anchor)
