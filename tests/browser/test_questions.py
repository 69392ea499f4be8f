"""One question at a time: answers, not sure, how to find out, numbers, and everything that is folded away."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from playwright.sync_api import Page

from tests.browser.browser import Site, Visit, key, open_check, quiet, say, settled, text_of


def ask_until(page: Page, wanted: str) -> None:
    """Go on to other questions until the wanted one stands there."""
    for _ in range(14):
        if page.locator(".db-question").get_attribute("data-ask") == wanted:
            return
        page.locator(key("later")).click()
    raise AssertionError(f"{wanted} was never asked")


def test_answering_a_question_is_told_and_leads_to_the_next_with_the_focus_on_it(page: Page, site: Site) -> None:
    open_check(page, site, "pedal=not_sure&throttle_body=not_sure")
    quiet(page)
    ask_until(page, "throttle_body.actuation")
    settled(page, lambda: page.locator(".db-answers button").first.click())

    assert "throttle_body=not_sure;actuation:" in page.url
    assert page.locator(".db-question").get_attribute("data-ask") != "throttle_body.actuation"
    assert page.evaluate("document.querySelector('[data-key=next]').contains(document.activeElement)")


def test_not_sure_is_kept_as_not_known_and_shows_how_to_find_out_in_place(page: Page, site: Site, book: dict[str, Any]) -> None:
    open_check(page, site, "pedal=not_sure&throttle_body=not_sure")
    quiet(page)
    ask_until(page, "throttle_body.actuation")
    settled(page, lambda: page.locator(key("not-sure")).click())
    way = next(one["find_out"] for one in book["kinds"]["throttle_body"]["attributes"] if one["id"] == "actuation")
    steps = page.locator(".db-unsure li").all_inner_texts()

    assert "actuation:unknown" in page.url
    assert steps == book["find_out"][way]["steps"]
    assert page.locator(".db-question").get_attribute("data-ask") != "throttle_body.actuation"
    page.locator(key("found-out")).click()

    assert page.locator(".db-question").get_attribute("data-ask") == "throttle_body.actuation"


def test_every_question_can_be_answered_with_not_sure_until_none_is_left(page: Page, site: Site) -> None:
    open_check(page, site, "controller=not_sure&pedal=not_sure&throttle_body=not_sure")
    quiet(page)
    asked = []
    while page.locator(".db-question").count() and page.locator(".db-question .db-question__text").count() and len(asked) < 40:
        name = page.locator(".db-question").get_attribute("data-ask")
        if name in asked:
            break
        asked.append(name)
        settled(page, lambda: page.locator(key("not-sure")).click())

    assert len(asked) == len(set(asked)) and len(asked) > 5
    assert "Everything that could be asked" in text_of(page, "next")


def test_before_two_parts_have_to_do_with_each_other_the_page_says_what_to_do_next(page: Page, site: Site) -> None:
    open_check(page, site)
    before = text_of(page, "verdict-words")
    say(page, "throttle body")
    offered = page.locator('[data-key^="begin "]')

    assert before.startswith("Say what you have")
    assert "Say one more part" in text_of(page, "verdict-words")
    assert offered.count() > 0
    settled(page, offered.first.click)

    assert page.locator(".db-told__part").count() == 2


def test_a_number_outside_its_range_is_refused_in_words_and_one_inside_is_told(page: Page, site: Site) -> None:
    open_check(page, site, "throttle_body=not_sure")
    page.get_by_text("Change or say more").click()
    page.locator(f'{key("throttle_body bore summary")}').click()
    field = page.locator(key("throttle_body bore low"))
    field.fill("7000")
    field.press("Enter")

    assert "from 30 to 130 mm" in page.locator(".db-wrong:visible").inner_text()
    field.fill("70,5")
    settled(page, lambda: field.press("Enter"))

    assert "bore:70.5" in page.url


def test_a_number_typed_into_the_box_is_told_of_the_part(page: Page, site: Site) -> None:
    open_check(page, site)
    say(page, "throttle bore 70")

    assert page.url.endswith("#throttle_body=bore:70")


def test_the_whole_of_a_part_can_be_said_in_each_way(page: Page, site: Site) -> None:
    open_check(page, site, "throttle_body=not_sure")
    quiet(page)
    page.get_by_text("Change or say more").click()
    heard = {}
    for state in ("have", "one_of", "in_hand", "maybe", "open", "made_to_order", "none"):
        settled(page, lambda state=state: page.locator(key("way throttle_body")).select_option(state))
        heard[state] = page.url.partition("#")[2]

    assert heard["have"] == "throttle_body=fitted"
    assert heard["one_of"].count(",") == 1
    assert heard["in_hand"] == "throttle_body.1=fitted&throttle_body.2=fitted"
    assert [heard[state] for state in ("maybe", "open", "made_to_order", "none")] == [
        "throttle_body=maybe", "throttle_body=open", "throttle_body=made_to_order", "throttle_body=none"]


def test_ticks_tell_one_value_several_or_an_assumed_one(page: Page, site: Site) -> None:
    open_check(page, site, "pedal=not_sure")
    quiet(page)
    page.get_by_text("Change or say more").click()
    page.locator(key("pedal actuation summary")).click()
    heard = []
    for name in ("cable", "sensor", "assumed", "unknown"):
        settled(page, lambda name=name: page.locator(key(f"pedal actuation {name}")).click())
        heard.append(page.url.partition("=")[2])

    assert heard == [f"not_sure;actuation:{told}" for told in ("cable", "cable,sensor", "cable,sensor:assumed", "unknown")]


def test_parts_can_be_said_to_have_come_together_to_be_kept_and_nothing_to_be_added(page: Page, site: Site) -> None:
    open_check(page, site, "pedal=not_sure&throttle_body=not_sure")
    quiet(page)
    page.locator(key("relations summary")).click()
    for slot in ("pedal", "throttle_body"):
        page.locator(key(f"relation {slot}")).check()
    settled(page, lambda: page.locator(key("relation yes")).click())
    page.get_by_text("Change or say more").first.click()
    settled(page, lambda: page.locator(key("keep pedal")).click())
    page.locator(key("scope summary")).click()
    settled(page, lambda: page.locator(key("nothing")).click())
    settled(page, lambda: page.locator(key("except wire")).click())

    assert page.url.partition("#")[2] == (
        "came_together=pedal,throttle_body&nothing_added=except:wire&pedal=not_sure;keep&throttle_body=not_sure")


def test_removing_a_part_and_starting_over_take_back_what_was_said(page: Page, site: Site) -> None:
    open_check(page, site, "came_together=pedal,throttle_body&pedal=not_sure&throttle_body=not_sure")
    quiet(page)
    settled(page, lambda: page.locator(key("remove pedal")).click())
    left = page.url.partition("#")[2]
    settled(page, lambda: page.locator(key("start-over")).click())

    assert left == "throttle_body=not_sure"
    assert page.url == f"{site.address}check/"
    assert text_of(page, "verdict-words").startswith("Say what you have")


def test_a_point_can_be_taken_as_right_on_the_readers_word(page: Page, site: Site) -> None:
    open_check(page, site, "pedal=not_sure&throttle_body=not_sure")
    quiet(page)
    page.locator(".db-reasons summary").first.click()
    settled(page, lambda: page.locator(".db-reasons input").first.click())

    assert "taken_as_right=" in page.url


def test_the_first_question_stands_there_and_takes_parts_before_the_engine_is_ready(visits: Callable[..., Visit], site: Site) -> None:
    page = visits().page
    held = []
    page.context.route("**/*.wasm", lambda route: held.append(route))
    page.goto(f"{site.address}check/")
    page.locator(key("box")).focus()
    page.keyboard.type("throttle body")
    page.wait_for_selector("[role=option]")
    page.keyboard.press("Enter")
    page.wait_for_selector(".db-told__part")
    boot = text_of(page, "boot")
    for route in held:
        route.continue_()
    page.wait_for_function("location.hash === '#throttle_body=not_sure'")
    quiet(page)

    assert "You can already say what you have" in boot
    assert "Say one more part" in text_of(page, "verdict-words")


def test_an_answer_that_takes_long_gives_way_to_a_newer_one(visits: Callable[..., Visit], site: Site) -> None:
    page = visits().page
    page.add_init_script("""
        window.started = 0
        const Stock = Worker
        window.Worker = class extends Stock {
          constructor(...made) { super(...made); window.started += String(made[0]).endsWith("/worker.mjs") }
          postMessage(message) { if (!(message.op === "answer" && message.build.includes("whole_swap"))) super.postMessage(message) }
        }""")
    open_check(page, site, "throttle_body=not_sure")
    quiet(page)
    page.locator(key("scope summary")).click()
    page.locator(key("whole")).click()
    page.wait_for_function("location.hash.includes('whole_swap')")
    page.locator(key("whole")).click()
    page.wait_for_function("location.hash === '#throttle_body=not_sure'")
    quiet(page)

    assert page.evaluate("window.started") == 2
    assert "Say one more part" in text_of(page, "verdict-words")
