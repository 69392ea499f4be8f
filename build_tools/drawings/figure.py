"""What a drawing is, and how it stands on a page: panels beside each other where there is room, else below each other."""

from __future__ import annotations

from html import escape
from typing import NamedTuple

from build_tools.drawings.ink import WIDTH


class Panel(NamedTuple):
    """One picture: its strokes, its height for a width of 320, what it shows in whole sentences, and a heading of its own."""

    marks: str
    height: int
    says: str
    title: str = ""


class Drawing(NamedTuple):
    """Panels that belong together, and the caption that everybody reads."""

    panels: tuple[Panel, ...]
    caption: str


def figure(drawing: Drawing) -> str:
    """Return a drawing as one line of HTML without ids, kept out of the search; each panel is an image with its text alternative."""
    alone = " db-drawing--one" if len(drawing.panels) == 1 else ""
    panels = "".join(_panel(panel) for panel in drawing.panels)
    caption = f"<figcaption>{escape(drawing.caption, quote=False)}</figcaption>" if drawing.caption else ""
    return f'<figure class="db-drawing{alone}" data-search-exclude=""><div class="db-drawing__panels">{panels}</div>{caption}</figure>'


def _panel(panel: Panel) -> str:
    title = f'<p class="db-drawing__title">{escape(panel.title, quote=False)}</p>' if panel.title else ""
    return (f'<div class="db-drawing__panel">{title}<svg class="db-drawn" viewBox="0 0 {WIDTH} {panel.height}" role="img" '
            f'aria-label="{escape(panel.says)}" fill="none" stroke="currentColor">{panel.marks}</svg></div>')
