"""Writes the site's Markdown: the hand-written pages, and one reference page or anchor for every record of the book."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from build_tools.pages import answers as answer_pages
from build_tools.pages import entries, faces, identify, parts, rules, sums, ways
from build_tools.pages.crossref import crossref
from build_tools.pages.handwritten import handwritten
from build_tools.pages.prepared import prepared
from build_tools.pages.render import Renderer
from build_tools.pages.site import Page, Site
from build_tools.pages.terms import LINKED, NOT_ON, Words, linked, words_of
from wizard.engine import load

PROJECT = Path(__file__).resolve().parent.parent.parent
ASSETS = (("style", "assets/style"), ("check", "assets/check"), ("sums", "assets/sums"))


def generate(book: dict[str, Any], answers: Mapping[str, Mapping[str, Any]], out: Path, project: Path = PROJECT) -> list[Path]:
    """Write every page, prepared answer and style into `out`, emptying it first, and return the files written, sorted.

    The same book, answers and project give the same bytes. Raises KeyError when a record points at one that is not
    there: the facts are checked before they come here.
    """
    site = Site(book, crossref(book), answers, load(json.dumps(book)))
    if out.exists():
        shutil.rmtree(out)
    renderer = Renderer(book["edition"])
    words = words_of(book)
    written = [_write(out / page.path, _with_terms(site, words, page, renderer.page(page))) for page in _generated(site)]
    written += [_write(out / path, linked(words, site.links(path), text) if path.startswith("learn/") else text)
                for path, text in handwritten(site, renderer, project)]
    written += [_write(out / path, text) for path, text in prepared(site)]
    written += [_write(out / target / file.name, file.read_text("utf-8"))
                for source, target in ASSETS for file in sorted((project / "wizard" / "web" / source).glob("*.*"))]
    return sorted(written)


def _generated(site: Site) -> Iterator[Page]:
    for maker in (answer_pages, parts, rules, sums, ways, identify, faces, entries):
        yield from maker.pages(site)


def _with_terms(site: Site, words: Words, page: Page, text: str) -> str:
    if page.template not in LINKED or page.path in NOT_ON:
        return text
    return linked(words, site.links(page.path), text, page.values.get("kind", {}).get("id", ""))


def _write(file: Path, text: str) -> Path:
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(text, "utf-8")
    return file
