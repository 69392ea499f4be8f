"""Fills a template and puts the front matter before it."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from build_tools.pages import words
from build_tools.pages.site import Page
from build_tools.pages.text import capital, day, md

TEMPLATES = Path(__file__).resolve().parent / "templates"
GAPS = re.compile(r"\n{3,}")


class Renderer:
    """Renders pages of one edition of the facts; a value that a template misses is an error, never a blank."""

    def __init__(self, edition: str) -> None:
        """Prepare the templates."""
        self.edition = edition
        self.environment = Environment(loader=FileSystemLoader(TEMPLATES), undefined=StrictUndefined, trim_blocks=True,
                                       lstrip_blocks=True, keep_trailing_newline=True, autoescape=False)
        self.environment.filters.update(md=md, day=day, capital=capital)
        self.environment.globals.update(edition=edition, source_kinds=words.SOURCE_KINDS)

    def page(self, page: Page) -> str:
        """Return the whole Markdown file of a page."""
        front = {"title": page.title, "section": page.section, "edition": self.edition, **page.meta}
        return f"{front_matter(front)}\n{self.fragment(page.template, page.values)}"

    def fragment(self, template: str, values: dict[str, Any]) -> str:
        """Return a filled template with no more than one blank line in a row."""
        return GAPS.sub("\n\n", self.environment.get_template(template).render(values)).strip() + "\n"


def front_matter(values: dict[str, Any]) -> str:
    """Return YAML front matter; JSON strings are YAML strings that no loader turns into something else."""
    lines = [f"{key}: {json.dumps(value, ensure_ascii=False)}" for key, value in values.items()]
    return "\n".join(["---", *lines, "---", ""])
