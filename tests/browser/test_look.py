"""How the check looks: contrast in light and dark, names for what can be pressed, and what is printed."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Page

from tests.browser.browser import DESKTOP, PHONE, Site, Visit, key, open_check, quiet, settled
from tests.browser.worked import engine_of

BUILD = "controller=not_sure&pedal=actuation:sensor:assumed&throttle_body=actuation:motor"
LEAST = 4.5         # WCAG 2.2, success criterion 1.4.3, text smaller than 18 points; from memory
CONTRAST = """() => {
  const canvas = document.createElement("canvas").getContext("2d", { willReadFrequently: true });
  const rgba = (text) => { canvas.clearRect(0, 0, 1, 1); canvas.fillStyle = text; canvas.fillRect(0, 0, 1, 1); return [...canvas.getImageData(0, 0, 1, 1).data]; };
  const channel = (v) => { const s = v / 255; return s <= 0.04045 ? s / 12.92 : ((s + 0.055) / 1.055) ** 2.4; };
  const light = ([r, g, b]) => 0.2126 * channel(r) + 0.7152 * channel(g) + 0.0722 * channel(b);
  const ground = (node) => { for (let one = node; one; one = one.parentElement) { const found = rgba(getComputedStyle(one).backgroundColor); if (found[3] === 255) return found; } return [255, 255, 255, 255]; };
  const worst = [];
  let seen = 0;
  for (const node of document.querySelectorAll("[data-key=check] *")) {
    const own = [...node.childNodes].some((child) => child.nodeType === 3 && child.textContent.trim());
    if (!own || !node.checkVisibility({ opacityProperty: true, visibilityProperty: true })) continue;
    seen += 1;
    const [a, b] = [light(rgba(getComputedStyle(node).color)), light(ground(node))].sort((x, y) => y - x);
    const ratio = (a + 0.05) / (b + 0.05);
    if (ratio < LEAST) worst.push(`${ratio.toFixed(2)} ${node.className} ${node.textContent.slice(0, 40)}`);
  }
  return { seen, worst };
}""".replace("LEAST", str(LEAST))


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", [PHONE, DESKTOP], ids=["phone", "desktop"])
def test_all_text_of_the_check_stands_out_from_its_ground(visits: Callable[..., Visit], site: Site, size: tuple[int, int], scheme: str) -> None:
    page = visits(size, color_scheme=scheme).page
    open_check(page, site, BUILD)
    quiet(page)
    found = contrast_unfolded(page)

    assert found["seen"] > 150
    assert found["worst"] == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", [PHONE, DESKTOP], ids=["phone", "desktop"])
@pytest.mark.parametrize("part", ["changes", "choices"])
def test_changes_choices_and_what_changed_stand_out_and_fit_the_screen(
    visits: Callable[..., Visit], site: Site, book: dict[str, Any], part: str, size: tuple[int, int], scheme: str,
) -> None:
    engine = engine_of(book)
    page = visits(size, color_scheme=scheme).page
    open_check(page, site, engine.address(engine.worked(lambda answer: any(one["looked_at"] for one in answer["choices"]) if part == "choices" else answer["changes"])))
    quiet(page)
    unfolded = page.locator(".db-change, .db-choice__row").count()
    found = [contrast_unfolded(page)]
    settled(page, page.locator(".db-change button, .db-choice__row button").first.click)
    found.append(contrast_unfolded(page))
    wide = page.evaluate("document.documentElement.scrollWidth")

    assert unfolded > 0 and page.locator(key("what changed")).is_visible()
    assert [one["worst"] for one in found] == [[], []]
    assert wide <= size[0]


def contrast_unfolded(page: Page) -> dict[str, Any]:
    """Open every fold of the check and return which of its texts do not stand out."""
    page.evaluate("document.querySelectorAll('[data-key=check] details').forEach((one) => { one.open = true; })")
    page.wait_for_timeout(200)
    return dict(page.evaluate(CONTRAST))


def test_everything_that_can_be_pressed_or_filled_has_a_name(visits: Callable[..., Visit], site: Site) -> None:
    page = visits().page
    open_check(page, site, BUILD)
    quiet(page)
    page.evaluate("document.querySelectorAll('[data-key=check] details').forEach((one) => { one.open = true; })")
    page.wait_for_timeout(200)
    nameless = page.evaluate("""() => [...document.querySelectorAll("[data-key=check] :is(button, input, select, summary, a)")]
        .filter((one) => !(one.textContent.trim() || one.ariaLabel || one.labels?.length)).map((one) => one.outerHTML)""")

    assert nameless == []


def test_each_verdict_is_a_drawn_mark_of_its_own_with_its_words(visits: Callable[..., Visit], site: Site) -> None:
    page = visits().page
    open_check(page, site)
    page.get_by_text("The four verdicts").click()
    rows = page.locator(f"{key('verdict-list')} li")
    marks = [rows.nth(place).locator("use").get_attribute("href") for place in range(rows.count())]
    drawn = [page.evaluate("name => document.querySelector(name).innerHTML", mark) for mark in marks]

    assert rows.locator("strong").all_inner_texts() == ["Works", "Works with additions", "Cannot tell yet", "Will not work"]
    assert len(set(drawn)) == 4


def test_on_paper_the_whole_answer_stands_open_without_the_fields(visits: Callable[..., Visit], site: Site) -> None:
    page = visits().page
    open_check(page, site, BUILD)
    quiet(page)
    page.emulate_media(media="print")
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    closed = page.locator(f"{key('answer')} details:not([open])").count()
    fields = page.locator(f"{key('check')} :is(input, select, button):visible").count()
    shown = page.locator(key("verdict-words")).is_visible()
    page.evaluate("dispatchEvent(new Event('afterprint'))")

    assert (closed, fields, shown) == (0, 0, True)
    assert page.locator(f"{key('answer')} details[open]").count() == 0
