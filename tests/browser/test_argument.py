"""Why, what stands in the way, what would help, and which part to take: all that the engine says, and one press takes it."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlsplit

import pytest
from playwright.sync_api import Locator, Page

from tests.browser.browser import Site, key, open_check, quiet, settled, text_of
from tests.browser.worked import Engine, engine_of

WORDS = {"works": "Works", "works-with-additions": "Works with additions", "cannot-tell": "Cannot tell yet", "will-not-work": "Will not work"}
FROM = {"told": "told by you", "assumed": "assumed, on your word", "listed": "listed", "chosen": "our choice",
        "worked-out": "worked out from the rest", "unknown": "not known"}


@pytest.fixture(scope="session")
def engine(book: dict[str, Any]) -> Engine:
    """Return the engine on the site's book."""
    return engine_of(book)


def open_build(page: Page, site: Site, engine: Engine, build: dict[str, Any]) -> dict[str, Any]:
    """Open a build in the check and return the engine's answer to it."""
    open_check(page, site, engine.address(build))
    quiet(page)
    return engine.answer(build)


def reason_fold(page: Page, reason: dict[str, Any]) -> Locator:
    """Return the fold of one reason."""
    return page.locator(key(f"reason {reason['rule']} {reason['slot'] or 'null'}"))


def spoken(iso: str) -> str:
    """Return a date in words."""
    day = date.fromisoformat(iso)
    return f"{day.day} {day:%B} {day.year}"


def leads_somewhere(site: Site, address: str) -> bool:
    """Return whether a link of the site ends at a page that has the anchor."""
    parts = urlsplit(address)
    file = site.folder / Path(unquote(parts.path).lstrip("/")) / "index.html"
    return address.startswith(site.address) and file.is_file() and (not parts.fragment or f'id="{parts.fragment}"' in file.read_text("utf-8"))


def test_each_settled_reason_shows_what_it_rests_on_and_where_that_came_from(page: Page, site: Site, engine: Engine, book: dict[str, Any]) -> None:
    seen = set()
    for name in sorted(engine.builds):
        answer = open_build(page, site, engine, engine.builds[name]["build"])
        for reason in answer["reasons"]:
            shown = reason_fold(page, reason).locator(".db-facts > li").evaluate_all("rows => rows.map((row) => row.textContent)")
            wanted = []
            for fact in reason["cases"][0]["facts"] if reason["settled"] else ():
                source = f": {book['sources'][fact['source'].split('#')[0]]['title']}" if fact["source"] else ""
                checked = f", checked {spoken(fact['checked'])}" if fact["checked"] else ""
                wanted.append((f"{fact['text']} ({FROM[fact['from']]}", f"{source.partition('#')[0]}", f"{checked})"))
                seen.add(fact["from"])

            assert len(shown) == len(wanted), (name, reason["rule"])
            assert all(text.startswith(head) and source in text and text.endswith(tail) for text, (head, source, tail) in zip(shown, wanted)), (name, shown)

    assert {"listed", "told"} <= seen


def test_a_reason_names_its_weakest_source_and_links_the_rule_the_case_and_the_sources(page: Page, site: Site, engine: Engine, book: dict[str, Any]) -> None:
    answer = open_build(page, site, engine, engine.worked(lambda answer: answer["verdict"] == "will-not-work" and answer["changes"]))
    reason = next(one for one in answer["reasons"] if one["settled"] and any(fact["source"] for fact in one["cases"][0]["facts"]))
    case = reason["cases"][0]
    fold = reason_fold(page, reason)
    links = fold.locator("a").evaluate_all("links => links.map((link) => link.href)")

    assert book["sources"][case["weakest_source"]["source"]]["title"] in str(fold.locator(".db-weakest").text_content())
    assert f"{site.address}rules/{reason['rule']}/" in links
    assert f"{site.address}rules/{reason['rule']}/#{case['case']}" in links
    assert f"{site.address}sources/#{case['weakest_source']['source']}" in links
    assert [link for link in links if not leads_somewhere(site, link)] == []


def test_the_clash_stands_as_its_sentence_with_links_to_its_rules(page: Page, site: Site, engine: Engine) -> None:
    answer = open_build(page, site, engine, engine.worked(lambda answer: answer["clash_text"]))
    links = page.locator(".db-part:has(.db-clash) a")

    assert page.locator(".db-clash").inner_text() == answer["clash_text"]
    assert links.all_inner_texts() == [rule["title"] for rule in answer["clash_rules"]]
    assert all(leads_somewhere(site, str(link.get_property("href"))) for link in links.element_handles())


def with_a_wrong_part(engine: Engine, book: dict[str, Any]) -> dict[str, Any]:
    """Return a worked build with one part exchanged, which has several ways out, one of them with something to add."""
    for name in sorted(engine.builds):
        build = engine.builds[name]["build"]
        for slot in sorted(build["slots"]):
            for family in sorted(one["id"] for one in book["families"].values() if one["kind"] == book["slots"][slot]["kind"]):
                changed = build | {"slots": build["slots"] | {slot: {"family": family}}}
                changes = engine.answer(changed)["changes"]
                if len(changes) > 1 and any(one["additions"] for one in changes):
                    return changed
    raise AssertionError("no worked build fails so")


