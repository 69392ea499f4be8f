"""Copies the hand-written pages, with the counted or generated pieces that their marks ask for put in."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from pathlib import Path

from build_tools.pages import facts, words
from build_tools.pages.answers import answer_items
from build_tools.pages.places import Links
from build_tools.pages.render import Renderer
from build_tools.pages.site import Record, Site
from build_tools.pages.text import capital, md

MARK = re.compile(r"^<!-- piece: ([a-z-]+) -->$", re.MULTILINE)
FRONT = re.compile(r"\A---\n(.*?)^---\n", re.DOTALL | re.MULTILINE)
CHECK_PAGE = Path("wizard/web/check.html")
OF_EACH = 2             # worked answers of each verdict on the home page
NO_CHECK = '<p class="db-caution">The combination check has not been built into this site.</p>'


def handwritten(site: Site, renderer: Renderer, project: Path) -> Iterator[tuple[str, str]]:
    """Yield the path and text of each hand-written page; a mark that asks for an unknown piece raises KeyError."""
    folder = project / "kb"
    for file in sorted(folder.rglob("*.md")):
        path = file.relative_to(folder).as_posix()
        links = site.links(path)
        pieces = _pieces(site, renderer, links, project)
        text = MARK.sub(lambda found: pieces[found[1]](), file.read_text("utf-8"))
        yield path, with_edition(text, site.book["edition"])


def with_edition(text: str, edition: str) -> str:
    """Return the page with the edition of the facts in its front matter, which the footer shows."""
    line = f"edition: {json.dumps(edition)}\n"
    found = FRONT.match(text)
    return f"---\n{line}{found[1]}---\n{text[found.end():]}" if found else f"---\n{line}---\n\n{text}"


def _pieces(site: Site, renderer: Renderer, links: Links, project: Path) -> dict[str, Callable[[], str]]:
    return {
        "check": lambda: _check(project),
        "worked-answers": lambda: _worked(site, links),
        "specimen": lambda: _specimen(site, links),
        "facts-opening": lambda: f'<p class="db-lead" markdown="span">{md(facts.opening(site))}</p>',
        "facts-counted": lambda: renderer.fragment("facts.md.j2", facts.piece(site, links)),
        "subjects-covered": lambda: facts.covered(site, links),
        "before-work": lambda: "\n\n".join(f'<p class="db-caution">{text}</p>' for text in (words.BEFORE_WORK, words.QUALIFIED)),
        "verdict-marks": lambda: _marks(),
    }


def _check(project: Path) -> str:
    file = project / CHECK_PAGE
    return file.read_text("utf-8").strip() if file.is_file() else NO_CHECK


def _worked(site: Site, links: Links) -> str:
    """Return some worked answers, the same number of each verdict, and where the others are."""
    items = answer_items(site, links)
    if not items:
        return "There are no worked answers yet."
    sides = list(dict.fromkeys(item["side"] for item in items))
    some = [item for side in sides for item in [one for one in items if one["side"] == side][:OF_EACH]]
    rows = [f'<li markdown="span"><span class="db-list__head">{row["head"]}</span> <span class="db-list__text">{row["text"]}</span> '
            f'<span class="db-list__side">{row["side"]}</span></li>' for row in some]
    rest = f"\nAll {len(items)} of them: {links.page('answers/index.md', 'the worked answers')}." if len(items) > len(some) else ""
    return "\n".join(['<ul class="db-list" markdown="1">', *rows, "</ul>", rest])


def _specimen(site: Site, links: Links) -> str:
    """Return one worked answer in short, the one with most to do or to change; nothing when none has a deciding reason."""
    ready = [(len(_to_do(answer)), name) for name, answer in sorted(site.answers.items()) if answer["decided_by"]]
    if not ready:
        return ""
    name = max(ready)[1]
    build, answer = site.book["builds"][name], site.answers[name]
    lines = [f'<p class="db-specimen__asked">{md(build["asked"])}</p>', f'<p class="db-specimen__verdict">{words.mark(answer["verdict"])}</p>',
             f'<p>{md(answer["decided_by"]["text"])}</p>']
    to_do = "".join(f"<li>{md(capital(text))}</li>" for text in _to_do(answer)[:3])
    if to_do:
        lines.append(f'<p class="db-specimen__need">{"What would help" if answer["changes"] else "What it needs"}</p>\n<ul>{to_do}</ul>')
    note = " An invented customer; the rules are the trade's." if build["invented"] else ""
    lines.append(f'<p class="db-specimen__more" markdown="span">{links.to("build", name, "The whole answer")}.{note}</p>')
    opening = f'<aside class="db-specimen db-specimen--{answer["verdict"]}" aria-label="One answer in short" markdown="1">'
    return "\n".join([opening, *lines, "</aside>"])


def _to_do(answer: Record) -> list[str]:
    """Return the changes that would help, or else what is certainly to be added."""
    return [entry["text"] for entry in answer["changes"]] or [addition["title"] for addition in answer["additions"]["certain"]]


def _marks() -> str:
    return " ".join(words.mark(verdict) for verdict in words.VERDICTS)
