"""The whole path in a real browser: say parts, read the verdict, send the link, go back."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Page

from tests.browser.browser import (
    DESKTOP, PHONE, Site, Visit, answer_text, key, open_check, quiet, say, settled, text_of,
)
from wizard.engine import answer, load
from wizard.engine.address import to_address

SIZES = pytest.mark.parametrize("size", [PHONE, DESKTOP], ids=["phone", "desktop"])


def first_ids(book: dict[str, Any], name: str) -> dict[str, Any]:
    """Return the build of a worked build."""
    return dict(book["builds"][name]["build"])


@SIZES
def test_parts_said_one_after_the_other_get_a_verdict_with_its_argument(visits: Callable[..., Visit], site: Site, size: tuple[int, int]) -> None:
    page = visits(size).page
    open_check(page, site)
    for words in ("throttle body", "pedal", "controller"):
        say(page, words)

    assert text_of(page, "verdict-words").startswith("Cannot tell yet")
    assert page.locator(f"{key('answer')} h3").all_inner_texts() == [
        "Why", "What else it needs", "Still open, the most useful first", "From what you told", "What this does not cover", "Sources"]
    assert page.locator(key("question")).count() == 1
    assert "not a calibration, a road-worthiness approval or legal advice" in answer_text(page)


@SIZES
def test_the_verdict_line_stays_in_view_however_far_one_reads(visits: Callable[..., Visit], site: Site, size: tuple[int, int]) -> None:
    page = visits(size).page
    open_check(page, site)
    for words in ("throttle body", "pedal", "controller"):
        say(page, words)
    seen = []
    for share in (0, 0.25, 0.5, 0.75):
        page.evaluate("share => scrollTo({ top: share * document.body.scrollHeight, behavior: 'instant' })", share)
        box = page.locator(key("verdict")).bounding_box()
        seen.append(box is not None and box["y"] >= 0 and box["y"] + box["height"] <= size[1] + 1)

    assert seen == [True] * 4


@SIZES
def test_nothing_is_wider_than_the_screen(visits: Callable[..., Visit], site: Site, book: dict[str, Any], size: tuple[int, int]) -> None:
    page = visits(size).page
    loaded = load(json.dumps(book))
    for name in sorted(book["builds"]):
        open_check(page, site, to_address(loaded, first_ids(book, name)))
        quiet(page)

        assert page.evaluate("document.documentElement.scrollWidth") <= size[0], name


@SIZES
def test_a_copied_link_shows_the_same_answer_in_another_profile(visits: Callable[..., Visit], site: Site, size: tuple[int, int]) -> None:
    sender = visits(size, permissions=["clipboard-read", "clipboard-write"]).page
    open_check(sender, site)
    for words in ("throttle body", "pedal", "controller"):
        say(sender, words)
    sent = answer_text(sender)
    sender.get_by_role("button", name="Copy the link to this answer").click()
    sender.wait_for_function("document.querySelector('.db-copied').textContent.startsWith('Copied')")
    link = str(sender.evaluate("navigator.clipboard.readText()"))
    reader = visits().page
    reader.goto(link)
    reader.wait_for_selector(f"{key('check')}[data-resting=yes]")

    assert link == sender.url
    assert answer_text(reader) == sent


def test_where_copying_is_not_allowed_the_link_is_shown_and_selected(visits: Callable[..., Visit], site: Site) -> None:
    page = visits().page
    page.add_init_script("Object.defineProperty(navigator, 'clipboard', { value: undefined })")
    open_check(page, site)
    say(page, "throttle body")
    say(page, "pedal")
    page.get_by_role("button", name="Copy the link to this answer").click()
    chosen = page.evaluate("document.activeElement.value.slice(document.activeElement.selectionStart, document.activeElement.selectionEnd)")

    assert chosen == page.url


def test_back_and_forward_walk_through_what_was_said(page: Page, site: Site) -> None:
    open_check(page, site)
    states = [(page.url, text_of(page, "told"))]
    for words in ("throttle body", "pedal", "controller"):
        say(page, words)
        states.append((page.url, text_of(page, "told")))
    walked = []
    for step in (page.go_back, page.go_back, page.go_back, page.go_forward):
        step()
        quiet(page)
        walked.append((page.url, text_of(page, "told")))

    assert len({url for url, _ in states}) == 4
    assert walked == [states[2], states[1], states[0], states[1]]


def test_a_seller_enters_six_parts_by_keyboard_alone(page: Page, site: Site) -> None:
    open_check(page, site)
    page.locator(key("box")).focus()
    pressed = 0
    for words in ("throttle body", "pedal", "controller", "engine harness", "speed source", "transmission"):
        page.keyboard.type(words)
        page.wait_for_selector(f'{key("options")} [role=option]')
        page.keyboard.press("Enter")
        pressed += len(words) + 1
    page.wait_for_function("document.querySelectorAll('.db-told__part').length === 6")
    quiet(page)

    assert pressed < 120            # at two keys a second: under a minute
    assert page.evaluate("document.activeElement.dataset.key") == "box"


def test_arrows_choose_among_what_was_found_and_escape_closes_it(page: Page, site: Site) -> None:
    open_check(page, site)
    page.locator(key("box")).focus()
    page.keyboard.type("throttle")
    options = page.locator("[role=option]")
    options.nth(1).wait_for()
    page.keyboard.press("ArrowDown")
    chosen = page.locator("[role=option][aria-selected=true]")
    second = chosen.get_attribute("id")
    page.keyboard.press("ArrowUp")
    first = chosen.get_attribute("id")
    page.keyboard.press("Escape")

    assert (first, second) == ("db-option-0", "db-option-1")
    assert options.count() == 0


def test_every_worked_build_opened_by_its_example_gets_the_engines_own_answer(page: Page, site: Site, book: dict[str, Any]) -> None:
    loaded = load(json.dumps(book))
    open_check(page, site)
    for name, record in sorted(book["builds"].items()):
        if page.locator(key("start-over")).is_visible():
            page.locator(key("start-over")).click()
        settled(page, lambda asked=record["asked"]: page.get_by_role("button", name=asked).click())

        assert text_of(page, "verdict-words") == json.loads(answer(loaded, json.dumps(record["build"])))["headline"], name
        assert page.url.partition("#")[2] == to_address(loaded, record["build"]), name


def test_invented_parts_are_marked_as_invented(page: Page, site: Site, book: dict[str, Any]) -> None:
    family = next(one for one in sorted(book["families"].values(), key=lambda one: one["id"]) if one["invented"])
    open_check(page, site)
    page.locator(key("box")).fill(family["title"])

    assert "invented" in page.locator("[role=option]").first.inner_text()
