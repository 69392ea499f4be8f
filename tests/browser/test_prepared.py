"""The answers worked out with the site: there at once, marked as such, the same as the engine's, and replaced by it."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, Route

from tests.browser.browser import PATIENCE, Site, Visit, answer_text, key, open_check, quiet, settled, text_of, visit
from tests.browser.worked import Engine, engine_of

ALL_ANSWERS = """async ([builds, home]) => {
  const worker = new Worker(new URL("../engine/worker.mjs", home), { type: "module" });
  const heard = {};
  const done = new Promise((resolve) => { worker.onmessage = ({ data }) => { if (data.id) heard[data.id] = data.answer; if (Object.keys(heard).length === Object.keys(builds).length) resolve(); }; });
  for (const [id, build] of Object.entries(builds)) worker.postMessage({ id, op: "answer", build: JSON.stringify(build) });
  await done;
  worker.terminate();
  const index = await (await fetch(new URL("index.json", home))).json();
  const files = {};
  for (const id of Object.values(index)) files[id] = await (await fetch(new URL(`${id}.json`, home))).text();
  return { heard, files, index };
}"""
MARKED = "This answer was worked out when the site was built"


@pytest.fixture(scope="session")
def engine(book: dict[str, Any]) -> Engine:
    """Return the engine on the site's book."""
    return engine_of(book)


def held_back(visited: Visit) -> list[Route]:
    """Hold the runtime back, so that the page stands without the engine until the routes are let go."""
    held: list[Route] = []
    visited.context.route("**/*.wasm", lambda route: held.append(route))
    return held


def let_go(held: list[Route]) -> None:
    """Let the runtime through."""
    for route in held:
        route.continue_()


def open_worked(page: Page, site: Site, address: str) -> None:
    """Open a worked build while the engine is held back, and wait for its prepared answer."""
    page.goto(f"{site.address}check/#{address}")
    page.wait_for_function(f"document.querySelector('[data-key=prepared]').textContent.startsWith('{MARKED}')")


def test_every_prepared_answer_is_the_very_text_that_the_engine_in_the_browser_gives(page: Page, site: Site, engine: Engine) -> None:
    builds = {name: record["build"] for name, record in engine.builds.items()}
    page.goto(f"{site.address}check/")
    found = page.evaluate(ALL_ANSWERS, [builds, f"{site.address}assets/answers/"])

    assert len(builds) > 5
    assert found["files"] == found["heard"]
    assert found["index"] == {engine.address(build): name for name, build in builds.items()}


def test_a_worked_build_shows_its_answer_before_the_engine_and_the_engine_replaces_it_with_the_same(visits: Callable[..., Visit], site: Site, engine: Engine) -> None:
    build = engine.worked(lambda answer: answer["questions"] and answer["additions"]["only_if"])
    visited = visits()
    page, held = visited.page, held_back(visited)
    open_worked(page, site, engine.address(build))
    before, told, asked = answer_text(page), text_of(page, "told"), page.locator(".db-question").get_attribute("data-ask")
    let_go(held)
    page.wait_for_function("document.querySelector('[data-key=prepared]').textContent === ''")
    quiet(page)

    assert before.startswith(engine.answer(build)["headline"])
    assert (answer_text(page), text_of(page, "told"), page.locator(".db-question").get_attribute("data-ask")) == (before, told, asked)
    assert page.locator(f"{key('changed')} > *").count() == 0


def test_a_change_made_before_the_engine_is_there_takes_the_prepared_answer_away_and_is_set_against_it(visits: Callable[..., Visit], site: Site, engine: Engine) -> None:
    build = engine.worked(lambda answer: answer["changes"])
    slot = min(build["slots"])
    visited = visits()
    page, held = visited.page, held_back(visited)
    open_worked(page, site, engine.address(build))
    page.locator(key(f"remove {slot}")).click()
    gone = (text_of(page, "prepared"), text_of(page, "verdict-words"))
    let_go(held)
    page.wait_for_function("address => location.hash !== '#' + address", arg=engine.address(build), timeout=PATIENCE)
    quiet(page)
    left = build | {"slots": {name: said for name, said in build["slots"].items() if name != slot}}

    assert gone == ("", "Working it out.")
    assert page.url.partition("#")[2] == engine.address(left)


def test_an_example_pressed_before_the_engine_is_there_is_answered_at_once(visits: Callable[..., Visit], site: Site, engine: Engine) -> None:
    visited = visits()
    page, held = visited.page, held_back(visited)
    name, record = min(engine.builds.items())
    page.goto(f"{site.address}check/")
    page.get_by_role("button", name=record["asked"]).click()
    page.wait_for_function(f"document.querySelector('[data-key=prepared]').textContent.startsWith('{MARKED}')")
    before = answer_text(page)
    settled(page, lambda: let_go(held))

    assert before.startswith(engine.answer(record["build"])["headline"]), name
    assert answer_text(page) == before
    assert text_of(page, "prepared") == ""


def test_when_the_engine_cannot_start_the_prepared_answer_stays_and_only_a_change_ends_it(browser: Browser, site: Site, engine: Engine) -> None:
    build = engine.worked(lambda answer: answer["verdict"] == "works")
    with visit(browser, site) as visited:
        page = visited.page
        visited.context.route("**/*.wasm", lambda route: route.abort())
        open_worked(page, site, engine.address(build))
        page.locator("[data-notice=failed]").wait_for()
        said, headline, mark = page.locator("[data-notice=failed]").inner_text(), text_of(page, "verdict-words"), text_of(page, "prepared")
        page.locator(key(f"remove {min(build['slots'])}")).click()

        assert (headline, mark) == (engine.answer(build)["headline"], f"{MARKED}.")
        assert "cannot be read" not in said
        assert text_of(page, "verdict-words") == "No answer can be worked out on this page now."
        assert text_of(page, "prepared") == ""


def test_an_address_of_no_worked_build_waits_for_the_engine(visits: Callable[..., Visit], site: Site, engine: Engine) -> None:
    visited = visits()
    asked: list[str] = []
    visited.page.on("request", lambda request: asked.append(request.url))
    open_check(visited.page, site, "pedal=not_sure&throttle_body=not_sure")
    quiet(visited.page)

    assert [url.rpartition("/")[2] for url in asked if "/assets/answers/" in url] == ["index.json"]
    assert text_of(visited.page, "prepared") == ""


def test_the_files_hold_each_answer_once_and_nothing_else(site: Site, engine: Engine) -> None:
    folder = site.folder / "assets/answers"
    files = {file.stem: file.read_text("utf-8") for file in folder.glob("*.json")}
    index = json.loads(files.pop("index"))

    assert files == {name: engine.text(record["build"]) for name, record in engine.builds.items()}
    assert set(index.values()) == set(files)
