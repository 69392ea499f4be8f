"""The first use of a term on a page links to the words; headings, links, code, tables and drawings stay as they are."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from build_tools.pages.places import Links
from build_tools.pages.terms import linked, words_of
from tests.site.building import real_book
from tests.site.reading import ReadPage

TERM = re.compile(r'<a class="db-term" href="[^"]*terms/#([a-z0-9_]+)">([^<]*)</a>')


def term(title: str, **more: Any) -> dict[str, Any]:
    """Return a term of a small book."""
    return {"title": title, "abbreviation": None, "also_called": [], "said_as": [], **more}


OF_THE_TRADE = ("fuel_use_per_work", "variable_reluctance")
BOOK = {"terms": {
    "feed": term("Feed", also_called=["supply wire"]), "lamp_feed": term("Lamp feed", abbreviation="LF"),
    "master": term("Master", said_as=["master switch"]),
}}
WORDS = words_of(BOOK)


def on(text: str, without: str = "") -> str:
    """Return a text with its terms linked as on a page of a rule."""
    return linked(WORDS, Links(BOOK, "rules/a.md"), text, without)


def link(name: str, text: str) -> str:
    """Return the link that a use of a term becomes."""
    return f"[{text}](../terms/index.md#{name}){{ .db-term }}"


def test_the_first_use_is_linked_and_no_other() -> None:
    assert on("The feed and the feed.\n\nA feed.") == f"The {link('feed', 'feed')} and the feed.\n\nA feed."


@pytest.mark.parametrize(("text", "name", "said"), [
    ("Two Feeds here.", "feed", "Feeds"), ("A lamp feed here.", "lamp_feed", "lamp feed"), ("An LF here.", "lamp_feed", "LF"),
    ("A supply wire here.", "feed", "supply wire"), ("The master switch.", "master", "master switch"), ("(feed)", "feed", "feed"),
])
def test_plurals_capitals_longer_terms_and_other_names_are_found(text: str, name: str, said: str) -> None:
    assert on(text) == text.replace(said, link(name, said))


@pytest.mark.parametrize("text", [
    "Feeding and refeed, feed-back.", "An lf in small letters.", "The master of it.",
    "## A feed { #feed }", "<h4>Feed</h4>", "| feed | feed |", "A [feed](x.md) and `feed` and <code>feed</code>.", "[the \\[feed\\]](x.md)",
    '<svg viewBox="0 0 1 1"><text>feed</text></svg>', '<svg>\n<text markdown="span">feed</text>\n</svg>', "```\nfeed\n```",
    '<p class="x" id="feed">feed in plain HTML</p>', '<p class="db-crumbs" markdown="span">feed</p>', '<a href="x">feed</a>', "---\ntitle: feed\n---\n",
])
def test_what_is_no_plain_text_stays_as_it_is(text: str) -> None:
    assert on(text) == text


def test_attributes_of_tags_stay_and_their_text_is_linked() -> None:
    text = '<p class="feed" title="feed" markdown="span">A feed.</p>'

    assert on(text) == f'<p class="feed" title="feed" markdown="span">A {link("feed", "feed")}.</p>'


def test_text_after_a_drawing_is_linked_again() -> None:
    assert on("<svg>\n<text>feed</text>\n</svg>\nA feed.") == f"<svg>\n<text>feed</text>\n</svg>\nA {link('feed', 'feed')}."


def test_a_page_does_not_link_the_term_that_it_explains() -> None:
    assert on("The feed.", without="feed") == "The feed."


def test_a_book_without_terms_changes_nothing() -> None:
    assert linked(words_of({"terms": {}}), Links({"terms": {}}, "a.md"), "The feed.") == "The feed."


def test_on_the_site_no_term_is_linked_twice_on_a_page_and_most_are_linked_somewhere(pages: dict[str, ReadPage]) -> None:
    found = {path: [name for name, _ in TERM.findall(page.path.read_text("utf-8"))] for path, page in pages.items()}
    twice = [(path, name) for path, names in found.items() for name in set(names) if names.count(name) > 1]
    used = {name for names in found.values() for name in names}

    assert twice == []
    assert used <= set(real_book()["terms"])
    assert len(used) > 0.8 * len(real_book()["terms"])
    assert sum(bool(names) for path, names in found.items() if path.startswith("rules/")) > 200


def test_on_the_site_no_heading_table_link_or_drawing_holds_a_term_link(pages: dict[str, ReadPage]) -> None:
    inside = re.compile(r"<(h[1-6]|table|svg|code|pre|button|summary)\b(?:(?!</\1>).)*class=\"db-term\"", re.DOTALL)
    nested = re.compile(r"<a\b[^>]*>(?:(?!</a>).)*<a\b", re.DOTALL)
    wrong = [path for path, page in pages.items() if inside.search(body := page.path.read_text("utf-8").partition("<article")[2]) or nested.search(body)]

    assert wrong == []


def test_the_words_themselves_are_not_linked_from_their_own_page(site: Path) -> None:
    assert not TERM.search((site / "terms" / "index.html").read_text("utf-8"))


def test_names_of_the_standard_are_marked_as_from_memory() -> None:
    standard = [record for record in real_book()["terms"].values() if record["abbreviation"] and record["id"] not in OF_THE_TRADE]

    assert len(standard) >= 25
    assert {record["source"] for record in standard} == {"trade-memory"}
