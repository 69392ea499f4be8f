"""What a change did: one folded line after every change, as the engine compares the two answers."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Page

from tests.browser.browser import Site, Visit, key, open_check, quiet, say, settled
from tests.browser.worked import Engine, engine_of

ASK = """async ([home, message]) => {
  const worker = new Worker(new URL("worker.mjs", home), { type: "module" });
  const reply = await new Promise((resolve) => { worker.onmessage = ({ data }) => data.id && resolve(data); worker.postMessage({ ...message, id: 1 }); });
  worker.terminate();
  return reply;
}"""
LINE = key("what changed")


@pytest.fixture(scope="session")
def engine(book: dict[str, Any]) -> Engine:
    """Return the engine on the site's book."""
    return engine_of(book)


def line(page: Page) -> str:
    """Return the line as it stands folded."""
    place = page.locator(f"{LINE} > summary, p{LINE}")
    return place.inner_text().strip() if place.count() else ""


def without(build: dict[str, Any], slot: str) -> dict[str, Any]:
    """Return the build with a part not mentioned."""
    return build | {"slots": {name: said for name, said in build["slots"].items() if name != slot}}


def changing(engine: Engine) -> tuple[dict[str, Any], str]:
    """Return a worked build and a part of it without which verdict, reasons and additions all differ."""
    for name in sorted(engine.builds):
        build = engine.builds[name]["build"]
        for slot in sorted(build["slots"]):
            less = without(build, slot)
            made = engine.compare(build, less)
            both = made["verdict"]["before"] != made["verdict"]["after"] and made["reasons"] and (made["additions"]["new"] or made["additions"]["gone"])
            if both and engine.answer(less)["reasons"] and not build.get("relations"):
                return build, slot
    raise AssertionError("no worked build changes so")


def test_the_worker_compares_two_answers_as_the_engine_does_and_refuses_what_is_none(page: Page, site: Site, engine: Engine) -> None:
    one, other = (engine.builds[name]["build"] for name in sorted(engine.builds)[:2])
    home = f"{site.address}assets/engine/"
    page.goto(f"{site.address}check/")
    good = page.evaluate(ASK, [home, {"op": "compare", "before": engine.text(one), "after": engine.text(other)}])
    bad = page.evaluate(ASK, [home, {"op": "compare", "before": engine.text(one), "after": "{}"}])
    half = page.evaluate(ASK, [home, {"op": "compare", "before": engine.text(one)}])

    assert json.loads(good["compare"]) == engine.compare(one, other)
    assert bad["error"] == "This could not be worked out: Both must be answers."
    assert half["error"] == "The engine was asked without a text to work on."


def test_after_a_change_one_folded_line_says_what_changed_and_opens_to_all_of_it(page: Page, site: Site, engine: Engine) -> None:
    build, slot = changing(engine)
    open_check(page, site, engine.address(build))
    quiet(page)
    first = line(page)
    settled(page, page.locator(key(f"remove {slot}")).click)
    made = engine.compare(build, without(build, slot))
    folded = page.locator(f"{LINE} h4").first.is_visible()
    text = str(page.locator(LINE).text_content())

    assert first == ""
    assert line(page).startswith("What changed: now ")
    assert f"{len(made['reasons'])} reason" in line(page)
    assert not folded
    assert all(reason["title"] in text for reason in made["reasons"])
    assert all(said[0] in text for reason in made["reasons"] for said in (reason["was"], reason["now"]) if said and len(said) == 1)
    assert all(f"New: {title}" in text for title in made["additions"]["new"])
    assert all(f"Gone: {title}" in text for title in made["additions"]["gone"])
    assert all(entry["after"] is None or entry["after"] in text for entry in made["sums"])


def test_going_back_says_what_that_changed(page: Page, site: Site, engine: Engine) -> None:
    build, slot = changing(engine)
    open_check(page, site, engine.address(build))
    quiet(page)
    settled(page, page.locator(key(f"remove {slot}")).click)
    there = line(page)
    settled(page, page.go_back)
    back = line(page)
    made = engine.compare(without(build, slot), build)

    assert back != there
    assert all(f"Gone: {title}" in str(page.locator(LINE).text_content()) for title in made["additions"]["gone"])
    assert all(f"New: {title}" in str(page.locator(LINE).text_content()) for title in made["additions"]["new"])


def test_a_change_that_changes_nothing_of_the_answer_says_so(page: Page, site: Site, engine: Engine) -> None:
    build = engine.worked(lambda answer: answer["verdict"] == "works")
    slot = min(build["slots"])
    open_check(page, site, engine.address(build))
    quiet(page)
    page.get_by_text("Change or say more").first.click()
    settled(page, page.locator(key(f"keep {slot}")).click)

    assert line(page) == "What changed: nothing in verdict, stops, reasons, additions or sums."
    assert page.locator(f"details{LINE}").count() == 0


def test_there_is_no_such_line_before_two_answers_and_none_after_starting_over(page: Page, site: Site) -> None:
    open_check(page, site)
    seen = [line(page)]
    for words in ("throttle body", "pedal"):
        say(page, words)
        seen.append(line(page))
    say(page, "controller")
    seen.append(line(page)[:13])
    settled(page, page.locator(key("start-over")).click)
    seen.append(line(page))

    assert seen == ["", "", "", "What changed:", ""]


def test_an_answer_that_takes_more_than_a_second_is_said_to_be_still_in_work(visits: Callable[..., Visit], site: Site) -> None:
    page = visits().page
    page.add_init_script("""
        window.said = [];
        const Stock = Worker
        window.Worker = class extends Stock {
          postMessage(message) {
            if (message.op !== "answer" || window.go) return super.postMessage(message);
            const asked = performance.now();
            const place = document.querySelector("[data-key=working]");
            new MutationObserver(() => place.textContent && window.said.push([place.textContent, performance.now() - asked])).observe(place, { childList: true });
            window.go = () => super.postMessage(message);
          }
        }""")
    open_check(page, site, "pedal=not_sure&throttle_body=not_sure")
    page.wait_for_function("window.said.length === 2")
    page.evaluate("window.go()")
    quiet(page)
    (first, early), (second, late) = page.evaluate("window.said")

    assert (first, second) == ("Working it out.", "Still working. You can go on; what you say next is answered in its place.")
    assert early < late and 950 < late
    assert page.locator(key("working")).text_content() == ""