@pytest.mark.parametrize("which", ["worked", "with a wrong part"])
def test_every_change_shows_verdict_additions_and_price_and_one_press_makes_it_and_back_undoes_it(page: Page, site: Site, engine: Engine, book: dict[str, Any], which: str) -> None:
    build = engine.worked(lambda answer: answer["changes"]) if which == "worked" else with_a_wrong_part(engine, book)
    answer = open_build(page, site, engine, build)
    cards = page.locator(".db-change")

    assert cards.count() == len(answer["changes"]) > 0
    for place, change in enumerate(answer["changes"]):
        text = cards.nth(place).inner_text()
        promised = engine.answer(change["build"])

        assert change["text"] in text
        assert cards.nth(place).locator(".db-change__verdict > span").first.inner_text() == WORDS[change["verdict"]]
        assert all(one["title"] in text for one in change["additions"])
        offers = [book["offers"].get(one["addition"], {}).get("price") for one in change["additions"]]
        assert all(f"({price:g} " in text for price in offers if price is not None)
        prices = [book["families"][part["family"]]["price"] for part in change["parts"] if part["family"]]
        if change["parts"] and all(price is not None for price in prices) and len(prices) == len(change["parts"]):
            assert f"{sum(prices):g} " in text
        settled(page, cards.nth(place).locator("button").click)

        assert page.url.partition("#")[2] == engine.address(change["build"])
        assert text_of(page, "verdict-words") == promised["headline"]
        assert promised["verdict"] == change["verdict"]
        assert page.evaluate("document.activeElement.dataset.key") == "verdict"
        settled(page, page.go_back)

        assert page.url.partition("#")[2] == engine.address(build)
        assert text_of(page, "verdict-words") == answer["headline"]


def open_choice(engine: Engine) -> tuple[dict[str, Any], str]:
    """Return a build with a part to choose for which some listed ones would do and some not, and the part's slot."""
    build = engine.worked(lambda answer: any(one["state"] == "open" and one["viable"] and one["not_viable"] for one in answer["choices"]))
    return build, next(one["slot"] for one in engine.answer(build)["choices"] if one["viable"] and one["not_viable"])


def test_every_part_to_choose_from_is_there_with_what_it_depends_on_or_why_it_will_not_do(page: Page, site: Site, engine: Engine) -> None:
    build, slot = open_choice(engine)
    for looser in ({}, {"relations": []}):
        loose = {name: said for name, said in build["slots"].items() if not looser or name in (slot, *sorted(build["slots"])[:1])}
        answer = open_build(page, site, engine, build | {"slots": loose})
        for choice in answer["choices"]:
            if not choice["looked_at"]:
                continue
            place = page.locator(f".db-choice[data-slot={choice['slot']}]")
            text = str(place.text_content())

            assert all(part["title"] in text for group in ("viable", "depends", "not_viable") for part in choice[group])
            assert all(part["because"] in text for part in choice["not_viable"])
            assert place.locator("button").count() == len(choice["viable"]) + len(choice["depends"])
            assert place.locator("[disabled]").count() == 0


def test_one_press_takes_a_part_and_back_undoes_it(page: Page, site: Site, engine: Engine) -> None:
    build, slot = open_choice(engine)
    answer = open_build(page, site, engine, build)
    part = next(one for one in answer["choices"] if one["slot"] == slot)["viable"][-1]
    taken = build | {"slots": build["slots"] | {slot: {"family": part["family"]}}}
    page.locator(".db-choice details").evaluate_all("folds => folds.forEach((fold) => { fold.open = true; })")
    settled(page, page.get_by_role("button", name=f"Take it: {part['title']}", exact=True).click)

    assert page.url.partition("#")[2] == engine.address(taken)
    assert text_of(page, "verdict-words") == engine.answer(taken)["headline"]
    settled(page, page.go_back)

    assert page.url.partition("#")[2] == engine.address(build)


def test_one_press_takes_one_of_several_parts_in_hand_with_what_was_told_of_it(page: Page, site: Site, engine: Engine) -> None:
    build, slot = open_choice(engine)
    choice = next(one for one in engine.answer(build)["choices"] if one["slot"] == slot)
    other, good = choice["not_viable"][0]["family"], choice["viable"][0]["family"]
    hand = build | {"slots": build["slots"] | {slot: {"in_hand": [{"family": other}, {"family": good}], "keep": True}}}
    answer = open_build(page, site, engine, hand)
    offered = next(one for one in answer["choices"] if one["slot"] == slot)
    taken = build | {"slots": build["slots"] | {slot: {"family": good, "keep": True}}}
    settled(page, page.get_by_role("button", name="Take it: ").click)

    assert [part["index"] for part in offered["viable"]] == [1]
    assert page.url.partition("#")[2] == engine.address(taken)


def test_a_condition_of_many_clauses_is_folded_and_one_of_few_stands_open(page: Page, site: Site, engine: Engine) -> None:
    sizes = []
    unsure = {"slots": {"throttle_body": {"told": {"actuation": "motor"}}, "pedal": {"told": {"actuation": "sensor"}}, "controller": "not_sure"}}
    for build in [*(engine.builds[name]["build"] for name in sorted(engine.builds)), unsure]:
        only = engine.answer(build)["additions"]["only_if"]
        if not only:
            continue
        open_build(page, site, engine, build)
        for place, branch in enumerate(only):
            shown = page.locator(".db-if").nth(place)
            clauses = [clause for clauses in branch["conditions"] for clause in clauses]
            sizes.append((len(branch["conditions"]), len(clauses)))

            assert shown.locator(".db-clauses li").all_text_contents() == clauses
            assert shown.locator(".db-clauses").first.is_visible() == (sizes[-1][0] == 1 and sizes[-1][1] <= 2)

    assert min(sizes) <= (1, 2) < max(sizes)
