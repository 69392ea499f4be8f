"""Pages in a real browser: nothing foreign, nothing wrong on the console, nothing wider than a phone, light and dark, by keyboard."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.site.building import real_book

FAINT_TEXT = """() => {
  const parts = (colour) => colour.match(/[\\d.]+/g).map(Number)
  const light = (colour) => {
    const [r, g, b] = parts(colour).slice(0, 3).map((c) => c / 255).map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4))
    return 0.2126 * r + 0.7152 * g + 0.0722 * b
  }
  const ground = (element) => {
    for (let one = element; one; one = one.parentElement) {
      const colour = getComputedStyle(one).backgroundColor
      if (parts(colour)[3] !== 0) return colour
    }
    return "rgb(255, 255, 255)"
  }
  const found = []
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT)
  for (let node = walk.nextNode(); node; node = walk.nextNode()) {
    const element = node.parentElement
    if (!node.data.trim() || !element.checkVisibility({ visibilityProperty: true, opacityProperty: true })) continue
    if (["SCRIPT", "STYLE"].includes(element.tagName) || element.closest(".md-search, .md-dialog")) continue
    const [low, high] = [light(getComputedStyle(element).color), light(ground(element))].sort((a, b) => a - b)
    const ratio = (high + 0.05) / (low + 0.05)
    if (ratio < 4.5) found.push([node.data.trim().slice(0, 40), Math.round(ratio * 100) / 100])
  }
  return found
}"""
PHONE, DESKTOP = {"width": 390, "height": 844}, {"width": 1280, "height": 900}


def paths() -> list[str]:
    """Return one page of each sort."""
    book = real_book()
    first = {section: sorted(book[section])[0] for section in ("rules", "kinds", "families", "sums", "find_out", "builds")}
    family = book["families"][first["families"]]
    return ["", "answers/", f"answers/{first['builds']}/", "parts/", f"parts/{first['kinds']}/", f"parts/{family['kind']}/{family['id']}/",
            "rules/", f"rules/{first['rules']}/", f"sums/{book['sums'][first['sums']]['function']}/", "sums/wire_current_for_heat_a/", f"find-out/{first['find_out']}/", "stops/", "additions/",
            "about-facts/", "learn/four-truths/"]


class Quiet(SimpleHTTPRequestHandler):
    """Serves without a line for each request."""

    def log_message(self, format: str, *args: object) -> None:
        """Say nothing."""


@pytest.fixture(scope="module")
def address(site: Path) -> Iterator[str]:
    """Serve the built site and return where."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=str(site)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_address[1]}/"
    server.shutdown()
    server.server_close()


@pytest.fixture(scope="module")
def browser(chromium: Browser) -> Browser:
    """Return the running Chromium."""
    return chromium


def opened(browser: Browser, size: dict[str, int], **ways: object) -> tuple[Page, list[str]]:
    """Return a fresh page, and a list that gathers whatever goes wrong on it."""
    page = browser.new_context(viewport=size, **ways).new_page()
    wrong: list[str] = []
    page.on("console", lambda message: wrong.append(message.text) if message.type == "error" else None)
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.on("request", lambda request: wrong.append(f"foreign: {request.url}")
            if not request.url.startswith(("http://127.0.0.1:", "data:", "blob:")) else None)
    return page, wrong


@pytest.mark.parametrize("size", [PHONE, DESKTOP], ids=["phone", "desktop"])
def test_pages_fit_the_screen_and_nothing_goes_wrong(browser: Browser, address: str, size: dict[str, int]) -> None:
    page, wrong = opened(browser, size)
    wide = []
    for path in paths():
        page.goto(address + path)
        over = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
        if over > 0:
            wide.append((path, over))
    page.context.close()

    assert wide == []
    assert wrong == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_word_stands_out_from_what_is_behind_it(browser: Browser, address: str, scheme: str) -> None:
    """Least contrast for text: 4.5 to 1, Web Content Accessibility Guidelines 2.1, 1.4.3 (from memory)."""
    page, _ = opened(browser, DESKTOP, color_scheme=scheme)
    faint = []
    for path in paths():
        page.goto(address + path)
        faint += [(path, *found) for found in page.evaluate(FAINT_TEXT)]
    page.goto(address)
    page.evaluate("document.querySelector('h1').style.color = getComputedStyle(document.body).backgroundColor")
    planted = page.evaluate(FAINT_TEXT)
    page.context.close()

    assert faint == []
    assert len(planted) == 1


