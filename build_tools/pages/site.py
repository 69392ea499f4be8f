"""What every page maker is given, and what it hands back."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any, NamedTuple

from build_tools.pages.crossref import Crossref
from build_tools.pages.places import Links
from wizard.engine import answer
from wizard.engine.address import to_address

Record = Mapping[str, Any]
WEAKEST_FIRST = ("invented", "from-memory", "common-practice", "measured", "published")


class Site(NamedTuple):
    """The book, its reverse links, the answer of each worked build by id, and the book as the engine reads it."""

    book: dict[str, Any]
    refs: Crossref
    answers: Mapping[str, Record]
    engine: Any

    def ask(self, build: Record) -> dict[str, Any]:
        """Return the engine's answer to a build; raises the engine's own error for one that it cannot read."""
        return json.loads(answer(self.engine, json.dumps(build)))

    def address(self, build: Record) -> str:
        """Return what follows # in the address of the check for this build."""
        return to_address(self.engine, dict(build))

    def links(self, page: str) -> Links:
        """Return the links of a page."""
        return Links(self.book, page)

    def source_kinds(self, cited: list[str | None]) -> list[str]:
        """Return the kinds of the sources cited, weakest first; sources the book does not have are left out."""
        names = {(one or "").partition("#")[0] for one in cited}
        kinds = {self.book["sources"][name]["kind"] for name in names if name in self.book["sources"]}
        return [kind for kind in WEAKEST_FIRST if kind in kinds]


class Page(NamedTuple):
    """One page to write: its path in the documentation folder, template, values, and front matter beside the usual."""

    path: str
    template: str
    values: dict[str, Any]
    title: str
    section: str
    meta: Mapping[str, Any] = {}
