"""Damaged links, a runtime that does not start, no script: the page says so, and what can work still does."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.browser import Site, Visit, key, open_check, quiet, text_of, visit

ATTACK = "%3Cimg%20src%3Dx%20onerror%3D%22window.hurt%3D1%22%3E"


@pytest.mark.parametrize("address", [
    f"pedal={ATTACK}&throttle_body=not_sure", f"{ATTACK}=1&throttle_body=not_sure", "<img src=x onerror=window.hurt=1>&throttle_body=not_sure",
    f"throttle_body=not_sure;bore:{ATTACK}", f"came_together={ATTACK},pedal&throttle_body=not_sure"])
def test_what_a_link_holds_is_named_as_not_used_and_never_becomes_part_of_the_page(page: Page, site: Site, address: str) -> None:
    open_check(page, site, address)
    quiet(page)
    notice = page.locator("[data-notice=address]").inner_text()

    assert "<img src=x onerror=" in notice
    assert page.locator(f"{key('check')} img").count() == 0
    assert page.evaluate("window.hurt") is None
    assert "Throttle body" in text_of(page, "told")


def test_a_part_no_fact_knows_any_more_counts_as_not_known_and_the_rest_still_opens(page: Page, site: Site) -> None:
    open_check(page, site, "pedal=withdrawn_pedal&throttle_body=actuation:steam;keep&moon=full")
    quiet(page)
    notice = page.locator("[data-notice=address] li").all_inner_texts()

    assert [line.split(" ")[0] for line in notice] == ["pedal=withdrawn_pedal", "throttle_body.actuation=steam", "moon=full"]
    assert page.locator(".db-told__part").count() == 2


def test_the_notice_about_a_link_goes_once_something_is_changed(page: Page, site: Site) -> None:
    open_check(page, site, "pedal=withdrawn_pedal")
    quiet(page)
    page.locator(key("remove pedal")).click()

    assert page.locator("[data-notice=address]").count() == 0


def test_a_jump_within_the_page_is_not_taken_for_a_build(page: Page, site: Site) -> None:
    open_check(page, site, "what-do-you-have")

    assert page.locator("[data-notice]").count() == 0
    assert text_of(page, "verdict-words").startswith("Say what you have")


@pytest.mark.parametrize("broken", ["**/*.wasm", "**/worker.mjs", "**/pyodide.mjs", "**/python_stdlib.zip", "**/engine-*.zip"])
def test_when_the_runtime_cannot_start_the_page_says_so_and_what_still_works(browser: Browser, site: Site, book: dict[str, Any], broken: str) -> None:
    with visit(browser, site) as visited:
        page = visited.page
        page.route(broken, lambda route: route.abort())
        page.context.route(broken, lambda route: route.abort())
        page.goto(f"{site.address}check/#pedal=not_sure")
        notice = page.locator("[data-notice=failed]")
        notice.wait_for()
        page.locator(key("box")).fill("throttle body")
        page.wait_for_selector("[role=option]")
        example = page.locator(".db-example").first
        said = notice.inner_text()
        target = example.get_attribute("href") or ""

        assert "worked answers" in said and "The link itself is unharmed" in said
        assert any(target == f"{site.address}answers/{name}/" for name in book["builds"])
        assert page.goto(target).ok
        assert visited.foreign == []


def test_when_the_facts_cannot_be_fetched_the_page_says_so(browser: Browser, site: Site) -> None:
    with visit(browser, site) as visited:
        visited.context.route("**/book-*.json", lambda route: route.abort())
        visited.page.goto(f"{site.address}check/")
        notice = visited.page.locator("[data-notice=facts]")
        notice.wait_for()

        assert "parts cannot be looked up" in notice.inner_text()


def test_without_script_the_check_says_so_and_the_worked_answers_read(visits: Callable[..., Visit], site: Site, book: dict[str, Any]) -> None:
    page = visits(java_script_enabled=False).page
    page.goto(f"{site.address}check/")

    assert "needs script" in page.locator("noscript, .db-notice").first.inner_text()
    assert not page.locator(key("box")).is_visible()
    page.get_by_role("link", name="worked answers").first.click()
    for name, record in sorted(book["builds"].items()):
        reply = page.goto(f"{site.address}answers/{name}/")

        assert reply is not None and reply.ok
        assert record["asked"] in page.content().replace("&#39;", "'").replace("&quot;", '"') or record["title"] in page.content()
        assert page.locator("article").inner_text().strip() != ""