def test_the_switch_turns_light_to_dark_and_is_remembered(browser: Browser, address: str) -> None:
    page, wrong = opened(browser, DESKTOP, color_scheme="light")
    ground = "getComputedStyle(document.body).backgroundColor"
    page.goto(address)
    light = page.evaluate(ground)
    page.click("#db-scheme")
    dark = page.evaluate(ground)
    page.goto(address + "rules/")
    kept = page.evaluate(ground)
    page.context.close()

    assert light != dark
    assert kept == dark
    assert wrong == []


def test_without_script_the_system_still_chooses_dark_and_the_menu_opens(browser: Browser, address: str) -> None:
    page, _ = opened(browser, PHONE, java_script_enabled=False, color_scheme="dark")
    page.goto(address + "rules/")
    page.click("text=Menu")
    menu = page.is_visible(".db-menu nav a:has-text('Parts')")
    search = page.is_visible("label[for=__search]")
    page.screenshot()
    page.context.close()

    assert menu
    assert not search


def test_the_menu_of_a_phone_opens_and_closes_by_keyboard(browser: Browser, address: str) -> None:
    page, wrong = opened(browser, PHONE)
    page.goto(address)
    page.focus(".db-menu summary")
    page.keyboard.press("Enter")
    opened_menu = page.is_visible(".db-menu nav")
    page.keyboard.press("Escape")
    closed_menu = not page.is_visible(".db-menu nav")
    held = page.evaluate("document.activeElement.tagName")
    page.context.close()

    assert opened_menu
    assert closed_menu
    assert held == "SUMMARY"
    assert wrong == []


def test_search_finds_a_rule_from_the_keyboard(browser: Browser, address: str) -> None:
    rule = real_book()["rules"][sorted(real_book()["rules"])[0]]
    page, wrong = opened(browser, DESKTOP)
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(address)
    page.wait_for_load_state("networkidle")
    before = [url for url in asked if "search" in url or "bundle" in url]
    page.keyboard.press("/")
    page.keyboard.type(rule["title"])
    page.wait_for_selector(f".md-search-result a[href*='rules/{rule['id']}/']", timeout=10_000)
    after = [url for url in asked if url.endswith("search_index.json")]
    page.context.close()

    assert before == []
    assert len(after) == 1
    assert wrong == []


def test_search_opens_on_a_phone(browser: Browser, address: str) -> None:
    rule = real_book()["rules"][sorted(real_book()["rules"])[0]]
    page, wrong = opened(browser, PHONE)
    page.goto(address)
    page.click("label[for=__search]")
    page.keyboard.type(rule["title"])
    page.wait_for_selector(f".md-search-result a[href*='rules/{rule['id']}/']", timeout=10_000)
    over = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
    page.context.close()

    assert over <= 0
    assert wrong == []


def test_a_case_that_is_linked_to_is_on_the_screen_below_the_header(browser: Browser, address: str) -> None:
    rule = real_book()["rules"][sorted(real_book()["rules"])[0]]
    page, _ = opened(browser, PHONE)
    page.goto(f"{address}rules/{rule['id']}/#{rule['cases'][-1]['case']}")
    page.wait_for_timeout(200)
    box = page.locator(f"[id='{rule['cases'][-1]['case']}']").bounding_box()
    header = page.locator("header").bounding_box()
    page.context.close()

    assert box["y"] >= header["height"] - 1
    assert box["y"] < PHONE["height"]


def test_print_leaves_out_what_is_only_for_the_screen(browser: Browser, address: str) -> None:
    page, _ = opened(browser, DESKTOP)
    page.goto(f"{address}answers/{sorted(real_book()['builds'])[0]}/")
    page.emulate_media(media="print")
    header, verdict, edition = (page.is_visible(one) for one in (".db-header", "#verdict", ".db-edition"))
    ground = page.evaluate("getComputedStyle(document.body).backgroundColor")
    page.context.close()

    assert not header
    assert verdict
    assert edition
    assert ground == "rgb(255, 255, 255)"
