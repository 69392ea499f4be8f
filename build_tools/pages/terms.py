"""Links the first use of each of the trade's words on a page to where the word is explained."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, NamedTuple

from build_tools.pages.places import Links

LINKED = frozenset({"kind.md.j2", "rule.md.j2", "find_out.md.j2", "answer.md.j2", "entries.md.j2", "narrow.md.j2"})
NOT_ON = frozenset({"terms/index.md", "sources/index.md"})
FRONT = re.compile(r"\A---\n.*?^---\n", re.DOTALL | re.MULTILINE)
PLAIN_LINE = re.compile(r"[^#|<>`\s]|\s*<[^>]*\bmarkdown=\"(?:span|1)\"")
NEVER_LINE = re.compile(r"\s*<(?:h[1-6]|p class=\"db-(?:crumbs|provenance|also|cited|actions))\b")
KEPT = re.compile(
    r"(<svg\b.*?</svg>|<code\b.*?</code>|<a\b.*?</a>|<span class=\"db-(?:list__head|verdict|when__part)\b.*?</span>|<summary\b.*?</summary>"
    r"|<[^>]+>|`[^`]*`|!?\[(?:\\.|[^\]\\])*\]\([^)]*\)(?:\{[^}]*\})?|\{[^}]*\})"
)
OPENS, CLOSES = re.compile(r"<(svg|script|style|pre)\b"), re.compile(r"</(svg|script|style|pre)>")


class Words(NamedTuple):
    """The pattern that finds any of the trade's words, and the term of each way to say one, in small letters."""

    pattern: re.Pattern[str] | None
    terms: Mapping[str, str]


def words_of(book: Mapping[str, Any]) -> Words:
    """Return the words of a book's terms: `said_as`, or title, abbreviation and what people also say; plurals with s count.

    Words in small letters are found in either case, those with capitals inside only as they are written. Of two terms
    that are said alike the one with the smaller id counts.
    """
    terms: dict[str, str] = {}
    plain, exact = set(), set()
    for name, term in sorted(book["terms"].items()):
        said = term["said_as"] or [term["title"], term["abbreviation"], *term["also_called"]]
        for form in (form for form in said if form):
            terms.setdefault(form.lower(), name)
            (exact if any(letter.isupper() for letter in form[1:]) else plain).add(form)
    if not terms:
        return Words(None, terms)
    def ways(forms: set[str]) -> str:
        return "|".join(re.escape(form) for form in sorted(forms, key=lambda form: (-len(form), form)))

    parts = [f"(?i:{ways(plain)})" if plain else "", f"(?:{ways(exact)})" if exact else ""]
    return Words(re.compile(rf"(?<![\w-])({'|'.join(part for part in parts if part)})(s?)(?![\w-])"), terms)


def linked(words: Words, links: Links, text: str, without: str = "") -> str:
    """Return a page with the first use of each term linked; headings, links, code, tables and drawings stay as they are.

    `without` names a term that the page itself explains.
    """
    if words.pattern is None:
        return text
    head = FRONT.match(text)
    start = head.end() if head else 0
    used = {without}
    lines, closed_by, fenced = [], "", False
    for line in text[start:].split("\n"):
        if line.lstrip().startswith("```"):
            fenced = not fenced
        if closed_by or fenced:
            closed_by = "" if closed_by and f"</{closed_by}>" in line else closed_by
            lines.append(line)
            continue
        opened = OPENS.search(line)
        if opened and not CLOSES.search(line):
            closed_by = opened[1]
        may = not closed_by and PLAIN_LINE.match(line) and not NEVER_LINE.match(line)
        lines.append(_line(words, links, line, used) if may else line)
    return text[:start] + "\n".join(lines)


def _line(words: Words, links: Links, line: str, used: set[str]) -> str:
    def link(found: re.Match[str]) -> str:
        term = words.terms.get(found[1].lower(), "")
        if not term or term in used:
            return found[0]
        used.add(term)
        return links.to("term", term, found[0]) + "{ .db-term }"

    assert words.pattern is not None
    pieces = KEPT.split(line)
    return "".join(piece if at % 2 else words.pattern.sub(link, piece) for at, piece in enumerate(pieces))
